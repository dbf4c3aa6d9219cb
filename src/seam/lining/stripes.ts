import { commonDivisor } from "../../units/ratio.js";
import { leftOf, MOST_PERIODS, type Spectrum } from "./spectrum.js";
import type { LiningStripe } from "./types.js";

/** What the stripes of a tile are looked for in. Lengths in mm, the distance in metres. */
export interface LiningField {
  readonly spectra: readonly Spectrum[];
  readonly width: number;
  readonly height: number;
  readonly repeats: { readonly x: boolean; readonly y: boolean };
  readonly distance: number;
}

/**
 * From stripe to opposite, in units of CIE Lab: one unit is about what the eye just tells apart side by side (the scale's own
 * intent, CIE 15:2004); stripes with soft edges need twice as much. Common practice, no source.
 */
export const LEAST_STRENGTH = 2;

/**
 * A stripe stands out where its amplitude is so many times that of patterns of like size in other directions. An isotropic print has
 * as much in each, and 6.9 times the power comes about by chance once in a thousand, since the power of a random sum is
 * exponentially distributed: exp(-6.9) = 0.001. The root of 6.9 is 2.6.
 */
export const LEAST_EXCESS = 2.6;

/** A pattern with less than this share of the strongest of its size is not there: a finer repeat leaves most places empty. */
const EMPTY = 1e-3;

/** Patterns of like size: frequencies within this factor either way, a little more than from the side of a square to its diagonal. */
const LIKE_SIZE = 1.6;

/** Directions are rows, columns and diagonals up to three cells over one. */
const MOST_STEPS = 3;

function directions(repeats: LiningField["repeats"]): readonly (readonly [number, number])[] {
  const found: [number, number][] = [];
  for (let across = 0; across <= MOST_STEPS; across++)
    for (let down = -MOST_STEPS; down <= MOST_STEPS; down++) {
      if ((across === 0 && down !== 1) || commonDivisor(across, down) !== 1) continue;
      if ((!repeats.y && down !== 0) || (!repeats.x && across !== 0)) continue;
      found.push([across, down]);
    }
  return found;
}

type Channel = "lightness" | "chroma";

/** The power of the blurred field at one pair of whole numbers of periods. */
function powerAt(field: LiningField, channel: Channel, across: number, down: number): number {
  const left = leftOf(Math.hypot(across / field.width, down / field.height), field.distance, channel) ** 2;
  if (left < 1e-6) return 0;
  const planes = channel === "lightness" ? field.spectra.slice(0, 1) : field.spectra.slice(1);
  return planes.reduce((sum, spectrum) => {
    const { re, im } = spectrum.at(across, down);
    return sum + left * (re * re + im * im);
  }, 0);
}

/** The mean power of patterns of like size that run in other directions. */
function otherPower(
  field: LiningField,
  channel: Channel,
  [across, down]: readonly [number, number],
  times: number,
): number {
  const frequency = Math.hypot((times * across) / field.width, (times * down) / field.height);
  const reachX = Math.min(MOST_PERIODS, Math.ceil(frequency * LIKE_SIZE * field.width));
  const reachY = Math.min(MOST_PERIODS, Math.ceil(frequency * LIKE_SIZE * field.height));
  const powers: number[] = [];
  for (let x = 0; x <= reachX; x++)
    for (let y = x === 0 ? 1 : -reachY; y <= reachY; y++) {
      if (x * down === y * across) continue;
      const other = Math.hypot(x / field.width, y / field.height);
      if (other > frequency * LIKE_SIZE || other < frequency / LIKE_SIZE) continue;
      powers.push(powerAt(field, channel, x, y));
    }
  const strongest = Math.max(0, ...powers, powerAt(field, channel, times * across, times * down));
  const there = powers.filter((power) => power > EMPTY * strongest);
  return there.reduce((sum, power) => sum + power, 0) / Math.max(1, there.length);
}

/**
 * A stripe makes up this share of all that is seen at the distance, as power, or it drowns in the print. Measured: tiles of noise of
 * 96 mm, seen from 3 m, show some sixty patterns, and in about one of twenty a direction reaches this share by chance.
 */
const LEAST_SHARE = 0.15;

/** The power of all that is seen of a tile, but for the bands of a border. */
function totalPower(field: LiningField, channel: Channel): number {
  let sum = 0;
  for (let x = 0; x <= MOST_PERIODS; x++)
    for (let y = x === 0 ? 1 : -MOST_PERIODS; y <= MOST_PERIODS; y++)
      if ((field.repeats.y || x !== 0) && (field.repeats.x || y !== 0)) sum += powerAt(field, channel, x, y);
  return sum;
}

/** Samples of a profile over the period of its direction. */
const SAMPLES = 256;

