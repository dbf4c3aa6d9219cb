import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bundleProgram } from "../../bundle.mjs";
import type { ColourwaysAnswer, ColourwaysTask } from "./colourways.child.js";
import type { Benchmark, Row } from "./contract.js";
import { median, type ProcessFigures, runProcess } from "./measure.js";

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

const DPI = 300;
const COLOURWAYS = 24;
/** The loop does the same for each colourway, so that a few of them tell the time of all. */
const LOOPED = 3;

type Measured = ColourwaysAnswer & { readonly peak: number };

const takeBy = async (child: string, task: ColourwaysTask): Promise<Measured> => {
  const figures: ProcessFigures = await runProcess(child, task);
  return { ...(JSON.parse(figures.output) as ColourwaysAnswer), peak: figures.peakMemory };
};

/** Twenty-four colourways of a border of 32 cm x 140 cm at 300 dpi, and its separations, against two renderers. */
export const benchmark: Benchmark = {
  title: "Colourways and separations from ink planes",
  run: async ({ runs, log }) => {
    // In one file, as a program has it: the loader of sources would count in time and memory.
    const folder = mkdtempSync(at("../../node_modules/.colourways-"));
    const child = join(folder, "child.mjs");
    const take = (task: ColourwaysTask) => takeBy(child, task);
    const rounds: Record<ColourwaysTask["way"], Measured[]> = {
      loop: [],
      soft: [],
      hard: [],
      separations: [],
      sharp: [],
    };
    try {
      await bundleProgram(at("colourways.child.ts"), child);
      for (let round = 0; round < runs; round++) {
        for (const way of ["loop", "soft", "hard", "separations", "sharp"] as const) {
          const colourways = way === "loop" ? LOOPED : way === "sharp" ? 1 : COLOURWAYS;
          const measured = await take({ way, dpi: DPI, colourways });
          const [seconds, peak] = [measured.seconds.toFixed(1), measured.peak.toFixed(0)];
          log(`round ${round + 1}, ${way}: ${seconds} s for ${measured.made}, ${peak} MB`);
          rounds[way].push(measured);
        }
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
    const middle = (way: ColourwaysTask["way"], read: (one: Measured) => number): number =>
      median(rounds[way].map(read));
    const each = (way: ColourwaysTask["way"], read: (one: Measured) => number) =>
      middle(way, (one) => read(one) / one.made);
    const wall = (one: Measured) => one.seconds;
    const cpu = (one: Measured) => one.cpuSeconds;
    const loop = { wall: COLOURWAYS * each("loop", wall), cpu: COLOURWAYS * each("loop", cpu) };
    const share = (way: "soft" | "hard", most: number): readonly Row[] => {
      const ratio = middle(way, wall) / loop.wall;
      return [
        {
          figure: `24 ${way}-edged colourways, of the loop's time`,
          value: ratio,
          unit: "ratio",
          target: `at most ${most}`,
          met: ratio <= most,
        },
        { figure: "  of its processor time", value: middle(way, cpu) / loop.cpu, unit: "ratio" },
        { figure: "  in all", value: middle(way, wall), unit: "s" },
        { figure: "  a file", value: each(way, (one) => one.bytes) / 1e6, unit: "MB" },
      ];
    };
    const films = middle("separations", wall) / each("loop", wall);
    const peak = Math.max(
      ...(["soft", "hard", "separations"] as const).map((way) => middle(way, (one) => one.peak)),
    );
    const { pixels = 0, inks = 0, motifs = 0 } = rounds.loop[0] ?? {};
    return [
      { figure: "pixels", value: pixels / 1e6, unit: "megapixels" },
      { figure: "placed drawings, inks", value: `${motifs}, ${inks}`, unit: "" },
      ...share("soft", 0.25),
      ...share("hard", 0.08),
      {
        figure: "separations of all inks, in one-shot renders",
        value: films,
        unit: "renders",
        target: "at most 8",
        met: films <= 8,
      },
      { figure: "  in all", value: middle("separations", wall), unit: "s" },
      {
        figure: "peak memory of the dearest of these",
        value: peak,
        unit: "MB",
        target: "under 600",
        met: peak < 600,
      },
      { figure: "the loop, @resvg/resvg-js and asPng, a colourway", value: each("loop", wall), unit: "s" },
      { figure: "  its peak memory", value: middle("loop", (one) => one.peak), unit: "MB" },
      { figure: "  a file", value: each("loop", (one) => one.bytes) / 1e6, unit: "MB" },
      { figure: "sharp, a colourway", value: each("sharp", wall), unit: "s" },
      {
        figure: "24 soft-edged colourways, of 24 by sharp",
        value: middle("soft", wall) / (COLOURWAYS * each("sharp", wall)),
        unit: "ratio",
      },
      {
        figure: "  of its processor time",
        value: middle("soft", cpu) / (COLOURWAYS * each("sharp", cpu)),
        unit: "ratio",
      },
      { figure: "  its peak memory", value: middle("sharp", (one) => one.peak), unit: "MB" },
    ];
  },
};
