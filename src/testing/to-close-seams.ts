import { type Print, type Tile, tile } from "../repeat/index.js";
import {
  type CheckDrawingOptions,
  type CheckSeamsOptions,
  checkSeams,
  describeSeams,
  type SeamReport,
} from "../seam/index.js";
import { holdPrint } from "./hold-print.js";
import { isKind, isPixels, type MatcherResult, refuseSubject } from "./matcher.js";

/** How `toCloseSeams` looks: `layout`, `dpi`, and for a drawing the renderer. */
export type CloseSeamsOptions = CheckSeamsOptions & Partial<Pick<CheckDrawingOptions, "rasterise">>;

const isPrint = (value: unknown): value is Print => isKind(value, "all-over", "border");
const isTile = (value: unknown): value is Tile => isKind(value, "tile");

function judge(report: SeamReport): MatcherResult {
  const size = `${report.width} x ${report.height} px`;
  return {
    pass: report.ok,
    message: () =>
      report.ok
        ? `expected the seams of the tile (${size}) not to close, but they do\n${describeSeams(report)}`
        : `expected the seams of the tile (${size}) to close\n${describeSeams(report)}`,
  };
}

/**
 * Whether a tile closes: of a picture at once, of a print, a tile or SVG text through the renderer handed in. Of a print,
 * what looks open is held against its field.
 */
export function toCloseSeams(
  received: unknown,
  options: CloseSeamsOptions = {},
): MatcherResult | Promise<MatcherResult> {
  if (isPixels(received)) return judge(checkSeams(received, options));
  const drawing = isPrint(received) ? tile(received) : received;
  if (!isTile(drawing) && typeof drawing !== "string") {
    throw refuseSubject("toCloseSeams", received, "a PixelImage, a Print, a Tile or SVG text");
  }
  const { rasterise, ...seams } = options;
  if (rasterise === undefined) {
    throw refuseSubject("toCloseSeams", "a drawing without a renderer", "{ rasterise } for a drawing");
  }
  const checked = checkSeams(drawing, { ...seams, rasterise });
  if (!isPrint(received)) return checked.then(judge);
  return checked.then((report) => holdPrint(report, received, rasterise)).then(judge);
}
