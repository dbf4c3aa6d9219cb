import { RepetendError } from "../../errors.js";
import { checkNumber } from "./number.js";

/** Millimetres of a pixel: CSS Values 4, section 6.2, 96 px to the inch. */
const MM_PER_PIXEL = 25.4 / 96;

/** Pixels and millimetres of each unit: CSS Values 4, section 6.2. */
const UNITS: Readonly<Record<string, { readonly px: number; readonly mm: number }>> = {
  "": { px: 1, mm: MM_PER_PIXEL },
  px: { px: 1, mm: MM_PER_PIXEL },
  pt: { px: 96 / 72, mm: 25.4 / 72 },
  pc: { px: 16, mm: 25.4 / 6 },
  mm: { px: 96 / 25.4, mm: 1 },
  cm: { px: 96 / 2.54, mm: 10 },
  in: { px: 96, mm: 25.4 },
  q: { px: 96 / 101.6, mm: 0.25 },
};

const SHAPE = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(%|[a-z]*)$/i;

/** The size that percentages refer to, in user units. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
}

/** What a percentage is of: SVG 2, chapter Coordinate Systems, "Units". */
export type PercentOf = "width" | "height" | "diagonal" | "one";

/** The length that is 100 %. */
export function wholeOf(viewport: Viewport, of: PercentOf): number {
  if (of === "one") return 1;
  if (of === "diagonal") return Math.sqrt((viewport.width ** 2 + viewport.height ** 2) / 2);
  return viewport[of];
}

/**
 * Reads a length of a drawing as user units. Percentages are of `whole`; without it they are refused like a unit that
 * is not known.
 */
export function readDrawingLength(text: string, whole: number | undefined, where?: string): number {
  return readInUnits(text, whole, "px", where);
}

/** Reads a length of a drawing as millimetres, exactly where it is given in them. */
export function readMillimetres(text: string, where?: string): number {
  return readInUnits(text, undefined, "mm", where);
}

function readInUnits(text: string, whole: number | undefined, unit: "px" | "mm", where?: string): number {
  const trimmed = text.trim();
  const place = where === undefined ? {} : { where };
  if (/^calc\(/i.test(trimmed)) {
    throw new RepetendError("E_FEATURE", "a length is a sum to work out", {
      ...place,
      value: text,
      accepted: "the sum's result",
    });
  }
  const [, digits, suffix = ""] = SHAPE.exec(trimmed) ?? [];
  if (digits === undefined) return checkNumber(Number.NaN, text, where);
  const factor =
    suffix === "%" ? (whole === undefined ? undefined : whole / 100) : UNITS[suffix.toLowerCase()]?.[unit];
  if (factor === undefined) {
    throw new RepetendError("E_UNIT", "a length has a unit that means nothing here", {
      ...place,
      value: text,
      accepted: `px, pt, pc, mm, cm, in, Q${whole === undefined ? "" : ", %"}, or none`,
    });
  }
  return checkNumber(Number(digits) * factor, text, where);
}
