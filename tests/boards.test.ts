import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type JobProgress, makeJob, planJob } from "../src/batch/index.js";
import { writePage } from "../src/board/page/page.js";
import { RepetendError } from "../src/errors.js";
import { rasterise, rasterisePage } from "../src/raster/index.js";
import { element } from "../src/svg/index.js";
import { filesIn } from "./files-in.fixture.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-boards-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const SKETCH = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
  <path id="front" d="M10 15H90V55H10Z" fill="#dcd6cc"/><rect id="band" x="10" y="5" width="80" height="10" fill="#8f8a86"/>
</svg>`;
const SHORE = {
  name: "Shore",
  layout: "border",
  repeat: "20cm",
  width: "60cm",
  ground: "#f0e0d0",
  bands: [{ name: "hem", from: "50cm", to: "60cm", ground: "#203040" }],
};
const DOTS = { name: "Dots", layout: "straight", width: "5cm", height: "5cm", ground: "#405060", motifs: [] };
const SKIRT = {
  name: "Wrap skirt",
  sketch: "skirt.svg",
  scale: { of: "#front", is: "40cm" },
  colourways: "trims.csv",
  clothWidth: "1.2m",
  dpi: 20,
  number: "SM 01",
  facts: [{ name: "Sizes", value: "S, M, L" }],
  cut: {
    pieces: [
      { name: "skirt", width: "58cm", height: "30cm", count: 2, band: "hem", gap: "1cm" },
      { name: "pocket", print: "dots.job.json", width: "18cm", height: "18cm", count: 2 },
    ],
  },
  panels: [{ panel: "#front", band: "hem", edge: "bottom" }],
};

interface Changes {
  readonly skirt?: object;
  readonly job?: object;
  readonly emit?: object;
  readonly ways?: number;
}

/** Writes a job with everything that it names, and gives its path. */
function writeJob(name: string, { skirt, job, emit, ways = 2 }: Changes = {}): string {
  const dir = mkdtempSync(join(folder, `${name}-`));
  const write = (file: string, text: string) => writeFileSync(join(dir, file), text);
  const names = ["Dusk", "Dawn", ...Array.from({ length: ways - 2 }, (_, k) => `Way ${k + 3}`)];
  const row = (ink: string, from: number) =>
    [ink, ...names.map((_, k) => `#${(from + 4112 * k).toString(16)}`)].join(",");
  write("skirt.svg", SKETCH);
  write("inks.csv", `ink,${names.join(",")}\n${row("#f0e0d0", 0x302040)}\n${row("#203040", 0xe0c080)}\n`);
  write("trims.csv", `ink,${names.join(",")}\n${row("#8f8a86", 0xcc4422)}\n`);
  write("dots.csv", "ink,Dusk\n#405060,#604050\n");
  write("dots.job.json", JSON.stringify({ print: DOTS, colourways: "dots.csv" }));
  const path = join(dir, "shore.job.json");
  const whole = {
    print: SHORE,
    colourways: "inks.csv",
    garments: [{ ...SKIRT, ...skirt }],
    head: { collection: "Saltmarsh", season: "Summer", date: "7 March" },
    emit: { dpi: 12.7, board: { prints: ["dots.job.json"] }, lineSheet: true, ...emit },
    ...job,
  };
  writeFileSync(path, JSON.stringify(whole, null, 2));
  return path;
}

async function make(job: string, out: string) {
  const made: string[] = [];
  const onProgress = (progress: JobProgress) => {
    if (progress.kind === "file") made.push(progress.file.path);
  };
  const manifest = await makeJob(job, { workers: 0, out, onProgress });
  return { manifest, made };
}

