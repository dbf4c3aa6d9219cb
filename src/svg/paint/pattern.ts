import { group } from "../group.js";
import {
  digitsAt,
  moveInto,
  type Paint,
  type Place,
  placeKey,
  type Reading,
  styleInFile,
} from "../place/place.js";
import { serverMap } from "../shapes/element-map.js";
import { element, type SvgElement } from "../tree.js";
import { readAspectRatio, readViewBox, writeAspectRatio } from "../values/frame.js";
import { type PercentOf, readDrawingLength, wholeOf } from "../values/length.js";
import { writeNumber } from "../values/number.js";
import { writeMatrix } from "../values/transform.js";
import { elementsIn, placeOf, refuse, type SourceElement } from "../xml/source.js";
import { templatesOf } from "./templates.js";

const SIDES: readonly (readonly [string, PercentOf])[] = [
  ["x", "width"],
  ["y", "height"],
  ["width", "width"],
  ["height", "height"],
];

type Find = (name: string) => string | undefined;

/** Defines a pattern in one piece: its templates gathered, its content resolved. */
export function definePattern(source: SourceElement, place: Place, reading: Reading): Paint {
  const id = place.defs.define(`pattern ${placeOf(source)} ${placeKey(place)}`, (made) =>
    readPattern(made, source, place, reading),
  );
  return id === undefined ? { kind: "none" } : { kind: "server", id };
}

function readPattern(
  made: string,
  source: SourceElement,
  place: Place,
  reading: Reading,
): SvgElement | undefined {
  const chain = templatesOf(source, /^pattern$/, reading);
  const find: Find = (name) => chain.find((one) => one.attributes.has(name))?.attributes.get(name);
  const holder = chain.find((one) => elementsIn(one).length > 0);
  const map = serverMap(chain, "patternTransform", reading);
  const inside = moveInto(map, place, source);
  const tile = readTile(source, find, inside, reading);
  if (holder === undefined || tile === undefined) return undefined;
  const matrix = writeMatrix(map, digitsAt(place, reading));
  const content = readContent(find, placeOf(source));
  const painted = reading.paint(elementsIn(holder), {
    ...inside,
    ...content.place,
    style: styleInFile(holder, reading),
  });
  if (painted.length === 0) return undefined;
  const attributes = {
    id: made,
    ...tile,
    ...content.written,
    ...(matrix === "" ? {} : { patternTransform: matrix }),
  };
  return element("pattern", attributes, group(painted));
}

/** Place and size of one tile; `undefined` for one without extent, which paints nothing. */
function readTile(
  source: SourceElement,
  find: Find,
  place: Place,
  reading: Reading,
): Readonly<Record<string, string>> | undefined {
  const inUse = find("patternUnits") === "userSpaceOnUse";
  const written: Record<string, string> = inUse ? { patternUnits: "userSpaceOnUse" } : {};
  for (const [name, of] of SIDES) {
    const whole = wholeOf(place.viewport, inUse ? of : "one");
    const value = readDrawingLength(find(name) ?? "0", whole, placeOf(source));
    if (/^[wh]/.test(name)) {
      if (value < 0) throw refuse("E_SIZE", `${name} is negative`, source, { value: find(name) ?? "" });
      if (value === 0) return undefined;
    }
    if (value !== 0) written[name] = writeNumber(value, inUse ? digitsAt(place, reading) : 6);
  }
  return written;
}

/** What the content is measured in: the viewBox wins over `patternContentUnits`. */
function readContent(
  find: Find,
  where: string,
): {
  readonly written: Readonly<Record<string, string>>;
  readonly place: Partial<Pick<Place, "map" | "viewport">>;
} {
  const text = find("viewBox");
  if (text !== undefined) {
    const box = readViewBox(text, where);
    const ratio = writeAspectRatio(readAspectRatio(find("preserveAspectRatio")));
    const numbers = [box.x, box.y, box.width, box.height].map((value) => writeNumber(value, 9));
    const written = { viewBox: numbers.join(" "), ...(ratio === "" ? {} : { preserveAspectRatio: ratio }) };
    return { written, place: { map: undefined, viewport: box } };
  }
  if (find("patternContentUnits") !== "objectBoundingBox") return { written: {}, place: {} };
  const written = { patternContentUnits: "objectBoundingBox" };
  return { written, place: { map: undefined, viewport: { width: 1, height: 1 } } };
}
