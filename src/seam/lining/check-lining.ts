import { aFunction, anObject, maybe, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage, Rasterise } from "../../image/index.js";
import { aPrint } from "../../repeat/checks.js";
import { type Print, tile } from "../../repeat/index.js";
import { readResolution } from "../../units/index.js";
import { aLayout } from "../checks.js";
import { type LabPicture, readLabPicture, shrinkPicture } from "../find-repeat/picture.js";
import { rasteriseExactly } from "../rasterise-exactly.js";
import { seamCourses } from "../strip/layout.js";
import type { SeamLayout } from "../types.js";
import { nameCauses } from "./causes.js";
import { takeSpectra } from "./spectrum.js";
import { findLining } from "./stripes.js";
import type { LiningReport } from "./types.js";

/** How a picture of a tile is looked at. */
export interface CheckLiningOptions {
  /** From how many metres, above 0. Default 3. */
  readonly distance?: number;
  /** Dots per inch, above 0. Default: what the picture says of itself, or 150. */
  readonly dpi?: number;
  /** How tiles lie to each other. Default "straight", which is right for every rectangle that repeats by itself. */
  readonly layout?: SeamLayout;
}

/** How a print is looked at. */
export interface CheckPrintLiningOptions {
  /** From how many metres, above 0. Default 3. */
  readonly distance?: number;
  /** The renderer: those of `repetend/raster`, or one of your own. */
  readonly rasterise: Rasterise;
}

/** Across a room, or a shop window. */
const DEFAULT_DISTANCE = 3;
const DEFAULT_DPI = 150;
const MM_PER_INCH = 25.4;

/** Stripes are broad: so many pixels of a tile show them. */
const MOST_PIXELS = 400_000;

function readDistance(distance: number = DEFAULT_DISTANCE): number {
  if (distance > 0 && Number.isFinite(distance)) return distance;
  throw new RepetendError("E_NUMBER", "a viewing distance is more than 0", {
    where: "options.distance",
    value: String(distance),
    accepted: "metres, above 0",
  });
}

/** The rectangle that repeats by itself, from a cell whose neighbours are moved along. */
function layOut(picture: LabPicture, layout: SeamLayout): LabPicture {
  const { width, height } = picture;
  const courses = seamCourses(layout, width, height);
  const across = courses.find((course) => course.edge === "left-right");
  const down = courses.find((course) => course.edge === "top-bottom");
  const [columns, rows] = [across?.multiple ?? 1, down?.multiple ?? 1];
  if (columns * rows === 1) return picture;
  const size = { width: width * columns, height: height * rows };
  const modulo = (value: number, by: number) => ((value % by) + by) % by;
  const planes = picture.planes.map((plane) => {
    const laid = new Float32Array(size.width * size.height);
    for (let y = 0; y < size.height; y++)
      for (let x = 0; x < size.width; x++) {
        const [column, row] = [Math.floor(x / width), Math.floor(y / height)];
        const fromX = modulo(x - row * (down?.offset ?? 0), width);
        const fromY = modulo(y - column * (across?.offset ?? 0), height);
        laid[y * size.width + x] = plane[fromY * width + fromX] as number;
      }
    return laid;
  });
  return { ...picture, ...size, planes };
}

function lookAtTile(
  picture: LabPicture,
  size: { readonly width: number; readonly height: number },
  repeats: LiningReport["repeats"],
  distance: number,
): LiningReport {
  const stripes = findLining({ spectra: takeSpectra(picture), ...size, repeats, distance });
  return { kind: "lining-report", ok: stripes.length === 0, ...size, repeats, distance, stripes };
}

function checkPicture(image: PixelImage, options: CheckLiningOptions): LiningReport {
  anImage(image, "image");
  const dpi = options.dpi === undefined ? image.dpi : readResolution(options.dpi, "options.dpi");
  const mm = {
    x: MM_PER_INCH / (dpi?.x ?? DEFAULT_DPI),
    y: MM_PER_INCH / (dpi?.y ?? DEFAULT_DPI),
  };
  const layout = options.layout ?? "straight";
  const repeatsY = seamCourses(layout, image.width, image.height).length > 1;
  const cell = shrinkPicture(readLabPicture(image, MOST_PIXELS), MOST_PIXELS / 16);
  const picture = layOut(cell, layout);
  const size = {
    width: image.width * mm.x * (picture.width / cell.width),
    height: image.height * mm.y * (picture.height / cell.height),
  };
  const report = lookAtTile(picture, size, { x: true, y: repeatsY }, readDistance(options.distance));
  const stripes = report.stripes.map((stripe) => ({
    ...stripe,
    positionPx:
      stripe.angle === 90 ? stripe.position / mm.x : stripe.angle === 0 ? stripe.position / mm.y : undefined,
  }));
  return { ...report, stripes };
}

async function checkPrint(print: Print, options: CheckPrintLiningOptions): Promise<LiningReport> {
  aPrint(print, "print");
  const distance = readDistance(options.distance);
  const drawn = tile(print);
  const scale = Math.sqrt(MOST_PIXELS / (drawn.width * drawn.height));
  const image = await rasteriseExactly(options.rasterise, drawn.svg, {
    width: Math.max(16, Math.round(drawn.width * scale)),
    height: Math.max(16, Math.round(drawn.height * scale)),
  });
  const picture = readLabPicture(image, MOST_PIXELS);
  const size = { width: drawn.width, height: drawn.height };
  const report = lookAtTile(picture, size, drawn.repeats, distance);
  return {
    ...report,
    stripes: report.stripes.map((stripe) => ({ ...stripe, causes: nameCauses(print, stripe) })),
  };
}

const isPrint = (subject: PixelImage | Print): subject is Print => "kind" in subject;

const liningOptions = partsOf<CheckLiningOptions & CheckPrintLiningOptions>({
  layout: maybe(aLayout),
  rasterise: maybe(aFunction),
});

/**
 * Looks for stripes or bars that a print shows at a distance although its seams close: the mean along every row, column and
 * diagonal of the endless cloth, in lightness and in colour, after the blur of the distance. A stripe counts where it is strong enough to
 * see and stands out from patterns of like size in other directions. A border is checked along the cloth only, since its bands
 * are meant. For prints, the motifs or the gap that make a stripe are named.
 *
 * @throws {@link RepetendError} `E_IMAGE` for a picture under 16 px, `E_LAYOUT` for a layout, `E_NUMBER` for the distance and `dpi`,
 * `E_RENDER` for a print without a renderer, or one that gives another size than it was asked for; what the renderer throws.
 * @example
 * ```ts
 * import { checkLining } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * checkLining(plain, { dpi: 150 }).ok; // true
 * ```
 */
export function checkLining(image: PixelImage, options?: CheckLiningOptions): LiningReport;
export function checkLining(print: Print, options: CheckPrintLiningOptions): Promise<LiningReport>;
export function checkLining(
  subject: PixelImage | Print,
  options: CheckLiningOptions | CheckPrintLiningOptions = {},
): LiningReport | Promise<LiningReport> {
  anObject(subject, "subject");
  liningOptions(options, "options");
  if (!isPrint(subject)) return checkPicture(subject, options);
  if ("rasterise" in options) return checkPrint(subject, options);
  throw new RepetendError("E_RENDER", "a print needs a renderer to be looked at", {
    where: "options.rasterise",
    accepted: "a function from SVG text and a size to pixels",
  });
}
