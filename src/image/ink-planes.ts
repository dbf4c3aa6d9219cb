/** Stands among inks for cloth that nothing is painted on. */
export const BARE = "#00000000";

/** How much of each ink makes up a pixel, for every mix that occurs. Weights are of 255 and add up to it exactly. */
export interface MixTable {
  /** Where the parts of each mix start in `inks` and `weights`, and where the last one ends: one entry more than mixes. */
  readonly starts: Uint32Array;
  /** Of each part: the place of its ink. */
  readonly inks: Uint16Array;
  /** Of each part: 1 to 255. */
  readonly weights: Uint8Array;
}

/**
 * Rows of ink planes, as runs of equal pixels: in flat artwork one pixel in thirty starts a run, so that a metre of
 * cloth fits in the memory of one picture of it in one ink.
 */
export interface PlaneBand {
  /** The first row's place in the whole. */
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Where each row's runs start in `ends` and `mixes`, and where the last row's end: `height + 1` entries. */
  readonly rows: Uint32Array;
  /** Of each run: the column after its last pixel; the last one of a row is `width`. */
  readonly ends: Uint32Array;
  /** Of each run: the place of its mix in `table`. */
  readonly mixes: Uint32Array;
  readonly table: MixTable;
}

/**
 * A picture by its inks: how much of each ink lies on each pixel. From it come every colourway, every separation and
 * the coverage, with no renderer. Plain data; `inkPlanes` renders it from a print, `planesOfImage` finds it in a
 * picture.
 */
export interface InkPlanes {
  readonly kind: "ink-planes";
  /** "hard": every pixel is one ink. */
  readonly edges: "soft" | "hard";
  readonly width: number;
  readonly height: number;
  /** Dots per inch along each axis, where it is known. */
  readonly dpi?: { readonly x: number; readonly y: number };
  /** `#rrggbb`, at most 65,536; {@link BARE} where cloth may show. A part of a mix names its place here. */
  readonly inks: readonly string[];
  /** From the top, without gaps. */
  readonly bands: readonly PlaneBand[];
}

/** How many mixes a table holds. */
export function countMixes(table: MixTable): number {
  return table.starts.length - 1;
}
