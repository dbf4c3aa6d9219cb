import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import type { PixelImage } from "../../src/image/index.js";
import { type Motif, motif } from "../../src/motif/index.js";
import { renderNative } from "../../src/raster/index.js";
import {
  type AllOverOptions,
  border,
  brick,
  field,
  halfDrop,
  type Placement,
  type Print,
  place,
  stepped,
  straight,
} from "../../src/repeat/index.js";
import type { RepeatEstimate } from "../../src/seam/find-repeat/estimate.js";
import { findRepeat } from "../../src/seam/find-repeat/find-repeat.js";
import { type Random, seeded } from "../seeded.fixture.js";
import type { Benchmark, Row } from "./contract.js";
import { median } from "./measure.js";

const folder = join(dirname(createRequire(import.meta.url).resolve("openmoji/package.json")), "color", "svg");
const files = readdirSync(folder)
  .filter((name) => /^(1F[3-6][0-9A-F]{2}|1F9[0-9A-F]{2})\.svg$/.test(name))
  .sort();

const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;

/** Reads a drawing; some of the open drawings hold text or the like and are passed over. */
function pickMotif(random: Random): Motif {
  for (let tries = 0; tries < 20; tries++) {
    const file = pick(random, files);
    try {
      return motif(readFileSync(join(folder, file)), { name: file.replace(".svg", "") });
    } catch {
      // Refused: another one.
    }
  }
  throw new Error("no drawing can be read");
}

const GROUNDS = ["#f2ead8", "#1f3140", "#d9e4dd", "#ffffff", "#e8c9a0", "#2f4f4f", "#f7d6d0", "#101820"];
const STEPS = [
  { p: 1, q: 3 },
  { p: 2, q: 3 },
  { p: 1, q: 4 },
  { p: 3, q: 4 },
  { p: 1, q: 5 },
  { p: 2, q: 5 },
  { p: 3, q: 7 },
] as const;

interface Sample {
  readonly print: Print;
  readonly truth: {
    readonly layout: RepeatEstimate["layout"];
    readonly width: number;
    readonly height: number | undefined;
  };
  readonly window: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
}

/** Lengths of the print are pixels here: a mm a pixel. */
function makeSample(seed: number): Sample {
  const random = seeded(seed * 7919 + 29);
  const sized = (low: number, high: number) => low + (high - low) * random();
  const [across, down] = [sized(2.3, 5), sized(2.3, 5)];
  const width = sized(400, 1200) / across;
  const height = Math.max(width / 1.9, Math.min(width * 1.9, sized(400, 1200) / down));
  const count = 2 + Math.floor(random() * 6);
  const motifs: Placement[] = Array.from({ length: count }, () =>
    place(pickMotif(random), {
      at: [random() * width, random() * height],
      width: sized(0.2, 0.6) * Math.min(width, height),
      turn: random() < 0.5 ? 0 : random() * 360,
    }),
  );
  const [first] = motifs;
  // Every fifth print tempts with a motif that stands again half a repeat on, as if the repeat were finer.
  if (seed % 5 === 0 && first) {
    const { map } = first;
    const half = random() < 0.5 ? [width / 2, 0] : [width / 2, height / 2];
    const [x = 0, y = 0] = half;
    const moved = { ...map, e: map.e + x, f: map.f + y };
    motifs.push({
      ...first,
      map: moved,
      reach: { ...first.reach, x: first.reach.x + x, y: first.reach.y + y },
    });
  }
  const options: AllOverOptions = {
    name: `Yardage ${seed}`,
    width,
    height,
    ground: pick(random, GROUNDS),
    motifs,
  };
  const window = {
    x: sized(-300, 300),
    y: sized(-300, 300),
    width: Math.round(across * width),
    height: Math.round(down * height),
  };
  switch (seed % 6) {
    case 0:
      return { print: straight(options), window, truth: { layout: "straight", width, height } };
    case 1:
    case 2:
      return { print: halfDrop(options), window, truth: { layout: "half-drop", width, height } };
    case 3:
      return { print: brick(options), window, truth: { layout: "brick", width, height } };
    case 4: {
      const step = pick(random, STEPS);
      const along = random() < 0.5 ? "column" : "row";
      return {
        print: stepped({ ...options, along, step }),
        window,
        truth: { layout: { kind: "stepped", along, step }, width, height },
      };
    }
    default: {
      const cloth = window.height;
      const bands = [0, 1, 2].map((band) => ({
        name: `band ${band}`,
        from: (cloth * band) / 3,
        to: (cloth * (band + 1)) / 3,
        period: width / pick(random, [1, 1, 2, 3]),
        ...(random() < 0.5 ? { ground: pick(random, GROUNDS) } : {}),
        motifs: motifs
          .filter((_, index) => index % 3 === band || index === 0)
          .map((one) =>
            place(one.motif, { at: [random() * width, cloth / 6], width: cloth / sized(3.2, 8) }),
          ),
      }));
      return {
        print: border({
          name: options.name,
          repeat: width,
          width: cloth,
          ground: pick(random, GROUNDS),
          bands,
        }),
        window: { ...window, y: 0 },
        truth: { layout: "border", width, height: undefined },
      };
    }
  }
}

