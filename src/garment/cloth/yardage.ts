import { type Note, RepetendError } from "../../errors.js";
import type { Box } from "../../geometry/box.js";
import { mm } from "../../units/index.js";
import { yardageOptions } from "../checks.js";
import { type Cutting, preparePieces } from "./cut-pieces.js";
import { drawCutting } from "./cutting-picture.js";
import { type NestPiece, nest } from "./nest.js";
import type { YardageOptions } from "./options.js";
import type { Sweep } from "./sweep.js";

/** Where one piece is cut: x along the cloth from the first cut, y across it, seams counted in, in mm. */
export interface CutPiece extends Box {
  readonly name: string;
  /** Whether its hem runs along the cloth or across it. */
  readonly cut: "along" | "across";
  /** What it needs beyond the cloth; empty when the cloth suffices. */
  readonly beyond: readonly { readonly selvedge: "top" | "bottom" | "either"; readonly by: number }[];
}

/** How much cloth is needed. Lengths in mm. */
export interface Yardage {
  /** From the first cut to the last. */
  readonly length: number;
  readonly clothWidth: number;
  /** Where in the print the first cut lies, along the cloth: below one repeat. */
  readonly startsAt: number;
  /** What a bolt that starts anywhere may cost besides: up to one repeat where pieces are matched, else 0. */
  readonly spare: number;
  /** The share of the cloth that is in no piece, 0 to 1. */
  readonly waste: number;
  readonly pieces: readonly CutPiece[];
  readonly sweeps: readonly Sweep[];
  readonly notes: readonly Note[];
  /** In words, for a spec sheet. */
  readonly says: string;
  /** How the pieces lie, as SVG text, 1 to 10. */
  readonly picture: string;
}

/** Seams of 10 mm: common practice for woven cloth. */
const SEAM = 10;

/** More pieces than this are a production order, which a marker decides anyway. */
const MOST_PIECES = 2000;

/**
 * How much cloth a garment needs: its pieces as rectangles, each in the row of the border that its edge lies on, matched
 * on the repeat, laid one after the other where they first fit. An honest estimate from above for rectangles; a marker
 * made by a pattern cutter decides.
 *
 * @throws {@link RepetendError} `E_SIZE` for missing or impossible sizes; `E_BAND` for bands that the print does not have;
 * `E_LAYOUT` for edges and cuts that contradict each other; `E_ID` for panels that the sketch does not have; `E_UNIT`,
 * `E_NUMBER` for lengths and counts; `E_LIMIT` for more than 2,000 pieces.
 * @example
 * ```ts
 * import { border, yardage } from "repetend";
 * const print = border({
 *   name: "Shore", repeat: "12in", width: "58in", ground: "#d7e3e0",
 *   bands: [{ name: "hem", from: "50in", to: "58in", motifs: [] }],
 * });
 * const cloth = yardage({
 *   print, seam: "0in",
 *   pieces: [{ name: "skirt", width: "44in", height: "40in", count: 2, band: "hem", sweep: "gather" }],
 * });
 * Math.round(cloth.length / 25.4); // 96
 * cloth.sweeps[0]?.repeats; // 8
 * ```
 */
