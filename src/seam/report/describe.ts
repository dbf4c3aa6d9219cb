import { aSeamReport } from "../checks.js";
import type { EdgeReport, SeamReport, SeamRun } from "../types.js";

const number = (value: number, digits = 1): string => String(Number(value.toFixed(digits)));

const PAIRS = { "left-right": "Left and right edge", "top-bottom": "Top and bottom edge" } as const;

const FAULTS = {
  gap: "a gap",
  shift: "out of register",
  cut: "a motif is cut",
  colour: "inks do not match",
  size: "not a whole repeat",
  doubled: "a doubled row",
} as const;

const stretch = ({ px, mm }: SeamRun): string =>
  mm === undefined ? `${px.from} to ${px.to} px` : `${number(mm.from)} to ${number(mm.to)} mm`;

/** An open stretch in words: the fault, where, and how large. */
export function nameFault(run: SeamRun | undefined): string {
  return run === undefined
    ? "closed"
    : `${FAULTS[run.kind]} from ${stretch(run)}, up to ${number(run.worst)}`;
}

function describeEdge(edge: EdgeReport): readonly string[] {
  const pair = PAIRS[edge.edge];
  if (edge.ok || edge.kind === undefined) return [`${pair}: closed.`];
  const { shift } = edge;
  const by =
    shift === undefined
      ? ""
      : shift.across === undefined
        ? ` by ${number(shift.along, 2)} px along the seam`
        : ` by ${number(shift.along, 2)} px along and ${number(shift.across, 2)} px across the seam`;
  return [
    `${pair}: ${FAULTS[edge.kind]}${by}; ${number(edge.share * 100)} % of the edge is open, worst difference ${number(edge.worst)} (CIEDE2000).`,
    ...edge.runs.map((run) => `  ${nameFault(run)}.`),
    ...(edge.mend === undefined ? [] : [`  ${edge.mend}`]),
  ];
}

/**
 * A seam report in words, one line a finding, without a line break at the end.
 *
 * @example
 * ```ts
 * import { checkSeams, describeSeams } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * describeSeams(checkSeams(plain, { layout: "border" })); // "Left and right edge: closed."
 * ```
 */
export function describeSeams(report: SeamReport): string {
  aSeamReport(report, "report");
  return report.edges.flatMap(describeEdge).join("\n");
}
