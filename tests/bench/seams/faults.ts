import type { PixelImage } from "../../../src/image/index.js";
import type { EdgePair, FaultKind } from "../../../src/seam/index.js";
import { followContours } from "../../../src/seam/outlines/contours.js";
import { labDifference, writeLab } from "../../../src/seam/strip/lab.js";
import { readStrip } from "../../../src/seam/strip/strip.js";
import { seeded } from "../../seeded.fixture.js";
import {
  type Composition,
  type Copy,
  type CopyChange,
  copiesOf,
  drawComposition,
  renderOpaque,
} from "./compose.js";

/** What can be done to a tile. */
export type Injection =
  | { readonly name: string; readonly kind: "shift"; readonly part: "whole" | "motif"; readonly px: number }
  | { readonly name: string; readonly kind: "gap" | "cut" | "colour" | "doubled" };

export const INJECTIONS: readonly Injection[] = [
  ...([1, 2, 5] as const).flatMap((px): Injection[] => [
    { name: `shift ${px} px, whole edge`, kind: "shift", part: "whole", px },
    { name: `shift ${px} px, one motif`, kind: "shift", part: "motif", px },
  ]),
  { name: "gap of 1 px", kind: "gap" },
  { name: "partner missing", kind: "cut" },
  { name: "partner recoloured", kind: "colour" },
  { name: "doubled row", kind: "doubled" },
];

/** A tile with one fault, and where it shows. */
export interface Faulty {
  readonly image: PixelImage;
  readonly kind: FaultKind;
  /** Edges on which it shows, with how much of each: changed rows at the edge. */
  readonly edges: readonly { readonly edge: EdgePair; readonly rows: number }[];
  /** Along the seam, in pixels, with the sign of the report. */
  readonly shift: number | undefined;
}

const scratch = new Float32Array(8);

const differenceAt = (one: PixelImage, other: PixelImage, x: number, y: number): number => {
  const at = y * one.stride + x * one.channels;
  const [p, q] = [one.data.subarray(at, at + 3), other.data.subarray(at, at + 3)];
  if (p[0] === q[0] && p[1] === q[1] && p[2] === q[2]) return 0;
  writeLab(p[0] as number, p[1] as number, p[2] as number, scratch, 0);
  writeLab(q[0] as number, q[1] as number, q[2] as number, scratch, 4);
  return labDifference(scratch, 0, 4);
};

/** Changed rows nearer than this belong to one place. */
const NEAR_ROWS = 40;

/**
 * How many rows along an edge, on one side of its seam and in one place, a fault changes by `least` or more.
 */
export function changedRows(one: PixelImage, other: PixelImage, edge: EdgePair, least: number): number {
  const count = (x: number | undefined, y: number | undefined): number => {
    let [rows, most, last] = [0, 0, Number.NEGATIVE_INFINITY];
    const length = x === undefined ? one.width : one.height;
    for (let t = 0; t < length; t++) {
      if (differenceAt(one, other, x ?? t, y ?? t) < least) continue;
      rows = t - last <= NEAR_ROWS ? rows + 1 : 1;
      last = t;
      most = Math.max(most, rows);
    }
    return most;
  };
  return edge === "left-right"
    ? Math.max(count(0, undefined), count(one.width - 1, undefined))
    : Math.max(count(undefined, 0), count(undefined, one.height - 1));
}

const edgesOf = (composition: Composition): readonly EdgePair[] =>
  composition.layout.kind === "border" ? ["left-right"] : ["left-right", "top-bottom"];

/** A fault smaller than this at the edge shows to nobody: rows (pixels along the edge) that change by 3 or more,
 * in one place. */
const LEAST_ROWS = { shift: 4, gap: 12, cut: 12, colour: 12, doubled: 8, size: 12 } as const;

const showing = (
  composition: Composition,
  clean: PixelImage,
  image: PixelImage,
  kind: FaultKind,
): Faulty["edges"] =>
  edgesOf(composition)
    .map((edge) => ({ edge, rows: changedRows(clean, image, edge, 3) }))
    .filter(
      ({ edge, rows }) =>
        rows >= LEAST_ROWS[kind] && (kind !== "shift" || isCrossed(composition, clean, image, edge)),
    );

/** A shift shows where outlines run over the seam, not too steeply: at least this many sides of lines. */
const LEAST_OUTLINES = 4;

