import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import type { PixelImage } from "../../../src/image/index.js";
import { seeded } from "../../seeded.fixture.js";

/** How the cells lie, as the composer and the check both read it. */
export type TileLayout =
  | { readonly kind: "straight" }
  | { readonly kind: "half-drop" }
  | { readonly kind: "brick" }
  | { readonly kind: "border" }
  | {
      readonly kind: "stepped";
      readonly along: "column" | "row";
      readonly step: { readonly p: number; readonly q: number };
    };

/** One motif of a composed tile, in pixels of the tile. */
export interface ComposedMotif {
  readonly drawing: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
  /** Degrees. */
  readonly turn: number;
}

/** A composed tile: one cell of a lattice, in pixels. */
export interface Composition {
  readonly width: number;
  readonly height: number;
  readonly dpi: number;
  readonly layout: TileLayout;
  readonly ground: string;
  readonly motifs: readonly ComposedMotif[];
  readonly edges: "soft" | "hard";
}

/** One copy of a motif: `column` and `row` count cells away from the tile's own. */
export interface Copy {
  readonly index: number;
  readonly motif: ComposedMotif;
  readonly column: number;
  readonly row: number;
  readonly x: number;
  readonly y: number;
}

/** How a copy is drawn otherwise than it should be. */
export interface CopyChange {
  readonly skip?: boolean;
  readonly dx?: number;
  readonly dy?: number;
  readonly drawing?: (drawing: string) => string;
}

const folder = join(dirname(createRequire(import.meta.url).resolve("openmoji/package.json")), "color", "svg");

/** The file names of the open drawings, in a stable order; those with live text or references are left out. */
export function drawingNames(): readonly string[] {
  return readdirSync(folder)
    .filter((name) => /^(1F[3-6][0-9A-F]{2}|1F9[0-9A-F]{2}|26[0-9A-F]{2})\.svg$/.test(name))
    .sort();
}