export function yardage(options: YardageOptions): Yardage {
  yardageOptions(options, "options");
  const { print } = options;
  const clothWidth = readClothWidth(options);
  const cutting: Cutting = { options, clothWidth, seam: readSeam(options) };
  const prepared = options.pieces.flatMap((piece) => preparePieces(piece, cutting));
  if (prepared.length === 0)
    throw new RepetendError("E_SIZE", "there is nothing to cut", { where: "pieces" });
  if (prepared.length > MOST_PIECES)
    throw new RepetendError("E_LIMIT", "too many pieces for one cutting", {
      value: String(prepared.length),
      accepted: `at most ${MOST_PIECES}`,
    });
  // A bolt may be cut anywhere: the first matched piece in the list begins where the cloth does.
  const origin = prepared.find(({ nest }) => nest.phase !== undefined)?.nest.phase?.starts[0]?.x ?? 0;
  const places = nest(
    prepared.map((piece) => moveStarts(piece.nest, -origin)),
    clothWidth,
  );
  const from = Math.min(...places.map(({ x }) => x));
  const pieces = prepared.map(({ name, cut, beyond }, index): CutPiece => {
    const place = places[index] ?? { x: 0, y: 0, width: 0, height: 0 };
    return { name, cut, beyond, ...place, x: place.x - from };
  });
  const length = Math.max(...pieces.map(({ x, width }) => x + width));
  const area = pieces.reduce((sum, { width, height }) => sum + width * Math.min(height, clothWidth), 0);
  const steps = prepared.flatMap((piece) => (piece.nest.phase === undefined ? [] : [piece.nest.phase.step]));
  const sweeps = prepared.flatMap(({ sweep }) => (sweep === undefined ? [] : [sweep]));
  const waste = Math.max(0, 1 - area / (length * clothWidth));
  const spare = Math.max(0, ...steps);
  const startsAt = spare === 0 ? 0 : from + origin - Math.floor((from + origin) / spare + 1e-9) * spare;
  return {
    length,
    clothWidth,
    startsAt,
    spare,
    waste,
    pieces,
    sweeps,
    notes: notesOf(pieces, sweeps),
    says: describe(length, clothWidth, waste, spare),
    picture: drawCutting(print, clothWidth, startsAt, length, cutting.seam, pieces),
  };
}

function moveStarts(piece: NestPiece, by: number): NestPiece {
  const { phase } = piece;
  if (phase === undefined) return piece;
  return { ...piece, phase: { ...phase, starts: phase.starts.map(({ x, y }) => ({ x: x + by, y })) } };
}

function readClothWidth({ print, clothWidth }: YardageOptions): number {
  if (clothWidth === undefined && print.kind === "border") return print.width;
  const width = clothWidth === undefined ? 0 : mm(clothWidth);
  if (width > 0) return width;
  const isMissing = clothWidth === undefined;
  throw new RepetendError(
    "E_SIZE",
    isMissing ? "an all-over print does not say how wide its cloth is" : "cloth is more than 0 wide",
    {
      where: "clothWidth",
      ...(isMissing ? {} : { value: String(clothWidth) }),
      accepted: "a length above 0",
    },
  );
}

function readSeam({ seam }: YardageOptions): number {
  const allowance = mm(seam ?? SEAM);
  if (allowance >= 0) return allowance;
  throw new RepetendError("E_SIZE", "a seam allowance is not negative", {
    where: "seam",
    value: String(seam),
  });
}

function notesOf(pieces: readonly CutPiece[], sweeps: readonly Sweep[]): readonly Note[] {
  const wide = pieces.flatMap((piece) =>
    piece.beyond.map(({ selvedge, by }): Note => {
      const place = selvedge === "either" ? "wider than the cloth" : `beyond the ${selvedge} selvedge`;
      const message = `the piece is ${(by / 10).toFixed(1)} cm ${place}, seams counted in`;
      return { level: "warning", code: "N_CLOTH", where: piece.name, message };
    }),
  );
  const closing = sweeps.map(({ piece, repeats, gather, scale }): Note => {
    if (Math.abs(gather - 1) < 1e-6 && Math.abs(scale - 1) < 1e-6)
      return {
        level: "info",
        code: "N_SWEEP",
        where: piece,
        message: `${repeats} repeats go round as they are`,
      };
    const by =
      scale === 1
        ? `${((gather - 1) * 100).toFixed(1)} % more cloth is gathered in`
        : `the print is scaled to ${(scale * 100).toFixed(1)} %`;
    return { level: "info", code: "N_SWEEP", where: piece, message: `${repeats} repeats go round: ${by}` };
  });
  return [...wide, ...closing];
}

/** To hundredths: who buys a little less than is needed lacks cloth. What is above by rounding only is not. */
const roundUp = (value: number): string => (Math.ceil(value * 100 - 1e-6) / 100).toFixed(2);

function describe(length: number, clothWidth: number, waste: number, spare: number): string {
  const [metres, yards] = [roundUp(length / 1000), roundUp(length / 914.4)];
  const start =
    spare > 0 ? ` A bolt that starts anywhere may take up to ${(spare / 10).toFixed(1)} cm more.` : "";
  return (
    `${metres} m (${yards} yd) of cloth ${(clothWidth / 10).toFixed(1)} cm wide, ` +
    `${Math.round(waste * 100)} % of it in no piece.${start} A marker made by a pattern cutter decides.`
  );
}
