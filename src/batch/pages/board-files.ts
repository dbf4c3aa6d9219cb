import { type BoardPrint, colourwayBoard, lineSheet } from "../../board/index.js";
import { readPaper } from "../../board/page/paper.js";
import type { ManifestFile, PlannedFile } from "../../emit/index.js";
import { type Note, nameInput, RepetendError, renameInput } from "../../errors.js";
import type { Dressed } from "../../garment/index.js";
import { whyNotLinear } from "../../raster/index.js";
import { inksOf, pixelGrid } from "../../repeat/index.js";
import { type Companions, readCompanions } from "../garments/read-garments.js";
import type { JobEmit } from "../job/job.js";
import type { LoadedJob } from "../job/read-job.js";
import { measureInks } from "../prints/print-coverage.js";
import {
  boardOf,
  dressAll,
  lineSheetOf,
  namedPrints,
  type PlanBoardsOptions,
  whatIsAsked,
} from "./board-subjects.js";
import { type PageSet, planPages, type WritePagesOptions, writePages } from "./sheet-pages.js";

/** The board and the line sheet of a job, ready to be drawn. */
export interface PlannedBoards {
  readonly files: readonly PlannedFile[];
  /** What each file is made from beside what every file is, by its path. */
  readonly madeFrom: ReadonlyMap<string, unknown>;
  /** What is to be said of the cloth that the line sheet states; not on the spec sheet, which is not about garments' pieces. */
  readonly notes: readonly Note[];
  /** The files that were read for them, as absolute paths. */
  readonly inputs: readonly string[];
  /** Draws and writes them with the garments as they are dressed. */
  readonly write: (made: MadeParts, writing: WriteBoardsOptions) => Promise<readonly ManifestFile[]>;
}

/** What is known when everything else is made. */
export interface MadeParts {
  readonly out: string;
  /** In the order of the job's garments. */
  readonly dressed: readonly Dressed[];
  readonly coverage: BoardPrint["coverage"];
}

/** How boards are written. */
export type WriteBoardsOptions = WritePagesOptions & Parameters<typeof measureInks>[2];

/** As long as coverage is not measured: something in its place, so that pages are laid out as they will be. */
const standIn = ({ print }: BoardPrint): NonNullable<BoardPrint["coverage"]> =>
  whyNotLinear(print).length > 0 ? [] : inksOf(print).map(({ ink }) => ({ ink, share: 0.5 }));

/** The companions' coverage, as the first print's was measured. */
async function coverAll(
  prints: readonly BoardPrint[],
  first: BoardPrint["coverage"],
  running: WriteBoardsOptions,
): Promise<readonly BoardPrint[]> {
  const covered: BoardPrint[] = [];
  for (const [k, one] of prints.entries()) {
    const measured =
      k === 0 ? first : (await measureInks(one.print, pixelGrid(one.print, { dpi: 100 }), running))?.coverage;
    covered.push(measured === undefined ? one : { ...one, coverage: measured });
  }
  return covered;
}

/** Where in a job stands what a board calls by its own name. */
const placeInJob = (key: "board" | "lineSheet", where: string): string =>
  /^(?:page|perPage)$/.test(where) ? `emit.${key}.${where}` : where.replace(/^styles(?=\[)/, "garments");

/** Runs a step that lays pages out: what it refuses gets its place in the job. */
function placing<T>(input: string, key: "board" | "lineSheet", step: () => T): T {
  try {
    return step();
  } catch (error) {
    const isNamed = error instanceof RepetendError && error.input === undefined;
    throw isNamed && error.where !== undefined
      ? renameInput(error, input, placeInJob(key, error.where))
      : nameInput(error, input);
  }
}

/**
 * Plans the colourway board and the line sheet of a job: how many pages there are is found by drawing them with the
 * outlines of the prints only.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for files; what companion jobs refuse; E_JOB for a line sheet
 * without garments; as `colourwayBoard`, `lineSheet` and `yardage`.
 */
export async function planBoards(loaded: LoadedJob, options: PlanBoardsOptions): Promise<PlannedBoards> {
  const { emit = {} } = loaded.job;
  const [board, line] = [whatIsAsked(emit.board), whatIsAsked(emit.lineSheet)];
  if (line !== undefined && options.garments.length === 0)
    throw new RepetendError("E_JOB", "a line sheet shows garments, and the job has none", {
      input: loaded.path,
      where: "emit.lineSheet",
      accepted: '"garments" in the job',
    });
  const companions =
    board === undefined && line === undefined
      ? (new Map() as Companions)
      : await readCompanions(loaded, namedPrints(loaded.job), options);
  const shown = board === undefined ? undefined : boardOf(loaded, options, companions, board);
  const { sheet: styles, notes = [] } =
    line === undefined ? {} : lineSheetOf(loaded, options, companions, line);
  const { name } = options.print;
  const sized = (
    what: PageSet["what"],
    page: JobEmit["board"] | undefined,
    otherwise: "A3 landscape" | "A4 portrait",
  ) => {
    const key = what === "line-sheet" ? "lineSheet" : "board";
    const { width, height } = placing(loaded.path, key, () =>
      readPaper((typeof page === "object" ? page.page : undefined) ?? otherwise),
    );
    return { print: name, what, mm: { width, height } };
  };
  const boardSet = sized("colourway-board", emit.board, "A3 landscape");
  const lineSet = sized("line-sheet", emit.lineSheet, "A4 portrait");
  const plan = (set: Omit<PageSet, "count">, pages: readonly string[] | undefined): readonly PlannedFile[] =>
    pages === undefined ? [] : planPages({ ...set, count: pages.length }, emit);
  const covered = shown?.prints.map((one) => ({ ...one, coverage: standIn(one) })) ?? [];
  const boards = plan(
    boardSet,
    shown && placing(loaded.path, "board", () => colourwayBoard({ ...shown, prints: covered })),
  );
  const lines = plan(lineSet, styles && placing(loaded.path, "lineSheet", () => lineSheet(styles)));
  const inputs = [...companions.values()].flatMap((one) => one.inputs);
  const more = loaded.job.garments?.map(({ number, front, cut, facts }) => ({ number, front, cut, facts }));
  return {
    files: [...boards, ...lines],
    madeFrom: new Map<string, unknown>([
      ...boards.map(({ path }) => [path, [board, loaded.job.head]] as const),
      ...lines.map(({ path }) => [path, [line, loaded.job.head, more]] as const),
    ]),
    notes,
    inputs,
    write: async ({ out, dressed, coverage }, writing) => {
      const files: ManifestFile[] = [];
      if (shown !== undefined) {
        const prints = await coverAll(shown.prints, coverage, writing);
        const worn = dressAll(shown.garments ?? [], dressed);
        const pages = colourwayBoard({ ...shown, prints, garments: worn });
        files.push(...(await writePages(out, pages, boardSet, emit, writing)));
      }
      if (styles !== undefined) {
        const pages = lineSheet({ ...styles, styles: dressAll(styles.styles, dressed) });
        files.push(...(await writePages(out, pages, lineSet, emit, writing)));
      }
      return files;
    },
  };
}
