import { RepetendError } from "../../errors.js";
import { place } from "../build/place.js";
import type { Placement } from "../types.js";
import {
  type Ask,
  isBand,
  MOST_TOSSED,
  readAsked,
  readCount,
  readGap,
  readSeed,
  readSpace,
} from "./asked.js";
import { listBeside } from "./beside.js";
import { tossOptions } from "./checks.js";
import { estimateCount, type Filling, fill, topUp } from "./fill.js";
import { finish } from "./finish.js";
import { measureToss } from "./measure.js";
import { noteToss } from "./notes.js";
import type { TossOptions } from "./options.js";
import { BESIDE, type Piece, STANDING } from "./piece.js";
import { startRandom } from "./random.js";
import type { Tossed } from "./result.js";
import { checkRoom } from "./room.js";
import { type Space, wrap } from "./space.js";
import { takeStanding } from "./standing.js";

/** Neighbours ease each other away up to so many gaps, so that gaps come out even. */
const EASE_GAPS = 2.2;

/** While motifs settle they are held a little further apart, since their grids of distances are a little off. */
const ROOMY = 1.035;

/** Motifs that are counted ease each other away up to so much of the distance that they would have in rows. */
const SPREAD = 0.8;
const TOP_UPS = 3;

/**
 * Tosses motifs: fills a cell or a band with motifs in many directions, evenly spread, no two outlines nearer than the
 * gap, across all seams of the layout.
 *
 * The outlines are the true ones, never boxes: strokes count with their width, and a leg may reach between two leaves.
 * The largest motifs are seated first, each where it fits best and away from its own kind; then all move and turn until
 * every gap holds and neighbours ease each other apart; more are squeezed in by their shares until the next one fits
 * nowhere; fillers take the holes. At the end all outlines are held against each other line by line. The same options
 * give the same toss on every machine.
 *
 * Lengths in mm or with their unit. The placements go into `motifs` of a print with the same cell and layout, or of a
 * band with the same period and limits.
 *
 * @throws {@link RepetendError} `E_NUMBER` for a gap, size, share, turn, seed or count out of range, or motifs so small
 * that more than 1,000 would be tossed; `E_SIZE` for a motif that paints nothing or is too large for the space;
 * `E_LIMIT` for a motif of more than some 8,000 separate shapes, or more than 3,000 copies of other bands' motifs in
 * one period; `E_BAND`, `E_LAYOUT` for the space; `E_UNIT` for a length.
 * @example
 * ```ts
 * import { halfDrop, motif, toss } from "repetend";
 * const leaf = motif('<svg xmlns="http://www.w3.org/2000/svg" width="3cm" height="3cm" viewBox="0 0 30 30">' +
 *   '<path d="M15 1C24 10 24 20 15 29C6 20 6 10 15 1Z" fill="#5a8b80"/></svg>', { name: "leaf" });
 * const cell = { width: "16cm", height: "12cm" };
 * const tossed = toss({
 *   space: { ...cell, layout: "half-drop" },
 *   motifs: [{ motif: leaf, width: ["2cm", "3cm"] }],
 *   gap: "4mm",
 *   seed: 7,
 * });
 * const print = halfDrop({ name: "Leaves", ...cell, ground: "#f2ead8", motifs: tossed.placements });
 * (tossed.facts.smallest?.gap ?? 0) >= 4; // true
 * print.motifs.length > 20; // true
 * ```
 */
export function toss(options: TossOptions): Tossed {
  tossOptions(options, "options");
  const gap = readGap(options);
  const random = startRandom(readSeed(options));
  const count = readCount(options);
  // Few motifs stand far apart: their distances must reach from one to the next.
  const limits = readSpace(options, gap);
  const spread = count === undefined ? 0 : SPREAD * Math.sqrt((limits.width * limits.height) / count);
  const asked = readAsked(options, gap, spread);
  const lean = asked.reduce((most, { kind, largest }) => Math.max(most, kind.radius * largest), 0);
  const space = limits.edges === undefined && limits.v === undefined ? { ...limits, lean } : limits;
  for (const ask of asked) checkRoom(ask, space, gap);
  const margin = Math.max(3 * gap, spread);
  const placed = takeStanding(options.around ?? [], STANDING, space, gap, margin);
  const around = isBand(options.space) ? listBeside(options.space, space.lean + gap) : [];
  const beside = takeStanding(around, BESIDE, space, gap, margin);
  const standing = [...placed, ...beside];
  if (count === undefined) refuseDust(asked, { space, standing, gap });
  const ease = Math.max(EASE_GAPS * gap, spread);
  const filling = { space, asked, standing, gap: gap * ROOMY, ease, count, random };
  const pieces = fill(filling);
  const part = (): boolean => {
    const before = pieces.length;
    finish(pieces, space, gap, (piece) => asked[piece.asked]?.filler ?? false);
    return pieces.length < before;
  };
  // What had to be taken out leaves a hole.
  for (let [round, lost] = [0, part()]; round < TOP_UPS && topUp(filling, pieces, !lost); round += 1)
    lost = part();
  const facts = measureToss(pieces, asked, space, gap);
  const tossed = pieces.filter((piece) => !piece.fixed);
  return {
    kind: "tossed",
    placements: tossed.map((piece) => placePiece(piece, space)),
    facts,
    notes: noteToss(facts, { asked, count, space, placed, beside }),
  };
}

/** Refuses motifs that are small beyond sense for their space. */
function refuseDust(asked: readonly Ask[], filling: Pick<Filling, "space" | "standing" | "gap">): void {
  const many = [asked.filter((one) => !one.filler), asked.filter((one) => one.filler)].find(
    (group) => group.length > 0 && estimateCount(filling, group) > MOST_TOSSED * 1.5,
  );
  if (many === undefined) return;
  throw new RepetendError("E_NUMBER", "the motifs are so small that too many would be tossed", {
    where: "toss.motifs",
    value: `about ${Math.round(estimateCount(filling, many))} of ${many.map((one) => one.kind.motif.name).join(", ")}`,
    accepted: `at most ${MOST_TOSSED}: larger motifs, a larger gap, a smaller repeat, or a count`,
  });
}

/** The placement of a piece: `place` counts from the middle of the motif's frame. */
function placePiece(piece: Piece, space: Space): Placement {
  const { motif, middle } = piece.kind;
  const { viewBox } = motif;
  const dx = viewBox.x + viewBox.width / 2 - middle[0];
  const dy = viewBox.y + viewBox.height / 2 - middle[1];
  const [x, y] = wrap(space, piece.a * dx + piece.c * dy + piece.x, piece.b * dx + piece.d * dy + piece.y);
  return place(motif, {
    at: [x, y],
    width: piece.scale * viewBox.width,
    turn: piece.turn,
    ...(piece.mirrored ? { flip: "x" } : {}),
  });
}
