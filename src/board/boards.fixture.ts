import { type Colourway, colourway } from "../colour/index.js";
import { type Dressed, dress, readSketch } from "../garment/index.js";
import { type Box, mapBox } from "../geometry/index.js";
import { motif } from "../motif/index.js";
import { type AllOver, type Border, border, halfDrop, place } from "../repeat/index.js";
import {
  childElements,
  element,
  paintedBox,
  parseTransform,
  type SvgElement,
  serialise,
} from "../svg/index.js";
import { rootOf, wordsOf } from "./page.fixture.js";

const REED = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<linearGradient id="g"><stop stop-color="#1b2a41"/><stop offset="1" stop-color="#c8553d"/></linearGradient>' +
    '<path d="M3 3H17V8H8V17H3Z" fill="#1b2a41"/><circle cx="14" cy="14" r="3" fill="url(#g)"/></svg>',
  { name: "reed" },
);
/** Long enough to be drawn by reference. */
const WAVE = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<path d="M1 10C2 6 4 6 5 10S8 14 9 10S12 6 13 10S16 14 17 10L17 12C16 16 14 16 13 12S10 8 9 12Z" fill="#7a8b5f"/></svg>',
  { name: "wave" },
);
export const SHORE: Border = border({
  name: "Shore",
  repeat: "32cm",
  width: "140cm",
  ground: "#d7e3e0",
  bands: [
    {
      name: "hem",
      from: "120cm",
      to: "140cm",
      ground: "#7a8b5f",
      motifs: [
        place(REED, { at: ["8cm", "10cm"], width: "14cm" }),
        place(WAVE, { at: ["20cm", "0cm"], width: "9cm" }),
      ],
    },
  ],
});
export const REEDS: AllOver = halfDrop({
  name: "Reeds",
  width: "18cm",
  height: "16cm",
  ground: "#f2ead8",
  motifs: [place(REED, { at: ["9cm", "8cm"], width: "12cm" })],
});

/** A garment of so many units, at 10 mm each, with a frame of its own and a gradient in it. */
export function garmentOf(name: string, width: number, height: number): Dressed {
  const sketch = readSketch(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width + 20}mm" height="${height + 20}mm" viewBox="0 0 ${width + 20} ${height + 20}">` +
      '<linearGradient id="shade"><stop stop-color="#444444"/><stop offset="1" stop-color="#eeeeee"/></linearGradient>' +
      `<path id="front" d="M10 10H${10 + width}V${10 + height}H10Z" fill="#ffffff"/>` +
      `<path id="belt" d="M10 10H${10 + width}V14H10Z" fill="#8f8a86"/><path d="M12 20H14V22H12Z" fill="url(#shade)"/></svg>`,
    { name },
  );
  return dress(sketch, SHORE, {
    scale: { of: "#front", is: height * 10 },
    garmentInks: ["#8f8a86"],
    panels: [{ panel: "#front", band: "hem", edge: "bottom" }],
  });
}

/** So many colourways, each with a ground of its own. */
export function waysOf(count: number): readonly Colourway[] {
  return Array.from({ length: count }, (_, k) =>
    colourway(`Way ${k + 1}`, { "#d7e3e0": `#${(0x30a0b0 + 997 * k).toString(16)}` }),
  );
}

/** A picture on a page: where it stands, and how its drawing is scaled and moved there. */
export interface Shown {
  readonly kind: "cloth" | "garment";
  readonly box: Box;
  readonly scale: number;
  /** What is drawn there, without ids and paints: the same for the same window. */
  readonly drawing: string;
}

const number = (one: SvgElement, name: string): number => Number(one.attributes[name] ?? 0);

