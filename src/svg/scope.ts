import generate from "css-tree/generator";
import walk from "css-tree/walker";
import { aText } from "../checks.js";
import { someElements } from "./checks.js";
import { parseCss } from "./css/parse.js";
import { scopeElements, scopeUrls } from "./scope-elements.js";
import type { SvgElement } from "./tree.js";

/** Turns of the hash: two runs of 32 bits with different starts make collisions of two drawings improbable. */
const STARTS = [0x811c9dc5, 0x9747b28c] as const;

/** FNV-1a over UTF-16 code units: G. Fowler, L. Noll, K.-P. Vo, "FNV Hash", 1991; its prime. */
function hash(text: string, start: number): number {
  let value = start;
  for (let index = 0; index < text.length; index++) {
    value = Math.imul(value ^ text.charCodeAt(index), 0x01000193);
  }
  return value >>> 0;
}

/** Consonants only: neither words nor what looks like a number come out. */
const LETTERS = "bcdfghjklmnpqrstvwxz";

/** The low part of a hash in five letters. */
function spell(value: number): string {
  let rest = value;
  let word = "";
  for (let count = 0; count < 5; count++) {
    word += LETTERS[rest % LETTERS.length] ?? "";
    rest = Math.floor(rest / LETTERS.length);
  }
  return word;
}

/**
 * A prefix for ids: the name in letters that every document takes, and a short hash of the name and the drawing. The
 * same for the same two, different otherwise.
 */
export function scopeName(name: string, drawing: string): string {
  aText(name, "name");
  aText(drawing, "drawing");
  const slug = name
    .normalize("NFKD")
    .replace(/[^A-Za-z0-9]+/g, "-")
    .replace(/^[-0-9]+|-+$/g, "")
    .toLowerCase()
    .slice(0, 24);
  const whole = `${name}\u0000${drawing}`;
  return `${slug === "" ? "m" : slug}-${STARTS.map((start) => spell(hash(whole, start))).join("")}`;
}

/**
 * The same elements with a prefix before every id and every reference, so that drawings can share a document: in
 * `id`, `href`, `url(#…)` of any attribute, and style sheets. References to ids outside of these elements get it too.
 */
export function scopeIds(elements: readonly SvgElement[], prefix: string): readonly SvgElement[] {
  someElements(elements, "elements");
  aText(prefix, "prefix");
  return scopeElements(elements, prefix, scopeSheet);
}

function scopeSheet(sheet: string, prefix: string): string {
  const tree = parseCss(sheet, "stylesheet", "style");
  walk(tree, (node) => {
    if (node.type === "IdSelector") node.name = `${prefix}${node.name}`;
  });
  return scopeUrls(generate(tree), prefix);
}
