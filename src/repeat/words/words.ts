import { type Affine, compose, scaling, translation, turning } from "../../geometry/affine.js";
import { transformPath } from "../../geometry/cubic-path.js";
import { readPath } from "../../geometry/read-path.js";
import { writePath } from "../../geometry/write-path.js";
import { element, type SvgElement, text, writeNumber } from "../../svg/index.js";
import { ALIKE, CLOSER, LETTERS, type Letter, OTHER_LETTER } from "./letters.js";
import { markedLetter } from "./marks.js";

/** Strokes as shares of a capital's height. */
export const WEIGHTS = { light: 0.065, regular: 0.095, strong: 0.14 } as const;

/** How a line of words is drawn. Lengths in the drawing's units. */
export interface WordsOptions {
  /** Where it begins, or ends with `align: "end"`, or has its middle. */
  readonly x: number;
  /** Where capitals stand. */
  readonly y: number;
  /** Height of a capital. */
  readonly capital: number;
  readonly ink: string;
  readonly weight?: keyof typeof WEIGHTS;
  readonly align?: "start" | "middle" | "end";
  /** Space between letters beyond the usual, as a share of a capital's height. */
  readonly track?: number;
  /** Degrees, clockwise, about the place given. */
  readonly turn?: number;
}

const CAPITAL = 7;
/** Between two letters, in units of the grid. */
const APART = 1.5;

interface Sign {
  readonly sign: string;
  readonly letter: Letter;
}

/** Letters with the marks that stand over them: words are cut between these. */
const lettersOf = (words: string): readonly string[] => words.match(/\P{M}\p{M}*|\p{M}+/gu) ?? [];

const findLetter = (sign: string): Letter | undefined => {
  const like = Object.hasOwn(ALIKE, sign) ? (ALIKE[sign] ?? sign) : sign;
  return Object.hasOwn(LETTERS, like) ? LETTERS[like] : undefined;
};

/** One letter, with the marks that belong to it, as signs that are drawn. */
function signsOfLetter(cluster: string): readonly Sign[] {
  const [base = "", ...marks] = cluster.normalize("NFD");
  const marked = markedLetter(base, marks);
  if (marked !== undefined) return [{ sign: cluster, letter: marked }];
  // Ligatures, fractions and wide forms are taken apart.
  return [...cluster.normalize("NFKD").replace(/\p{M}/gu, "")].map((plain) => ({
    sign: plain,
    letter: findLetter(plain) ?? OTHER_LETTER,
  }));
}

/** Signs that are drawn; a box stands for each that is not. */
function signsOf(words: string): readonly Sign[] {
  return lettersOf(words.normalize("NFC")).flatMap((cluster): readonly Sign[] => {
    const known = findLetter(cluster);
    return known === undefined ? signsOfLetter(cluster) : [{ sign: cluster, letter: known }];
  });
}

/** The signs of a text for which only boxes would stand, each once, in order. */
export function findUndrawn(words: string): readonly string[] {
  const undrawn = lettersOf(words.normalize("NFC")).filter(
    (cluster) =>
      findLetter(cluster) === undefined &&
      signsOfLetter(cluster).some(({ letter }) => letter === OTHER_LETTER),
  );
  return [...new Set(undrawn)];
}

/** Where each sign begins, and where the last one ends, in units of the grid. */
function layOut(
  signs: readonly Sign[],
  track: number,
): { readonly starts: readonly number[]; readonly end: number } {
  const starts: number[] = [];
  let [x, end] = [0, 0];
  for (const [k, { sign, letter }] of signs.entries()) {
    const before = signs[k - 1]?.sign ?? "";
    x -= CLOSER[before + sign] ?? 0;
    starts.push(x);
    end = x + letter[0];
    x = end + APART + track * CAPITAL;
  }
  return { starts, end };
}

/** How long a line of words is, from the first stroke's middle to the last one's. */
export function measureWords(words: string, capital: number, track: number = 0): number {
  return (layOut(signsOf(words), track).end * capital) / CAPITAL;
}

/** The largest count, at most so large, that passes; what is larger than one that does not, does not either. */
function findMost(most: number, passes: (count: number) => boolean): number {
  let [good, bad] = [0, 1];
  while (bad <= most && passes(bad)) [good, bad] = [bad, 2 * bad];
  bad = Math.min(bad, most + 1);
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** Words that fit into some room: cut, and two points put behind, where they do not. */
export function shortenWords(words: string, room: number, capital: number, track: number = 0): string {
  if (measureWords(words, capital, track) <= room) return words;
  const letters = lettersOf(words);
  const cut = (count: number): string => `${letters.slice(0, count).join("").trimEnd()}..`;
  const count = findMost(letters.length - 1, (at) => measureWords(cut(at), capital, track) <= room);
  return count === 0 ? "" : cut(count);
}

/** Words broken into lines that fit into some room; a word that is too long is broken where it must be. */
export function wrapWords(
  words: string,
  room: number,
  capital: number,
  track: number = 0,
): readonly string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of words.split(/\s+/).filter((one) => one !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (measureWords(longer, capital, track) <= room) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    const parts = breakWord(word, room, capital, track);
    lines.push(...parts.slice(0, -1));
    line = parts.at(-1) ?? "";
  }
  return line === "" ? lines : [...lines, line];
}

/** A word in parts that fit into some room, each of one letter at least. */
function breakWord(word: string, room: number, capital: number, track: number): readonly string[] {
  const letters = lettersOf(word);
  const parts: string[] = [];
  for (let from = 0; from < letters.length; ) {
    const part = (count: number): string => letters.slice(from, from + count).join("");
    const fits = (count: number): boolean => measureWords(part(count), capital, track) <= room;
    const count = Math.max(1, findMost(letters.length - from, fits));
    parts.push(part(count));
    from += count;
  }
  return parts;
}

/** A line of words as one path, with the words themselves as its title. */
export function drawWords(words: string, options: WordsOptions): SvgElement {
  const { x, y, capital, ink, weight = "regular", align = "start", track = 0, turn = 0 } = options;
  const signs = signsOf(words);
  const { starts, end } = layOut(signs, track);
  const unit = capital / CAPITAL;
  const shift = align === "end" ? -end : align === "middle" ? -end / 2 : 0;
  const place: Affine = compose(
    translation(x, y),
    turning((turn * Math.PI) / 180),
    scaling(unit),
    translation(shift, -CAPITAL),
  );
  const subpaths = signs.flatMap(({ letter }, k) =>
    letter[1] === ""
      ? []
      : transformPath(readPath(letter[1]), compose(place, translation(starts[k] ?? 0, 0))).subpaths,
  );
  return element(
    "path",
    {
      d: writePath({ subpaths }, 3),
      fill: "none",
      stroke: ink,
      "stroke-width": writeNumber(capital * WEIGHTS[weight], 3),
      "stroke-linecap": "round",
      "stroke-linejoin": "round",
    },
    [element("title", {}, [text(words)])],
  );
}
