import type { Box } from "../../geometry/box.js";
import { type Style, styleValue } from "../css/style.js";
import { DRAWING_LIMITS } from "../limits.js";
import { boxLength } from "../values/box-length.js";
import type { Viewport } from "../values/length.js";
import { refuse, type SourceElement } from "../xml/source.js";
import { type PictureHeader, readPictureHeader } from "./header.js";

const ACCEPTED = "a data: URI in base64 of a PNG, JPEG (grey or RGB, upright) or GIF picture";

/** A picture as it is embedded. */
export interface Embedded {
  readonly header: PictureHeader;
  readonly base64: string;
}

/** Reads the picture that an `image` embeds, as far as its header. */
export function readEmbedded(source: SourceElement): Embedded {
  const href = source.attributes.get("href") ?? "";
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

/** Where an `image` draws its picture. A size that is not given is the picture's own, or follows from the other by its proportions: SVG 2, `image`. */
export function embeddedBox(
  source: SourceElement,
  style: Style,
  viewport: Viewport,
  header: PictureHeader,
): Box {
  const length = (name: "x" | "y" | "width" | "height"): number | undefined => {
    const value = boxLength(source, style, viewport, name);
    if (value === undefined) return undefined;
    if (value >= 0 || name === "x" || name === "y") return value;
    throw refuse("E_SIZE", `${name} is negative`, source, { value: styleValue(style, name) });
  };
  const [across, down] = [length("width"), length("height")];
  const width = across ?? (down === undefined ? header.width : (down * header.width) / header.height);
  const height = down ?? (width * header.height) / header.width;
  return { x: length("x") ?? 0, y: length("y") ?? 0, width, height };
}
