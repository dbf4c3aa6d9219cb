// One way of making all colourways, as a process of its own; prints its figures as JSON.
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import sharp from "sharp";
import { type Colourway, colourway } from "../../src/colour/index.js";
import { BandPool, emitSeparations, emitTile } from "../../src/emit/index.js";
import { inksOf, type Print, pixelGrid, pixelPrint, recolour, writePixels } from "../../src/repeat/index.js";
import { seeded } from "../seeded.fixture.js";
import { seconds } from "./measure.js";
import { MOTIFS, strewnBorder } from "./strewn.js";

/** What a process is asked for. */
export interface ColourwaysTask {
  readonly way: "soft" | "hard" | "separations" | "loop" | "sharp";
  readonly dpi: number;
  readonly colourways: number;
}

/** What it answers. */
export interface ColourwaysAnswer {
  readonly seconds: number;
  /** Of all cores and threads together: what is left of a figure on a machine that others use too. */
  readonly cpuSeconds: number;
  /** How many pictures were made in that time. */
  readonly made: number;
  readonly pixels: number;
  readonly inks: number;
  readonly motifs: number;
  /** Bytes of all files. */
  readonly bytes: number;
}

/** Colourways that give every ink another colour. */
function makeColourways(print: Print, count: number): readonly Colourway[] {
  const random = seeded(11);
  return Array.from({ length: count }, (_, at) => {
    const hex = () =>
      `#${Math.floor(random() * 0x1000000)
        .toString(16)
        .padStart(6, "0")}`;
    return colourway(`Colourway ${at + 1}`, Object.fromEntries(inksOf(print).map(({ ink }) => [ink, hex()])));
  });
}

const task = JSON.parse(process.argv[2] ?? "{}") as ColourwaysTask;
const print = strewnBorder({ width: 320, height: 1400 });
const grid = pixelGrid(print, { dpi: task.dpi });
const colourways = makeColourways(print, task.colourways);
const dir = mkdtempSync(join(tmpdir(), "colourways-"));

/** The whole tile as one SVG, which is what the other ways are given; not part of their time. */
const svgOf = (one: Colourway): string =>
  writePixels(pixelPrint(recolour(print, one), grid), { x: 0, y: 0, ...grid.tile });

/** Processor seconds of this process and of its children that have ended (proc(5): in hundredths of a second). */
function cpuSeconds(): number {
  const stat = readFileSync("/proc/self/stat", "utf8");
  const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
  return fields.slice(11, 15).reduce((sum, ticks) => sum + Number(ticks), 0) / 100;
}

/** Wall and processor seconds of a piece of work. */
async function time(work: () => Promise<void>): Promise<{ wall: number; cpu: number }> {
  const before = cpuSeconds();
  const wall = await seconds(work);
  return { wall, cpu: cpuSeconds() - before };
}

async function work(): Promise<{ wall: number; cpu: number; bytes: number }> {
  let bytes = 0;
  if (task.way === "loop" || task.way === "sharp") {
    let [wall, cpu] = [0, 0];
    for (const one of colourways) {
      const svg = svgOf(one);
      const taken = await time(async () => {
        const png =
          task.way === "loop"
            ? new Resvg(svg, { font: { loadSystemFonts: false } }).render().asPng()
            : await sharp(Buffer.from(svg), { unlimited: true, limitInputPixels: false }).png().toBuffer();
        bytes += png.length;
      });
      wall += taken.wall;
      cpu += taken.cpu;
      await new Promise((resolve) => setImmediate(resolve)); // else the loop keeps every picture
    }
    return { wall, cpu, bytes };
  }
  // Processes run what is built: the loader of sources would count in their time and memory.
  const maker = new BandPool({
    memory: 600e6,
    program: new URL("../../dist/emit/band-worker.js", import.meta.url),
  });
  const taken = await time(async () => {
    if (task.way === "separations") await emitSeparations(print, { dpi: task.dpi, dir, maker });
    else {
      const edges = task.way === "hard" ? "hard" : "soft";
      await emitTile(print, { dpi: task.dpi, dir, formats: ["png"], colourways, edges, maker });
    }
    await maker.close();
  });
  for (const name of readdirSync(dir)) bytes += statSync(join(dir, name)).size;
  return { ...taken, bytes };
}

try {
  const { wall, cpu, bytes } = await work();
  const answer: ColourwaysAnswer = {
    seconds: wall,
    cpuSeconds: cpu,
    made: colourways.length,
    pixels: grid.tile.width * grid.tile.height,
    inks: inksOf(print).length,
    motifs: MOTIFS,
    bytes,
  };
  console.log(JSON.stringify(answer));
} finally {
  rmSync(dir, { recursive: true, force: true });
}
