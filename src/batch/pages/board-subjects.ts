import { resolve } from "node:path";
import type { ColourwayBoardOptions, LineCloth, LineSheetOptions, LineStyle } from "../../board/index.js";
import type { Colourway } from "../../colour/index.js";
import type { Note } from "../../errors.js";
import { type Dressed, type PieceOptions, yardage } from "../../garment/index.js";
import type { Print } from "../../repeat/index.js";
import type { PlannedGarment } from "../garments/plan-garments.js";
import type { Companion, Companions, ReadGarment } from "../garments/read-garments.js";
import type { JobBoard, JobLineSheet } from "../job/board-job.js";
import type { JobGarment } from "../job/garment-job.js";
import type { Job } from "../job/job.js";
import type { ReadOptions } from "../job/read-file.js";
import type { LoadedJob } from "../job/read-job.js";
import { naming } from "../prints/build-print.js";

/** What boards are planned with. */
export interface PlanBoardsOptions extends ReadOptions {
  readonly print: Print;
  readonly colourways: readonly Colourway[];
  readonly garments: readonly PlannedGarment[];
}

/** What an option asks for that may be `true` for all defaults; `undefined` for nothing. */
export const whatIsAsked = <T extends object>(
  option: boolean | T | undefined,
): T | Record<string, never> | undefined => (option === true ? {} : option === false ? undefined : option);

/** The files that are named for boards alone. */
export function namedPrints({ garments = [], emit }: Job): readonly string[] {
  const board = whatIsAsked(emit?.board);
  const pieces =
    whatIsAsked(emit?.lineSheet) === undefined ? [] : garments.flatMap(({ cut }) => cut?.pieces ?? []);
  return [...(board?.prints ?? []), ...pieces.flatMap(({ print }) => print ?? [])];
}

/** The cloth that a garment needs, and what is to be said of pieces that it does not hold. */
interface ClothNeed {
  readonly cloth: readonly LineCloth[];
  readonly notes: readonly Note[];
}

/** The cloth that a garment needs: of each print that pieces are cut from, in the order of the pieces. */
function needCloth(
  { name, sketch, options }: ReadGarment,
  { cut, clothWidth }: JobGarment,
  findPrint: (print: string | undefined) => Print,
): ClothNeed {
  if (cut === undefined) return { cloth: [], notes: [] };
  const pieces = new Map<Print, PieceOptions[]>();
  for (const { print, ...piece } of cut.pieces) {
    const found = findPrint(print);
    pieces.set(found, [...(pieces.get(found) ?? []), piece]);
  }
  const needs = [...pieces].map(([print, list]) => {
    const { scale } = options;
    const { seam } = cut;
    const wide = clothWidth === undefined || print.kind === "border" ? {} : { clothWidth };
    const {
      length,
      clothWidth: width,
      spare,
      notes,
    } = naming(name, () =>
      yardage({ print, pieces: list, sketch, scale, ...wide, ...(seam === undefined ? {} : { seam }) }),
    );
    const cloth = { length, clothWidth: width, spare, ...(pieces.size > 1 ? { print: print.name } : {}) };
    return { cloth, notes };
  });
  // How a sweep closes is no fault; a piece that the cloth does not hold is.
  const faults = needs.flatMap(({ notes }) => notes).filter(({ level }) => level === "warning");
  return {
    cloth: needs.map((one) => one.cloth),
    notes: faults.map((note) => ({ ...note, where: [name, note.where].filter(Boolean).join(", ") })),
  };
}

/** A style as the line sheet shows it, with what is to be said of its cloth. */
interface StyledGarment {
  readonly style: LineStyle;
  readonly notes: readonly Note[];
}

function stylesOf(
  { job, folder }: LoadedJob,
  print: Print,
  garments: readonly PlannedGarment[],
  companions: Companions,
): readonly StyledGarment[] {
  const findPrint = (file: string | undefined): Print =>
    (file === undefined ? undefined : companions.get(resolve(folder, file))?.print) ?? print;
  return garments.flatMap(({ read, plan, laid }, k): readonly StyledGarment[] => {
    const garment = job.garments?.[k];
    if (garment === undefined) return [];
    const { name, number, front, facts } = garment;
    const { cloth, notes } = needCloth(read, garment, findPrint);
    const style: LineStyle = {
      name,
      dressed: laid,
      colourways: plan.files.map(({ colourway }) => colourway),
      cloth,
      ...(number === undefined ? {} : { number }),
      ...(front === undefined ? {} : { front }),
      ...(facts === undefined ? {} : { facts }),
    };
    return [{ style, notes }];
  });
}

/** Puts garments as they are dressed in the place of what was only laid out. */
export function dressAll<T extends { readonly dressed: Dressed }>(
  all: readonly T[],
  dressed: readonly Dressed[],
): readonly T[] {
  return all.map((one, k) => ({ ...one, dressed: dressed[k] ?? one.dressed }));
}

/** What the line sheet of a job says, and what is to be said of the cloth that it states. */
export function lineSheetOf(
  loaded: LoadedJob,
  { print, colourways, garments }: PlanBoardsOptions,
  companions: Companions,
  options: JobLineSheet,
): { readonly sheet: LineSheetOptions; readonly notes: readonly Note[] } {
  const { head } = loaded.job;
  const worn = garments.flatMap(({ read }) => read.companions);
  const prints = [print, ...[...worn, ...companions.values()].map((one) => one.print)];
  const styled = stylesOf(loaded, print, garments, companions);
  const sheet: LineSheetOptions = {
    ...options,
    styles: styled.map(({ style }) => style),
    colourways,
    prints,
    ...(head === undefined ? {} : { head }),
  };
  return { sheet, notes: styled.flatMap(({ notes }) => notes) };
}

/** What the colourway board of a job shows. */
export function boardOf(
  { job, folder }: LoadedJob,
  { print, colourways, garments }: PlanBoardsOptions,
  companions: Companions,
  { prints = [], ...options }: JobBoard,
): ColourwayBoardOptions {
  const { head } = job;
  const below = prints.flatMap((file) => companions.get(resolve(folder, file)) ?? []);
  return {
    ...options,
    prints: [{ print }, ...below.map((one: Companion) => ({ print: one.print, colourways: one.colourways }))],
    colourways,
    garments: garments.map(({ plan, laid }) => ({
      dressed: laid,
      colourways: plan.files.map(({ colourway }) => colourway),
    })),
    ...(head === undefined ? {} : { head }),
  };
}