export async function renderSample(
  seed: number,
): Promise<{ readonly sample: Sample; readonly image: PixelImage }> {
  const sample = makeSample(seed);
  const { window } = sample;
  const svg = field(sample.print, window)
    .replace(/width="[\d.]+mm"/, `width="${window.width}"`)
    .replace(/height="[\d.]+mm"/, `height="${window.height}"`);
  const image = await renderNative(svg, { width: window.width, height: window.height });
  return { sample, image };
}

/** The lattice is the same, to within a pixel a side: either reading of it counts. */
export function isRight(estimate: RepeatEstimate, truth: Sample["truth"], firstOnly = false): boolean {
  const readings = [
    { layout: estimate.layout, width: estimate.width, height: estimate.height },
    ...(firstOnly ? [] : estimate.sameAs),
  ];
  const near = (one: number | undefined, other: number | undefined) =>
    one === undefined || other === undefined ? one === other : Math.abs(one - other) <= 1;
  return readings.some(
    ({ layout, width, height }) =>
      JSON.stringify(layout) === JSON.stringify(truth.layout) &&
      near(width, truth.width) &&
      near(height, truth.height),
  );
}

const COUNT = Number(process.env.REPETEND_SAMPLES ?? 500);

export const benchmark: Benchmark = {
  title: "Finding the repeat of made yardages, 2.3 to 5 repeats a side",
  run: async ({ log }) => {
    const times: number[] = [];
    const misses: number[] = [];
    let [right, first] = [0, 0];
    for (let seed = 0; seed < COUNT; seed++) {
      const { sample, image } = await renderSample(seed);
      const start = performance.now();
      const estimate = findRepeat(image);
      times.push((performance.now() - start) / 1000);
      if (isRight(estimate, sample.truth)) {
        right++;
        if (isRight(estimate, sample.truth, true)) {
          first++;
          misses.push(Math.abs((estimate.width ?? 0) - sample.truth.width));
        }
      } else
        log(
          `${seed}: made ${JSON.stringify(sample.truth)} in ${image.width} x ${image.height}; ${estimate.says} ${estimate.confidence.toFixed(2)}`,
        );
      if (seed % 50 === 49) log(`${seed + 1} yardages, ${right} right`);
    }
    const rows: Row[] = [
      {
        figure: "right layout and size within 1 px",
        value: (100 * right) / COUNT,
        unit: `% of ${COUNT}`,
        target: "at least 98 %",
        met: right >= 0.98 * COUNT,
      },
      {
        figure: "of those, read as they were made (and not as the other name of the same cloth)",
        value: (100 * first) / right,
        unit: "%",
      },
      { figure: "error of the width, median", value: median(misses), unit: "px" },
      { figure: "time for one picture, median", value: median(times), unit: "s" },
    ];
    return rows;
  },
};
