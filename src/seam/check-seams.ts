import { RepetendError } from "../errors.js";
import { anImage } from "../image/checks.js";
import type { PixelImage, Rasterise } from "../image/index.js";
import type { Tile } from "../repeat/index.js";
import { readDrawing } from "../svg/index.js";
import { readResolution } from "../units/index.js";
import { commonDivisor } from "../units/ratio.js";
import { checkEdge } from "./check-edge.js";
import { aTile, seamOptions } from "./checks.js";
import { confirmUnmatched } from "./confirm-unmatched.js";
import { type SeamCourse, seamCourses } from "./layout.js";
import { fitStated, type StatedRepeat } from "./stated.js";
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
function layoutOf(tile: Tile): SeamLayout {
  if (!tile.repeats.y) return "border";
  const step = (offset: number, side: number) => ({ p: Math.round((offset / side) * 27720), q: 27720 });
  if (tile.offset.y !== 0)
    return { kind: "stepped", along: "column", step: reduce(step(tile.offset.y, tile.height)) };
  if (tile.offset.x !== 0)
    return { kind: "stepped", along: "row", step: reduce(step(tile.offset.x, tile.width)) };
  return "straight";
}

const reduce = ({ p, q }: { p: number; q: number }): { p: number; q: number } => {
  const common = commonDivisor(p, q);
  return { p: p / common, q: q / common };
};

const SIZE = /<svg\b[^>]*?\swidth="([\d.]+)mm"[^>]*?\sheight="([\d.]+)mm"/;

/**
 * The whole pixels along one side that hold the repeat best: a multiple of the step's parts.
 */
const wholePixels = (mm: number, dpi: number, multiple: number): number =>
  Math.max(1, Math.round((mm / MM_PER_INCH) * (dpi / multiple))) * multiple;

async function checkDrawing(subject: Tile | string, options: CheckDrawingOptions): Promise<SeamReport> {
  const isTile = typeof subject !== "string";
  const svg = isTile ? subject.svg : subject;
  const size = isTile ? subject : readSize(svg);
  const { x: dpi } = readResolution(options.dpi ?? DEFAULT_DPI, "options.dpi");
  const layout = options.layout ?? (isTile ? layoutOf(subject) : "straight");
  const multiples = seamCourses(layout, 1, 1);
  const partsOf = (edge: string) => multiples.find((course) => course.edge === edge)?.multiple ?? 1;
  const pixels = {
    width: wholePixels(size.width, dpi, partsOf("top-bottom")),
    height: wholePixels(size.height, dpi, partsOf("left-right")),
  };
  const image = await options.rasterise(svg, pixels);
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

function readSize(svg: string): { readonly width: number; readonly height: number } {
  const match = SIZE.exec(svg);
  if (match) return { width: Number(match[1]), height: Number(match[2]) };
  throw new RepetendError("E_SIZE", "a drawing does not say its size in mm", {
    where: "svg",
    accepted: 'width="…mm" height="…mm" on the root',
  });
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
 * size in mm and for a repeat as a length where the resolution is not known, `E_NUMBER` for `dpi`, and with `E_UNIT` for a repeat; what the
 * renderer throws.
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
