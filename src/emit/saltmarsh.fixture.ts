import { type Colourway, colourway } from "../colour/index.js";
import type { PixelImage } from "../image/index.js";
import { type Motif, motif } from "../motif/index.js";
import { readImage, repeatColumns } from "../raster/index.js";
import { type AllOverOptions, type Border, border, type Placement, place } from "../repeat/index.js";

/** A leaf of reed with a berry: two inks, curves and a part that a tilt puts across every edge. */
export const reed: Motif = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30">' +
    '<path d="M10 1C19 8 19 20 12 29C3 22 1 10 10 1Z" fill="#3c6e5a"/><circle cx="3" cy="4" r="2.2" fill="#c8553d"/></svg>',
  { name: "reed" },
);

/** Reeds across the edges of a cell of 50 mm x 40 mm. */
export const reeds: readonly Placement[] = [
  place(reed, { at: [23, 31], width: 19, turn: 20 }),
  place(reed, { at: [1, 17], width: 23, turn: 71 }),
];

export const CELL: AllOverOptions & { readonly motifs: readonly Placement[] } = {
  name: "Reeds",
  width: 50,
  height: 40,
  ground: "#1b2a41",
  motifs: reeds,
};

/** A border of 50 mm x 40 mm, on bare cloth where no ground is given. */
export const hem = (ground?: string): Border =>
  border({
    name: "Hem",
    repeat: 50,
    width: 40,
    ...(ground === undefined ? {} : { ground }),
    bands: [{ name: "reeds", from: 0, to: 40, motifs: reeds }],
  });

export const lowTide: Colourway = colourway("Low Tide", {
  "#1b2a41": "#f3ead7",
  "#3c6e5a": "#1b2a41",
  "#c8553d": "#d9a441",
});
export const nightjar: Colourway = colourway("Nightjar", {
  "#1b2a41": "#1b2a41",
  "#3c6e5a": "#3c6e5a",
  "#c8553d": "#c8553d",
});

/** A file as an independent decoder reads it, as RGBA. */
export async function readRgba(path: string): Promise<PixelImage> {
  const image = await readImage(path);
  if (image.channels === 4) return image;
  const { width, height, channels, stride } = image;
  const data = new Uint8Array(4 * width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = y * stride + x * channels;
      const to = 4 * (y * width + x);
      for (let k = 0; k < 3; k++) data[to + k] = image.data[channels === 3 ? from + k : from] ?? 0;
      data[to + 3] = 255;
    }
  }
  return { ...image, channels: 4, data, stride: 4 * width };
}

/** A picture so many times side by side and one below the other. */
export function lay(image: PixelImage, across: number, down: number): PixelImage {
  const row = repeatColumns(image, 0, image.width * across);
  const data = Buffer.concat(
    Array.from({ length: down }, () => row.data.subarray(0, row.stride * row.height)),
  );
  return { ...row, height: row.height * down, data: new Uint8Array(data) };
}

/** How many samples of two pictures of one size differ by more than some levels. */
export function countApart(one: PixelImage, other: PixelImage, levels = 0): number {
  if (one.width !== other.width || one.height !== other.height) return Number.POSITIVE_INFINITY;
  let apart = 0;
  for (let y = 0; y < one.height; y++) {
    const [from, to] = [y * one.stride, y * other.stride];
    for (let x = 0; x < 4 * one.width; x++) {
      if (Math.abs((one.data[from + x] ?? 0) - (other.data[to + x] ?? 0)) > levels) apart++;
    }
  }
  return apart;
}
