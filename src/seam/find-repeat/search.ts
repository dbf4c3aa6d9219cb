import type { PixelImage } from "../../image/index.js";
import type { Answer } from "./answer.js";
import { answerBothWays } from "./both-ways.js";
import { guessLattices, type Shift } from "./lattice.js";
import { type Look, lookAt, SHORTEST } from "./look.js";
import { answerOneWay, answerStripes } from "./one-way.js";
import { contrastOf, cutPicture, type LabPicture, readLabPicture } from "./picture.js";
import { readTile } from "./tile.js";

/** Sizes are measured on at most so many pixels. */
const FINE_PIXELS = 800_000;

/** Less contrast than this, in Lab, is a plain ground: half of what the eye just tells apart. */
const PLAIN = 0.5;

/** Detail with less contrast than this, in Lab, is what 8 bits leave of a slow change of light. */
const FLAT = 0.3;

/** With this many repeats in sight the picture is looked at closer, until about so many are left. */
const MANY = 9;
const ENOUGH = 4.5;

/** Below this confidence the picture may as well be a single tile. */
const LEAST_SURE = 0.1;

/** Looking closer more often than this leaves too little of a picture. */
const LOOKS = 5;

/** A lattice of shifts is as like as this share of the best single shift, or the picture repeats one way only. */
const BOTH_WAYS = 0.75;

function answerLook(look: Look): Answer | undefined {
  const guesses = guessLattices(look.likeness, look.peaks, SHORTEST);
  const best = look.peaks[0]?.value ?? 0;
  const fits = guesses.some((guess) => guess.likeness >= BOTH_WAYS * best);
  return (fits ? answerBothWays(look, guesses) : undefined) ?? answerOneWay(look);
}

/** The number of repeats that a part of a picture shows along its shorter side at least. */
function countRepeats(part: LabPicture, shifts: readonly Shift[]): number {
  const longest = Math.max(...shifts.map(({ x, y }) => Math.hypot(x, y)));
  return (Math.min(part.width, part.height) * part.scaleX) / longest;
}

/** The middle of a picture. */
function cutMiddle(part: LabPicture, share: number): LabPicture {
  const [width, height] = [Math.ceil(part.width * share), Math.ceil(part.height * share)];
  return cutPicture(part, { x: (part.width - width) >> 1, y: (part.height - height) >> 1, width, height });
}

/**
 * Looks at the whole picture, then closer at its middle where that shows nothing yet, or many repeats: a small repeat drowns
 * in a coarse look, or shows as a larger one. A closer look counts where it finds a smaller repeat as surely.
 */
function answerYardage(fine: LabPicture): Answer | undefined {
  let part = fine;
  let kept: Answer | undefined;
  for (let count = 0; count < LOOKS; count++) {
    const look = lookAt(part);
    if (contrastOf(look.coarseDetail) < FLAT) return kept;
    const stripes = answerStripes(look);
    if (stripes) return stripes;
    const answer = answerLook(look);
    if (answer && answer.confidence >= 0.9 * (kept?.confidence ?? 0)) kept = answer;
    const sure = kept !== undefined && kept.confidence > LEAST_SURE;
    const repeats = sure ? countRepeats(part, kept?.shifts ?? []) : 0;
    if (look.coarse === part || (sure && repeats < MANY)) break;
    part = cutMiddle(part, sure ? ENOUGH / repeats : 0.5);
  }
  return kept;
}

/** What a picture tells about its repeat, in pixels. */
export function searchRepeat(image: PixelImage): Answer {
  const fine = readLabPicture(image, FINE_PIXELS);
  if (contrastOf(fine) < PLAIN)
    return { found: "plain", layout: "straight", repeats: { x: true, y: true }, confidence: 1 };
  const yardage = answerYardage(fine);
  if (yardage && yardage.confidence >= LEAST_SURE) return yardage;
  const tile = readTile(fine);
  if (tile) return { ...tile, found: "tile", repeats: { x: true, y: true } };
  return { found: "nothing", layout: "none", repeats: { x: false, y: false }, confidence: 0 };
}
