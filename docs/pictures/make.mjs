// Makes the pictures of the README again, from the Saltmarsh example. After `npm run build`: node docs/pictures/make.mjs
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { buildPrint, makeJob, readJob, readJobColourways } from "../../dist/batch/index.js";
import { specSheet } from "../../dist/board/index.js";
import { pixelGrid } from "../../dist/index.js";
import { rasterise } from "../../dist/raster/index.js";

const at = (path) => fileURLToPath(new URL(path, import.meta.url));
const dir = mkdtempSync(join(tmpdir(), "pictures-"));

/** Widths in pixels; all is drawn about twice as large and then made smaller. */
const CLOTH = 420;
const GARMENT = 700;
const ALL_OVER = 560;
const SHEET = 900;
const BOARD = 1200;

/** Flat inks keep well in a palette; folds and shades need more of it. */
async function save(picture, name, width, colours) {
  const file = at(`./${name}.png`);
  await sharp(picture)
    .resize({ width })
    .flatten({ background: "#ffffff" })
    .png({ palette: true, colours, effort: 10, dither: 0 })
    .toFile(file);
  console.log(`${name}.png  ${Math.round(statSync(file).size / 1000)} kB`);
}

/** Tiles side by side, as the cloth comes off the roll. */
async function layOut(tile, across, down) {
  const { width, height } = await sharp(tile).metadata();
  const places = Array.from({ length: across * down }, (_, k) => ({
    input: tile,
    left: (k % across) * width,
    top: Math.floor(k / across) * height,
  }));
  const cloth = { width: width * across, height: height * down, channels: 3, background: "#ffffff" };
  return sharp({ create: cloth }).composite(places).png().toBuffer();
}

async function make(name, dpi, garments) {
  const loaded = await readJob(at(`../../examples/saltmarsh/${name}.job.json`));
  const { garments: all = [], ...job } = loaded.job;
  const shown = all.map((one) => ({ ...one, dpi: garments }));
  const emit = { dpi, formats: ["png"] };
  await makeJob({ ...loaded, job: { ...job, emit, ...(garments ? { garments: shown } : {}) } }, { out: dir });
}

/** The colourway board and the line sheet of a job, as they are made. */
async function drawBoards(name) {
  const { job, ...loaded } = await readJob(at(`../../examples/saltmarsh/${name}.job.json`));
  const emit = { dpi: 20, formats: ["png"], board: true, lineSheet: true };
  const garments = job.garments.map((one) => ({ ...one, dpi: 20 }));
  const out = join(dir, "boards");
  await makeJob({ ...loaded, job: { ...job, garments, emit } }, { out });
  await save(join(out, `saltmarsh-${name}--colourway-board.png`), `board-${name}`, BOARD, 128);
  await save(join(out, `saltmarsh-${name}--line-sheet.png`), `line-sheet-${name}`, SHEET, 128);
}

/** The spec sheet of a job that was made. */
async function drawSheet(name) {
  const job = await readJob(at(`../../examples/saltmarsh/${name}.job.json`));
  const [print, colourways] = await Promise.all([buildPrint(job), readJobColourways(job)]);
  const { coverage, seams, notes } = JSON.parse(readFileSync(join(dir, "manifest.json"), "utf8"));
  const grid = pixelGrid(print, { dpi: 254 });
  const [page] = specSheet({ print, grid, colourways, coverage, seams, notes });
  const { width, height, data } = await rasterise(page, { dpi: 200 });
  return sharp(data, { raw: { width, height, channels: 4 } })
    .png()
    .toBuffer();
}

try {
  await make("border", (2 * CLOTH * 25.4) / 640, 144);
  await save(await drawSheet("border"), "sheet-border", SHEET, 128);
  await drawBoards("border");
  await make("half-drop", (2 * ALL_OVER * 25.4) / 720);
  for (const colourway of ["low-tide", "samphire", "nightjar"]) {
    const cloth = await layOut(join(dir, `saltmarsh-border--${colourway}.png`), 2, 1);
    await save(cloth, `border-${colourway}`, CLOTH, 64);
  }
  const allOver = await layOut(join(dir, "saltmarsh-half-drop--low-tide.png"), 2, 4);
  await save(allOver, "half-drop", ALL_OVER, 64);
  await make("tossed", (2 * CLOTH * 25.4) / 640);
  for (const colourway of ["low-tide", "samphire", "nightjar"]) {
    const cloth = await layOut(join(dir, `saltmarsh-tossed--${colourway}.png`), 1, 2);
    await save(cloth, `tossed-${colourway}`, CLOTH, 64);
  }
  for (const garment of ["wrap-skirt--low-tide", "wrap-skirt--nightjar", "smock--samphire"]) {
    const name = garment.replace("wrap-", "").replace("--", "-");
    await save(join(dir, `saltmarsh-border--${garment}.png`), name, GARMENT, 96);
  }
} finally {
  rmSync(dir, { recursive: true });
}
