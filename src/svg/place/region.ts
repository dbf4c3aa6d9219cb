import { type PercentOf, readDrawingLength, wholeOf } from "../values/length.js";
import { writeNumber } from "../values/number.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";
import { digitsAt, type Place, type Reading } from "./place.js";

const SIDES: readonly (readonly [string, PercentOf])[] = [
  ["x", "width"],
  ["y", "height"],
  ["width", "width"],
  ["height", "height"],
];

/** The region of a mask or filter where it says nothing: SVG 2 and Filter Effects 1. */
const USUAL: Readonly<Record<string, string>> = { x: "-10%", y: "-10%", width: "120%", height: "120%" };

/**
 * The region of a mask or filter as attributes of plain numbers, with the attribute for its units; `undefined` for one
 * without extent.
 */
export function readRegion(
  holder: SourceElement,
  unitsName: "maskUnits" | "filterUnits",
  place: Place,
  reading: Reading,
): Readonly<Record<string, string>> | undefined {
  const inUse = holder.attributes.get(unitsName) === "userSpaceOnUse";
  const written: Record<string, string> = inUse ? { [unitsName]: "userSpaceOnUse" } : {};
  for (const [name, of] of SIDES) {
    const text = holder.attributes.get(name) ?? USUAL[name] ?? "0";
    const value = readDrawingLength(text, wholeOf(place.viewport, inUse ? of : "one"), placeOf(holder));
    if (/^[wh]/.test(name)) {
      if (value < 0) throw refuse("E_SIZE", `${name} is negative`, holder, { value: text });
      if (value === 0) return undefined;
    }
    written[name] = writeNumber(value, inUse ? digitsAt(place, reading) : 6);
  }
  return written;
}
