import type { Colourway } from "../../colour/index.js";
import { type Dressed, recolourDressed } from "../../garment/index.js";
import { type Box, boxOverlap, readPath, writePath } from "../../geometry/index.js";
import {
  element,
  paintedBox,
  parseTransform,
  type SvgElement,
  type SvgNode,
  scopeElements,
  writeNumber,
} from "../../svg/index.js";
import { boxAttributes } from "../page/page.js";
import type { Part } from "../types.js";

/** A dressed sketch, and what of it is seen. */
export interface GarmentPicture {
  readonly dressed: Dressed;
  /** What it paints, in user units of the sketch. */
  readonly box: Box;
  /** The real size of that, in mm. */
  readonly width: number;
  readonly height: number;
}

/** Looks how large a garment is, without the white of its page. */
export function measureGarment(dressed: Dressed): GarmentPicture {
  const { viewBox, body, sketchDefs, printDefs, report } = dressed;
  const painted = paintedBox(body, [...sketchDefs, ...printDefs]) ?? viewBox;
  const box = boxOverlap(painted, viewBox) ?? viewBox;
  const { perUnit } = report.scale;
  return { dressed, box, width: box.width * perUnit, height: box.height * perUnit };
}

/** How far an outline may lie off on the page when it is written shorter, in mm: a tenth of a dot at 600 dpi. */
const OFF = 0.004;

/**
 * The same picture with no more digits than can be seen on the page.
 *
 * @param scale mm of the page for a real mm, where it is drawn largest.
 */
export function thinGarment(picture: GarmentPicture, scale: number): GarmentPicture {
  const { dressed } = picture;
  const perUnit = scale * dressed.report.scale.perUnit;
  return { ...picture, dressed: { ...dressed, body: dressed.body.map((one) => thin(one, perUnit)) } };
}

/** @param perUnit mm of the page for a unit of what stands around the element. */
function thin(one: SvgElement, perUnit: number): SvgElement {
  const { transform, d, ...rest } = one.attributes;
  const map = transform === undefined ? undefined : parseTransform(transform);
  const own =
    map === undefined ? perUnit : perUnit * Math.max(Math.hypot(map.a, map.b), Math.hypot(map.c, map.d));
  const attributes = Object.fromEntries(
    Object.entries(rest).filter(([name]) => !name.startsWith("data-") || name === "data-repetend-print"),
  );
  const children = one.children.map(
    (child): SvgNode => (child.type === "element" ? thin(child, own) : child),
  );
  const moved = transform === undefined ? {} : { transform };
  if (d === undefined) return { ...one, attributes: { ...attributes, ...moved }, children };
  const digits = Math.max(0, Math.ceil(Math.log10(own / OFF)));
  const shorter = writePath(readPath(d), digits);
  return {
    ...one,
    attributes: { ...attributes, ...moved, d: shorter.length < d.length ? shorter : d },
    children,
  };
}

/** A garment in a colourway, as large as a box of the page. */
export function drawGarment(
  { dressed, box: seen }: GarmentPicture,
  colourway: Colourway,
  box: Box,
  scope: string,
): Part {
  const { sketchDefs, printDefs, body, viewBox } = recolourDressed(dressed, colourway);
  const scale = box.width / seen.width;
  const [x, y] = [box.x - seen.x * scale, box.y - seen.y * scale].map((value) => writeNumber(value, 4));
  const place = `translate(${x} ${y}) scale(${writeNumber(scale, 8)})`;
  const clip = `${scope}box`;
  return {
    defs: [
      ...scopeElements([...sketchDefs, ...printDefs], scope),
      element("clipPath", { id: clip }, [element("rect", boxAttributes(viewBox))]),
    ],
    body: [
      element("g", { transform: place }, [
        element("g", { "clip-path": `url(#${clip})` }, scopeElements(body, scope)),
      ]),
    ],
    bottom: box.y + box.height,
  };
}
