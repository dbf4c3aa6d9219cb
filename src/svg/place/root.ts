import { RepetendError } from "../../errors.js";
import { type Affine, IDENTITY, invert } from "../../geometry/affine.js";
import { type Box, mapBox } from "../../geometry/box.js";
import { type Style, styleValue } from "../css/style.js";
import { fitMap, readAspectRatio, readViewBox } from "../values/frame.js";
import { readDrawingLength, readMillimetres, type Viewport } from "../values/length.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";

/** The frame of a drawing: what its root says about size and units. */
export interface RootFrame {
  /** What is shown, in user units of the result; it has the proportions of the natural size. */
  readonly viewBox: Box;
  /** Natural size in mm. */
  readonly width: number;
  readonly height: number;
  /** What percentages are of. */
  readonly viewport: Viewport;
  /** From the drawing's user units to those of the result: not even only where the drawing asks to be stretched. */
  readonly map: Affine;
}

/**
 * Reads the frame. A size that is missing or in per cent follows from the viewBox, one unit of it counting as a pixel
 * of 1/96 in, or from the other size and the proportions.
 */
export function readRootFrame(root: SourceElement, style: Style): RootFrame {
  const text = root.attributes.get("viewBox");
  const box = text === undefined ? undefined : readViewBox(text, placeOf(root));
  const size = (name: "width" | "height"): number | undefined => {
    const value = styleValue(style, name).trim();
    if (value === "" || value === "auto" || value.endsWith("%")) return undefined;
    const length = readMillimetres(value, placeOf(root));
    if (length > 0) return length;
    throw refuse("E_SIZE", `the ${name} is zero or negative`, root, { value, accepted: "more than 0" });
  };
  const [across, down] = [size("width"), size("height")];
  if (box === undefined) {
    if (across === undefined || down === undefined) {
      throw new RepetendError("E_SIZE", "the drawing has neither a size nor a viewBox", {
        where: placeOf(root),
        accepted: "width and height, or a viewBox",
      });
    }
    const viewport = { x: 0, y: 0, width: inPixels(across), height: inPixels(down) };
    return { viewBox: viewport, width: across, height: down, viewport, map: IDENTITY };
  }
  const ratio = box.height / box.width;
  const width = across ?? (down === undefined ? readMillimetres(`${box.width}px`) : down / ratio);
  const height = down ?? width * ratio;
  return { ...showWhole(root, box, width, height), width, height, viewport: box };
}

/** Pixels as the drawing itself would read the length, so that a size and a viewBox of one number agree. */
export const inPixels = (mm: number): number => readDrawingLength(`${mm}mm`, undefined);

/** What the whole viewport shows, in the drawing's own units: larger than the viewBox for "meet", smaller for "slice". */
function showWhole(
  root: SourceElement,
  box: Box,
  width: number,
  height: number,
): Pick<RootFrame, "viewBox" | "map"> {
  const alignment = readAspectRatio(root.attributes.get("preserveAspectRatio"));
  const stretch = (height / box.height) * (box.width / width);
  if (Math.abs(stretch - 1) < SAME) return { viewBox: box, map: IDENTITY };
  const paper = { x: 0, y: 0, width, height };
  const map = fitMap(box, paper, alignment);
  if (alignment.fit === "none") return { viewBox: paper, map };
  const back = invert(map);
  return { viewBox: back === undefined ? box : mapBox(back, paper), map: IDENTITY };
}

/** Sizes are often rounded to a few digits of a unit; what differs less than this is meant to be the same. */
const SAME = 1e-6;
