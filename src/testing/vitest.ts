import type { RepetendMatchers } from "./matchers.js";

// vitest is an optional peer. Where it is missing, its module cannot be augmented; the comment, which stays in the
// declarations, keeps that from being an error of the user's project.
// biome-ignore lint/suspicious/noTsIgnore: an expected error would itself be one where vitest is installed
/** @ts-ignore */
declare module "vitest" {
  interface Assertion<T> extends RepetendMatchers<T> {}
}
