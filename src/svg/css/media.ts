import type { CssNode } from "css-tree";
import generate from "css-tree/generator";
import { RepetendError } from "../../errors.js";
import { parseCss } from "./parse.js";

/** Media that a drawing is read for: as its designer sees it on a light screen, with no motion. */
const TYPES: Readonly<Record<string, boolean>> = { all: true, screen: true };

const FEATURES: Readonly<Record<string, boolean>> = {
  "(prefers-color-scheme:light)": true,
  "(prefers-color-scheme:dark)": false,
  "(prefers-reduced-motion:reduce)": true,
  "(prefers-reduced-motion)": true,
  "(prefers-reduced-motion:no-preference)": false,
  "(prefers-contrast:no-preference)": true,
  "(prefers-contrast:more)": false,
  "(prefers-contrast:less)": false,
  "(forced-colors:none)": true,
  "(forced-colors:active)": false,
  "(color)": true,
  "(monochrome)": false,
};

/**
 * Whether a list of media queries holds. Types `all` and `screen` do, every other does not; of features those that have
 * one answer for a drawing at rest on a light screen are known.
 *
 * @throws {@link RepetendError} `E_FEATURE` for any other feature: guessing would change the picture.
 */
export function mediaHolds(text: string, where?: string): boolean {
  if (text.trim() === "") return true;
  const list = parseCss(text, "mediaQueryList", where ?? "media");
  if (list.type !== "MediaQueryList") throw unknownQuery(text, where);
  return list.children
    .toArray()
    .map((query) => queryHolds(query, where))
    .some((holds) => holds);
}

function queryHolds(query: CssNode, where: string | undefined): boolean {
  if (query.type !== "MediaQuery") throw unknownQuery(generate(query), where);
  const type = query.mediaType === null ? true : (TYPES[query.mediaType.toLowerCase()] ?? false);
  const holds = query.condition === null ? type : conditionHolds(query.condition, where) && type;
  return query.modifier?.toLowerCase() === "not" ? !holds : holds;
}

function conditionHolds(condition: CssNode, where: string | undefined): boolean {
  const whole = generate(condition)
    .toLowerCase()
    .replace(/\s*([:()])\s*/g, "$1");
  const known = FEATURES[whole];
  if (known !== undefined) return known;
  if (condition.type !== "Condition") throw unknownQuery(whole, where);
  const parts = condition.children.toArray();
  const words = parts.filter((part) => part.type === "Identifier").map((part) => part.name.toLowerCase());
  const answers = parts
    .filter((part) => part.type !== "Identifier")
    .map((part) => conditionHolds(part, where));
  if (words[0] === "not" && answers.length === 1) return answers[0] === false;
  return words[0] === "or" ? answers.includes(true) : !answers.includes(false);
}

function unknownQuery(text: string, where: string | undefined): RepetendError {
  return new RepetendError("E_FEATURE", "a media query asks for what a drawing does not know", {
    ...(where === undefined ? {} : { where }),
    value: text,
    accepted: "screen, print, prefers-color-scheme, prefers-reduced-motion",
  });
}
