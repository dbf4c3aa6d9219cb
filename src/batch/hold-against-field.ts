import type { PixelImage } from "../image/index.js";
import { type Engine, renderParts } from "../raster/index.js";
import { type PixelGrid, type Print, pixelPrint } from "../repeat/index.js";
import type { EdgeReport, SeamReport, SeamRun } from "../seam/index.js";

/** So many pixels on each side of a seam are compared. */
const DEPTH = 8;

/** Renderers place an edge a little differently in another window: far less than this, in levels of 255. */
const NOISE_LEVELS = 24;

/** A stretch is at fault where more samples than this differ; a fault of a single pixel in a row of sixteen is 6 %. */
const NOISE_SHARE = 0.01;

/** The share of samples beside a stretch of a seam that the tile has otherwise than the field. */
function shareApart(tile: PixelImage, field: PixelImage, isLeftRight: boolean, { px }: SeamRun): number {
  let [apart, all] = [0, 0];
  const { width, height } = tile;
  for (let along = px.from; along < px.to; along++) {
    for (let across = 0; across < 2 * DEPTH; across++) {
      const far = across - DEPTH;
      const [x, y] = isLeftRight ? [(far + width) % width, along] : [along, (far + height) % height];
      const [column, row] = isLeftRight ? [across, along] : [along, across];
      const [one, other] = [y * tile.stride + 4 * x, row * field.stride + 4 * column];
      for (let channel = 0; channel < 4; channel++) {
        all++;
        const levels = Math.abs((tile.data[one + channel] ?? 0) - (field.data[other + channel] ?? 0));
        if (levels > NOISE_LEVELS) apart++;
      }
    }
  }
  return all === 0 ? 0 : apart / all;
}

const closed = ({ edge }: EdgeReport): EdgeReport => ({
  edge,
  ok: true,
  kind: undefined,
  worst: 0,
  shift: undefined,
  runs: [],
  share: 0,
  mend: undefined,
});

/**
 * Holds what looks open in the pixels of a print's tile against the print: the field is drawn in one go across the seam, and
 * where the tile laid edge to edge shows just that, it is the artwork that looks so and no fault. Only for tiles of ours:
 * of a picture from elsewhere nobody knows the field.
 *
 * @param image the whole tile on this grid, RGBA.
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function holdAgainstField(
  report: SeamReport,
  image: PixelImage,
  print: Print,
  grid: PixelGrid,
  options: { readonly engine?: Engine; readonly signal?: AbortSignal },
): Promise<SeamReport> {
  if (report.ok) return report;
  const onGrid = pixelPrint(print, grid);
  const { width, height } = grid.tile;
  const edges: EdgeReport[] = [];
  for (const edge of report.edges) {
    if (edge.ok) {
      edges.push(edge);
      continue;
    }
    const isLeftRight = edge.edge === "left-right";
    const window = isLeftRight
      ? { x: width - DEPTH, y: 0, width: 2 * DEPTH, height }
      : { x: 0, y: height - DEPTH, width, height: 2 * DEPTH };
    const [field] = await renderParts(onGrid, { parts: [window], bands: [] }, options);
    const runs = edge.runs.filter(
      (run) => field !== undefined && shareApart(image, field, isLeftRight, run) > NOISE_SHARE,
    );
    edges.push(runs.length === 0 ? closed(edge) : { ...edge, runs });
  }
  return { ...report, ok: edges.every((edge) => edge.ok), edges };
}
