import { commonDivisor } from "../../units/ratio.js";
import { type Basis, cellArea, combine, indicesOf, type Shift } from "./lattice.js";

/** How the cells of a found repeat lie, as `checkSeams` takes it, or "none". */
export type FoundLayout =
  | "straight"
  | "half-drop"
  | "brick"
  | "border"
  | "none"
  | {
      readonly kind: "stepped";
      readonly along: "column" | "row";
      readonly step: { readonly p: number; readonly q: number };
    };

/** One way to write a lattice down. Sizes of one cell, in pixels. */
export interface RepeatReading {
  readonly layout: FoundLayout;
  readonly width: number;
  readonly height: number;
}

/** Steps with a larger q than this are not told apart by a picture of a few repeats. */
const LARGEST_Q = 9;

interface Course {
  readonly along: "column" | "row";
  readonly p: number;
  readonly q: number;
  readonly width: number;
  readonly height: number;
  /** Root mean square of what the shifts miss, in pixels. */
  readonly miss: number;
}

const modulo = (value: number, by: number): number => ((value % by) + by) % by;

/** Upright and level are the same question with x and y changed over. */
const turnOver = (basis: Basis): Basis => [
  { x: basis[0].y, y: basis[0].x },
  { x: basis[1].y, y: basis[1].x },
];

/** Fits a width and a height to both shifts, given how many columns and steps each one makes. */
function fitCell(basis: Basis, p: number, q: number, width: number, height: number): Omit<Course, "along"> {
  const parts = basis.map((shift) => {
    const columns = Math.round(shift.x / width);
    const rows = Math.round((shift.y - (columns * p * height) / q) / height);
    return { columns, drops: rows + (columns * p) / q, shift };
  });
  const ratio = (top: (part: (typeof parts)[0]) => number, low: (part: (typeof parts)[0]) => number) =>
    parts.reduce((sum, part) => sum + top(part), 0) / parts.reduce((sum, part) => sum + low(part), 0);
  const fittedWidth = ratio(
    ({ columns, shift }) => columns * shift.x,
    ({ columns }) => columns * columns,
  );
  const fittedHeight = ratio(
    ({ drops, shift }) => drops * shift.y,
    ({ drops }) => drops * drops,
  );
  const missed = parts.reduce(
    (sum, { columns, drops, shift }) =>
      sum + (shift.x - columns * fittedWidth) ** 2 + (shift.y - drops * fittedHeight) ** 2,
    0,
  );
  return { p, q, width: fittedWidth, height: fittedHeight, miss: Math.sqrt(missed / 4) };
}

/** The lattice as columns of which each next one is lower by p/q, where it can be written so. */
function readColumns(basis: Basis, slack: number): Omit<Course, "along"> | undefined {
  const area = cellArea(basis);
  const upright: { i: number; j: number; shift: Shift }[] = [];
  for (let i = -2 * LARGEST_Q; i <= 2 * LARGEST_Q; i++)
    for (let j = -2 * LARGEST_Q; j <= 2 * LARGEST_Q; j++) {
      if (commonDivisor(i, j) !== 1) continue;
      const shift = combine(basis, i, j);
      const height = Math.abs(shift.y);
      // A column is at least as wide as a pixel or two, and errors grow with the number of shifts added up.
      if (shift.y <= 0 || Math.abs(shift.x) > slack * (Math.abs(i) + Math.abs(j)) || height > area / 4)
        continue;
      upright.push({ i, j, shift });
    }
  upright.sort((one, other) => one.shift.y - other.shift.y);
  const fits: Omit<Course, "along">[] = [];
  for (const { i, j, shift } of upright.slice(0, 4)) {
    const height = shift.y;
    const width = area / height;
    // Any shift one column on: i m - j n = 1 has a solution, since i and j have no common divisor.
    const next = neighbourOf(i, j);
    const beside = combine(basis, next.i, next.j);
    const drop = modulo(beside.x < 0 ? -beside.y : beside.y, height) / height;
    for (let q = 1; q <= LARGEST_Q; q++) {
      const p = Math.round(drop * q) % q;
      if (q > 1 && commonDivisor(p, q) !== 1) continue;
      if (
        Math.min(modulo(drop - p / q, 1), modulo(p / q - drop, 1)) * height >
        4 * slack * (1 + height / 400)
      )
        continue;
      const fit = fitCell(basis, p, q, width, height);
      if (fit.miss <= slack) fits.push(fit);
    }
  }
  // A neighbouring fraction can be within the slack of a small cell, but never fits as well as the right one.
  const best = Math.min(...fits.map((fit) => fit.miss));
  return fits
    .filter((fit) => fit.miss <= best + 0.1 * slack)
    .sort((one, other) => one.q - other.q || one.miss - other.miss)[0];
}

