import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { freemem, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { serialize } from "node:v8";
import { type Print, pixelGrid, pixelPrint, writePixels } from "../../src/repeat/index.js";
import type { Benchmark, Row } from "./contract.js";
import { median, runProcess } from "./measure.js";
import { type Field, strewnBorder, strewnHalfDrop } from "./strewn.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const child = fileURLToPath(new URL("production.child.mjs", import.meta.url));

type Way = "repetend" | "one-shot" | "sharp" | "rsvg-convert" | "bound";

/** What one process did. */
interface Measured {
  readonly seconds: number;
  readonly cpuSeconds: number;
  /** Of all processes together, in MB. */
  readonly peak: number;
  readonly bytes: number;
}

/** A print at a resolution, and where the processes find it. */
interface Case {
  readonly name: string;
  readonly megapixels: number;
  readonly dpi: number;
  readonly print: string;
  readonly svg: string;
}

/** A program of its own counts with what it takes to start: it is built, as a user has it. */
function buildIfOld(log: (line: string) => void): void {
  const newest = (folder: string): number =>
    Math.max(
      ...readdirSync(folder, { withFileTypes: true }).map((entry) => {
        const path = join(folder, entry.name);
        if (entry.isDirectory()) return newest(path);
        return entry.name.endsWith(".ts") && !entry.name.endsWith(".test.ts") ? statSync(path).mtimeMs : 0;
      }),
    );
  const built = join(root, "dist", "emit", "band-worker.js");
  if (existsSync(built) && statSync(built).mtimeMs > newest(join(root, "src"))) return;
  log("building");
  execFileSync("npm", ["run", "--silent", "build"], { cwd: root, stdio: ["ignore", "ignore", "inherit"] });
}

const bare = (print: Print): Print => ({ ...print, ground: undefined });

/** An all-in-one rendering takes its picture about twice, beside its parts: 4 bytes a pixel, and the PNG. */
const ONE_SHOT_BYTES = 9;

/** Budgets for all processes together, in bytes. */
const MEMORY = { small: 350e6, wide: 450e6, huge: 500e6 };

/** Files of a mill's size, against one-shot renderings. */
export const benchmark: Benchmark = {
  title: "Production files: time and memory against rendering in one piece",
  run: async ({ runs, log }) => {
    buildIfOld(log);
    const folder = mkdtempSync(join(tmpdir(), "production-bench-"));
    const save = (name: string, print: Print, dpi: number): Case => {
      const grid = pixelGrid(print, { dpi });
      const paths = { print: join(folder, `${name}.print`), svg: join(folder, `${name}.svg`) };
      writeFileSync(paths.print, serialize(print));
      writeFileSync(paths.svg, writePixels(pixelPrint(print, grid), { x: 0, y: 0, ...grid.tile }));
      return { name, dpi, megapixels: (grid.tile.width * grid.tile.height) / 1e6, ...paths };
    };
    const take = async (one: Case, way: Way, options: Record<string, unknown> = {}): Promise<Measured> => {
      const file = way === "repetend" ? one.print : one.svg;
      const task = { way, file, dpi: one.dpi, workers: 2, edges: "soft", ...options };
      const { output, peakMemory } = await runProcess(child, task);
      const measured = { ...(JSON.parse(output) as Omit<Measured, "peak">), peak: peakMemory };
      const { seconds, cpuSeconds, peak } = measured;
      log(
        `${one.name}, ${way} ${JSON.stringify(options)}: ${seconds.toFixed(1)} s, ` +
          `${cpuSeconds.toFixed(1)} s of processors, ${peak.toFixed(0)} MB`,
      );
      return measured;
    };
    /** Medians of several rounds of each way, one after the other. */
    const rounds = async (work: readonly (() => Promise<Measured>)[], count: number): Promise<Measured[]> => {
      const all: Measured[][] = work.map(() => []);
      for (let round = 0; round < count; round++) {
        for (const [at, run] of work.entries()) all[at]?.push(await run());
      }
      const middle = (some: readonly Measured[], read: (one: Measured) => number) => median(some.map(read));
      return all.map((some) => ({
        seconds: middle(some, (one) => one.seconds),
        cpuSeconds: middle(some, (one) => one.cpuSeconds),
        peak: middle(some, (one) => one.peak),
        bytes: middle(some, (one) => one.bytes),
      }));
    };
    const figures = (name: string, { seconds, cpuSeconds, peak, bytes }: Measured): readonly Row[] => [
      { figure: name, value: seconds, unit: "s" },
      { figure: "  of processors", value: cpuSeconds, unit: "s" },
      { figure: "  peak memory", value: peak, unit: "MB" },
      { figure: "  file", value: bytes / 1e6, unit: "MB" },
    ];
    const atMost = (figure: string, value: number, most: number, unit: string): Row => ({
      figure,
      value,
      unit,
      target: `at most ${most}`,
      met: value <= most,
    });

    /** The same within a budget of memory. */
    const within = (one: Measured, oneShot: Measured, memory: number): readonly Row[] => [
      atMost(`within ${memory / 1e6} MB, of one-shot's time`, one.seconds / oneShot.seconds, 0.6, "ratio"),
      atMost("  peak memory, all processes", one.peak, memory / 1e6, "MB"),
      ...figures(`RGBA PNG within ${memory / 1e6} MB`, one),
    ];

    try {
      const small: Field = { width: 320, height: 1400 };
      const large: Field = { width: 640, height: 1500 };
      // The same print at 600 dpi, as long as it takes for a gigapixel.
      const huge: Field = { width: 640, height: 2800 };
      const border = strewnBorder(small);
      const first = save("62 megapixels", bare(border), 300);
      const ground = save("62 megapixels with a ground", border, 300);
      const drop = save("62 megapixels, half-drop", strewnHalfDrop(small), 300);

      const [ours, bounded, oneShot, bySharp] = (await rounds(
        [
          () => take(first, "repetend"),
          () => take(first, "repetend", { memory: MEMORY.small }),
          () => take(first, "one-shot"),
          () => take(first, "sharp"),
        ],
        runs,
      )) as [Measured, Measured, Measured, Measured];
      const [oursRgb, oneShotRgb, half, hard, bound] = (await rounds(
        [
          () => take(ground, "repetend"),
          () => take(ground, "one-shot"),
          () => take(drop, "repetend"),
          () => take(ground, "repetend", { edges: "hard" }),
          () => take(ground, "bound"),
        ],
        runs,
      )) as [Measured, Measured, Measured, Measured, Measured];
      const rows: Row[] = [
        { figure: "pixels", value: first.megapixels, unit: "megapixels" },
        atMost("RGBA PNG, of one-shot's time", ours.seconds / oneShot.seconds, 0.6, "ratio"),
        {
          figure: "  of one-shot's processor time",
          value: ours.cpuSeconds / oneShot.cpuSeconds,
          unit: "ratio",
        },
        ...figures("RGBA PNG", ours),
        ...within(bounded, oneShot, MEMORY.small),
        ...figures("one-shot (@resvg/resvg-js, asPng)", oneShot),
        ...figures("sharp", bySharp),
        { figure: "RGB PNG, of one-shot's time", value: oursRgb.seconds / oneShotRgb.seconds, unit: "ratio" },
        ...figures("RGB PNG", oursRgb),
        { figure: "half-drop, of the border's time", value: half.seconds / oursRgb.seconds, unit: "ratio" },
        { figure: "  of its processor time", value: half.cpuSeconds / oursRgb.cpuSeconds, unit: "ratio" },
        ...figures("half-drop", half),
        { figure: "palette PNG, of the bound's time", value: hard.seconds / bound.seconds, unit: "ratio" },
        { figure: "  of its bytes", value: hard.bytes / bound.bytes, unit: "ratio" },
        ...figures("palette PNG", hard),
        ...figures("bound: one render, one pass of deflate level 1", bound),
      ];
      const wasm = await take(first, "repetend", { engine: "wasm" });
      rows.push({
        figure: "engine wasm, of native's time",
        value: wasm.seconds / ours.seconds,
        unit: "ratio",
      });
      rows.push(...figures("engine wasm", wasm));
      try {
        rows.push(...figures("rsvg-convert", await take(first, "rsvg-convert")));
      } catch (error) {
        rows.push({ figure: "rsvg-convert", value: `not taken: ${error}`, unit: "" });
      }

      // The large ones once each.
      const wide = save("535 megapixels", bare(strewnBorder(large)), 600);
      const oursWide = await take(wide, "repetend");
      const boundedWide = await take(wide, "repetend", { memory: MEMORY.wide });
      rows.push({ figure: "pixels", value: wide.megapixels, unit: "megapixels" });
      const needed = wide.megapixels * 1e6 * ONE_SHOT_BYTES;
      if (freemem() > needed) {
        const shot = await take(wide, "one-shot");
        rows.push(
          atMost("RGBA PNG, of one-shot's time", oursWide.seconds / shot.seconds, 0.6, "ratio"),
          ...within(boundedWide, shot, MEMORY.wide),
          {
            figure: "  of one-shot's processor time",
            value: oursWide.cpuSeconds / shot.cpuSeconds,
            unit: "ratio",
          },
          ...figures("one-shot", shot),
        );
      } else {
        rows.push({
          figure: "one-shot",
          value: `not taken: needs ${(needed / 1e9).toFixed(1)} GB`,
          unit: "",
        });
      }
      rows.push(...figures("RGBA PNG", oursWide));

      const giga = save("a gigapixel", bare(strewnBorder(huge)), 600);
      const oursHuge = await take(giga, "repetend", { memory: MEMORY.huge });
      const each = (one: Measured, { megapixels }: Case): number => one.seconds / megapixels;
      rows.push(
        { figure: "pixels", value: giga.megapixels, unit: "megapixels" },
        atMost("  peak memory, all processes", oursHuge.peak, 500, "MB"),
        atMost(
          "  time a pixel, of the first case's",
          each(oursHuge, giga) / each(ours, first),
          1.15,
          "ratio",
        ),
        ...figures("RGBA PNG", oursHuge),
      );
      return rows;
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
};
