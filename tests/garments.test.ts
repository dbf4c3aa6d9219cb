import { createHash } from "node:crypto";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeJob, planJob } from "../src/batch/index.js";
import { RepetendError } from "../src/errors.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-garments-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

// A skirt drawn 1 to 10: two square panels of 40 cm side by side, a waistband, and shading that is left alone.
const SKETCH = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
  <path id="front" d="M10 15H50V55H10Z" fill="#dcd6cc" stroke="none"/>
  <path id="back" d="M50 15H90V55H50Z" fill="#dcd6cc" stroke="none"/>
  <rect id="band" x="10" y="5" width="80" height="10" fill="#8f8a86"/>
  <rect id="page" x="0" y="0" width="4" height="4" fill="#abcdef"/>
</svg>`;

const BORDER = {
  name: "Shore",
  layout: "border",
  repeat: "20cm",
  width: "60cm",
  ground: "#f0e0d0",
  bands: [{ name: "hem", from: "50cm", to: "60cm", ground: "#203040" }],
};
const COMPANION = {
  name: "Dots",
  layout: "straight",
  width: "5cm",
  height: "5cm",
  ground: "#405060",
  motifs: [],
};
const GARMENT = {
  name: "Wrap skirt",
  sketch: "skirt.svg",
  scale: { of: "#front", is: "40cm" },
  colourways: "trims.csv",
  dpi: 25.4,
  panels: [
    { panel: "#front", band: "hem", edge: "bottom", drape: true },
    { panel: "#back", print: "dots.job.json" },
  ],
};

interface Changes {
  readonly garment?: object;
  readonly trims?: string;
  readonly dots?: string;
  readonly print?: object;
  readonly emit?: object;
}

/** Writes a job with everything that it names, and gives its path. */
function writeJob(name: string, changes: Changes = {}): string {
  const dir = mkdtempSync(join(folder, `${name}-`));
  const write = (file: string, text: string) => writeFileSync(join(dir, file), text);
  write("skirt.svg", SKETCH);
  write("inks.csv", "ink,Dusk,Dawn\n#f0e0d0,#302040,#f0e0d0\n#203040,#e0c080,#203040\n");
  write("dots.csv", changes.dots ?? "ink,Dusk,Dawn\n#405060,#604050,#a0b0c0\n");
  write("trims.csv", changes.trims ?? "ink,Dusk,Dawn\n#8f8a86,#cc4422,#2266cc\n");
  write("dots.job.json", JSON.stringify({ print: changes.print ?? COMPANION, colourways: "dots.csv" }));
  const garment = { ...GARMENT, ...changes.garment };
  const emit = { dpi: 12.7, ...changes.emit };
  const job = { print: BORDER, colourways: "inks.csv", garments: [garment], emit };
  write("shore.job.json", JSON.stringify(job, null, 2));
  return join(dir, "shore.job.json");
}

async function refusalOf(job: string, strict = false): Promise<RepetendError> {
  try {
    await planJob(job, { strict });
  } catch (error) {
    if (error instanceof RepetendError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

/** The colour of a pixel, at 1 px a unit of the sketch. */
async function pixelAt(path: string, left: number, top: number): Promise<string> {
  const area = { left, top, width: 1, height: 1 };
  const [r = 0, g = 0, b = 0] = await sharp(path).extract(area).removeAlpha().raw().toBuffer();
  return `#${((r << 16) | (g << 8) | b).toString(16).padStart(6, "0")}`;
}

