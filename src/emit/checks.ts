import {
  aFlag,
  aFunction,
  anObject,
  aText,
  type Check,
  check,
  listOf,
  maybe,
  oneOf,
  partsOf,
} from "../checks.js";
import { aColourway } from "../colour/checks.js";
import type { BandPoolOptions } from "./band-pool.js";
import type { EmitTileOptions } from "./emit-tile.js";
import type { EmitSeparationsOptions } from "./separations.js";
import type { TilePlanOptions } from "./tile-plan.js";

const edges = maybe(oneOf("soft", "hard"));

const PLAN_PARTS: { readonly [Key in keyof TilePlanOptions]?: Check } = {
  formats: maybe(listOf(oneOf("svg", "png", "tiff"))),
  compression: maybe(oneOf("deflate", "lzw", "none")),
  space: maybe(oneOf("rgb", "cmyk", "lab")),
  profile: maybe(
    check(
      (value) => typeof value === "string" || value instanceof Uint8Array,
      "a path, or a profile's bytes",
    ),
  ),
  colourways: maybe(listOf(aColourway)),
  edges,
  strict: maybe(aFlag),
  crop: maybe(anObject),
};

const RUN_PARTS = {
  dir: aText,
  engine: maybe(aFunction),
  maker: maybe(anObject),
  onFile: maybe(aFunction),
  finished: maybe(listOf(anObject)),
  signal: maybe(anObject),
};

export const tilePlanOptions: Check = partsOf<TilePlanOptions>(PLAN_PARTS);

export const emitTileOptions: Check = partsOf<EmitTileOptions>({
  ...PLAN_PARTS,
  ...RUN_PARTS,
  onProgress: maybe(aFunction),
});

export const bandPoolOptions: Check = partsOf<BandPoolOptions>({
  engine: maybe(oneOf("native", "wasm")),
  program: maybe(check((value) => value instanceof URL, "a URL")),
});

export const emitSeparationsOptions: Check = partsOf<EmitSeparationsOptions>({
  ...RUN_PARTS,
  edges,
  screen: maybe(oneOf("ordered", "blue-noise")),
  underBase: maybe(anObject),
  full: maybe(oneOf("high", "black")),
  format: maybe(oneOf("png", "tiff")),
  compression: maybe(oneOf("deflate", "lzw", "none")),
});
