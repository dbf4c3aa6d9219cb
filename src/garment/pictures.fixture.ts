import { Resvg } from "@resvg/resvg-js";
import { type Affine, compose, IDENTITY } from "../geometry/affine.js";
import { type CubicPath, transformPath } from "../geometry/cubic-path.js";
import { pathOfShape } from "../geometry/shape.js";
import { parseTransform, parseTree } from "../svg/index.js";
import type { SvgElement } from "../svg/tree.js";

/** A shape of a written drawing, with its outline in user units of the root. */
export interface WrittenShape {
  readonly element: SvgElement;
  readonly outline: CubicPath;
  /** The panel whose print it belongs to. */
  readonly print: string | undefined;
}

/** Every shape that a written drawing paints, `use` followed, in paint order: read from the text alone. */
export function shapesOf(svg: string): readonly WrittenShape[] {
  const root = parseTree(svg);
  const ids = new Map<string, SvgElement>();
  const remember = (one: SvgElement): void => {
    if (one.attributes.id !== undefined) ids.set(one.attributes.id, one);
    for (const child of one.children) if (child.type === "element") remember(child);
  };
  remember(root);
  const shapes: WrittenShape[] = [];
  const walk = (one: SvgElement, around: Affine, print: string | undefined): void => {
    if (one.name === "defs") return;
    const { transform, href } = one.attributes;
    const map = transform === undefined ? around : compose(around, parseTransform(transform));
    const here = one.attributes["data-repetend-print"] ?? print;
    const target = href === undefined ? undefined : ids.get(href.slice(1));
    if (one.name === "use" && target) walk(target, map, here);
    const path = pathOfShape(one.name, one.attributes);
    if (path) shapes.push({ element: one, outline: transformPath(path, map), print: here });
    for (const child of one.children) if (child.type === "element") walk(child, map, here);
  };
  walk(root, IDENTITY, undefined);
  return shapes;
}

/** Pixels of a drawing, `width` across: red, green, blue and alpha, premultiplied. */
export function renderPixels(
  svg: string,
  width: number,
): { readonly data: Uint8Array; readonly width: number; readonly height: number } {
  const image = new Resvg(svg, { fitTo: { mode: "width", value: width } }).render();
  return { data: new Uint8Array(image.pixels), width: image.width, height: image.height };
}

/** The share of pixels in which any channel differs by more than `levels`. */
export function differingShare(one: Uint8Array, other: Uint8Array, levels: number): number {
  let count = 0;
  for (let k = 0; k < one.length; k += 4) {
    for (let channel = 0; channel < 4; channel += 1)
      if (Math.abs((one[k + channel] ?? 0) - (other[k + channel] ?? 0)) > levels) {
        count += 1;
        break;
      }
  }
  return count / (one.length / 4);
}