/** Whole numbers m, n with i n - j m = 1 or -1: the shift that completes a basis (extended Euclid). */
function neighbourOf(i: number, j: number): { readonly i: number; readonly j: number } {
  let [a, b] = [i, j];
  let [ma, na, mb, nb] = [1, 0, 0, 1];
  // a = ma i + na j and b = mb i + nb j throughout.
  while (b !== 0) {
    const times = Math.floor(a / b);
    [a, b] = [b, a - times * b];
    [ma, mb] = [mb, ma - times * mb];
    [na, nb] = [nb, na - times * nb];
  }
  return { i: -na, j: ma };
}

function nameCourse({ along, p, q, width, height }: Course): RepeatReading {
  if (q === 1) return { layout: "straight", width, height };
  if (q === 2) return { layout: along === "column" ? "half-drop" : "brick", width, height };
  return { layout: { kind: "stepped", along, step: { p, q } }, width, height };
}

const slenderness = ({ width, height }: RepeatReading): number => Math.abs(Math.log(width / height));

/**
 * The ways in which the trade writes a lattice: as columns that drop by p/q, or as rows that move along by p/q. Both say
 * the same cloth (a half-drop of 10 x 10 is a brick of 20 x 5), so the one whose cell is nearest to a square stands first. None
 * where no shift is upright and none level, or the step is no fraction with q up to 9. `slack` in pixels.
 */
export function readLattice(basis: Basis, slack: number): readonly RepeatReading[] {
  const columns = readColumns(basis, slack);
  const rows = readColumns(turnOver(basis), slack);
  const courses: Course[] = [];
  if (columns) courses.push({ along: "column", ...columns });
  if (rows && !(rows.q === 1 && columns?.q === 1))
    courses.push({ along: "row", ...rows, width: rows.height, height: rows.width });
  return courses.map(nameCourse).sort((one, other) => slenderness(one) - slenderness(other));
}

/** The shifts of a reading's cell. */
export function basisOf({ layout, width, height }: RepeatReading): Basis {
  const down = { x: 0, y: height };
  const across = { x: width, y: 0 };
  if (layout === "half-drop") return [{ x: width, y: height / 2 }, down];
  if (layout === "brick") return [across, { x: width / 2, y: height }];
  if (typeof layout === "string") return [across, down];
  const part = layout.step.p / layout.step.q;
  return layout.along === "column"
    ? [{ x: width, y: height * part }, down]
    : [across, { x: width * part, y: height }];
}

/** Tells whether two lattices hold the same shifts within `slack` pixels: each shift of either is one of the other's. */
export function agree(one: Basis, other: Basis, slack: number): boolean {
  const holds = (basis: Basis, shifts: Basis): boolean =>
    shifts.every((shift) => {
      const { i, j } = indicesOf(basis, shift);
      const nearest = combine(basis, i, j);
      return Math.hypot(nearest.x - shift.x, nearest.y - shift.y) <= slack;
    });
  return holds(one, other) && holds(other, one);
}
