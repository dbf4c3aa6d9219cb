import { RepetendError } from "../../errors.js";

/**
 * Which turns a tossed motif may take, in degrees, clockwise: any; as drawn only ("one-way"); as drawn or upside down
 * ("two-way"); quarter turns ("four-way"); from one turn to another; or one of a list.
 */
export type TossTurn =
  | "any"
  | "one-way"
  | "two-way"
  | "four-way"
  | { readonly from: number; readonly to: number }
  | readonly number[];

/** The turns of a motif: one range, or single ones. Degrees. */
export type Turns =
  | { readonly kind: "range"; readonly from: number; readonly to: number; readonly round: boolean }
  | { readonly kind: "list"; readonly turns: readonly number[] };

const isList = (turn: TossTurn): turn is readonly number[] => Array.isArray(turn);

/** More than these no one lists by hand. */
const MOST_TURNS = 360;

/** Reads the turns that a motif may take. */
export function readTurns(turn: TossTurn, input: string, where: string): Turns {
  const refuse = (value: string): never => {
    throw new RepetendError("E_NUMBER", "these are no turns of a tossed motif", {
      input,
      where,
      value,
      accepted: `"any", "one-way", "two-way", "four-way", { from, to } with from below to, or 1 to ${MOST_TURNS} turns in degrees`,
    });
  };
  switch (turn) {
    case "any":
      return { kind: "range", from: 0, to: 360, round: true };
    case "one-way":
      return { kind: "list", turns: [0] };
    case "two-way":
      return { kind: "list", turns: [0, 180] };
    case "four-way":
      return { kind: "list", turns: [0, 90, 180, 270] };
  }
  const isFine = (degrees: number): boolean => Number.isFinite(degrees) && Math.abs(degrees) <= MOST_TURNS;
  if (isList(turn)) {
    if (turn.length === 0 || turn.length > MOST_TURNS || !turn.every(isFine)) return refuse(String(turn));
    return { kind: "list", turns: [...new Set(turn)] };
  }
  const { from, to } = turn;
  if (!isFine(from) || !isFine(to) || !(from < to)) return refuse(`${from} to ${to}`);
  return to - from >= 360
    ? { kind: "range", from: 0, to: 360, round: true }
    : { kind: "range", from, to, round: false };
}

/** A turn as it is kept: within its range, and in hundredths of a degree. */
export function keepTurn(turns: Turns, turn: number): number {
  if (turns.kind === "list") return turn;
  const round = (value: number) => Math.round(value * 100) / 100;
  if (turns.round) return round(turn - Math.floor(turn / 360) * 360);
  return Math.min(turns.to, Math.max(turns.from, round(turn)));
}

const RADIANS = Math.PI / 180;

/** The Taylor series to the 15th power: below 1e-16 up to 45 degrees. */
function series(radians: number): readonly [number, number] {
  const square = radians * radians;
  let [cosine, sine, term] = [1, radians, 1];
  for (let k = 1; k <= 15; k += 2) {
    term = (-term * square) / (k * (k + 1));
    cosine += term;
    sine += (term * radians) / (k + 2);
  }
  return [cosine, sine];
}

/**
 * Cosine and sine of an angle in degrees from plain arithmetic alone, so that they are the same in every machine: the
 * last digit of `Math.cos` is not, and a toss would carry that far.
 */
export function cosineAndSine(degrees: number): readonly [number, number] {
  const quarters = Math.round(degrees / 90);
  const [cosine, sine] = series((degrees - quarters * 90) * RADIANS);
  switch (((quarters % 4) + 4) % 4) {
    case 0:
      return [cosine, sine];
    case 1:
      return [-sine, cosine];
    case 2:
      return [-cosine, -sine];
    default:
      return [sine, -cosine];
  }
}
