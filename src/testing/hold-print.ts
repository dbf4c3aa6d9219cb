import type { PixelImage, Rasterise } from "../image/index.js";
import { field, type Print, tile } from "../repeat/index.js";
import type { EdgeReport, SeamReport, SeamRun } from "../seam/index.js";

/** So many pixels on each side of a seam are compared. */
const DEPTH = 8;

/** Renderers place an edge a little differently in another window: far less than this, in levels of 255. */
const NOISE_LEVELS = 32;

/** A stretch is at fault where more samples than this differ. */
const NOISE_SHARE = 0.02;

/**
 * Holds what looks open in the pixels of a print's tile against the print itself: a window of its field, half a tile on, has
 * the seams in its middle, drawn in one go. Where it shows what the tile laid edge to edge shows, that is the artwork.
 */
export async function holdPrint(report: SeamReport, print: Print, rasterise: Rasterise): Promise<SeamReport> {
  if (report.ok) return report;
  const { width, height } = report;
  const one = tile(print);
  const moved = { x: width >> 1, y: print.kind === "border" ? 0 : height >> 1 };
  const window = {
    x: (moved.x * one.width) / width,
    y: (moved.y * one.height) / height,
    width: one.width,
    height: one.height,
  };
  const size = { width, height };
  const laid = await rasterise(one.svg, size);
  const drawn = await rasterise(field(print, window), size);
  const isSame = (image: PixelImage) => image.width === width && image.height === height;
  if (!isSame(laid) || !isSame(drawn)) return report;
  const edges = report.edges.map((edge): EdgeReport => {
    const runs = edge.runs.filter((run) => shareApart(laid, drawn, moved, edge.edge, run) > NOISE_SHARE);
    if (edge.ok || runs.length > 0) return { ...edge, runs };
    const nothing = { ok: true, kind: undefined, worst: 0, shift: undefined, share: 0, mend: undefined };
    return { edge: edge.edge, ...nothing, runs };
  });
  return { ...report, ok: edges.every((edge) => edge.ok), edges };
}

/** The share of samples beside a stretch of a seam that differ. */
function shareApart(
  laid: PixelImage,
  drawn: PixelImage,
  moved: { readonly x: number; readonly y: number },
  edge: EdgeReport["edge"],
  { px }: SeamRun,
): number {
  const { width, height } = laid;
  const depth = Math.min(DEPTH, Math.floor((edge === "left-right" ? width : height) / 4));
  let [apart, all] = [0, 0];
  for (let along = px.from; along < px.to; along++) {
    for (let across = -depth; across < depth; across++) {
      const [x, y] =
        edge === "left-right" ? [(across + width) % width, along] : [along, (across + height) % height];
      const [column, row] = [(x - moved.x + width) % width, (y - moved.y + height) % height];
      for (let channel = 0; channel < 3; channel++) {
        const one = laid.data[y * laid.stride + x * laid.channels + channel] ?? 0;
        const other = drawn.data[row * drawn.stride + column * drawn.channels + channel] ?? 0;
        if (Math.abs(one - other) > NOISE_LEVELS) apart++;
        all++;
      }
    }
  }
  return all === 0 ? 0 : apart / all;
}