/** Counts the outlines that run over the seam of the clean tile where the faulty one differs from it. */
function isCrossed(composition: Composition, clean: PixelImage, image: PixelImage, edge: EdgePair): boolean {
  const cyclic = composition.layout.kind !== "border";
  const place = { edge, offset: seamOffset(composition, edge), cyclic };
  const [one, other] = [readStrip(clean, place, 8), readStrip(image, place, 8)];
  const stride = 16;
  const changed = (t: number) => {
    const row = ((Math.round(t) % one.length) + one.length) % one.length;
    for (let column = 6; column < 10; column++)
      if (one.key[row * stride + column] !== other.key[row * stride + column]) return true;
    return false;
  };
  const isSquare = (places: readonly number[]) =>
    places.length >= 6 && Math.abs((places[5] as number) - (places[0] as number)) <= 5;
  const far = followContours(one, 1, 6).filter(({ places }) => isSquare(places));
  const sides = followContours(one, -1, 6).filter(
    ({ places }) =>
      isSquare(places) &&
      far.some((next) => Math.abs((next.places[0] as number) - (places[0] as number)) <= 2) &&
      [-2, -1, 0, 1, 2].some((k) => changed((places[0] as number) + k)),
  );
  const first = sides[0]?.places[0] as number;
  return (
    sides.length >= LEAST_OUTLINES && sides.some((side) => Math.abs((side.places[0] as number) - first) > 8)
  );
}

