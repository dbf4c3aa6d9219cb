import { type Note, RepetendError } from "../../errors.js";
import { compose, translation } from "../../geometry/affine.js";
import { type Length, mm } from "../../units/index.js";
import { borderOptions } from "../checks.js";
import type { Band, Border, Grain, Placement } from "../types.js";
import { fitPeriod, fitPlacements } from "./fit.js";
import { readGround } from "./ground.js";
import { largeNotes } from "./large-notes.js";
import { placed } from "./place.js";
import { touchingNotes } from "./touching-notes.js";

/** One band of a border, as the designer states it. */
export interface BandOptions {
  readonly name: string;
  /** Across the cloth, from the selvedge named by `edge`: 0 to the cloth's width, `from` below `to`. */
  readonly from: Length;
  readonly to: Length;
  /** From which selvedge `from` and `to` are measured: the one at y = 0 ("top") or the other. Default "top". */
  readonly edge?: "top" | "bottom";
  /** The band's own period along the cloth, more than 0. Default: the border's repeat. */
  readonly period?: Length;
  /** What gives way when the period does not divide the repeat: the drawing's size, or its spacing. Default "scale". */
  readonly fit?: "scale" | "space";
  /** A CSS colour, or "none". Default: the border's ground shows. A band with a ground and no motifs is a stripe. */
  readonly ground?: string;
  /** In paint order; points count from x = 0 and from the band's upper limit. Default: none. */
  readonly motifs?: readonly Placement[];
  /** Cuts off what leans out of the band. Default false. */
  readonly clip?: boolean;
}

/** What a border print is made of. */
export interface BorderOptions {
  readonly name: string;
  /** The repeat along the cloth, more than 0. */
  readonly repeat: Length;
  /** The cloth's width, more than 0. */
  readonly width: Length;
  /** A CSS colour, or "none". Default: bare cloth. */
  readonly ground?: string;
  /** In paint order. */
  readonly bands: readonly BandOptions[];
  /** Which axis of the artwork runs along the warp. Default "x": a border runs along the cloth. */
  readonly grain?: Grain;
}

/** One size of a border's frame, more than 0. */
function readSize(name: string, where: string, length: Length): number {
  const value = mm(length);
  if (value > 0) return value;
  throw new RepetendError("E_SIZE", "a border's repeat and width are more than 0", {
    input: name,
    where,
    value: String(length),
    accepted: "a length above 0",
  });
}

function makeBand(options: BandOptions, index: number, repeat: number, width: number): Band {
  const where = `bands[${index}] "${options.name}"`;
  const refuse = (problem: string, value: string, accepted: string): never => {
    throw new RepetendError("E_BAND", problem, { where, value, accepted });
  };
  const measured = [mm(options.from), mm(options.to)] as const;
  const fromBottom = options.edge === "bottom";
  const [from, to] = fromBottom ? [width - measured[1], width - measured[0]] : measured;
  if (!(measured[0] < measured[1])) {
    refuse(
      "a band runs from one level to a further one",
      `${options.from} to ${options.to}`,
      "from below to",
    );
  }
  if (measured[0] < 0 || measured[1] > width) {
    refuse("a band lies between the selvedges", `${options.from} to ${options.to}`, `0 to ${width} mm`);
  }
  const asked = options.period === undefined ? repeat : mm(options.period);
  if (!(asked > 0)) refuse("a band's period is more than 0", String(options.period), "a length above 0");
  const { count, period, change } = fitPeriod(repeat, asked);
  if (count > MOST_PERIODS) {
    refuse(
      "a band's period is too small for its border",
      String(options.period),
      `at least a ${MOST_PERIODS}th part of the repeat`,
    );
  }
  const by = change === 0 ? "none" : (options.fit ?? "scale");
  const inBorder = (options.motifs ?? []).map((one) =>
    placed(one.motif, compose(translation(0, from), one.map)),
  );
  return {
    name: options.name,
    from,
    to,
    period,
    count,
    ground: readGround(options.ground, `${where}.ground`),
    motifs: fitPlacements(inBorder, by, period / asked, (from + to) / 2),
    clip: options.clip ?? false,
    fit: { by, asked, change },
  };
}

