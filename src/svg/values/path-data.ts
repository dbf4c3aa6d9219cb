import svgpath from "svgpath";
import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";
import { readNumberList, writeNumber } from "./number.js";

type Segment = readonly [string, ...number[]];

/**
 * Reads the data of a path and writes them again with `digits` after the point. Every command stays what it was, except
 * that arcs become relative; rounding does not add up along relative commands.
 */
export function rewritePathData(d: string, digits: number, where?: string): string {
  const place = where === undefined ? {} : { where };
  const trimmed = d.trim();
  if (trimmed === "" || trimmed === "none") return "";
  // Read off the text at first: the parser makes an array of every command.
  const letters = trimmed.match(/[a-df-z]/gi)?.length ?? 0;
  if (letters > DRAWING_LIMITS.segments) throw tooMany(letters, place);
  const { err, segments } = svgpath(trimmed) as unknown as { err: string; segments: readonly Segment[] };
  if (err !== "") {
    throw new RepetendError("E_NUMBER", "the data of a path cannot be read", {
      ...place,
      value: err.replace(/^SvgPath: /, ""),
      accepted: "path data of SVG 2",
    });
  }
  if (segments.length > DRAWING_LIMITS.segments) {
    throw tooMany(segments.length, place);
  }
  const pen = new Pen(digits);
  for (const segment of segments) {
    pen.write(segment);
    if (pen.isInside()) continue;
    throw new RepetendError("E_NUMBER", "a path has a number that is out of range", {
      ...place,
      value: segment.join(" "),
      accepted: "places between -1000000 and 1000000",
    });
  }
  return pen.data;
}

function tooMany(commands: number, place: { readonly where?: string }): RepetendError {
  return new RepetendError("E_LIMIT", "a path has too many commands", {
    ...place,
    value: String(commands),
    accepted: `at most ${DRAWING_LIMITS.segments}`,
  });
}

/** Digits of an arc's numbers. The centre of a half circle moves by the root of what its ends move by. */
const ARC_DIGITS = 12;

/** Writes commands one after the other; knows where the path is and where what was written is. */
class Pen {
  readonly #digits: number;
  readonly #grain: number;
  data = "";
  #command = "";
  #x = 0;
  #y = 0;
  #startX = 0;
  #startY = 0;
  /** Where a reader of what was written is. */
  #writtenX = 0;
  #writtenY = 0;
  #writtenStartX = 0;
  #writtenStartY = 0;
  #inside = true;

  constructor(digits: number) {
    this.#digits = digits;
    this.#grain = 10 ** digits;
  }

  /** Whether all numbers so far are finite and within the limit. */
  isInside(): boolean {
    return this.#inside;
  }

  write([command, ...numbers]: Segment): void {
    const upper = command.toUpperCase();
    const relative = command !== upper;
    switch (upper) {
      case "Z":
        this.#put(command, []);
        [this.#x, this.#y] = [this.#startX, this.#startY];
        [this.#writtenX, this.#writtenY] = [this.#writtenStartX, this.#writtenStartY];
        return;
      case "A":
        this.#arc(numbers, relative);
        return;
      case "H":
      case "V": {
        const [across = 0] = numbers;
        const level = upper === "H";
        const x = level ? across + (relative ? this.#x : 0) : this.#x;
        const y = level ? this.#y : across + (relative ? this.#y : 0);
        const [toX, toY] = [
          level ? this.#round(x, relative, this.#writtenX) : this.#writtenX,
          level ? this.#writtenY : this.#round(y, relative, this.#writtenY),
        ];
        this.#put(command, [
          level ? toX - (relative ? this.#writtenX : 0) : toY - (relative ? this.#writtenY : 0),
        ]);
        this.#moveTo(x, y, toX, toY);
        return;
      }
      default:
        this.#points(command, numbers, relative);
        if (upper !== "M") return;
        [this.#startX, this.#startY] = [this.#x, this.#y];
        [this.#writtenStartX, this.#writtenStartY] = [this.#writtenX, this.#writtenY];
    }
  }

  /** A coordinate on the grid of what is written, which for relative commands begins where the last one ended. */
  #round(value: number, relative: boolean, from: number): number {
    const origin = relative ? from : 0;
    return origin + Math.round((value - origin) * this.#grain) / this.#grain;
  }

  #points(command: string, numbers: readonly number[], relative: boolean): void {
    const written: number[] = [];
    let [x, y, toX, toY] = [this.#x, this.#y, this.#writtenX, this.#writtenY];
    for (let index = 0; index + 1 < numbers.length; index += 2) {
      x = (numbers[index] ?? 0) + (relative ? this.#x : 0);
      y = (numbers[index + 1] ?? 0) + (relative ? this.#y : 0);
      this.#check(x, y);
      toX = this.#round(x, relative, this.#writtenX);
      toY = this.#round(y, relative, this.#writtenY);
      written.push(toX - (relative ? this.#writtenX : 0), toY - (relative ? this.#writtenY : 0));
    }
    this.#put(command, written);
    this.#moveTo(x, y, toX, toY);
  }

  #arc(
    [rx = 0, ry = 0, turn = 0, large = 0, sweep = 0, endX = 0, endY = 0]: readonly number[],
    relative: boolean,
  ): void {
    const dx = relative ? endX : endX - this.#x;
    const dy = relative ? endY : endY - this.#y;
    this.#check(rx, ry);
    this.#check(turn, 0);
    this.#put("a", [rx, ry, turn, large, sweep, dx, dy], ARC_DIGITS);
    this.#moveTo(this.#x + dx, this.#y + dy, this.#writtenX + dx, this.#writtenY + dy);
  }

  #moveTo(x: number, y: number, writtenX: number, writtenY: number): void {
    this.#check(x, y);
    [this.#x, this.#y, this.#writtenX, this.#writtenY] = [x, y, writtenX, writtenY];
  }

  #check(x: number, y: number): void {
    // Written this way round so that what is no number fails too.
    if (!(Math.abs(x) < DRAWING_LIMITS.number && Math.abs(y) < DRAWING_LIMITS.number)) this.#inside = false;
  }

  #put(command: string, numbers: readonly number[], digits: number = this.#digits): void {
    if (!this.#inside) return;
    const repeated = command === this.#command && numbers.length > 0 && command !== "M" && command !== "m";
    if (!repeated) this.data += command;
    numbers.forEach((value, index) => {
      const text = writeNumber(value, digits);
      this.data += (index === 0 && !repeated) || text.startsWith("-") ? text : ` ${text}`;
    });
    this.#command = command;
  }
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