/** Another colour for every ink of a drawing: hue and lightness moved by a visible amount. */
function recolour(drawing: string, random: () => number): string {
  const move = [0, 0, 0].map(() => Math.round((random() < 0.5 ? -1 : 1) * (8 + 40 * random())));
  const one = Math.floor(random() * 8);
  const inks = [...new Set([...drawing.matchAll(/#[0-9a-fA-F]{6}\b/g)].map(([ink]) => ink.toLowerCase()))];
  const chosen = new Set(random() < 0.5 ? inks : [inks[one % Math.max(1, inks.length)]]);
  return drawing.replace(/#[0-9a-fA-F]{6}\b/g, (ink) => {
    if (!chosen.has(ink.toLowerCase())) return ink;
    const levels = [1, 3, 5].map((at, i) => {
      const level = Number.parseInt(ink.slice(at, at + 2), 16);
      const moved = level + (move[i] as number);
      return moved < 0 || moved > 255 ? level - (move[i] as number) : moved;
    });
    return `#${levels.map((level) => Math.max(0, Math.min(255, level)).toString(16).padStart(2, "0")).join("")}`;
  });
}

/** Copies that may be the partner at an edge: those not of the tile's own cell. */
const partners = (composition: Composition): readonly Copy[] => {
  const { width, height } = composition;
  return copiesOf(composition, { x: 0, y: 0, width, height }).filter(
    ({ x, y, motif }) =>
      x - motif.size * 0.5 < 0 ||
      x + motif.size * 0.5 > width ||
      y - motif.size * 0.5 < 0 ||
      y + motif.size * 0.5 > height,
  );
};

/** Of a motif's size: an edge that passes its middle no further off cuts its body, not only a tip. */
const BODY = 0.3;

/** Tells whether an edge of the tile passes through the body of a copy. */
function crossesWith({ width, height }: Composition, { x, y, motif }: Copy, edge: EdgePair): boolean {
  const [across, depth] = edge === "left-right" ? [x, width] : [y, height];
  return Math.min(Math.abs(across), Math.abs(across - depth)) <= BODY * motif.size;
}

function copyImage(image: PixelImage): PixelImage {
  return { ...image, data: image.data.slice() };
}

function setRow(
  image: PixelImage,
  edge: EdgePair,
  side: "near" | "far",
  read: (t: number) => readonly number[],
): void {
  const length = edge === "left-right" ? image.height : image.width;
  const depth = edge === "left-right" ? image.width : image.height;
  const across = side === "near" ? depth - 1 : 0;
  for (let t = 0; t < length; t++) {
    const [x, y] = edge === "left-right" ? [across, t] : [t, across];
    image.data.set(read(t), y * image.stride + x * image.channels);
  }
}

/** The tile with one more row (or column), which repeats the first. */
function doubleRow(image: PixelImage, composition: Composition, edge: EdgePair): PixelImage {
  const byColumns = edge === "left-right";
  const width = image.width + (byColumns ? 1 : 0);
  const height = image.height + (byColumns ? 0 : 1);
  const data = new Uint8Array(width * height * 4);
  const offset = seamOffset(composition, edge);
  const length = byColumns ? image.height : image.width;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      // The row after the last is the first of the next tile, which may be moved along.
      const isNew = byColumns ? x === image.width : y === image.height;
      const along = (t: number) => (((t - offset) % length) + length) % length;
      const [fx, fy] = !isNew ? [x, y] : byColumns ? [0, along(y)] : [along(x), 0];
      const from = fy * image.stride + fx * 4;
      data.set(image.data.subarray(from, from + 4), (y * width + x) * 4);
    }
  return { ...image, width, height, data, stride: width * 4 };
}

/** By how much the far tile is moved along the seam, in pixels. */
export function seamOffset(composition: Composition, edge: EdgePair): number {
  const { layout, width, height } = composition;
  if (layout.kind === "half-drop") return edge === "left-right" ? height / 2 : 0;
  if (layout.kind === "brick") return edge === "top-bottom" ? width / 2 : 0;
  if (layout.kind === "stepped") {
    const share = layout.step.p / layout.step.q;
    if (layout.along === "column") return edge === "left-right" ? height * share : 0;
    return edge === "top-bottom" ? width * share : 0;
  }
  return 0;
}

/** Puts one fault into a tile; `undefined` where none of its edges would show it. */
export function injectFault(
  composition: Composition,
  clean: PixelImage,
  injection: Injection,
  seed: number,
): Faulty | undefined {
  const random = seeded(seed * 104729 + 5);
  const edges = edgesOf(composition);
  const edge = edges[Math.floor(random() * edges.length)] as EdgePair;
  const sign = random() < 0.5 ? -1 : 1;
  const tell = (image: PixelImage, shift?: number): Faulty | undefined => {
    const shown = showing(composition, clean, image, injection.kind);
    return shown.length === 0 ? undefined : { image, kind: injection.kind, edges: shown, shift };
  };
  const render = (change: (copy: Copy) => CopyChange | undefined): PixelImage =>
    renderOpaque(drawComposition(composition, { change }));
  const tryPartners = (change: CopyChange, shift?: number): Faulty | undefined => {
    const list = [...partners(composition)]
      .filter((copy) => shift === undefined || crossesWith(composition, copy, edge))
      .sort(() => random() - 0.5)
      .slice(0, 6);
    for (const partner of list) {
      const image = render((copy) =>
        copy.index === partner.index && copy.column === partner.column && copy.row === partner.row
          ? change
          : undefined,
      );
      const result = tell(image, shift);
      if (result) return result;
    }
    return undefined;
  };
  switch (injection.kind) {
    case "shift": {
      const px = sign * injection.px;
      if (injection.part === "motif") {
        const result = tryPartners(edge === "left-right" ? { dy: px } : { dx: px }, injection.px);
        const shown = result?.edges.filter((one) => one.edge === edge) ?? [];
        return result && shown.length > 0 ? { ...result, edges: shown } : undefined;
      }
      const slip = edge === "left-right" ? { acrossY: px, downX: 0 } : { acrossY: 0, downX: px };
      const image = renderOpaque(drawComposition(composition, { slip }));
      const result = tell(image, injection.px);
      const shown = result?.edges.filter((one) => one.edge === edge) ?? [];
      return result && shown.length > 0 ? { ...result, edges: shown } : undefined;
    }
    case "cut":
      return tryPartners({ skip: true });
    case "colour":
      return tryPartners({ drawing: (drawing) => recolour(drawing, seeded(seed)) });
    case "gap": {
      const image = copyImage(clean);
      const ground = random() < 0.5 ? [0, 0, 0, 0] : hexLevels(composition.ground);
      setRow(image, edge, random() < 0.5 ? "near" : "far", () => ground);
      return tell(image);
    }
    case "doubled": {
      // It shows where the outlines are not straight across: where the next row differs.
      const image = doubleRow(clean, composition, edge);
      const rows = rowsThatDiffer(clean, edge);
      return rows < LEAST_ROWS.doubled
        ? undefined
        : { image, kind: "doubled", edges: [{ edge, rows }], shift: undefined };
    }
  }
}

/** How many pixels of the first row differ from the second. */
function rowsThatDiffer(image: PixelImage, edge: EdgePair): number {
  const moved: PixelImage =
    edge === "left-right"
      ? { ...image, width: image.width - 1, data: image.data.subarray(4) }
      : { ...image, height: image.height - 1, data: image.data.subarray(image.stride) };
  let rows = 0;
  const length = edge === "left-right" ? image.height : image.width;
  for (let t = 0; t < length; t++) {
    const [x, y] = edge === "left-right" ? [0, t] : [t, 0];
    if (differenceAt(image, moved, x, y) >= 3) rows++;
  }
  return rows;
}

function hexLevels(hex: string): readonly number[] {
  return [...[1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)), 255];
}
