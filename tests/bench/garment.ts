import { fileURLToPath } from "node:url";
import type { Benchmark, Row } from "./contract.js";
import type { GarmentAnswer, GarmentTask, Taken } from "./garment.child.js";
import { median, runProcess } from "./measure.js";

const child = fileURLToPath(new URL("garment.child.ts", import.meta.url));

/** Rounds in one process; the first one, which meets cold code, is shown apart. */
const ROUNDS = 5;

/** How many times as many paths. */
const SIZES = [1, 2, 4, 8] as const;

/** Time a path may at most differ between the smallest and the largest print. */
const LINEAR = 1.25;

type Measured = GarmentAnswer & { readonly peak: number };

async function take(task: GarmentTask): Promise<Measured> {
  const { output, peakMemory } = await runProcess(child, task);
  return { ...(JSON.parse(output) as GarmentAnswer), peak: peakMemory };
}

/** The draped wrap skirt of the Saltmarsh border in three colourways. */
export const benchmark: Benchmark = {
  title: "Dressing a draped skirt in three colourways",
  run: async ({ runs, log }) => {
    const measured = new Map<number, Measured[]>(SIZES.map((size) => [size, []]));
    for (let round = 0; round < runs; round += 1)
      for (const size of SIZES) {
        const one = await take({ rounds: size === 1 ? ROUNDS : 1, motifs: size });
        log(`round ${round + 1}, ${size} x the motifs: ${one.all.cpu.toFixed(2)} s of processor time`);
        measured.get(size)?.push(one);
      }
    const of = (size: number, read: (one: Measured) => number): number =>
      median((measured.get(size) ?? []).map(read));
    const both = (figure: string, read: (one: Measured) => Taken): readonly Row[] => [
      { figure, value: of(1, (one) => read(one).wall), unit: "s" },
      { figure: "  processor time", value: of(1, (one) => read(one).cpu), unit: "s" },
    ];
    const wall = of(1, ({ all }) => all.wall);
    const cpu = of(1, ({ all }) => all.cpu);
    const off = of(1, (one) => one.off);
    const perPath = (size: number): number => of(size, ({ dressing, paths }) => dressing.cpu / paths);
    const ratio = perPath(8) / perPath(1);
    return [
      {
        figure: "processor time a path, of 8 times as many paths",
        value: ratio,
        unit: "ratio",
        target: `at most ${LINEAR}`,
        met: ratio <= LINEAR,
      },
      ...SIZES.map(
        (size): Row => ({
          figure: `  ${of(size, ({ paths }) => paths)} paths, each`,
          value: 1e6 * perPath(size),
          unit: "microseconds",
        }),
      ),
      {
        figure: "dressed, recoloured and written in three colourways",
        value: wall,
        unit: "s",
        target: "under 1",
        met: wall < 1,
      },
      { figure: "  processor time", value: cpu, unit: "s", target: "under 1", met: cpu < 1 },
      ...both("  dressing alone", ({ dressing }) => dressing),
      ...both("  the first time in a process", ({ first }) => first),
      ...both("reading job, sketch and motifs (not part of it)", ({ reading }) => reading),
      {
        figure: "largest miss of a path on the page",
        value: off,
        unit: "mm",
        target: "at most 0.02",
        met: off <= 0.02,
      },
      { figure: "one SVG", value: of(1, ({ bytes }) => bytes) / 1e6, unit: "MB" },
      { figure: "peak memory of the process", value: of(1, ({ peak }) => peak), unit: "MB" },
    ];
  },
};
