import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { type Motif, motif } from "../../src/motif/index.js";
import { border, halfDrop, type Placement, type Print, place } from "../../src/repeat/index.js";
import { seeded } from "../seeded.fixture.js";

const folder = join(dirname(createRequire(import.meta.url).resolve("openmoji/package.json")), "color", "svg");

/** How many drawings are placed. */
export const MOTIFS = 600;
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

/** Drawings strewn over a field; their sizes grow with it. */
function strew({ width, height }: Field): readonly Placement[] {
  const random = seeded(7);
  const drawings = readDrawings();
  const scale = Math.sqrt((width * height) / (320 * 1400));
  return Array.from({ length: MOTIFS }, (): Placement => {
    const drawing = drawings[Math.floor(random() * drawings.length)] as Motif;
    return place(drawing, {
      at: [random() * width, random() * height],
      width: (17 + 42 * random()) * scale,
      turn: 360 * random(),
    });
  });
}

/** A size in mm. */
export interface Field {
  readonly width: number;
  readonly height: number;
}

/** A border with 600 drawings strewn over it. */
export function strewnBorder({ width, height }: Field): Print {
  const motifs = strew({ width, height });
  const bands = [{ name: "all", from: 0, to: height, motifs }];
  return border({ name: "Strewn", repeat: width, width: height, ground: "#f2ead8", bands });
}

/** A half-drop of the same content and about the same tile: its cell is half as wide. */
export function strewnHalfDrop({ width, height }: Field): Print {
  const motifs = strew({ width, height }).slice(0, MOTIFS / 2);
  return halfDrop({ name: "Strewn half-drop", width: width / 2, height, ground: "#f2ead8", motifs });
}
