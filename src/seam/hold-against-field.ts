import { check, partsOf } from "../checks.js";
import { anImage } from "../image/checks.js";
import type { PixelImage } from "../image/index.js";
import { aSeamReport } from "./checks.js";
import { mendSentence } from "./mend.js";
import type { EdgeReport, SeamReport, SeamRun } from "./types.js";

const pixels = check(Number.isSafeInteger, "a whole number of pixels", "E_NUMBER");

/** So many pixels on each side of a seam are compared. */
const DEPTH = 8;

/** Renderers place an edge a little differently in another window: far less than this, in levels of 255. */
const NOISE_LEVELS = 32;

/** A stretch is at fault where more samples than this differ. */
const NOISE_SHARE = 0.02;

/**
 * Holds what looks open in a tile's pixels against the field that it is a window of: a window of the field, moved on by some
 * pixels, has the seams inside it, drawn in one go. Where it shows what the tile laid edge to edge shows, that is the
 * artwork and no fault.
 *
 * @param report of the tile, which repeats by itself.
 * @param laid the tile.
 * @param drawn as large, at (x, y) = `moved` of the field, in whole pixels.
 * @returns the report without what the field shows, too; as it was where the pictures differ in size.
 * @throws {@link RepetendError} `E_NUMBER` for what is no whole pixels.
 * @example
 * ```ts
 * import { checkSeams, holdAgainstField } from "repetend";
 * const plain = { width: 40, height: 40, channels: 1, data: new Uint8Array(1600).fill(90), stride: 40 } as const;
 * holdAgainstField(checkSeams(plain), plain, plain, { x: 20, y: 20 }).ok; // true
 * ```
 */
export function holdAgainstField(
  report: SeamReport,
  laid: PixelImage,
  drawn: PixelImage,
  moved: { readonly x: number; readonly y: number },
): SeamReport {
  aSeamReport(report, "report");
  anImage(laid, "laid");
  anImage(drawn, "drawn");
  partsOf<typeof moved>({ x: pixels, y: pixels })(moved, "moved");
  if (report.ok || laid.width !== drawn.width || laid.height !== drawn.height) return report;
  const edges = report.edges.map((edge): EdgeReport => {
    const runs = edge.runs.filter((run) => shareApart(laid, drawn, moved, edge.edge, run) > NOISE_SHARE);
    return runs.length === edge.runs.length ? edge : leaveRuns(edge, runs, laid);
  });
  return { ...report, ok: edges.every((edge) => edge.ok), edges };
}

/** What an edge reports when only these of its stretches are open. */
function leaveRuns(edge: EdgeReport, runs: readonly SeamRun[], { width, height }: PixelImage): EdgeReport {
  const [first, ...others] = runs;
  if (first === undefined) {
    const nothing = { ok: true, kind: undefined, worst: 0, shift: undefined, share: 0, mend: undefined };
    return { edge: edge.edge, ...nothing, runs };
  }
  const lengthOf = ({ px }: SeamRun): number => px.to - px.from;
  const { kind } = others.reduce((one, other) => (lengthOf(other) > lengthOf(one) ? other : one), first);
  const open = runs.reduce((sum, run) => sum + lengthOf(run), 0);
  return {
    ...edge,
    kind,
    worst: Math.max(...runs.map((run) => run.worst)),
    runs,
    share: Math.min(1, open / (edge.edge === "left-right" ? height : width)),
    mend: kind === edge.kind ? edge.mend : mendSentence(edge.edge, kind, {}),
  };
}

const around = (value: number, period: number): number => ((value % period) + period) % period;

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
  const channels = Math.min(3, laid.channels, drawn.channels);
  let [apart, all] = [0, 0];
  for (let place = px.from; place < px.to; place++) {
    const along = around(place, edge === "left-right" ? height : width);
    for (let across = -depth; across < depth; across++) {
      const [x, y] =
        edge === "left-right" ? [(across + width) % width, along] : [along, (across + height) % height];
      const [column, row] = [around(x - moved.x, width), around(y - moved.y, height)];
      for (let channel = 0; channel < channels; channel++) {
        const one = laid.data[y * laid.stride + x * laid.channels + channel] ?? 0;
        const other = drawn.data[row * drawn.stride + column * drawn.channels + channel] ?? 0;
        if (Math.abs(one - other) > NOISE_LEVELS) apart++;
        all++;
      }
    }
  }
  return all === 0 ? 0 : apart / all;
}
