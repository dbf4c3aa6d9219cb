import { RepetendError } from "../../errors.js";
import { type Affine, compose, scaling, translation } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { readNumberList } from "./number.js";

/** How a viewBox sits in its viewport: SVG 2, `preserveAspectRatio`. */
export interface AspectRatio {
  /** 0, 0.5 or 1 of the room that is left. */
  readonly x: number;
  readonly y: number;
  readonly fit: "meet" | "slice" | "none";
}

const ALIGNMENT: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** Reads `preserveAspectRatio`; anything that cannot be read counts as the default, as SVG has it. */
export function readAspectRatio(text: string | undefined): AspectRatio {
  const words = (text ?? "")
    .trim()
    .split(/\s+/)
    .filter((word) => word !== "defer");
  if (words[0] === "none") return { x: 0, y: 0, fit: "none" };
  const [, x = "Mid", y = "Mid"] = /^x(Min|Mid|Max)Y(Min|Mid|Max)$/.exec(words[0] ?? "") ?? [];
  return { x: ALIGNMENT[x] ?? 0.5, y: ALIGNMENT[y] ?? 0.5, fit: words[1] === "slice" ? "slice" : "meet" };
}

/** Writes what {@link readAspectRatio} reads; `""` for the default. */
export function writeAspectRatio({ x, y, fit }: AspectRatio): string {
  if (fit === "none") return "none";
  const word = (part: number) => (part === 0 ? "Min" : part === 1 ? "Max" : "Mid");
  const align = `x${word(x)}Y${word(y)}`;
  if (fit === "slice") return `${align} slice`;
  return align === "xMidYMid" ? "" : align;
}

/**
 * Reads a `viewBox`.
 *
 * @throws RepetendError `E_NUMBER` for anything but four numbers, `E_SIZE` for a size that is zero or negative.
 */
export function readViewBox(text: string, where: string): Box {
  const [x = 0, y = 0, width = 0, height = 0, ...rest] = readNumberList(text, where);
  const facts = { where, value: text, accepted: "four numbers, the last two above 0" };
  if (rest.length > 0 || readNumberList(text, where).length !== 4) {
    throw new RepetendError("E_NUMBER", "a viewBox is not four numbers", facts);
  }
  if (width <= 0 || height <= 0) {
    throw new RepetendError("E_SIZE", "a viewBox has a size that is zero or negative", facts);
  }
  return { x, y, width, height };
}

/** The map that puts a viewBox into a viewport. */
export function fitMap(viewBox: Box, viewport: Box, { x, y, fit }: AspectRatio): Affine {
  const across = viewport.width / viewBox.width;
  const down = viewport.height / viewBox.height;
  const both = fit === "slice" ? Math.max(across, down) : Math.min(across, down);
  const [sx, sy] = fit === "none" ? [across, down] : [both, both];
  return compose(
    translation(
      viewport.x + x * (viewport.width - viewBox.width * sx),
      viewport.y + y * (viewport.height - viewBox.height * sy),
    ),
    scaling(sx, sy),
    translation(-viewBox.x, -viewBox.y),
  );
}
