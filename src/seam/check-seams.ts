import { RepetendError } from "../errors.js";
import type { Step } from "../geometry/lattice.js";
import { anImage } from "../image/checks.js";
import type { PixelImage, Rasterise } from "../image/index.js";
import { LARGEST_STEP } from "../repeat/build/step.js";
import type { Tile } from "../repeat/index.js";
import { readDrawing } from "../svg/index.js";
import { mm, readResolution } from "../units/index.js";
import { checkEdge } from "./check-edge.js";
import { aTile, seamOptions } from "./checks.js";
import { rasteriseExactly } from "./rasterise-exactly.js";
import { confirmUnmatched } from "./shapes/confirm-unmatched.js";
import { fitStated, type StatedRepeat } from "./stated.js";
import { type SeamCourse, seamCourses } from "./strip/layout.js";
import type { SeamLayout, SeamReport } from "./types.js";

/** How a picture is checked. */
export interface CheckSeamsOptions {
  /** How tiles lie to each other. Default "straight", which is right for every rectangle that repeats by itself. */
  readonly layout?: SeamLayout;
  /** Dots per inch, above 0, for places in mm. Default: what the picture says of itself. */
  readonly dpi?: number;
  /**
   * The repeat that the picture is said to hold, as lengths or pixels: its sides must be whole multiples of it, or `size`
   * is reported. A length may be off by half a pixel over the whole side, a number of pixels not at all. Default: none.
   */
  readonly repeat?: StatedRepeat;
}

/** How a drawing is checked. */
export interface CheckDrawingOptions extends CheckSeamsOptions {
  /** The renderer: those of `repetend/raster`, or one of your own. */
  readonly rasterise: Rasterise;
}

/** Edges shorter than this many pixels are too short to judge. */
const LEAST_SIDE = 8;

const DEFAULT_DPI = 150;
const MM_PER_INCH = 25.4;

function refuseSize(image: PixelImage): RepetendError {
  return new RepetendError("E_IMAGE", "a picture is too small, or its buffer too short, to check its seams", {
    value: `${image.width} x ${image.height} px, ${image.data.length} bytes`,
    accepted: `${LEAST_SIDE} px or more each way, stride * height bytes`,
  });
}

function checkImage(
  image: PixelImage,
  courses: readonly SeamCourse[],
  dpi: SeamReport["dpi"],
  repeat: StatedRepeat = {},
): SeamReport {
  const edges = courses.map((course) => {
    // Places run along the seam: down the side edges, along the top and bottom.
    const along = course.edge === "left-right" ? dpi?.y : dpi?.x;
    return checkEdge(
      image,
      course,
      along === undefined ? undefined : MM_PER_INCH / along,
      fitStated(course.edge, { width: image.width, height: image.height, dpi }, repeat),
    );
  });
  return {
    kind: "seam-report",
    ok: edges.every((edge) => edge.ok),
    width: image.width,
    height: image.height,
    dpi,
    edges,
  };
}

function holdSize(image: PixelImage): void {
  const { width, height, stride, channels, data } = image;
  const fits = stride >= width * channels && data.length >= stride * (height - 1) + width * channels;
  if (!(width >= LEAST_SIDE && height >= LEAST_SIDE && fits)) throw refuseSize(image);
}

function checkPixels(image: PixelImage, options: CheckSeamsOptions): SeamReport {
  anImage(image, "image");
  holdSize(image);
  const { width, height } = image;
  const dpi = options.dpi === undefined ? image.dpi : readResolution(options.dpi, "options.dpi");
  return checkImage(image, seamCourses(options.layout ?? "straight", width, height), dpi, options.repeat);
}

const isImage = (subject: PixelImage | Tile | string): subject is PixelImage =>
  typeof subject === "object" && subject !== null && "data" in subject;

/** The layout under which a tile of ours meets its neighbours, as an exact step of pixels. */
function layoutOf({ repeats, offset, width, height }: Tile): SeamLayout {
  if (!repeats.y) return "border";
  if (offset.y !== 0) return { kind: "stepped", along: "column", step: stepOf(offset.y, height) };
  if (offset.x !== 0) return { kind: "stepped", along: "row", step: stepOf(offset.x, width) };
  return "straight";
}

/** An offset was made from a step: it lies within rounding of it, as a share of the side. */
const ROUNDING = 1e-9;

/** The step that an offset was made from. */
function stepOf(offset: number, side: number): Step {
  const share = offset / side;
  for (let q = 1; q <= LARGEST_STEP; q++) {
    const p = Math.round(share * q);
    if (Math.abs(share * q - p) <= ROUNDING * q) return { p, q };
  }
  throw new RepetendError("E_LAYOUT", "the offset of a tile is no step of a layout", {
    where: "drawing.offset",
    value: `${offset} of ${side} mm`,
    accepted: `p/q of the tile's side, q from 1 to ${LARGEST_STEP}`,
  });
}

/** A side of the root in mm, whichever way it is quoted and wherever it stands. */
function readSide(svg: string, side: "width" | "height"): number {
  const root = /<svg\b[^>]*>/.exec(svg)?.[0] ?? "";
  const text = new RegExp(`\\s${side}\\s*=\\s*["']\\s*([\\d.]+(?:mm|cm|in))\\s*["']`).exec(root)?.[1];
  const length = text === undefined ? 0 : mm(text);
  if (length > 0) return length;
  throw new RepetendError("E_SIZE", "a drawing does not say its size as a length", {
    where: `svg, ${side}`,
    accepted: "width and height in mm, cm or in on the root, above 0",
  });
}

