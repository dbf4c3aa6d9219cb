import { aText, maybe, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { type Box, boxOverlap, growBox } from "../../geometry/box.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";
import { aLayout, aSeamReport } from "../checks.js";
import type { SeamLayout, SeamReport } from "../types.js";
import { describeSeams, nameFault } from "./describe.js";
import { markRolled, type RolledMark, rollPicture, rollTile } from "./rolled-tile.js";

/** How a seam report is drawn. */
export interface DrawSeamsOptions {
  /** How the tile was checked. Default "straight". */
  readonly layout?: SeamLayout;
  /**
   * Address of the rolled picture (`rollPicture`), such as a `data:` URI or a file beside the drawing. Default: none,
   * and only the marks are drawn.
   */
  readonly href?: string;
}

/** Seen on any print: a line of signal red with a white casing. */
const MARK = { colour: "#e5261f", casing: "#ffffff" };
const [RED, GREEN, BLUE] = [0xe5, 0x26, 0x1f];

/** A mark reaches this part of the smaller side to both sides of the seam, at least so many pixels. */
const REACH = { part: 1 / 60, least: 4 };

const reachOf = (report: SeamReport): number =>
  Math.max(REACH.least, Math.round(Math.min(report.width, report.height) * REACH.part));

function markedBoxes(
  report: SeamReport,
  marks: readonly RolledMark[],
): readonly { mark: RolledMark; box: Box }[] {
  const reach = reachOf(report);
  return marks.flatMap((mark) => (mark.run === undefined ? [] : [{ mark, box: growBox(mark.box, reach) }]));
}

/**
 * Draws a seam report as SVG: the tile rolled by half, so that its seams cross in the middle, and the open stretches
 * marked over it, each with its fault as a title. One user unit is one pixel of the picture that was checked.
 *
 * @throws {@link RepetendError} `E_LAYOUT` for a layout that is not known.
 * @example
 * ```ts
 * import { checkSeams, drawSeams } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * drawSeams(checkSeams(plain)).startsWith("<svg"); // true
 * ```
 */
export function drawSeams(report: SeamReport, options: DrawSeamsOptions = {}): string {
  aSeamReport(report, "report");
  partsOf<DrawSeamsOptions>({ layout: maybe(aLayout), href: maybe(aText) })(options, "options");
  const { width, height } = report;
  const marks = markRolled(report, rollTile(width, height, options.layout ?? "straight"));
  const line = Math.max(1, reachOf(report) / 4);
  const size = { width: String(width), height: String(height) };
  const places = (box: Box) => ({
    x: writeNumber(box.x, 2),
    y: writeNumber(box.y, 2),
    width: writeNumber(box.width, 2),
    height: writeNumber(box.height, 2),
  });
  const seams = marks.flatMap((mark): readonly SvgElement[] =>
    mark.run === undefined
      ? [element("path", { d: `M${mark.box.x} ${mark.box.y}h${mark.box.width}v${mark.box.height}` })]
      : [],
  );
  const faults = markedBoxes(report, marks).map(({ mark, box }) =>
    element("g", {}, [
      element("title", {}, [text(nameFault(mark.run))]),
      element("rect", { ...places(box), stroke: MARK.casing, "stroke-width": writeNumber(2 * line, 2) }),
      element("rect", { ...places(box), stroke: MARK.colour, "stroke-width": writeNumber(line, 2) }),
    ]),
  );
  const dashes = `${writeNumber(4 * line, 2)} ${writeNumber(4 * line, 2)}`;
  return serialise(
    element("svg", { xmlns: "http://www.w3.org/2000/svg", ...size, viewBox: `0 0 ${width} ${height}` }, [
      element("title", {}, [text("Seams of the tile, rolled by half")]),
      element("desc", {}, [text(describeSeams(report))]),
      ...(options.href === undefined ? [] : [element("image", { href: options.href, ...size })]),
      element(
        "g",
        {
          fill: "none",
          stroke: MARK.colour,
          "stroke-width": writeNumber(line / 2, 2),
          "stroke-dasharray": dashes,
        },
        seams,
      ),
      element("g", { fill: "none" }, faults),
    ]),
  );
}

/**
 * The same as pixels: the rolled tile, RGBA, with open stretches framed in red. Write it with `encodePng` of
 * `repetend/emit`.
 *
 * @throws {@link RepetendError} `E_IMAGE` when the report is not of this picture, `E_LAYOUT` for an unknown layout.
 * @example
 * ```ts
 * import { checkSeams, pictureSeams } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * pictureSeams(plain, checkSeams(plain)).channels; // 4
 * ```
 */
export function pictureSeams(
  image: PixelImage,
  report: SeamReport,
  options: { readonly layout?: SeamLayout } = {},
): PixelImage {
  anImage(image, "image");
  aSeamReport(report, "report");
  partsOf<typeof options>({ layout: maybe(aLayout) })(options, "options");
  const { width, height } = image;
  if (report.width !== width || report.height !== height) {
    throw new RepetendError("E_IMAGE", "the report is of another picture", {
      value: `${report.width} x ${report.height} px`,
      accepted: `${width} x ${height} px`,
    });
  }
  const layout = options.layout ?? "straight";
  const rolled = toRgba(rollPicture(image, layout));
  const marks = markRolled(report, rollTile(width, height, layout));
  const line = Math.max(1, Math.round(reachOf(report) / 4));
  for (const { box } of markedBoxes(report, marks)) frame(rolled, box, line);
  return rolled;
}

function toRgba(image: PixelImage): PixelImage {
  const { width, height, channels, stride } = image;
  const data = new Uint8Array(width * height * 4);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = y * stride + x * channels;
      for (let c = 0; c < 3; c++)
        data[(y * width + x) * 4 + c] = image.data[from + (channels === 1 ? 0 : c)] ?? 0;
      data[(y * width + x) * 4 + 3] = channels === 4 ? (image.data[from + 3] ?? 0) : 255;
    }
  }
  return { ...image, channels: 4, data, stride: width * 4 };
}

/** Paints the four sides of a box into a picture, as far as they lie in it. */
function frame(image: PixelImage, box: Box, line: number): void {
  const sides: readonly Box[] = [
    { ...box, height: line },
    { ...box, y: box.y + box.height - line, height: line },
    { ...box, width: line },
    { ...box, x: box.x + box.width - line, width: line },
  ];
  const window = { x: 0, y: 0, width: image.width, height: image.height };
  for (const side of sides) {
    const shown = boxOverlap(side, window);
    if (shown === undefined) continue;
    for (let y = shown.y; y < shown.y + shown.height; y++) {
      for (let x = shown.x; x < shown.x + shown.width; x++) {
        image.data.set([RED, GREEN, BLUE, 255], y * image.stride + x * 4);
      }
    }
  }
}
