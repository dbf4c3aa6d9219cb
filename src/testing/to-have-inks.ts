import { nearestInk, readInk } from "../colour/index.js";
import type { Motif } from "../motif/index.js";
import { inksOf, type Print } from "../repeat/index.js";
import { inksOfPixels } from "./ink-set.js";
import { count, isKind, isPixels, type MatcherResult, refuseSubject, write } from "./matcher.js";

/** More inks than this in one message are a picture with soft edges, not a list to read. */
const MOST_LISTED = 12;

const isPrint = (value: unknown): value is Print => isKind(value, "all-over", "border");
const isMotif = (value: unknown): value is Motif => isKind(value, "motif");

function inksIn(received: unknown): { readonly of: string; readonly inks: readonly string[] } {
  if (isPixels(received)) return { of: "picture", inks: inksOfPixels(received) };
  if (isPrint(received))
    return { of: `print "${received.name}"`, inks: inksOf(received).map(({ ink }) => ink) };
  if (isMotif(received)) return { of: `motif "${received.name}"`, inks: received.inks.map(({ ink }) => ink) };
  throw refuseSubject("toHaveInks", received, "a Print, a Motif or a PixelImage");
}

function list(inks: readonly string[]): string {
  const more = inks.length - MOST_LISTED;
  return [...inks.slice(0, MOST_LISTED), ...(more > 0 ? [`and ${more} more`] : [])].join(", ");
}

/** A missing ink with the surplus one that it may have become. */
function missingLine(ink: string, surplus: readonly string[]): string {
  const solid = surplus.filter((one) => one.length === 7);
  const near = nearestInk(ink, solid.slice(0, 1000));
  return near === undefined
    ? `  missing: ${ink}`
    : `  missing: ${ink}; nearest surplus is ${near.ink}, ${write(near.difference)} away (CIEDE2000)`;
}

/** Whether a print, a motif or a flat picture has exactly these inks. */
export function toHaveInks(received: unknown, expected: readonly string[]): MatcherResult {
  const wanted = [...new Set(expected.map((ink) => readInk(ink)))];
  const { of, inks } = inksIn(received);
  const missing = wanted.filter((ink) => !inks.includes(ink));
  const surplus = inks.filter((ink) => !wanted.includes(ink));
  const pass = missing.length === 0 && surplus.length === 0;
  const isSoft = isPixels(received) && surplus.length > MOST_LISTED;
  return {
    pass,
    message: () =>
      [
        `expected the ${of} ${pass ? "not to have exactly" : "to have"} ${count(wanted.length, "ink")}: ${list(wanted)}`,
        ...missing.map((ink) => missingLine(ink, surplus)),
        ...(surplus.length > 0 ? [`  surplus: ${list(surplus)}`] : []),
        ...(isSoft ? ["  a picture with soft edges mixes its inks: render it with hard edges"] : []),
      ].join("\n"),
  };
}
