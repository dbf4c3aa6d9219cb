// One way of making all colourways, as a process of its own; prints its figures as JSON.
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { Resvg } from "@resvg/resvg-js";
import sharp from "sharp";
import { type Colourway, colourway } from "../../src/colour/index.js";
import { emitSeparations, emitTile } from "../../src/emit/index.js";
import { type Motif, motif } from "../../src/motif/index.js";
import {
  border,
  inksOf,
  type Placement,
  type Print,
  pixelGrid,
  pixelPrint,
  place,
  recolour,
  writePixels,
} from "../../src/repeat/index.js";
import { seconds } from "./measure.js";

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

/** A generator of numbers in [0, 1) from a seed (mulberry32, Tommy Ettinger, public domain). */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const folder = join(dirname(createRequire(import.meta.url).resolve("openmoji/package.json")), "color", "svg");

const MOTIFS = 600;
const INKS = 17;

/** Drawings whose inks are the most common ones of all, so that the print has about 17. */
function readDrawings(): readonly Motif[] {
  const names = readdirSync(folder).filter((name) => /^1F[3-6][0-9A-F]{2}\.svg$/.test(name));
  const all = names.sort().flatMap((name) => {
    try {
      return motif(readFileSync(join(folder, name), "utf8"), { name: name.replace(".svg", "") });
    } catch {
      return [];
    }
  });
  const uses = new Map<string, number>();
  for (const one of all) for (const { ink } of one.inks) uses.set(ink, (uses.get(ink) ?? 0) + 1);
  const common = new Set(
    [...uses]
      .sort((one, other) => other[1] - one[1])
      .slice(0, INKS - 1)
      .map(([ink]) => ink),
  );
  // Flat inks, so that the hard-edged picture is one of a palette.
  const isFlat = (one: Motif) => !/opacity|Gradient/.test(JSON.stringify([one.body, one.defs]));
  return all.filter((one) => one.inks.every(({ ink }) => common.has(ink)) && isFlat(one));
}

/** A border of 32 cm x 140 cm with 600 drawings strewn over it. */
function makePrint(): Print {
  const random = seeded(7);
  const drawings = readDrawings();
  const motifs = Array.from({ length: MOTIFS }, (): Placement => {
    const drawing = drawings[Math.floor(random() * drawings.length)] as Motif;
    return place(drawing, {
      at: [random() * 320, random() * 1400],
      width: 17 + 42 * random(),
      turn: 360 * random(),
    });
  });
  return border({
    name: "Strewn",
    repeat: 320,
    width: 1400,
    ground: "#f2ead8",
    bands: [{ name: "all", from: 0, to: 1400, motifs }],
  });
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
const print = makePrint();
const grid = pixelGrid(print, { dpi: task.dpi });
const colourways = makeColourways(print, task.colourways);
const dir = mkdtempSync(join(tmpdir(), "colourways-"));

/** The whole tile as one SVG, which is what the other ways are given; not part of their time. */
const svgOf = (one: Colourway): string =>
  writePixels(pixelPrint(recolour(print, one), grid), { x: 0, y: 0, ...grid.tile });

/** Wall and processor seconds of a piece of work. */
async function time(work: () => Promise<void>): Promise<{ wall: number; cpu: number }> {
  const before = process.cpuUsage();
  const wall = await seconds(work);
  const { user, system } = process.cpuUsage(before);
  return { wall, cpu: (user + system) / 1e6 };
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
  const taken = await time(async () => {
    if (task.way === "separations") {
      await emitSeparations(print, { dpi: task.dpi, dir });
      return;
    }
    const edges = task.way === "hard" ? "hard" : "soft";
    await emitTile(print, { dpi: task.dpi, dir, formats: ["png"], colourways, edges });
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
