// The published types know css-tree's main entry only; these three sub-entries hold the same functions without the
// tables of the language that the main entry brings along.
declare module "css-tree/parser" {
  import type { parse } from "css-tree";

  const parser: typeof parse;
  export default parser;
}

declare module "css-tree/walker" {
  import type { walk } from "css-tree";

  const walker: typeof walk;
  export default walker;
}

declare module "css-tree/generator" {
  import type { generate } from "css-tree";

  const generator: typeof generate;
  export default generator;
}
