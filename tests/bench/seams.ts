import { fileURLToPath } from "node:url";
import type { PixelImage } from "../../src/image/index.js";
import { checkSeams } from "../../src/seam/index.js";
import type { Benchmark, Row } from "./contract.js";
import { median, runProcess } from "./measure.js";
import { composeTile, drawComposition, drawingNames, renderOpaque } from "./seams/compose.js";
import { crop, photograph, plainGround, stripes, whiteNoise } from "./seams/textures.js";
import type { FaultCount, SeamsAnswer, SeamsTask } from "./seams.child.js";

const child = fileURLToPath(new URL("seams.child.ts", import.meta.url));

/**
 * Which tiles, as FROM:TO, how many of the ten faults each, in how many processes at once, and after how many minutes to
 * stop with those that are done; with four faults, in turn, a thousand tiles take minutes:
 * REPETEND_SEEDS=5000:6000 REPETEND_FAULTS=10 REPETEND_SHARES=1 REPETEND_MINUTES=20 npm run bench -- seams
 */
const [FROM = 0, TO = 1000] = (process.env.REPETEND_SEEDS ?? "0:1000").split(":").map(Number);
const FAULTS = Number(process.env.REPETEND_FAULTS ?? 4);
const SHARES = Number(process.env.REPETEND_SHARES ?? 2);
const MINUTES = Number(process.env.REPETEND_MINUTES ?? 600);

const percent = (part: number, whole: number): number => (whole === 0 ? 100 : (100 * part) / whole);

async function checkTiles(log: (line: string) => void): Promise<SeamsAnswer> {
  const answers = await Promise.all(
    Array.from({ length: SHARES }, async (_, share) => {
      const task: SeamsTask = {
        from: FROM + share,
        to: TO,
        step: SHARES,
        seconds: 60 * MINUTES,
        faultsATile: FAULTS,
      };
      const { output, seconds } = await runProcess(child, task);
      log(`share ${share + 1} of ${SHARES}: ${seconds.toFixed(0)} s`);
      return JSON.parse(output) as SeamsAnswer;
    }),
  );
  const names = [...new Set(answers.flatMap((answer) => Object.keys(answer.faults)))].sort();
  const sum = (read: (answer: SeamsAnswer) => number) => answers.reduce((total, one) => total + read(one), 0);
  return {
    closed: sum((answer) => answer.closed),
    falseAlarms: answers.flatMap((answer) => answer.falseAlarms),
    compressed: sum((answer) => answer.compressed),
    compressedAlarms: answers.flatMap((answer) => answer.compressedAlarms),
    faults: Object.fromEntries(
      names.map((name) => {
        const count = (read: (one: FaultCount) => number) =>
          sum((answer) => (answer.faults[name] ? read(answer.faults[name]) : 0));
        return [
          name,
          {
            shown: count((one) => one.shown),
            found: count((one) => one.found),
            named: count((one) => one.named),
            within: count((one) => one.within),
          },
        ];
      }),
    ),
    renderSeconds: sum((answer) => answer.renderSeconds),
    checkSeconds: sum((answer) => answer.checkSeconds),
  };
}

function faultRows(name: string, count: FaultCount): readonly Row[] {
  const found = percent(count.found, count.shown);
  const named = percent(count.named, count.found);
  return [
    {
      figure: `${name}: found, of ${count.shown}`,
      value: found,
      unit: "%",
      target: "at least 99",
      met: found >= 99,
    },
    {
      figure: "  named rightly, of the found",
      value: named,
      unit: "%",
      target: "at least 95",
      met: named >= 95,
    },
    ...(name.startsWith("shift")
      ? [
          {
            figure: "  estimated within 0.5 px, of the named",
            value: percent(count.within, count.named),
            unit: "%",
            target: "at least 95",
            met: percent(count.within, count.named) >= 95,
          },
        ]
      : []),
  ];
}

/** Pictures that a check by jumps alone gets wrong, each with the right answer. */
function specialRows(): readonly Row[] {
  const widths = [30, 20, 15, 10];
  const cases: readonly (readonly [string, PixelImage, boolean])[] = [
    ["plain ground", plainGround(400, 300), true],
    ["white noise", whiteNoise(400, 300, 1), true],
    ["stripes parallel to the seam", stripes(300, 300, false, widths), true],
    ["stripes across the seam", stripes(300, 300, true, widths), true],
    ["stripes that stop short of their repeat", crop(stripes(300, 300, false, widths), 7, 0), false],
    ["a photograph that closes", photograph(400, 300, 1, true), true],
    ["a photograph that does not", photograph(400, 300, 1, false), false],
  ];
  return cases.map(([figure, image, ok]) => {
    const report = checkSeams(image);
    const kinds = report.edges.flatMap((edge) => edge.kind ?? []).join(", ");
    return {
      figure,
      value: report.ok ? "closed" : kinds,
      unit: "",
      met: report.ok === ok,
      target: ok ? "closed" : "open",
    };
  });
}

/** A tile of 62 megapixels, composed of 5 x 5 tiles of one print. */
async function checkLarge(runs: number): Promise<readonly Row[]> {
  const composition = { ...composeTile(0, drawingNames()), width: 1440, height: 1728 };
  const across = { x: 0, y: 0, width: 7200, height: 8640 };
  const begin = performance.now();
  const image = renderOpaque(drawComposition(composition, { window: across }));
  const rendering = (performance.now() - begin) / 1000;
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    checkSeams(image, { layout: "straight" });
    return (performance.now() - start) / 1000;
  });
  const checking = median(times);
  return [
    { figure: "62 megapixels: rendering", value: rendering, unit: "s" },
    { figure: "62 megapixels: checking", value: checking, unit: "s" },
    {
      figure: "62 megapixels: checking, of the rendering",
      value: checking / rendering,
      unit: "ratio",
      target: "at most 0.25",
      met: checking <= rendering / 4,
    },
  ];
}

/** Closed tiles and tiles with one fault each, of openmoji drawings on every layout, soft and hard, 100 to 400 dpi. */
export const benchmark: Benchmark = {
  title: "Seams: false alarms, faults found and named",
  run: async ({ runs, log }) => {
    const large = await checkLarge(runs);
    const tiles = await checkTiles(log);
    const alarms = tiles.falseAlarms.length;
    log(`false alarms: ${tiles.falseAlarms.join(", ")}; compressed: ${tiles.compressedAlarms.join(", ")}`);
    return [
      {
        figure: `false alarms in ${tiles.closed} closed tiles`,
        value: alarms,
        unit: "tiles",
        target: "at most 1 in 1,000",
        met: alarms <= tiles.closed / 1000,
      },
      {
        figure: `false alarms in ${tiles.compressed} of them after JPEG at quality 85`,
        value: tiles.compressedAlarms.length,
        unit: "tiles",
      },
      ...Object.entries(tiles.faults).flatMap(([name, count]) => faultRows(name, count)),
      ...specialRows(),
      ...large,
      {
        figure: "checking, of the rendering, all tiles",
        value: tiles.checkSeconds / tiles.renderSeconds,
        unit: "ratio",
      },
    ];
  },
};
