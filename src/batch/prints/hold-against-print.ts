import type { PixelImage } from "../../image/index.js";
import { type Engine, renderParts } from "../../raster/index.js";
import { type PixelGrid, type Print, pixelPrint } from "../../repeat/index.js";
import { holdAgainstField, type SeamReport } from "../../seam/index.js";

/**
 * Holds what looks open in the pixels of a print's tile against the print: its field is drawn in one go across the seams.
 * Only for tiles of ours: of a picture from elsewhere nobody knows the field.
 *
 * @param image the whole tile on this grid, RGBA.
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function holdAgainstPrint(
  report: SeamReport,
  image: PixelImage,
  print: Print,
  grid: PixelGrid,
  options: { readonly engine?: Engine; readonly signal?: AbortSignal },
): Promise<SeamReport> {
  if (report.ok) return report;
  const { width, height } = grid.tile;
  const moved = { x: width >> 1, y: print.kind === "border" ? 0 : height >> 1 };
  const parts = [{ ...moved, width, height }];
  const [drawn] = await renderParts(pixelPrint(print, grid), { parts, bands: [] }, options);
  return drawn === undefined ? report : holdAgainstField(report, image, drawn, moved);
}
