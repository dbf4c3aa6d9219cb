import { dirname, join } from "node:path";
import { buildPrint, readJob, readJobColourways } from "../batch/index.js";
import { keepInputs } from "../batch/runs/keep-inputs.js";
import type { Colourway } from "../colour/index.js";
import { AS_DRAWN, encodePng, makeFolder, slugOf, writeAtomically } from "../emit/index.js";
import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import { pasteImage, rasterisePrint } from "../raster/index.js";
import {
  cellOf,
  describeRepeat,
  inksOf,
  type Print,
  pixelGrid,
  recolour,
  tileExtent,
} from "../repeat/index.js";
import { readPositive } from "./arguments.js";
import { type Command, EXIT } from "./command.js";
import { writePreviewPage } from "./preview-page.js";

/** A tile of a preview has about this many pixels, unless a resolution is asked for. */
const TILE_PIXELS = 500_000;

/** A tile with fewer pixels along a side shows nothing. */
const LEAST_SIDE = 8;

const MM_PER_INCH = 25.4;

/** A preview of more pixels, all tiles together, is refused: it is held in memory whole. */
const MOST_PIXELS = 2 ** 27;

/** Between the colourways of a picture, in pixels. */
const GAP = 24;

const tileOf = (print: Print) => (print.kind === "border" ? cellOf(print) : tileExtent(print, "rectangle"));

/** The lowest resolution at which a tile shows anything, to a hundredth. */
function leastDpi(print: Print): number {
  const { width, height } = tileOf(print);
  return Math.ceil((LEAST_SIDE / Math.min(width, height)) * MM_PER_INCH * 100) / 100;
}

function previewDpi(print: Print): number {
  const { width, height } = tileOf(print);
  const fitting = Math.floor(Math.sqrt(TILE_PIXELS / (width * height)) * MM_PER_INCH);
  return Math.max(Math.min(150, Math.max(1, fitting)), leastDpi(print));
}

/** How often a tile is laid in a picture, along the cloth and across it. */
const timesOf = (print: Print): { readonly across: number; readonly down: number } => ({
  across: 3,
  down: print.kind === "border" ? 1 : 2,
});

/**
 * Refuses a preview that would show nothing or not fit into memory, before anything is drawn.
 *
 * @throws {@link RepetendError} E_SIZE, E_TOO_LARGE.
 */
function checkPixels(print: Print, colourways: number, dpi: number, isPicture: boolean): void {
  const { width, height } = pixelGrid(print, { dpi }).tile;
  if (Math.min(width, height) < LEAST_SIDE) {
    throw new RepetendError("E_SIZE", "a preview of so few pixels shows nothing", {
      input: print.name,
      value: `${width} x ${height} px`,
      accepted: `--dpi ${leastDpi(print)} or more`,
    });
  }
  const { across, down } = timesOf(print);
  const pixels = width * height * colourways * (isPicture ? across * down : 1);
  if (pixels <= MOST_PIXELS) return;
  throw new RepetendError("E_TOO_LARGE", "a preview of so many pixels is not for the eye", {
    input: print.name,
    value: `${Math.round(pixels / 1e6)} megapixels`,
    accepted: `at most ${Math.floor(MOST_PIXELS / 1e6)} megapixels in all colourways: a lower --dpi, or repetend make`,
  });
}

/** Colourways that stand beside each other in a picture. */
const BESIDE = 4;

/** Every tile laid `across` by `down`, these blocks beside and below each other on white. */
function arrangeTiles(tiles: readonly PixelImage[], across: number, down: number): PixelImage {
  const [first] = tiles;
  const [tileWidth, tileHeight] = [first?.width ?? 1, first?.height ?? 1];
  const block = { width: tileWidth * across + GAP, height: tileHeight * down + GAP };
  const width = block.width * Math.min(BESIDE, tiles.length) - GAP;
  const height = block.height * Math.ceil(tiles.length / BESIDE) - GAP;
  const data = new Uint8Array(width * height * 4).fill(255);
  const whole: PixelImage = { width, height, channels: 4, data, stride: width * 4 };
  for (const [index, tile] of tiles.entries()) {
    const [left, top] = [(index % BESIDE) * block.width, Math.floor(index / BESIDE) * block.height];
    for (let row = 0; row < down; row++) {
      for (let column = 0; column < across; column++) {
        pasteImage(tile, whole, left + column * tileWidth, top + row * tileHeight);
      }
    }
  }
  return whole;
}

async function makePreview(
  print: Print,
  colourways: readonly Colourway[],
  out: string,
  options: { readonly dpi: number; readonly signal?: AbortSignal },
): Promise<void> {
  const isPicture = out.toLowerCase().endsWith(".png");
  checkPixels(print, colourways.length, options.dpi, isPicture);
  const tiles: PixelImage[] = [];
  for (const colourway of colourways) tiles.push(await rasterisePrint(recolour(print, colourway), options));
  const write = async (file: Uint8Array | string): Promise<void> => {
    await makeFolder(dirname(out));
    await writeAtomically(out, (sink) => sink.write(file));
  };
  if (isPicture) {
    const { across, down } = timesOf(print);
    const bytes = await encodePng(arrangeTiles(tiles, across, down));
    return write(bytes);
  }
  const pictures = await Promise.all(
    tiles.map(async (tile, index) => {
      const colourway = colourways[index] ?? AS_DRAWN;
      const inks = inksOf(print).map(({ ink }) => colourway.inks[ink] ?? ink);
      return {
        name: colourway.name,
        png: await encodePng(tile),
        width: tile.width,
        height: tile.height,
        inks,
      };
    }),
  );
  const repeats = { x: true, y: print.kind === "all-over" };
  const page = writePreviewPage({ title: print.name, description: describeRepeat(print), repeats, pictures });
  return write(page);
}

/** `repetend preview`. */
export const preview: Command = {
  name: "preview",
  operands: "JOB.json",
  summary: "Draw repeats side by side in every colourway, quickly and small",
  details:
    "Writes one page for a browser, complete in itself, when FILE ends on .html, one picture when on .png.\n" +
    "Scale, shrinkage and edges of the job are left out: this is for the eye.",
  options: {
    out: { type: "string", value: "FILE", help: "default: out/PRINT.preview.html beside the job" },
    dpi: { type: "string", value: "DPI", help: "default: as many as fit a screen" },
  },
  count: { least: 1, most: 1 },
  run: async (given, { stdout, signal }) => {
    const [path = ""] = given.files;
    const dpi = readPositive(given, "dpi");
    const reading = signal === undefined ? {} : { signal };
    const loaded = await readJob(path, reading);
    const print = await buildPrint(loaded, reading);
    const colourways = await readJobColourways(loaded, reading);
    const out = given.values.out ?? join(loaded.folder, "out", `${slugOf(print.name)}.preview.html`);
    keepInputs(loaded, [out]);
    if (!/\.(?:html?|png)$/i.test(out)) {
      throw new RepetendError("E_USAGE", "a preview is a page or a picture", {
        input: "--out",
        value: out,
        accepted: "a name that ends on .html or .png",
      });
    }
    await makePreview(print, colourways.length > 0 ? colourways : [AS_DRAWN], out, {
      dpi: dpi ?? previewDpi(print),
      ...reading,
    });
    stdout.write(`${out}\n`);
    return EXIT.done;
  },
};