/** A period of a 1 m border is then 0.1 mm: finer than any cloth shows. */
const MOST_PERIODS = 10_000;

function fitNote(band: Band): Note {
  const how = band.fit.by === "scale" ? "drawn" : "spaced";
  const more = band.fit.change > 0 ? "wider" : "closer";
  const size = band.fit.by === "scale" ? (band.fit.change > 0 ? "larger" : "smaller") : more;
  return {
    level: "info",
    code: "N_BAND_FITTED",
    message:
      `band "${band.name}": a period of ${round(band.fit.asked)} mm does not divide the repeat; ` +
      `${how} ${round(Math.abs(band.fit.change))} % ${size} so that ${band.count} of ${round(band.period)} mm close`,
    where: band.name,
  };
}

/** The motifs of a band of which nothing shows: beyond the limits of one that cuts, or beyond the selvedges. */
function unseenNotes({ name, from, to, clip, motifs }: Band, width: number): readonly Note[] {
  const [top, bottom] = clip ? [from, to] : [0, width];
  // What paints nothing has no height, and is told of by its motif.
  const unseen = motifs.filter(
    ({ reach }) => reach.height > 0 && (reach.y >= bottom || reach.y + reach.height <= top),
  );
  const beyond = clip ? "outside of the band, which cuts off what leans out" : "beyond the selvedge";
  return unseen.map(
    ({ motif, reach }): Note => ({
      level: "warning",
      code: "N_UNSEEN",
      message:
        `nothing shows of motif "${motif.name}" in band "${name}": it lies wholly ${beyond}, ` +
        `${round(reach.y - from)} to ${round(reach.y + reach.height - from)} mm from the band's upper limit`,
      where: name,
    }),
  );
}

const round = (value: number): string => String(Number(value.toFixed(3)));

/**
 * A border print: it repeats along the cloth only, and its height is the cloth's width. Every band closes on the one
 * repeat; a band whose period does not divide it is fitted to the nearest whole count and a note `N_BAND_FITTED` says
 * by how many per cent. Notes also tell of a motif of which nothing shows (`N_UNSEEN`), of one far larger than its period
 * (`N_LARGE`), and of one whose copies only touch (`N_TOUCHING`). Grounds are painted first, then the motifs band by band. What
 * lies beyond a selvedge is nothing.
 *
 * @throws {@link RepetendError} `E_BAND` for a band that does not fit, `E_SIZE`, `E_UNIT`, `E_NUMBER` for lengths,
 * `E_COLOUR` for a ground.
 * @example
 * ```ts
 * import { border } from "repetend";
 * const print = border({
 *   name: "Stripe", repeat: "32cm", width: "140cm", ground: "#f2ead8",
 *   bands: [
 *     { name: "hem", from: "120cm", to: "140cm", ground: "#1b2a41" },
 *     { name: "edge", from: 0, to: "2cm", period: "5cm", fit: "space", motifs: [] },
 *   ],
 * });
 * print.bands[1]?.count; // 6, of 53.3 mm
 * ```
 */
export function border(options: BorderOptions): Border {
  borderOptions(options, "options");
  const repeat = readSize(options.name, "repeat", options.repeat);
  const width = readSize(options.name, "width", options.width);
  const bands = options.bands.map((band, index) => makeBand(band, index, repeat, width));
  return {
    kind: "border",
    name: options.name,
    repeat,
    width,
    ground: readGround(options.ground, "ground"),
    bands,
    grain: options.grain ?? "x",
    notes: [
      ...bands.filter((band) => band.fit.by !== "none").map(fitNote),
      ...bands.flatMap((band) => unseenNotes(band, width)),
      ...bands.flatMap((band) => largeNotes(band.motifs, { width: band.period }, band.name)),
      ...bands.flatMap((band) => touchingNotes(band.motifs, { width: band.period }, band.name)),
    ],
  };
}