/** The pictures of a page, in order. */
export function picturesOf(page: string | SvgElement): readonly Shown[] {
  const root = rootOf(page);
  const all = childElements(root);
  const defs = all.filter(({ name }) => name === "defs").flatMap(childElements);
  return all.flatMap((one): readonly Shown[] => {
    if (one.name !== "g") return [];
    const [inner] = childElements(one);
    if (inner === undefined) return [];
    const { transform = "" } = one.attributes["clip-path"] === undefined ? one.attributes : inner.attributes;
    const map = parseTransform(transform);
    const drawing = serialise(element("g", {}, inner.children)).replace(
      /(?:way|style)-\d+-|#[0-9a-f]{6}\b/g,
      "",
    );
    if (one.attributes["clip-path"] === undefined) {
      const seen = paintedBox(childElements(inner), defs);
      if (seen === undefined) return [];
      return [{ kind: "garment", box: mapBox(map, seen), scale: map.a, drawing }];
    }
    const id = /#(.*)\)/.exec(one.attributes["clip-path"])?.[1];
    const clip = defs.find(({ attributes }) => attributes.id === id);
    const [rect] = clip === undefined ? [] : childElements(clip);
    if (rect === undefined) return [];
    const box = {
      x: number(rect, "x"),
      y: number(rect, "y"),
      width: number(rect, "width"),
      height: number(rect, "height"),
    };
    return [{ kind: "cloth", box, scale: map.a, drawing }];
  });
}

/** The size of a page, in mm. */
export function sizeOf(page: string | SvgElement): { readonly width: number; readonly height: number } {
  const { width = "", height = "" } = rootOf(page).attributes;
  return { width: Number.parseFloat(width), height: Number.parseFloat(height) };
}

/** Everything that stands on a page by itself, each with its name and box. */
export function standingOn(
  page: string | SvgElement,
): readonly { readonly what: string; readonly box: Box }[] {
  const root = rootOf(page);
  const chips = childElements(root)
    .filter(
      ({ name, attributes }) => name === "rect" && attributes.x !== undefined && attributes.fill !== "none",
    )
    .map((one) => ({
      what: `chip ${one.attributes.fill}`,
      box: {
        x: number(one, "x"),
        y: number(one, "y"),
        width: number(one, "width"),
        height: number(one, "height"),
      },
    }));
  return [
    ...picturesOf(page).map(({ kind, box }, k) => ({ what: `${kind} ${k}`, box })),
    ...wordsOf(page).map(({ words, box }) => ({ what: words, box })),
    ...chips,
  ];
}

/** Two things of a page that overlap by more than a rounding, and what leaves the page. */
export function faultsOf(page: string | SvgElement): readonly string[] {
  const { width, height } = sizeOf(page);
  const things = standingOn(page);
  const outside = things
    .filter(({ box }) => box.x < 0 || box.y < 0 || box.x + box.width > width || box.y + box.height > height)
    .map(({ what }) => `${what} leaves the page`);
  const clashes = things.flatMap((one, k) =>
    things
      .slice(k + 1)
      .filter(({ box }) => {
        const across = Math.min(one.box.x + one.box.width, box.x + box.width) - Math.max(one.box.x, box.x);
        const down = Math.min(one.box.y + one.box.height, box.y + box.height) - Math.max(one.box.y, box.y);
        return across > 0.01 && down > 0.01;
      })
      .map(({ what }) => `${one.what} lies on ${what}`),
  );
  return [...outside, ...clashes];
}

/** Ids that stand twice, and references to ids that are not there. */
export function brokenIds(page: string | SvgElement): readonly string[] {
  const ids: string[] = [];
  const wanted: string[] = [];
  const walk = (one: SvgElement): void => {
    for (const [name, value] of Object.entries(one.attributes)) {
      if (name === "id") ids.push(value);
      if (name === "href") wanted.push(value.slice(1));
      for (const [, id = ""] of value.matchAll(/url\(#([^)]*)\)/g)) wanted.push(id);
    }
    for (const child of childElements(one)) walk(child);
  };
  walk(rootOf(page));
  const known = new Set(ids);
  return [...ids.filter((id, k) => ids.indexOf(id) < k), ...wanted.filter((id) => !known.has(id))];
}
