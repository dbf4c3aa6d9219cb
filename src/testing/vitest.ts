import type { RepetendMatchers } from "./matchers.js";

// `Matchers` is what vitest 3.2 and later leave open for this. vitest is an optional peer: where it is not installed, a
// declaration file that augments it is no error.
declare module "vitest" {
  interface Matchers<T> extends RepetendMatchers<T> {}
}
