import type { PixelImage } from "../image/index.js";
import { cropImage } from "../raster/index.js";
import { findRepeat, type RepeatEstimate, type SeamLayout } from "../seam/index.js";
import { commonDivisor } from "../units/ratio.js";

/** What of a picture is checked, as which layout, and why. */
export interface LayoutChoice {
  readonly layout: SeamLayout;
  readonly why: "given" | "found" | "default";
  /** One sentence for a person. */
  readonly says: string;
  /** The picture that is checked: the one that was handed in, or one repeat of it. */
  readonly image: PixelImage;
  /** The part that was taken from the picture, in pixels; `undefined` where it is the whole. */
  readonly part: { readonly width: number; readonly height: number } | undefined;
}

/** Below this an estimate asks to be looked at by a person. */
const CONFIDENT = 0.5;

/**
 * A picture that misses a whole number of repeats by no more than this is a tile that is badly cut: its own edges are
 * checked, so that the fault is told. Pixels, and part of a repeat.
 */
const MISCUT = { px: 8, part: 0.03 } as const;

/** The largest q that a step of a layout may have. */
const LARGEST_STEP = 64;

/** A layout in words. */
export function nameLayout(layout: SeamLayout): string {
  const named = typeof layout === "string" ? { kind: layout } : layout;
  if (named.kind !== "stepped") return named.kind;
  const { along, step } = named;
  const fraction = typeof step === "string" ? step : `${step.p}/${step.q}`;
  return `${along === "column" ? "columns" : "rows"} stepped by ${fraction}`;
}

/** The layout under which a block of `columns` by `rows` cells repeats. */
function layoutOfBlock(
  layout: Exclude<RepeatEstimate["layout"], "none">,
  columns: number,
  rows: number,
): SeamLayout | undefined {
  if (layout === "straight" || layout === "border") return layout;
  const named =
    layout === "half-drop"
      ? ({ along: "column", step: { p: 1, q: 2 } } as const)
      : layout === "brick"
        ? ({ along: "row", step: { p: 1, q: 2 } } as const)
        : layout;
  const { p, q } = named.step;
  const [over, within] = named.along === "column" ? [columns, rows] : [rows, columns];
  const rest = (over * p) % q;
  if (rest === 0) return "straight";
  const common = commonDivisor(rest, q * within);
  const step = { p: rest / common, q: (q * within) / common };
  if (step.q > LARGEST_STEP) return undefined;
  if (step.q === 2) return named.along === "column" ? "half-drop" : "brick";
  return { kind: "stepped", along: named.along, step };
}

/** The number of repeats along a side that comes nearest to it, and whether the side holds so many but for a bad cut. */
function countRepeats(side: number, repeat: number | undefined): { count: number; isTile: boolean } {
  if (repeat === undefined) return { count: 1, isTile: true };
  const count = Math.max(1, Math.round(side / repeat));
  const off = Math.abs(side - count * repeat);
  return { count, isTile: off <= Math.min(MISCUT.px, Math.max(1, MISCUT.part * repeat)) };
}

/** The number of repeats whose length is nearest to whole pixels. */
function countWhole(side: number, repeat: number): number {
  let best = 1;
  const off = (count: number) => Math.abs(count * repeat - Math.round(count * repeat));
  for (let count = 2; Math.round(count * repeat) <= side; count++)
    if (off(count) < off(best) - 0.05) best = count;
  return best;
}

/** A block with fewer pixels a side shows too little of its seams: then several of it are taken. */
const LEAST_BLOCK_PX = 32;

const wholeSide = (side: number, repeat: number | undefined): { count: number; px: number } => {
  if (repeat === undefined) return { count: 1, px: side };
  const once = countWhole(side, repeat);
  const times = Math.min(Math.ceil(LEAST_BLOCK_PX / (once * repeat)), Math.floor(side / (once * repeat)));
  const count = once * Math.max(1, times);
  return { count, px: Math.min(side, Math.round(count * repeat)) };
};

/** The mean difference of levels where two edges meet, the far one moved along by `offset` pixels. */
function differAt(image: PixelImage, edge: "left-right" | "top-bottom", offset: number): number {
  const { width, height, stride, channels, data } = image;
  const bySides = edge === "left-right";
  const length = bySides ? height : width;
  let sum = 0;
  for (let t = 0; t < length; t++) {
    const far = (t - offset + length) % length;
    const one = bySides ? t * stride + (width - 1) * channels : (height - 1) * stride + t * channels;
    const other = bySides ? far * stride : far * channels;
    for (let i = 0; i < channels; i++)
      sum += Math.abs((data[one + i] as number) - (data[other + i] as number));
  }
  return sum / (length * channels);
}

/** Another layout than straight is taken where its edges differ by less than this part of what straight's differ by. */
const CLEARLY_BETTER = 0.6;

/** Edges that differ by less than this many levels on average meet already. */
const MEETING = 0.5;

/** The layout in which a tile that shows no repeat is nearest to closing; straight, unless another is clearly better. */
function nearestLayout(image: PixelImage): SeamLayout {
  const share = (edge: "left-right" | "top-bottom", side: number) => {
    const straight = differAt(image, edge, 0);
    return straight < MEETING ? 1 : differAt(image, edge, Math.round(side / 2)) / straight;
  };
  const [drop, brick] = [share("left-right", image.height), share("top-bottom", image.width)];
  if (Math.min(drop, brick) >= CLEARLY_BETTER) return "straight";
  return drop <= brick ? "half-drop" : "brick";
}

/**
 * Chooses how a picture is checked when nobody says: by the repeat that it shows, where that is sure, else straight. Of a
 * picture that shows repeats but is none itself, such as a length of cloth, a block of whole repeats is taken.
 */
export function chooseLayout(image: PixelImage): LayoutChoice {
  const nearest = (): LayoutChoice => {
    const layout = nearestLayout(image);
    const why = "since it shows no repeat that is sure, and so its edges are nearest to closing";
    const says =
      layout === "straight"
        ? "Checked as straight, since it shows no other repeat."
        : `${sentence(layout, why)} Say --layout if it is laid otherwise.`;
    return { layout, why: "default", says, image, part: undefined };
  };
  if (Math.min(image.width, image.height) < 16) return nearest();
  const estimate = findRepeat(image);
  const { found, layout, width, height, confidence } = estimate;
  const isRepeat = found === "lattice" || found === "border" || found === "tile";
  if (layout === "none" || !isRepeat || confidence < CONFIDENT) return nearest();
  const [across, down] = [countRepeats(image.width, width), countRepeats(image.height, height)];
  if (across.isTile && down.isTile) {
    const own = layoutOfBlock(layout, across.count, down.count);
    const why =
      found === "tile"
        ? "since so its edges come nearest to meeting"
        : `the whole picture, since it shows ${across.count} x ${down.count} repeats: ${estimate.says}`;
    if (own !== undefined)
      return { layout: own, why: "found", says: sentence(own, why), image, part: undefined };
  }
  const [block, tall] = [wholeSide(image.width, width), wholeSide(image.height, height)];
  const own = layoutOfBlock(layout, block.count, tall.count);
  if (own === undefined) return nearest();
  const part = { width: block.px, height: tall.px };
  return {
    layout: own,
    why: "found",
    says: sentence(
      own,
      `${part.width} x ${part.height} px from its top left corner, since the picture is no whole number of repeats: ${estimate.says}`,
    ),
    image: cropImage(image, { x: 0, y: 0, ...part }),
    part,
  };
}

const sentence = (layout: SeamLayout, why: string): string =>
  `Checked as ${nameLayout(layout)}, ${why.replace(/\.$/, "")}.`;
