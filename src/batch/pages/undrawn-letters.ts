import type { Colourway } from "../../colour/index.js";
import type { Note } from "../../errors.js";
import { findUndrawn } from "../../repeat/index.js";
import type { Job } from "../job/job.js";

/** Signs that are named one by one; of whole scripts that is enough. */
const MOST_NAMED = 12;

/** Whether a job asks for a page with words on it. */
const hasPages = ({ emit = {} }: Job): boolean =>
  [emit.sheet, emit.board, emit.lineSheet].some((one) => one !== undefined && one !== false);

/** What a job's spec sheet, board and line sheet write. */
function wordsOf({ print, head, garments = [], emit = {} }: Job, colourways: readonly Colourway[]): string {
  const titles = [emit.board, emit.lineSheet].map((one) => (typeof one === "object" ? one.title : undefined));
  const worn = garments.map(({ name, number, facts = [] }) => [
    name,
    number,
    ...facts.flatMap((fact) => [fact.name, fact.value]),
  ]);
  const bands = print.layout === "border" ? print.bands.map(({ name }) => name) : [];
  const names = colourways.map(({ name }) => name);
  return [print.name, bands, names, Object.values(head ?? {}), titles, worn].flat(2).join(" ");
}

/** The signs of a job's names and facts that its pages cannot write, in one note. */
export function undrawnLetters(job: Job, colourways: readonly Colourway[]): readonly Note[] {
  if (!hasPages(job)) return [];
  const undrawn = findUndrawn(wordsOf(job, colourways));
  if (undrawn.length === 0) return [];
  const more = undrawn.length > MOST_NAMED ? ` and ${undrawn.length - MOST_NAMED} more` : "";
  const message =
    "spec sheets, boards and line sheets write Latin letters; boxes stand there for " +
    `${undrawn.slice(0, MOST_NAMED).join(" ")}${more}`;
  return [{ level: "warning", code: "N_LETTERS", message }];
}