describe("garments of a job", () => {
  it("are dressed in every colourway, trim and companion print with it, as the manifest says", async () => {
    const job = writeJob("make");
    const out = join(folder, "made");
    const plan = await planJob(job, { out });
    expect(existsSync(out)).toBe(false);
    const manifest = await makeJob(job, { out });

    const shown = manifest.files.filter((file) => file.kind === "garment");
    expect(shown.map((file) => file.path)).toEqual([
      "shore--wrap-skirt--dusk.svg",
      "shore--wrap-skirt--dusk.png",
      "shore--wrap-skirt--dawn.svg",
      "shore--wrap-skirt--dawn.png",
    ]);
    expect(plan.files.map((file) => file.path)).toEqual(manifest.files.map((file) => file.path));
    expect(readdirSync(out).sort()).toEqual(
      [...manifest.files.map((file) => file.path), "manifest.json"].sort(),
    );
    for (const file of shown) {
      const bytes = readFileSync(join(out, file.path));
      expect(file.sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
      expect(file).toMatchObject({ garment: "Wrap skirt", mm: { width: 100, height: 60 } });
      if (file.format === "svg") continue;
      expect(file).toMatchObject({ width: 100, height: 60, dpi: { x: 25.4, y: 25.4 } });
      expect(await sharp(bytes).metadata()).toMatchObject({ width: 100, height: 60, channels: 4 });
    }

    // Above the hem the border's ground, at the hem its band, beside it the companion, on top the trim; the page stays.
    const places = [
      [30, 30],
      [30, 50],
      [70, 30],
      [50, 10],
      [2, 2],
    ] as const;
    const coloursOf = (name: string) =>
      Promise.all(places.map(([x, y]) => pixelAt(join(out, `shore--wrap-skirt--${name}.png`), x, y)));
    expect(await coloursOf("dusk")).toEqual(["#302040", "#e0c080", "#604050", "#cc4422", "#abcdef"]);
    expect(await coloursOf("dawn")).toEqual(["#f0e0d0", "#203040", "#a0b0c0", "#2266cc", "#abcdef"]);

    expect(
      manifest.garments?.map(({ garment, says, panels }) => [garment, says, panels.map((one) => one.says)]),
    ).toEqual([
      [
        "Wrap skirt",
        "The sketch is drawn 1 to 10. The cloth is 60 cm (23.62 in) wide, the garment spans 40 cm (15.75 in): 20 cm (7.87 in) are left.",
        [
          "Shore, draped; across 20 cm to 60 cm; along -20 cm to 20 cm; true to scale at both edges",
          "Dots, flat; across 0 cm to 40 cm; along -20 cm to 20 cm",
        ],
      ],
    ]);
    expect(manifest.garments?.[0]?.scale.ratio).toBeCloseTo(10, 9);
    expect(manifest.garments?.[0]?.panels[0]?.takes.y).toBeCloseTo(200, 6);
    expect(manifest.notes.filter(({ code }) => code.startsWith("N_INK"))).toEqual([]);
    expect(JSON.parse(readFileSync(join(out, "manifest.json"), "utf8")).garments).toHaveLength(1);

    const before = shown.map((file) => file.sha256);
    const again = await makeJob(job, { out });
    expect(again.files.filter((file) => file.kind === "garment").map((file) => file.sha256)).toEqual(before);
  });

  it("show each print by its own table where that has the colourway, and by the job's otherwise", async () => {
    // An ink of both prints, of which the tables make two; and one that the companion's table leaves as drawn.
    const print = { ...COMPANION, ground: "#203040" };
    const dots = "ink,Dusk\n#203040,#604050\n";
    const job = writeJob("tables", {
      dots,
      print,
      emit: { formats: ["png"], board: { prints: ["dots.job.json"] } },
    });
    const out = join(folder, "tables");
    await makeJob(job, { out });
    const companionIn = (name: string) => pixelAt(join(out, `shore--wrap-skirt--${name}.png`), 70, 30);
    expect(await companionIn("dusk")).toBe("#604050");
    expect(await companionIn("dawn")).toBe("#203040");
    const board = readFileSync(join(out, "shore--colourway-board.svg"), "utf8");
    // The companion on the garment, and its cloth and swatch.
    expect(board.match(/fill="#604050"/g)?.length).toBeGreaterThanOrEqual(3);

    const left = writeJob("left", { dots: "ink,Dusk\n#999999,#604050\n", print, emit: { formats: ["png"] } });
    const { notes } = await makeJob(left, { out: join(folder, "left") });
    expect(await pixelAt(join(folder, "left", "shore--wrap-skirt--dusk.png"), 70, 30)).toBe("#203040");
    expect(notes.filter(({ code }) => code === "N_INK_MISSING").map(({ where }) => where)).toEqual([
      "Wrap skirt, #203040",
    ]);
  });

  it("follow the formats of the job, and stay as drawn without tables", async () => {
    const job = writeJob("formats", { emit: { formats: ["png"] } });
    const { colourways: _, ...plain } = JSON.parse(readFileSync(job, "utf8"));
    writeFileSync(job, JSON.stringify(plain));
    const { files, notes } = await planJob(job);
    expect(files.map((file) => file.path)).toEqual([
      "shore--as-drawn.png",
      "shore--wrap-skirt--as-drawn.png",
    ]);
    expect(notes.filter(({ code }) => code.startsWith("N_INK"))).toEqual([]);
  });

  it("are refused at their place in the job, or with the names that the sketch has", async () => {
    const edge = writeJob("edge", { garment: { panels: [{ panel: "#front", edge: "botom" }] } });
    expect(await refusalOf(edge)).toMatchObject({
      code: "E_JOB",
      problem: expect.stringContaining('"bottom"'),
    });
    expect((await refusalOf(edge)).where).toMatch(/ garments\[0\]\.panels\[0\]\.edge$/);

    const panel = writeJob("panel", { garment: { panels: [{ panel: "#sleeve" }] } });
    expect(await refusalOf(panel)).toMatchObject({ code: "E_ID", value: "#sleeve", input: "skirt" });
    const band = writeJob("band", { garment: { panels: [{ panel: "#front", band: "yoke" }] } });
    expect(await refusalOf(band)).toMatchObject({ code: "E_BAND", input: "Wrap skirt", accepted: "hem" });
    const missing = writeJob("missing", { garment: { sketch: "smock.svg" } });
    expect(await refusalOf(missing)).toMatchObject({
      code: "E_READ",
      input: expect.stringContaining("smock.svg"),
    });
  });

  it("are checked against their colourways", async () => {
    const notesOf = async (changes: Changes) =>
      (await planJob(writeJob("notes", changes))).notes.map(({ code, where }) => [code, where]);
    const trims = "ink,Dusk,Dawn\n#8f8a86,#cc4422,#2266cc\n";
    expect(await notesOf({ trims })).toEqual([]);
    // A row that no sketch paints; colours that run into one; a colourway that the table lacks.
    expect(await notesOf({ trims: `${trims}#123456,#000000,#ffffff\n` })).toEqual([
      ["N_INK_UNKNOWN", "#123456"],
    ]);
    expect(await notesOf({ trims: `${trims}#abcdef,#cc4422,#ffffff\n` })).toEqual([
      ["N_INKS_MERGE", "Wrap skirt, #8f8a86"],
    ]);
    expect(await notesOf({ trims: "ink,Dusk\n#8f8a86,#cc4422\n" })).toEqual([
      ["N_INK_MISSING", "Wrap skirt, Dawn"],
    ]);
    expect(await notesOf({ dots: "ink,Dusk\n#405060,#604050\n" })).toEqual([
      ["N_INK_MISSING", "Wrap skirt, #405060"],
    ]);
    expect(await refusalOf(writeJob("strict", { trims: "ink,Dusk\n#8f8a86,#cc4422\n" }), true)).toMatchObject(
      {
        code: "E_COLOURWAY",
      },
    );
    const torn = writeJob("torn", { trims: "ink,Dusk,Dawn\n#203040,#000000,#203040\n" });
    expect(await refusalOf(torn)).toMatchObject({
      code: "E_COLOURWAY",
      value: "#203040 to #e0c080 and #000000",
    });
  });

  it("stand in the Saltmarsh job as they are art-directed", async () => {
    const { garments = [], notes, files } = await planJob("examples/saltmarsh/border.job.json");
    expect(garments.map(({ garment, panels }) => [garment, panels.length])).toEqual([
      ["Wrap skirt", 6],
      ["Smock", 4],
    ]);
    expect(files.filter((file) => file.kind === "garment" && file.format === "png")).toHaveLength(6);
    expect(
      notes.filter((note) => note.level === "warning" && /Wrap skirt|Smock/.test(note.where ?? "")),
    ).toEqual([]);
    // 300 x 420 and 340 x 400 units at 2.5 mm of the garment each.
    for (const { scale } of garments) expect(scale.ratio).toBeCloseTo(2.5, 9);
    const [skirt, smock] = garments;
    for (const { panels } of garments)
      for (const { panel, how, gathers, beyond } of panels) {
        expect([panel, beyond]).toEqual([panel, []]);
        if (how === "draped")
          expect(Math.min(gathers?.top ?? 0, gathers?.bottom ?? 0)).toBeGreaterThan(0.999);
      }
    // The under wrap goes on where the wrap ends.
    const [over, under] = skirt?.panels ?? [];
    expect(under?.takes.x).toBeCloseTo((over?.takes.x ?? 0) + (over?.takes.width ?? 0), 6);
    const sleeves = smock?.panels.filter(({ panel }) => panel.startsWith("#sleeve"));
    expect(sleeves?.map(({ mirrored }) => mirrored)).toEqual([undefined, "artwork"]);
    expect(smock?.panels.map(({ print }) => print)).toContain("Saltmarsh brick");
  });
});