/** What is inside an open drawing's root: 72 x 72 user units. */
export function readInner(name: string): string | undefined {
  const text = readFileSync(join(folder, name), "utf8");
  if (/<text|<image|<use|url\(|<style|opacity/.test(text)) return undefined;
  const inner = /<svg[^>]*>([\s\S]*)<\/svg>/.exec(text)?.[1];
  return inner?.replace(/\sid="[^"]*"/g, "");
}

type Vector = readonly [number, number];

const vectors = ({
  width,
  height,
  layout,
}: Pick<Composition, "width" | "height" | "layout">): readonly [Vector, Vector] => {
  switch (layout.kind) {
    case "straight":
    case "border":
      return [
        [width, 0],
        [0, height],
      ];
    case "half-drop":
      return [
        [width, height / 2],
        [0, height],
      ];
    case "brick":
      return [
        [width, 0],
        [width / 2, height],
      ];
    case "stepped":
      return layout.along === "column"
        ? [
            [width, (height * layout.step.p) / layout.step.q],
            [0, height],
          ]
        : [
            [width, 0],
            [(width * layout.step.p) / layout.step.q, height],
          ];
  }
};

/** How far a drawing reaches from its middle, in sizes: half the diagonal of its 72 units, and a little. */
const REACH = 0.72;

/** Every copy that may show in a window of the endless field. `slip` makes the lattice itself wrong, in pixels. */
export function copiesOf(
  composition: Composition,
  window: { x: number; y: number; width: number; height: number },
  slip: { acrossY: number; downX: number } = { acrossY: 0, downX: 0 },
): readonly Copy[] {
  const [across, down] = vectors(composition);
  const rows = composition.layout.kind === "border" ? [0] : [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5];
  const copies: Copy[] = [];
  for (const [index, motif] of composition.motifs.entries()) {
    for (const row of rows)
      for (let column = -5; column <= 5; column++) {
        const x = motif.x + column * across[0] + row * (down[0] + slip.downX);
        const y = motif.y + column * (across[1] + slip.acrossY) + row * down[1];
        const reach = motif.size * REACH;
        if (
          x + reach < window.x ||
          x - reach > window.x + window.width ||
          y + reach < window.y ||
          y - reach > window.y + window.height
        )
          continue;
        copies.push({ index, motif, column, row, x, y });
      }
  }
  return copies;
}

/** A window of the composed field as SVG text, one user unit a pixel. */
export function drawComposition(
  composition: Composition,
  options: {
    readonly window?: { x: number; y: number; width: number; height: number };
    readonly slip?: { acrossY: number; downX: number };
    readonly change?: (copy: Copy) => CopyChange | undefined;
  } = {},
): string {
  const window = options.window ?? { x: 0, y: 0, width: composition.width, height: composition.height };
  const body = copiesOf(composition, window, options.slip).map((copy) => {
    const change = options.change?.(copy) ?? {};
    if (change.skip) return "";
    const { size, turn, drawing } = copy.motif;
    const at = `translate(${(copy.x + (change.dx ?? 0)).toFixed(4)} ${(copy.y + (change.dy ?? 0)).toFixed(4)})`;
    const inner = change.drawing ? change.drawing(drawing) : drawing;
    return `<g transform="${at} rotate(${turn}) scale(${(size / 72).toFixed(6)}) translate(-36 -36)">${inner}</g>`;
  });
  const { x, y, width, height } = window;
  const shape = composition.edges === "hard" ? ' shape-rendering="crispEdges"' : "";
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="${x} ${y} ${width} ${height}"${shape}><rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${composition.ground}" shape-rendering="crispEdges"/>${body.join("")}</svg>`;
}

/** Renders SVG text with a ground of its own: opaque, so nothing is premultiplied. */
export function renderOpaque(svg: string): PixelImage {
  const image = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  return {
    width: image.width,
    height: image.height,
    channels: 4,
    data: new Uint8Array(image.pixels),
    stride: image.width * 4,
  };
}

const GROUNDS = ["#f2ead8", "#1f3140", "#d9e4dd", "#ffffff", "#e8c9a0", "#2f4f4f", "#f7d6d0", "#101820"];

const LAYOUTS: readonly TileLayout[] = [
  { kind: "straight" },
  { kind: "half-drop" },
  { kind: "brick" },
  { kind: "border" },
  { kind: "stepped", along: "column", step: { p: 1, q: 3 } },
  { kind: "stepped", along: "row", step: { p: 2, q: 5 } },
  { kind: "stepped", along: "row", step: { p: 1, q: 4 } },
  { kind: "stepped", along: "column", step: { p: 3, q: 4 } },
];

/** Motifs of a tossed print touch here and there but do not lie on each other. */
const CLEARANCE = 0.4;

function isClear(
  frame: Pick<Composition, "width" | "height" | "layout">,
  one: ComposedMotif,
  other: ComposedMotif,
): boolean {
  const [across, down] = vectors(frame);
  for (let column = -2; column <= 2; column++)
    for (let row = -2; row <= 2; row++) {
      const x = other.x + column * across[0] + row * down[0] - one.x;
      const y = other.y + column * across[1] + row * down[1] - one.y;
      if (Math.hypot(x, y) < CLEARANCE * (one.size + other.size)) return false;
    }
  return true;
}

/** Makes the tile of a number: layouts, edges, resolutions, grounds and motifs vary with it. */
export function composeTile(seed: number, names: readonly string[]): Composition {
  const random = seeded(seed * 7919 + 17);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const layout = LAYOUTS[seed % LAYOUTS.length] as TileLayout;
  const dpi = pick([100, 150, 200, 254, 300, 400]);
  // 60 to 110 mm: small for a repeat, but its motifs of 20 to 40 mm are of the trade's usual size.
  const side = () => (60 + 50 * random()) * (dpi / 25.4);
  const multiple = layout.kind === "stepped" ? layout.step.q : 2;
  const whole = (pixels: number) => Math.round(pixels / multiple) * multiple;
  const width = whole(side());
  const height = whole(side());
  const count = 4 + Math.floor(random() * 9);
  const motifs: ComposedMotif[] = [];
  const turned = random() < 0.7;
  const frame = { width, height, layout };
  for (let tries = 0; motifs.length < count && tries < 60; tries++) {
    const drawing = readInner(pick(names));
    if (drawing === undefined) continue;
    const size = ((20 + 20 * random()) / 25.4) * dpi;
    const nearEdge = random() < 0.6;
    const side = random() < 0.5;
    const along = random();
    const off = (random() - 0.5) * 0.6 * size;
    const motif = {
      drawing,
      size,
      turn: turned ? Math.round(random() * 3600) / 10 : 0,
      x: nearEdge && side ? off : along * width,
      y: nearEdge && !side && layout.kind !== "border" ? off : random() * height,
    };
    if (motifs.every((other) => isClear(frame, motif, other))) motifs.push(motif);
  }
  return {
    width,
    height,
    dpi,
    layout,
    ground: pick(GROUNDS),
    motifs,
    edges: Math.floor(seed / LAYOUTS.length) % 2 ? "hard" : "soft",
  };
}
