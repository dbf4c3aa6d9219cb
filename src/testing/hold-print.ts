import type { Rasterise } from "../image/index.js";
import { field, type Print, tile } from "../repeat/index.js";
import { holdAgainstField, type SeamReport } from "../seam/index.js";

/** Holds what looks open in the pixels of a print's tile against the print's field, through the renderer handed in. */
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
  return holdAgainstField(report, laid, await rasterise(field(print, window), size), moved);
}
