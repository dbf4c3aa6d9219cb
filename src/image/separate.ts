import { aText, bytes, listOf, partsOf } from "../checks.js";
import { toOklab } from "../colour/index.js";
import { RepetendError } from "../errors.js";
import { aCount, inksOfPlanes } from "./checks.js";
import { BARE, type InkPlanes, type PlaneBand } from "./ink-planes.js";
import { FULL } from "./mixes.js";
import type { PixelImage } from "./pixels.js";
import { findReach, LONGEST_REACH, type Reach } from "./reach.js";
import { indexPlane, placeOfInk, spreadBand, weighMixes } from "./weight-plane.js";

/** The inks of planes, without bare cloth, in the order in which they are printed: the lightest first. */
export function printingOrder(planes: Pick<InkPlanes, "inks">): readonly string[] {
  inksOfPlanes(planes, "planes");
  return planes.inks
    .filter((ink) => ink !== BARE)
    .map((ink) => ({ ink, lightness: toOklab(ink).l }))
    .sort((one, other) => other.lightness - one.lightness || (one.ink < other.ink ? -1 : 1))
    .map(({ ink }) => ink);
}

/** How separations are made from planes. */
export interface SeparationPlan {
  /** How far lighter inks run on under darker ones, in pixels on each axis; undefined for no trap. */
  readonly trap?: { readonly x: number; readonly y: number };
  /** Whether the picture goes on over its upper and lower edges; a border's does not. */
  readonly wrapY: boolean;
}

/**
 * Separations of planes, ink by ink and band by band. Every one has the planes' own size and origin, so that they
 * register.
 */
export class Separator {
  readonly #planes: InkPlanes;
  readonly #plan: SeparationPlan;
  readonly #order: readonly string[];
  #mains: Uint8Array | undefined;

  /** @throws {@link RepetendError} E_NUMBER for a trap out of range. */
  constructor(planes: InkPlanes, plan: SeparationPlan) {
    this.#planes = planes;
    this.#plan = plan;
    this.#order = printingOrder(planes);
    for (const pixels of plan.trap === undefined ? [] : [plan.trap.x, plan.trap.y]) {
      if (pixels >= 0 && pixels <= LONGEST_REACH) continue;
      throw new RepetendError("E_NUMBER", "inks cannot run on this far under others", {
        where: "trap",
        value: `${pixels} px`,
        accepted: `0 to ${LONGEST_REACH} px at this resolution`,
      });
    }
  }

  /**
   * Rows of one ink's separation: 255 is all of it. With a trap, wherever the ink is near, the darker inks' share is
   * added to its own: it runs on under them, and they cover it.
   */
  separate(ink: string, band: PlaneBand): PixelImage {
    const place = placeOfInk(this.#planes, ink);
    const own = spreadBand(band, weighMixes(band.table, [place]));
    const { trap } = this.#plan;
    if (trap === undefined) return own;
    const darker = this.#order.slice(this.#order.indexOf(ink) + 1);
    const spread = spreadBand(
      band,
      weighMixes(band.table, [place, ...darker.map((one) => placeOfInk(this.#planes, one))]),
    );
    const near = this.#reach([place], band, { ...trap, wrapX: true, wrapY: this.#plan.wrapY });
    for (let at = 0; at < own.data.length; at++) {
      if (near[at] === 1) own.data[at] = spread.data[at] as number;
    }
    return own;
  }

  /**
   * Rows of an under-base: the union of some inks, on which they keep their colour on dark cloth.
   *
   * @param choke how far it is drawn back from its edges, in pixels on each axis, so that it does not peep out.
   */
  underBase(
    inks: readonly string[],
    band: PlaneBand,
    choke: { readonly x: number; readonly y: number } = { x: 0, y: 0 },
  ): PixelImage {
    const places = inks.map((ink) => placeOfInk(this.#planes, ink));
    const base = spreadBand(band, weighMixes(band.table, places));
    if (choke.x <= 0 || choke.y <= 0) return base;
    const others = this.#planes.inks.flatMap((_, place) => (places.includes(place) ? [] : [place]));
    const near = this.#reach(others, band, { ...choke, wrapX: true, wrapY: this.#plan.wrapY });
    for (let at = 0; at < base.data.length; at++) if (near[at] === 1) base.data[at] = 0;
    return base;
  }

  /** Which pixels of a band are within reach of those whose main ink is one of these, in the whole picture. */
  #reach(places: readonly number[], band: PlaneBand, reach: Reach): Uint8Array {
    const { width, height } = this.#planes;
    this.#mains ??= indexPlane(this.#planes).data;
    const mains = this.#mains;
    const isSeed = new Uint8Array(256);
    for (const place of places) isSeed[place] = 1;
    const margin = Math.ceil(reach.y);
    const rows = band.height + 2 * margin;
    const seeds = new Uint8Array(width * rows);
    for (let row = 0; row < rows; row++) {
      const y = band.y - margin + row;
      if (!reach.wrapY && (y < 0 || y >= height)) continue;
      const from = (((y % height) + height) % height) * width;
      const to = row * width;
      for (let x = 0; x < width; x++) seeds[to + x] = isSeed[mains[from + x] as number] as number;
    }
    const found = findReach(seeds, width, rows, { ...reach, wrapY: false });
    return found.subarray(margin * width, (margin + band.height) * width);
  }
}

const someFilms = listOf(
  partsOf<{ readonly ink: string; readonly levels: Uint8Array }>({ ink: aText, levels: bytes }),
);

/** The picture of inks printed over each other in order: each covers what lies below by its level. RGB. */
export function overprint(
  size: { readonly width: number; readonly height: number },
  films: readonly { readonly ink: string; readonly levels: Uint8Array }[],
  cloth = "#ffffff",
): PixelImage {
  partsOf<typeof size>({ width: aCount, height: aCount })(size, "size");
  someFilms(films, "films");
  aText(cloth, "cloth");
  const { width, height } = size;
  const bytes = (ink: string) => [1, 3, 5].map((at) => Number.parseInt(ink.slice(at, at + 2), 16));
  const data = new Uint8Array(3 * width * height);
  const [r = 0, g = 0, b = 0] = bytes(cloth);
  for (let at = 0; at < data.length; at += 3) data.set([r, g, b], at);
  for (const { ink, levels } of films) {
    const colour = bytes(ink);
    for (let pixel = 0; pixel < width * height; pixel++) {
      const level = levels[pixel] as number;
      if (level === 0) continue;
      for (let channel = 0; channel < 3; channel++) {
        const at = 3 * pixel + channel;
        const below = data[at] as number;
        data[at] = Math.round(below + (((colour[channel] ?? 0) - below) * level) / FULL);
      }
    }
  }
  return { width, height, channels: 3, data, stride: 3 * width };
}
