import type { PixelImage } from "../image/index.js";
import type { Answer } from "./repeat-answer.js";
import { answerBothWays } from "./repeat-both-ways.js";
import { guessLattices } from "./repeat-lattice.js";
import { type Look, lookAt, SHORTEST } from "./repeat-look.js";
import { answerOneWay, answerStripes } from "./repeat-one-way.js";
import { contrastOf, cutPicture, type LabPicture, readLabPicture } from "./repeat-picture.js";
import { readTile } from "./repeat-tile.js";

/** Sizes are measured on at most so many pixels. */
const FINE_PIXELS = 1_600_000;

/** Less contrast than this, in Lab, is a plain ground: half of what the eye just tells apart. */
const PLAIN = 0.5;

/** A repeat shorter than this many coarse pixels is looked for again in a part of the picture. */
const SHORT = 20;

/** Below this confidence the picture may as well be a single tile. */
const LEAST_SURE = 0.1;

/** Halving a picture more often than this leaves too little of it. */
const LOOKS = 4;

/** A lattice of shifts is as like as this share of the best single shift, or the picture repeats one way only. */
const BOTH_WAYS = 0.75;

function answerLook(look: Look): Answer | undefined {
  const guesses = guessLattices(look.likeness, look.peaks, SHORTEST);
  const best = look.peaks[0]?.value ?? 0;
  const fits = guesses.some((guess) => guess.likeness >= BOTH_WAYS * best);
  return (fits ? answerBothWays(look, guesses) : undefined) ?? answerOneWay(look);
}

/** Looks at the whole picture, then at its middle half, and so on: a small repeat drowns in a coarse look. */
function answerYardage(fine: LabPicture): Answer | undefined {
  let part = fine;
  let kept: Answer | undefined;
  for (let count = 0; count < LOOKS; count++) {
    const look = lookAt(part);
    const stripes = answerStripes(look);
    if (stripes) return stripes;
    const answer = answerLook(look);
    if (answer && answer.confidence > (kept?.confidence ?? 0)) kept = answer;
    const { scaleX, scaleY } = look.coarse;
    const shortest = Math.min(...(kept?.shifts ?? []).map(({ x, y }) => Math.hypot(x / scaleX, y / scaleY)));
    const known = kept !== undefined && kept.confidence > LEAST_SURE && shortest >= SHORT;
    if (known || look.coarse === part) break;
    const [width, height] = [Math.floor(part.width / 2), Math.floor(part.height / 2)];
    part = cutPicture(part, { x: width >> 1, y: height >> 1, width, height });
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
