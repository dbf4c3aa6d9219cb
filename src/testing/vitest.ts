import type { RepetendMatchers } from "./matchers.js";

// vitest is an optional peer: in a declaration file, a module that is not installed is augmented without complaint.
declare module "vitest" {
  interface Assertion<T> extends RepetendMatchers<T> {}
}
