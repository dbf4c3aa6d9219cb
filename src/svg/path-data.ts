import svgpath from "svgpath";
import { RepetendError } from "../errors.js";
import { DRAWING_LIMITS } from "./limits.js";
import { readNumberList, writeNumber } from "./number.js";

type Segments = readonly (readonly [string, ...number[]])[];

/**
 * Reads the data of a path and writes them again with `digits` after the point, every command as it was; rounding
 * does not add up along relative commands.
 */
export function rewritePathData(d: string, digits: number, where?: string): string {
  const place = where === undefined ? {} : { where };
  const trimmed = d.trim();
  if (trimmed === "" || trimmed === "none") return "";
  const path = svgpath(trimmed) as ReturnType<typeof svgpath> & {
    readonly err: string;
    readonly segments: Segments;
  };
  if (path.err !== "") {
    throw new RepetendError("E_NUMBER", "the data of a path cannot be read", {
      ...place,
      value: path.err.replace(/^SvgPath: /, ""),
      accepted: "path data of SVG 2",
    });
  }
  if (path.segments.length > DRAWING_LIMITS.segments) {
    throw new RepetendError("E_LIMIT", "a path has too many commands", {
      ...place,
      value: String(path.segments.length),
      accepted: `at most ${DRAWING_LIMITS.segments}`,
    });
  }
  for (const segment of path.segments) {
    for (let index = 1; index < segment.length; index++) {
      // Written this way round so that what is no number fails too.
      if (Math.abs(segment[index] as number) < DRAWING_LIMITS.number) continue;
      throw new RepetendError("E_NUMBER", "a path has a number that is out of range", {
        ...place,
        value: String(segment[index]),
        accepted: "finite numbers between -1000000 and 1000000",
      });
    }
  }
  path.round(digits);
  return writeSegments(path.segments, digits);
}

function writeSegments(segments: Segments, digits: number): string {
  let d = "";
  let previous = "";
  for (const [command, ...numbers] of segments) {
    const repeated = command === previous && command !== "M" && command !== "m";
    if (!repeated) d += command;
    numbers.forEach((value, index) => {
      // The turn of an arc keeps two digits more.
      const isTurn = index === 2 && (command === "A" || command === "a");
      const written = writeNumber(value, isTurn ? digits + 2 : digits);
      d += (index === 0 && !repeated) || written.startsWith("-") ? written : ` ${written}`;
    });
    previous = command;
  }
  return d;
}

/** Reads `points` and writes them again; an odd last number is refused. */
export function rewritePoints(points: string, digits: number, where?: string): string {
  const numbers = readNumberList(points, where);
  const place = where === undefined ? {} : { where };
  if (numbers.length % 2 === 1) {
    throw new RepetendError("E_NUMBER", "points are not pairs of numbers", { ...place, value: points });
  }
  if (numbers.length / 2 > DRAWING_LIMITS.segments) {
    throw new RepetendError("E_LIMIT", "a shape has too many points", {
      ...place,
      value: String(numbers.length / 2),
      accepted: `at most ${DRAWING_LIMITS.segments}`,
    });
  }
  return numbers.map((value) => writeNumber(value, digits)).join(" ");
}
