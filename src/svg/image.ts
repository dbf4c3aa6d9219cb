import { type Style, styleValue } from "./css/style.js";
import { readEffects } from "./effects/effects.js";
import { embeddedBox, readEmbedded } from "./images/embedded.js";
import { digitsAt, moveInto, namesOf, type Place, type Reading } from "./place/place.js";
import { elementMap } from "./shapes/element-map.js";
import { element, type SvgElement } from "./tree.js";
import { readAspectRatio, writeAspectRatio } from "./values/frame.js";
import { writeNumber } from "./values/number.js";
import { writeMatrix } from "./values/transform.js";
import type { SourceElement } from "./xml/source.js";

/** An embedded picture, its header looked at, its place made plain. */
export function resolveImage(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  const href = source.attributes.get("href") ?? "";
  if (href === "" || styleValue(style, "visibility").toLowerCase() !== "visible") return [];
  reading.countCharacters(href.length, source);
  const picture = readEmbedded(source);
  const map = elementMap(source, style, place, reading);
  const inside = moveInto(map, place, source);
  const box = embeddedBox(source, style, place.viewport, picture.header);
  if (box.width === 0 || box.height === 0) return [];
  const effects = readEffects(source, style, inside, reading);
  if (effects === undefined) return [];
  reading.losses.add("N_IMAGE", source);
  const digits = digitsAt(inside, reading);
  const transform = writeMatrix(map, digitsAt(place, reading));
  const ratio = writeAspectRatio(readAspectRatio(source.attributes.get("preserveAspectRatio")));
  const sharp = /^(?:optimizespeed|pixelated|crisp-edges)$/i.test(styleValue(style, "image-rendering"));
  return [
    element("image", {
      ...(transform === "" ? {} : { transform }),
      ...effects,
      ...namesOf(source, reading),
      x: writeNumber(box.x, digits),
      y: writeNumber(box.y, digits),
      width: writeNumber(box.width, digits),
      height: writeNumber(box.height, digits),
      ...(ratio === "" ? {} : { preserveAspectRatio: ratio }),
      ...(sharp ? { "image-rendering": "optimizeSpeed" } : {}),
      href: `data:${picture.header.type};base64,${picture.base64}`,
    }),
  ];
}
