import { readEffects } from "./effects.js";
import { elementMap } from "./element-map.js";
import { readAspectRatio, writeAspectRatio } from "./frame.js";
import { type PictureHeader, readPictureHeader } from "./image-header.js";
import { readDrawingLength } from "./length.js";
import { DRAWING_LIMITS } from "./limits.js";
import { writeNumber } from "./number.js";
import { digitsAt, moveInto, namesOf, type Place, type Reading } from "./place.js";
import { placeOf, refuse, type SourceElement } from "./source.js";
import { type Style, styleValue } from "./style.js";
import { writeMatrix } from "./transform.js";
import { element, type SvgElement } from "./tree.js";

const ACCEPTED = "a data: URI in base64 of a PNG, JPEG (grey or RGB, upright) or GIF picture";

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
  const picture = readDataUri(href, source);
  const map = elementMap(source, style, place.viewport);
  const inside = moveInto(map, place, source);
  const box = readBox(source, style, inside, picture.header);
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

function readDataUri(href: string, source: SourceElement): { header: PictureHeader; base64: string } {
  const [, head = "", data = ""] = /^\s*data:([^,]*),([\s\S]*)$/i.exec(href) ?? [];
  const base64 = data
    .replace(/%([0-9a-f]{2})/gi, (_, code) => String.fromCharCode(Number.parseInt(code, 16)))
    .replace(/\s+/g, "");
  const bytes = /;\s*base64\s*$/i.test(head) ? decodeBase64(base64) : undefined;
  const header = bytes === undefined ? undefined : readPictureHeader(bytes);
  const facts = { value: href.slice(0, 60), accepted: ACCEPTED };
  if (header === undefined) throw refuse("E_IMAGE", "an embedded picture cannot be read", source, facts);
  if (header.width === 0 || header.height === 0) {
    throw refuse("E_IMAGE", "an embedded picture has no pixels", source, facts);
  }
  if (header.width * header.height > DRAWING_LIMITS.pixels) {
    throw refuse("E_LIMIT", "an embedded picture has too many pixels", source, {
      value: `${header.width} x ${header.height}`,
      accepted: `at most ${DRAWING_LIMITS.pixels}`,
    });
  }
  if (header.fault !== undefined) {
    throw refuse("E_IMAGE", `an embedded picture cannot be drawn: ${header.fault}`, source, facts);
  }
  return { header, base64 };
}

function decodeBase64(text: string): Uint8Array | undefined {
  try {
    return Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
  } catch {
    return undefined;
  }
}

/** A size that is not given is the picture's own, or follows from the other by its proportions: SVG 2, `image`. */
function readBox(source: SourceElement, style: Style, place: Place, header: PictureHeader) {
  const length = (name: "x" | "y" | "width" | "height"): number | undefined => {
    const text = styleValue(style, name);
    const whole = name === "x" || name === "width" ? place.viewport.width : place.viewport.height;
    if (text === "" || text === "auto") return undefined;
    const value = readDrawingLength(text, whole, placeOf(source));
    if (value >= 0 || name === "x" || name === "y") return value;
    throw refuse("E_SIZE", `${name} is negative`, source, { value: text });
  };
  const [across, down] = [length("width"), length("height")];
  const width = across ?? (down === undefined ? header.width : (down * header.width) / header.height);
  const height = down ?? (width * header.height) / header.width;
  return { x: length("x") ?? 0, y: length("y") ?? 0, width, height };
}
