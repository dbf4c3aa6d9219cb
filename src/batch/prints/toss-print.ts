import { type Note, RepetendError } from "../../errors.js";
import type { Motif } from "../../motif/index.js";
import {
  type Band,
  describeToss,
  type Placement,
  type TossCell,
  type TossOptions,
  toss,
} from "../../repeat/index.js";
import { mm } from "../../units/index.js";
import type { JobBand, JobBorder, JobPrint } from "../job/job.js";
import type { JobToss } from "../job/toss-job.js";

/** Gives a drawing by its name in the job. */
export type FindMotif = (file: string) => Motif;

/** The files of all motifs that a print's tosses name. */
export function tossedFiles(print: JobPrint): readonly string[] {
  const all = print.layout === "border" ? print.bands.map((band) => band.toss) : [print.toss];
  return all.flatMap((one) => one?.motifs ?? []).map((one) => one.file);
}

/** Placements by hand with those that are tossed around them, and what is to be said about these. */
export interface Filled {
  readonly motifs: readonly Placement[];
  readonly notes: readonly Note[];
}

function fill(
  { motifs, gap, seed, count, clear = true }: JobToss,
  space: TossOptions["space"],
  placed: readonly Placement[],
  find: FindMotif,
  where: string,
): Filled {
  const tossed = toss({
    ...{ space, gap, around: clear ? placed : [] },
    motifs: motifs.map(({ file, ...options }) => ({ ...options, motif: find(file) })),
    ...(seed === undefined ? {} : { seed }),
    ...(count === undefined ? {} : { count }),
  });
  const reached: Note = { level: "info", code: "N_TOSSED", message: describeToss(tossed), where };
  return {
    motifs: [...placed, ...tossed.placements],
    notes: [reached, ...tossed.notes.map((note) => ({ where, ...note }))],
  };
}

/** Fills a cell that has a toss; one without stays as it is placed. */
export function fillCell(
  print: Exclude<JobPrint, JobBorder>,
  placed: readonly Placement[],
  find: FindMotif,
): Filled {
  if (print.toss === undefined) return { motifs: placed, notes: [] };
  const { width, height } = print;
  return fill(print.toss, { width, height, layout: layoutOf(print) }, placed, find, "toss");
}

function layoutOf(print: Exclude<JobPrint, JobBorder>): NonNullable<TossCell["layout"]> {
  switch (print.layout) {
    case "stepped":
      return { along: print.along, step: print.step };
    case "satin":
      return { ends: print.ends, move: print.move };
    default:
      return print.layout;
  }
}

/**
 * Fills a band that has a toss, at the band's own period, clear of what stands in it and of what the others draw over it.
 *
 * @param made the same band with what is placed by hand.
 * @throws `RepetendError` E_BAND where respacing would open or close the gaps.
 */
export function fillBand(
  band: JobBand,
  made: Band,
  beside: readonly Band[],
  repeat: JobBorder["repeat"],
  placed: readonly Placement[],
  find: FindMotif,
): Filled {
  if (band.toss === undefined) return { motifs: placed, notes: [] };
  const { across = "inside", clear = true } = band.toss;
  const period = band.period ?? repeat;
  if (made.fit.by === "space") {
    throw new RepetendError(
      "E_BAND",
      "a tossed band cannot be fitted by its spacing: its gaps would change",
      {
        where: band.name,
        value: String(period),
        accepted: 'a period that divides the repeat, none, or fit "scale"',
      },
    );
  }
  const { from, to } = made;
  const space = { repeat: period, from, to, across, beside: clear ? beside : [] };
  // What is asked is the gap on the cloth, on which the band is drawn at its fitted size.
  const gap = mm(band.toss.gap) / (1 + made.fit.change / 100);
  return fill({ ...band.toss, gap }, space, placed, find, `${band.name}, toss`);
}
