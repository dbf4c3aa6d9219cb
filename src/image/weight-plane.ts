import { aText } from "../checks.js";
import { RepetendError } from "../errors.js";
import { inkPlanes, inksOfPlanes } from "./checks.js";
import { checkPixels } from "./composite.js";
import { countMixes, type InkPlanes, type MixTable, type PlaneBand } from "./ink-planes.js";
import { FULL } from "./mixes.js";
import type { PixelImage } from "./pixels.js";

/** The weight that each mix gives to some inks together, 0 to 255. */
export function weighMixes(table: MixTable, inks: readonly number[]): Uint8Array {
  const wanted = new Set(inks);
  const weights = new Uint8Array(countMixes(table));
  for (let mix = 0; mix < weights.length; mix++) {
    const end = table.starts[mix + 1] ?? 0;
    for (let part = table.starts[mix] ?? 0; part < end; part++) {
      if (wanted.has(table.inks[part] ?? 0)) weights[mix] = (weights[mix] ?? 0) + (table.weights[part] ?? 0);
    }
  }
  return weights;
}

/** The place of the largest part of each mix, and its weight; the first one where two are equal. */
export function mainInks(table: MixTable): { readonly inks: Uint16Array; readonly weights: Uint8Array } {
  const inks = new Uint16Array(countMixes(table));
  const weights = new Uint8Array(countMixes(table));
  for (let mix = 0; mix < inks.length; mix++) {
    const end = table.starts[mix + 1] ?? 0;
    for (let part = table.starts[mix] ?? 0; part < end; part++) {
      const weight = table.weights[part] ?? 0;
      if (weight <= (weights[mix] ?? 0)) continue;
      weights[mix] = weight;
      inks[mix] = table.inks[part] ?? 0;
    }
  }
  return { inks, weights };
}

/** Rows of a band as one byte a pixel: what a table makes of each mix. */
export function spreadBand(band: PlaneBand, table: Uint8Array, into?: Uint8Array): PixelImage {
  const { width, height, rows, ends, mixes } = band;
  const data = into ?? new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    let at = row;
    const last = rows[y + 1] ?? 0;
    for (let run = rows[y] ?? 0; run < last; run++) {
      const value = table[mixes[run] ?? 0] ?? 0;
      const end = row + (ends[run] ?? 0);
      if (end - at < 16) while (at < end) data[at++] = value;
      else data.fill(value, at, end);
      at = end;
    }
  }
  return { width, height, channels: 1, data, stride: width };
}

/** The place of an ink of planes. */
export function placeOfInk(planes: Pick<InkPlanes, "inks">, ink: string): number {
  inksOfPlanes(planes, "planes");
  aText(ink, "ink");
  const place = planes.inks.indexOf(ink);
  if (place >= 0) return place;
  throw new RepetendError("E_INK", "the planes have no such ink", {
    value: ink,
    accepted: planes.inks.join(", "),
  });
}

function spreadPlanes(planes: InkPlanes, tableOf: (table: MixTable) => Uint8Array): PixelImage {
  checkPixels(planes);
  const { width, height, dpi } = planes;
  const data = new Uint8Array(width * height);
  for (const band of planes.bands) {
    spreadBand(band, tableOf(band.table), data.subarray(width * band.y, width * (band.y + band.height)));
  }
  return { width, height, channels: 1, data, stride: width, ...(dpi === undefined ? {} : { dpi }) };
}

/**
 * One ink as a picture: one byte a pixel, from 0 (none of it) to 255 (nothing but it). The planes of all inks add up to
 * 255 at every pixel.
 *
 * @param ink `#rrggbb`, or {@link BARE}: one of `planes.inks`.
 * @throws {@link RepetendError} E_INK for an ink that the planes lack, E_TOO_LARGE above 2^28 pixels.
 *
 * @example
 * ```ts
 * import { planesOfImage, weightPlane } from "repetend";
 * const image = { width: 2, height: 1, channels: 3, data: Uint8Array.of(0, 0, 0, 255, 255, 255), stride: 6 } as const;
 * weightPlane(planesOfImage(image), "#ffffff").data; // Uint8Array.of(0, 255)
 * ```
 */
export function weightPlane(planes: InkPlanes, ink: string): PixelImage {
  inkPlanes(planes, "planes");
  const place = placeOfInk(planes, ink);
  return spreadPlanes(planes, (table) => weighMixes(table, [place]));
}

/** Whether every pixel is one ink. */
export function isPure(table: MixTable): boolean {
  return table.weights.every((weight) => weight === FULL);
}

/**
 * Refuses planes for which {@link indexPlane} has no room.
 *
 * @throws {@link RepetendError} E_FORMAT, E_TOO_LARGE.
 */
export function checkIndexed(planes: Pick<InkPlanes, "inks" | "width" | "height">): void {
  checkPixels(planes);
  if (planes.inks.length <= 256) return;
  throw new RepetendError("E_FORMAT", "one byte a pixel does not hold this many inks", {
    value: String(planes.inks.length),
    accepted: "at most 256",
  });
}

/**
 * Which ink each pixel has, one byte a pixel: its place in `planes.inks`. Where inks mix, the one that has most.
 *
 * @throws {@link RepetendError} E_FORMAT for more than 256 inks, E_TOO_LARGE above 2^28 pixels.
 *
 * @example
 * ```ts
 * import { indexPlane, planesOfImage } from "repetend";
 * const image = { width: 2, height: 1, channels: 1, data: Uint8Array.of(0, 255), stride: 2 } as const;
 * const planes = planesOfImage(image);
 * planes.inks[indexPlane(planes).data[1] ?? 0]; // "#ffffff"
 * ```
 */
export function indexPlane(planes: InkPlanes): PixelImage {
  inkPlanes(planes, "planes");
  checkIndexed(planes);
  return spreadPlanes(planes, (table) => Uint8Array.from(mainInks(table).inks));
}