async function refusalOf(job: string): Promise<RepetendError> {
  try {
    await planJob(job);
  } catch (error) {
    if (error instanceof RepetendError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

const BOARDS = [
  "shore--colourway-board.svg",
  "shore--colourway-board.png",
  "shore--line-sheet.svg",
  "shore--line-sheet.png",
];
const isBoard = (path: string): boolean => /--(?:colourway-board|line-sheet)/.test(path);

describe("the largest pages", () => {
  it("become pictures, where a stranger's drawing of that size is refused", async () => {
    // As much as a board of ten colourways of a rich border, with garments, draws.
    const leaves = Array.from({ length: 40_000 }, (_, k) => {
      const [x, y] = [20 + (k % 200) * 1.9, 20 + Math.floor(k / 200) * 1.2];
      const d = `M${x} ${y}C${x + 0.4} ${y + 0.1} ${x + 0.9} ${y + 0.5} ${x + 0.8} ${y + 1}Z`;
      return element("path", { d: d.padEnd(250, " "), fill: k % 2 ? "#3c6e5a" : "#c8553d" });
    });
    const page = writePage("Leaves", [], leaves, { width: 420, height: 297 });
    expect(page.length).toBeGreaterThan(10 * 2 ** 20);
    await expect(rasterise(page, { dpi: 20 })).rejects.toThrow(/^E_LIMIT/);
    const { width, height, data } = await rasterisePage(page, { dpi: 20 });
    expect([width, height]).toEqual([331, 234]);
    expect(new Set(new Uint32Array(data.buffer, data.byteOffset, width * height)).size).toBeGreaterThan(3); // paper, and leaves of both inks
  });
});

describe("boards of a job", () => {
  it("are planned and made as the manifest says, with the garments, prints, facts and cloth of the job", async () => {
    const job = writeJob("make");
    const out = join(folder, "made");
    const plan = await planJob(job, { out });
    expect(existsSync(out)).toBe(false);
    const { manifest } = await make(job, out);
    expect(plan.files.map(({ path }) => path)).toEqual(manifest.files.map(({ path }) => path));
    expect(manifest.files.map(({ path }) => path).filter(isBoard)).toEqual(BOARDS);
    const board = manifest.files.find(({ path }) => path === BOARDS[1]);
    expect(board).toMatchObject({
      kind: "sheet",
      width: 2480,
      height: 1754,
      mm: { width: 420, height: 297 },
    });
    expect(await sharp(join(out, BOARDS[1] ?? "")).metadata()).toMatchObject({ width: 2480, height: 1754 });
    expect(await sharp(join(out, BOARDS[3] ?? "")).metadata()).toMatchObject({ width: 1240, height: 1754 });

    const titles = (file = "") =>
      [...readFileSync(join(out, file), "utf8").matchAll(/<title>([^<]*)<\/title>/g)].map(
        ([, words]) => words,
      );
    // Trim by the garment's table, the companion by its own, coverage as it is in the manifest.
    const drawn = readFileSync(join(out, BOARDS[0] ?? ""), "utf8");
    for (const ink of ["#cc4422", "#604050", "#e0c080"]) expect(drawn).toContain(`fill="${ink}"`);
    expect(titles(BOARDS[0])).toEqual(
      expect.arrayContaining([
        "Saltmarsh",
        "Dusk",
        "Dawn",
        "83 \u00b7 \u2013 %",
        "\u2013 \u00b7 100 %",
        "7 March",
      ]),
    );
    // Two pieces of 60 cm with seams, three repeats each; two pockets beside each other on cloth of 1.2 m.
    expect(titles(BOARDS[2]).join(" ")).toContain("Saltmarsh Summer, 7 March Inks are sRGB");
    expect(titles(BOARDS[2])).toEqual(
      expect.arrayContaining(["Wrap skirt", "SM 01", "Shore, 20 cm repeat", "Sizes", "S, M, L"]),
    );
    expect(titles(BOARDS[2]).join(" ")).toContain("Shore: 1.20 m of 60 cm; up to 20 cm more to match");
    expect(titles(BOARDS[2]).join(" ")).toContain("Dots: 0.20 m of 120 cm");
  });

  it("tell of pieces that the cloth does not hold, beside the line sheet and not on the spec sheet", async () => {
    const emit = { sheet: true, board: false, formats: ["svg"] };
    const pieces = (height: string) => [{ name: "skirt", width: "58cm", height, count: 2, level: "58cm" }];
    const job = writeJob("tall", { skirt: { cut: { pieces: pieces("70cm") } }, emit });
    const { manifest } = await make(job, join(folder, "tall"));
    const told = manifest.notes.filter(({ code }) => code === "N_CLOTH").map(({ where }) => where);
    expect(told).toEqual(["Wrap skirt, skirt 1", "Wrap skirt, skirt 2"]);
    const sheet = readFileSync(join(folder, "tall", "shore--spec-sheet.svg"), "utf8");
    expect(sheet).not.toContain("beyond the top selvedge");
    const { notes } = await planJob(writeJob("fits", { skirt: { cut: { pieces: pieces("50cm") } }, emit }));
    expect(notes.filter(({ code }) => code === "N_CLOTH")).toEqual([]);
  });

  it("tell of signs that they cannot write, where pages are asked for", async () => {
    const head = { collection: "Salzwiese \u6f6e", season: "Fr\u00fchling" };
    const said = async (emit: object) => {
      const { notes } = await planJob(writeJob("letters", { job: { head }, emit }));
      return notes.filter(({ code }) => code === "N_LETTERS").map(({ message }) => message.split(" ").at(-1));
    };
    expect(await said({})).toEqual(["\u6f6e"]);
    expect(await said({ board: false, lineSheet: false, sheet: true })).toEqual(["\u6f6e"]);
    expect(await said({ board: false, lineSheet: false })).toEqual([]);
  });

  it("are planned to the last page, and none that is lost is missed", async () => {
    const job = writeJob("pages", { ways: 14, emit: { lineSheet: false, formats: ["svg"] } });
    const out = join(folder, "pages-out");
    const { manifest, made } = await make(job, out);
    const pages = manifest.files.map(({ path }) => path).filter(isBoard);
    expect(pages).toEqual(["shore--colourway-board.svg", "shore--colourway-board-2.svg"]);
    expect(made.filter(isBoard)).toEqual(pages);
    const before = filesIn(out);
    expect((await make(job, out)).made).toEqual([]);
    rmSync(join(out, "shore--colourway-board-2.svg"));
    expect((await make(job, out)).made).toEqual(["shore--colourway-board-2.svg"]);
    expect(filesIn(out)).toEqual(before);
  });

  it("are made again when what they say has changed, and nothing else with them", async () => {
    const job = writeJob("changed", { emit: { formats: ["svg"] } });
    const out = join(folder, "changed-out");
    const drawn = BOARDS.filter((path) => path.endsWith(".svg"));
    await make(job, out);
    const text = readFileSync(job, "utf8");
    writeFileSync(job, text.replace("S, M, L", "S to XXL"));
    expect((await make(job, out)).made).toEqual(drawn.slice(1));
    writeFileSync(job, text.replace("S, M, L", "S to XXL").replace("Summer", "Winter"));
    expect((await make(job, out)).made).toEqual(drawn);
    // The companion's own colourways show on the board; pieces may be cut from it.
    const dots = join(job, "..", "dots.csv");
    writeFileSync(dots, readFileSync(dots, "utf8").replace("#604050", "#704050"));
    expect((await make(job, out)).made).toEqual(drawn);
  });

  it("are stopped and gone on with to the same bytes", async () => {
    const job = writeJob("stopped", { emit: { board: { page: { width: "14cm", height: "14cm" } } } });
    const whole = join(folder, "stopped-whole");
    const { made } = await make(job, whole);
    const out = join(folder, "stopped-out");
    const stop = new AbortController();
    const run = makeJob(job, {
      workers: 0,
      out,
      signal: stop.signal,
      onProgress: (progress) => {
        if (progress.kind === "file" && progress.file.path === BOARDS[0]) stop.abort(new Error("enough"));
      },
    });
    await expect(run).rejects.toThrow("enough");
    expect((await make(job, out)).made).toEqual(made.slice(made.indexOf(BOARDS[0] ?? "") + 1));
    expect(filesIn(out)).toEqual(filesIn(whole));
  });

  it("take any page, and none is drawn that was not asked for", async () => {
    const page = { width: "30cm", height: "20cm" };
    const plan = await planJob(
      writeJob("page", { emit: { board: { page }, lineSheet: { page: "A4 landscape", perPage: 1 } } }),
    );
    const sizes = plan.files.flatMap(({ path, format, mm }) =>
      isBoard(path) && format === "svg" ? [mm] : [],
    );
    expect(sizes).toEqual([
      { width: 300, height: 200 },
      { width: 297, height: 210 },
    ]);
    const none = await planJob(writeJob("none", { emit: { board: false, lineSheet: false } }));
    expect(none.files.map(({ path }) => path).filter(isBoard)).toEqual([]);
  });

  it("have fewer dots an inch where a page is so large that it could not be drawn", async () => {
    const pageOf = async (name: string, page: object) => {
      const { files } = await planJob(writeJob(name, { emit: { board: { page }, lineSheet: false } }));
      return files.find(({ path }) => path === BOARDS[1]);
    };
    const wall = await pageOf("wall", { width: "5m", height: "4m" });
    expect((wall?.width ?? 0) * (wall?.height ?? 0)).toBeLessThanOrEqual(2 ** 27);
    expect(wall?.dpi).toEqual({ x: 65, y: 65 });
    expect(wall?.width).toBe(Math.round((5000 / 25.4) * 65));
    expect((await pageOf("poster", { width: "70cm", height: "1m" }))?.dpi).toEqual({ x: 150, y: 150 });
  });

  it("are refused before anything is made where they cannot be drawn", async () => {
    expect(await refusalOf(writeJob("bare", { job: { garments: [] } }))).toMatchObject({
      code: "E_JOB",
      where: "emit.lineSheet",
    });
    const front = writeJob("front", { skirt: { front: "Noon" } });
    expect(await refusalOf(front)).toMatchObject({
      ...{ code: "E_COLOURWAY", input: front, where: "garments[0].front" },
    });
    expect(await refusalOf(writeJob("many", { emit: { lineSheet: { perPage: 13 } } }))).toMatchObject({
      ...{ code: "E_NUMBER", where: "emit.lineSheet.perPage" },
    });
    const page = { width: 20, height: 20 };
    for (const key of ["board", "lineSheet"]) {
      const small = writeJob(`small-${key}`, { emit: { [key]: { page } } });
      expect(await refusalOf(small)).toMatchObject({
        ...{ code: "E_SIZE", input: small, where: `emit.${key}.page` },
      });
    }
    const piece = { name: "skirt", width: "58cm", height: "30cm", band: "waist" };
    expect(await refusalOf(writeJob("band", { skirt: { cut: { pieces: [piece] } } }))).toMatchObject({
      code: "E_BAND",
      input: "Wrap skirt",
    });
    const refused = await refusalOf(writeJob("missing", { emit: { board: { prints: ["none.job.json"] } } }));
    expect(refused.code).toBe("E_READ");
  });
});