/**
 * The whole pixels along one side that hold the repeat best: a multiple of the step's parts.
 */
const wholePixels = (length: number, dpi: number, multiple: number): number =>
  Math.max(1, Math.round((length / MM_PER_INCH) * (dpi / multiple))) * multiple;

async function checkDrawing(subject: Tile | string, options: CheckDrawingOptions): Promise<SeamReport> {
  const isTile = typeof subject !== "string";
  const svg = isTile ? subject.svg : subject;
  const size = isTile ? subject : { width: readSide(svg, "width"), height: readSide(svg, "height") };
  const { x: dpi } = readResolution(options.dpi ?? DEFAULT_DPI, "options.dpi");
  const layout = options.layout ?? (isTile ? layoutOf(subject) : "straight");
  const multiples = seamCourses(layout, 1, 1);
  const partsOf = (edge: string) => multiples.find((course) => course.edge === edge)?.multiple ?? 1;
  const pixels = {
    width: wholePixels(size.width, dpi, partsOf("top-bottom")),
    height: wholePixels(size.height, dpi, partsOf("left-right")),
  };
  const image = await rasteriseExactly(options.rasterise, svg, pixels);
  const real = {
    x: (pixels.width / size.width) * MM_PER_INCH,
    y: (pixels.height / size.height) * MM_PER_INCH,
  };
  holdSize(image);
  const report = checkImage(image, seamCourses(layout, image.width, image.height), real, options.repeat);
  return confirmUnmatched(report, image, { svg, ...size, ...neighboursOf(layout, size) }, layout);
}

/** Where the next tiles lie under a layout, in mm. */
function neighboursOf(
  layout: SeamLayout,
  { width, height }: { readonly width: number; readonly height: number },
): Pick<Tile, "repeats" | "offset"> {
  // Millionths of a mm as whole numbers, since a course counts in whole pixels.
  const courses = seamCourses(layout, width * 1e6, height * 1e6);
  const offset = (edge: string) => (courses.find((course) => course.edge === edge)?.offset ?? 0) / 1e6;
  return {
    repeats: { x: true, y: courses.length > 1 },
    offset: { x: offset("top-bottom"), y: offset("left-right") },
  };
}

/**
 * Checks a drawing that is rendered already: its pixels, and shape by shape what reaches over an edge and lacks its
 * partner.
 *
 * @param image - The drawing in pixels, however it was rendered, 8 px or more each way.
 * @param svg - The drawing; its size in mm counts.
 * @throws {@link RepetendError} `E_IMAGE` for the picture, `E_LAYOUT` for a layout, the codes of `motif` for the drawing.
 * @example
 * ```ts
 * import { checkDrawnSeams } from "repetend";
 * import { rasterise } from "repetend/raster";
 * const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">' +
 *   '<rect width="40" height="40" fill="#f3ead7"/><circle cx="40" cy="20" r="9" fill="#1b2a41"/></svg>';
 * checkDrawnSeams(await rasterise(svg, { dpi: 100 }), svg).ok; // false
 * ```
 */
export function checkDrawnSeams(image: PixelImage, svg: string, options: CheckSeamsOptions = {}): SeamReport {
  seamOptions(options, "options");
  const layout = options.layout ?? "straight";
  const { width, height } = readDrawing(svg, { name: "tile" });
  const report = checkPixels(image, options);
  return confirmUnmatched(
    report,
    image,
    { svg, width, height, ...neighboursOf(layout, { width, height }) },
    layout,
  );
}

/**
 * Proves that a tile closes: compares the edges that meet on the cloth, pixel by pixel, in CIEDE2000, and names what is
 * wrong. With `layout` the far edge is moved along as the lattice has it. A picture is checked at once; a tile or SVG text
 * goes through the renderer that is handed in.
 *
 * @throws {@link RepetendError} `E_IMAGE` for a picture under 8 px, `E_LAYOUT` for a layout, `E_SIZE` for SVG text without a
 * size in mm, cm or in, and for a repeat as a length where the resolution is not known, `E_NUMBER` for `dpi`, and with `E_UNIT` for a repeat; `E_RENDER`
 * for a renderer that gives another size than it was asked for; what the renderer throws.
 * @example
 * ```ts
 * import { checkSeams } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * checkSeams(plain, { layout: "half-drop" }).ok; // true
 * ```
 */
export function checkSeams(image: PixelImage, options?: CheckSeamsOptions): SeamReport;
export function checkSeams(drawing: Tile | string, options: CheckDrawingOptions): Promise<SeamReport>;
export function checkSeams(
  subject: PixelImage | Tile | string,
  options: CheckSeamsOptions | CheckDrawingOptions = {},
): SeamReport | Promise<SeamReport> {
  seamOptions(options, "options");
  if (isImage(subject)) return checkPixels(subject, options);
  if (typeof subject !== "string") aTile(subject, "drawing");
  if ("rasterise" in options) return checkDrawing(subject, options);
  throw new RepetendError("E_RENDER", "a drawing needs a renderer to be checked", {
    where: "options.rasterise",
    accepted: "a function from SVG text and a size to pixels",
  });
}