/** The mean along all lines of a direction, blurred, less the mean of the tile: one profile a plane (projection-slice theorem). */
function profileOf(
  field: LiningField,
  channel: Channel,
  [across, down]: readonly [number, number],
  harmonics: number,
): readonly Float64Array[] {
  const planes = channel === "lightness" ? field.spectra.slice(0, 1) : field.spectra.slice(1);
  return planes.map((spectrum) => {
    const profile = new Float64Array(SAMPLES);
    for (let times = 1; times <= harmonics; times++) {
      const left = leftOf(
        times * Math.hypot(across / field.width, down / field.height),
        field.distance,
        channel,
      );
      const { re, im } = spectrum.at(times * across, times * down);
      for (let k = 0; k < SAMPLES; k++) {
        const turn = (2 * Math.PI * times * k) / SAMPLES;
        profile[k] = (profile[k] as number) + 2 * left * (re * Math.cos(turn) - im * Math.sin(turn));
      }
    }
    return profile;
  });
}

interface Extreme {
  readonly strength: number;
  /** The sample that differs most from the mean. */
  readonly at: number;
  readonly tone: LiningStripe["tone"];
  /** Samples on both sides that differ by half as much, the same way. */
  readonly before: number;
  readonly after: number;
}

function extremeOf(profile: readonly Float64Array[], channel: Channel): Extreme {
  const size = (k: number) =>
    Math.hypot(...profile.map((plane) => plane[((k % SAMPLES) + SAMPLES) % SAMPLES] as number));
  let at = 0;
  for (let k = 0; k < SAMPLES; k++) if (size(k) > size(at)) at = k;
  const along = (k: number) =>
    profile.reduce(
      (sum, plane) => sum + (plane[((k % SAMPLES) + SAMPLES) % SAMPLES] as number) * (plane[at] as number),
      0,
    ) / Math.max(1e-12, size(at));
  let least = 0;
  for (let k = 0; k < SAMPLES; k++) least = Math.min(least, along(k));
  let [before, after] = [0, 0];
  while (before < SAMPLES / 2 && along(at - before - 1) > size(at) / 2) before++;
  while (after < SAMPLES / 2 && along(at + after + 1) > size(at) / 2) after++;
  const tone = channel === "chroma" ? "colour" : (profile[0]?.[at] ?? 0) > 0 ? "light" : "dark";
  return { strength: size(at) - least, at, tone, before, after };
}

/** Where nothing else of its size is there, a stripe is said to stand out this much. */
const MOST_EXCESS = 100;

/** Harmonics with less than this share of a profile's power do not set its period. */
const SETS_PERIOD = 0.02;

function stripeAlong(
  field: LiningField,
  channel: Channel,
  direction: readonly [number, number],
  total: number,
): LiningStripe | undefined {
  const [across, down] = direction;
  const harmonics = Math.floor(MOST_PERIODS / Math.max(Math.abs(across), Math.abs(down)));
  const powers = Array.from({ length: harmonics }, (_, k) =>
    powerAt(field, channel, (k + 1) * across, (k + 1) * down),
  );
  const power = powers.reduce((sum, one) => sum + one, 0);
  if (power < 1e-6 || power < LEAST_SHARE * total) return undefined;
  const extreme = extremeOf(profileOf(field, channel, direction, harmonics), channel);
  if (extreme.strength < LEAST_STRENGTH) return undefined;
  // The broadest strong wave of the stripe is compared with patterns of its own size: the motifs in a row may well show singly.
  const strongest = powers.indexOf(Math.max(...powers));
  const carried = powers[strongest] ?? 0;
  const expected = otherPower(field, channel, direction, strongest + 1);
  const excess = Math.sqrt(carried / Math.max(expected, MOST_EXCESS ** -2 * carried));
  if (excess < LEAST_EXCESS) return undefined;
  const times = powers.reduce(
    (common, one, k) => (one < SETS_PERIOD * power ? common : commonDivisor(common, k + 1)),
    0,
  );
  const frequency = Math.hypot(across / field.width, down / field.height);
  const whole = 1 / frequency;
  const period = whole / Math.max(1, times);
  const middle = (extreme.at + (extreme.after - extreme.before) / 2) / SAMPLES;
  const position = (((middle * whole) % period) + period) % period;
  // Stripes run at right angles to their own frequency.
  const slope = (Math.atan2(down / field.height, across / field.width) * 180) / Math.PI + 90;
  return {
    angle: ((slope % 180) + 180) % 180,
    position,
    positionPx: undefined,
    period,
    width: ((extreme.before + extreme.after + 1) / SAMPLES) * whole,
    strength: extreme.strength,
    channel,
    tone: extreme.tone,
    excess,
    causes: [],
  };
}

/** All stripes of a field that show, strongest first. */
export function findLining(field: LiningField): readonly LiningStripe[] {
  const stripes = (["lightness", "chroma"] as const).flatMap((channel) => {
    const total = totalPower(field, channel);
    return directions(field.repeats).flatMap(
      (direction) => stripeAlong(field, channel, direction, total) ?? [],
    );
  });
  return stripes.sort((one, other) => other.strength - one.strength);
}
