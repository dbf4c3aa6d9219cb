import { coverageOf, findContacts, type InkContacts } from "../../image/index.js";
import { type Engine, inkPlanes, whyNotLinear } from "../../raster/index.js";
import { type PixelGrid, type Print, pixelGrid } from "../../repeat/index.js";
import type { PrintCoverage } from "../manifest.js";

/** Coverage is measured on a picture of about this many pixels, whose soft edges know areas exactly. */
const COVERAGE_PIXELS = 2 ** 21;

/** How much each ink of a print covers, and which inks touch. */
export interface InkMeasures {
  readonly coverage: readonly PrintCoverage[];
  readonly contacts: InkContacts;
}

/**
 * Measures the inks of a print on ink planes of their own, at a resolution that is quick to render, so that the figures
 * do not depend on what else is written. `undefined` for a print that is no sum of its inks.
 *
 * @param grid of the tile as it is printed.
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function measureInks(
  print: Print,
  grid: PixelGrid,
  options: { readonly engine?: Engine; readonly signal?: AbortSignal },
): Promise<InkMeasures | undefined> {
  if (whyNotLinear(print).length > 0) return undefined;
  const { width, height } = pixelGrid(print, { dpi: 100 }).tile;
  const dpi = Math.min(300, 100 * Math.sqrt(COVERAGE_PIXELS / (width * height)));
  const planes = await inkPlanes(print, { ...options, dpi });
  const [along, across] =
    print.grain === "x" ? [grid.mm.width, grid.mm.height] : [grid.mm.height, grid.mm.width];
  const round = (value: number): number => Number(value.toPrecision(6));
  const coverage = coverageOf(planes).map(
    ({ ink, share }): PrintCoverage => ({
      ink,
      share: round(share),
      perRepeat: round((share * along * across) / 100),
      perRunningMetre: round((share * 1000 * across) / 100),
    }),
  );
  return { coverage, contacts: findContacts(planes, { wrapY: print.kind === "all-over" }) };
}
