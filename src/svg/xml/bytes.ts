import { RepetendError } from "../../errors.js";
import { aDrawing } from "../checks.js";
import { DRAWING_LIMITS } from "../limits.js";
import { FORBIDDEN_CHARACTERS } from "./characters.js";

/** How files begin that are plainly something else. Values from each format's specification. */
const OTHER_FORMATS: readonly { readonly name: string; readonly start: readonly number[] }[] = [
  { name: "a PNG picture", start: [0x89, 0x50, 0x4e, 0x47] },
  { name: "a JPEG picture", start: [0xff, 0xd8, 0xff] },
  { name: "a GIF picture", start: [0x47, 0x49, 0x46, 0x38] },
  { name: "a WebP picture", start: [0x52, 0x49, 0x46, 0x46] },
  { name: "a TIFF picture", start: [0x49, 0x49, 0x2a, 0x00] },
  { name: "a TIFF picture", start: [0x4d, 0x4d, 0x00, 0x2a] },
  { name: "a PDF document", start: [0x25, 0x50, 0x44, 0x46] },
  { name: "a ZIP archive", start: [0x50, 0x4b, 0x03, 0x04] },
];

const ACCEPTED = "an SVG file in UTF-8";

/**
 * The text of a drawing, whatever it came as: a byte-order mark is stripped, everything that is not plain UTF-8 text
 * of a bearable length is refused.
 */
export function decodeDrawing(input: string | Uint8Array): string {
  aDrawing(input, "drawing");
  const text = typeof input === "string" ? input : decodeBytes(input);
  const plain = text.startsWith("\ufeff") ? text.slice(1) : text;
  if (typeof input === "string") checkDecoded(plain);
  checkCharacters(plain);
  if (plain.trim() === "") {
    throw new RepetendError("E_NOT_SVG", "the drawing is empty", { accepted: ACCEPTED });
  }
  return plain;
}

function decodeBytes(bytes: Uint8Array): string {
  checkSize(bytes.length);
  const begins = (start: readonly number[]) => start.every((byte, index) => bytes[index] === byte);
  const other = OTHER_FORMATS.find(({ start }) => begins(start));
  if (other) {
    throw new RepetendError("E_NOT_SVG", `the file is ${other.name}, not a drawing`, { accepted: ACCEPTED });
  }
  if (begins([0x1f, 0x8b])) {
    throw new RepetendError("E_ENCODING", "the file is compressed with gzip; unpack it first", {
      accepted: ACCEPTED,
    });
  }
  if (begins([0xff, 0xfe]) || begins([0xfe, 0xff])) {
    throw new RepetendError("E_ENCODING", "the file is UTF-16", { accepted: ACCEPTED });
  }
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (cause) {
    throw new RepetendError("E_ENCODING", "the file is not UTF-8", { accepted: ACCEPTED, cause });
  }
}

/** A text was decoded by someone else: what that may have gone wrong with can still be seen. */
function checkDecoded(text: string): void {
  if (text.length > DRAWING_LIMITS.bytes / 3) checkSize(new TextEncoder().encode(text).length);
  if (text.startsWith("\u0089PNG") || text.startsWith("\ufffdPNG")) {
    throw new RepetendError("E_NOT_SVG", "the text is a PNG picture, not a drawing", { accepted: ACCEPTED });
  }
  const index = text.indexOf("\ufffd");
  if (index >= 0) {
    throw new RepetendError("E_ENCODING", "the text was decoded from something that is not UTF-8", {
      where: placeIn(text, index),
      accepted: `${ACCEPTED}; hand in the bytes`,
    });
  }
}

function checkCharacters(text: string): void {
  const index = text.search(FORBIDDEN_CHARACTERS);
  if (index < 0) return;
  const code = text.charCodeAt(index).toString(16).toUpperCase().padStart(4, "0");
  throw new RepetendError("E_ENCODING", `the character U+${code} cannot stand in an SVG file`, {
    where: placeIn(text, index),
    accepted: ACCEPTED,
  });
}

function checkSize(bytes: number): void {
  if (bytes <= DRAWING_LIMITS.bytes) return;
  throw new RepetendError("E_LIMIT", "the drawing has too many bytes", {
    value: String(bytes),
    accepted: `at most ${DRAWING_LIMITS.bytes}`,
  });
}

function placeIn(text: string, index: number): string {
  const before = text.slice(0, index);
  const line = before.split("\n").length;
  return `${line}:${index - before.lastIndexOf("\n")}`;
}
