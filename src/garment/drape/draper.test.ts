import { describe, expect, it } from "vitest";
import { type Affine, compose, invert, turning } from "../../geometry/affine.js";
import { composeSmooth, type SmoothMap, smoothAffine } from "../../geometry/smooth-map.js";
import { motif } from "../../motif/index.js";
import type { Motif } from "../../motif/types.js";
import { element, type SvgElement, serialise, writeMatrix } from "../../svg/index.js";
import { differingShare, renderPixels } from "../pictures.fixture.js";
import { Draper } from "./draper.js";

const draw = (inner: string): Motif =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${inner}</svg>`,
    {
      name: "one",
      filters: true,
    },
  );

/** A PNG of 2 x 2 pixels, each of another colour. */
const PICTURE =
  "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAIAAAACCAIAAAD91JpzAAAACXBIWXMAAAPoAAAD6AG1e1JrAAAAFklEQVQImWM4EWprl+3PIK3l+PhgPgAgigTsysnNNQAAAABJRU5ErkJggg==";

const FEATURES: Readonly<Record<string, string>> = {
  shapes:
    '<rect x="1" y="1" width="8" height="6" rx="2" fill="#c8553d"/><circle cx="14" cy="5" r="4" fill="#3e6b4f"/><ellipse cx="5" cy="14" rx="4" ry="2" fill="#1b2a41"/><polygon points="11,11 19,11 15,19" fill="#e3c16f"/>',
  strokes:
    '<path d="M2 2C8 20 12 0 18 18" fill="none" stroke="#1b2a41" stroke-width="2" stroke-dasharray="3 1" stroke-dashoffset="1" stroke-linecap="round"/><line x1="2" y1="18" x2="18" y2="2" stroke="#c8553d"/>',
  groups:
    '<g transform="translate(4 2) rotate(20)" opacity="0.6" fill="#c8553d" stroke="#1b2a41" stroke-width="0.8"><rect width="9" height="9"/><rect x="4" y="4" width="9" height="9"/></g>',
  "even-odd": '<path d="M2 2H18V18H2ZM6 6H14V14H6Z" fill="#3e6b4f" fill-rule="evenodd"/>',
  "gradient in the box":
    '<linearGradient id="g"><stop stop-color="#c8553d"/><stop offset="1" stop-color="#1b2a41"/></linearGradient><rect x="2" y="4" width="15" height="9" fill="url(#g)"/>',
  "gradient in user units":
    '<radialGradient id="g" gradientUnits="userSpaceOnUse" cx="8" cy="9" r="9" fx="6" gradientTransform="rotate(20)"><stop stop-color="#e3c16f"/><stop offset="1" stop-color="#1b2a41"/></radialGradient><rect x="2" y="4" width="15" height="12" fill="url(#g)" stroke="url(#g)"/>',
  pattern:
    '<linearGradient id="g"><stop stop-color="#c8553d"/><stop offset="1" stop-color="#1b2a41"/></linearGradient><pattern id="p" patternUnits="userSpaceOnUse" width="4" height="4" patternTransform="rotate(10)"><circle cx="2" cy="2" r="1.5" fill="url(#g)"/></pattern><rect x="1" y="1" width="18" height="18" fill="url(#p)"/>',
  "pattern in the box":
    '<pattern id="p" width="0.25" height="0.5"><path d="M0 0L3 3H0Z" fill="#3e6b4f"/></pattern><rect x="1" y="2" width="16" height="12" fill="url(#p)"/>',
  "pattern all in the box":
    '<pattern id="p" width="0.25" height="0.25" patternContentUnits="objectBoundingBox"><rect width="0.12" height="0.2" fill="#3e6b4f"/></pattern><rect x="1" y="2" width="16" height="12" fill="url(#p)"/>',
  clip: '<clipPath id="c"><circle cx="9" cy="9" r="6"/><rect x="12" y="12" width="7" height="7" transform="rotate(5)"/></clipPath><g clip-path="url(#c)"><rect width="20" height="20" fill="#c8553d"/></g>',
  "clip in the box":
    '<clipPath id="c" clipPathUnits="objectBoundingBox"><circle cx="0.5" cy="0.5" r="0.4"/></clipPath><rect x="2" y="3" width="15" height="11" fill="#1b2a41" clip-path="url(#c)"/>',
  mask: '<linearGradient id="g"><stop stop-color="#fff"/><stop offset="1" stop-color="#000"/></linearGradient><mask id="m"><rect x="2" y="2" width="16" height="16" fill="url(#g)"/></mask><g mask="url(#m)"><rect x="2" y="2" width="16" height="16" fill="#c8553d"/></g>',
  blur: '<filter id="f"><feGaussianBlur stdDeviation="0.8"/></filter><rect x="4" y="5" width="9" height="7" fill="#c8553d" filter="url(#f)"/>',
  "blur in shares":
    '<filter id="f" primitiveUnits="objectBoundingBox"><feGaussianBlur stdDeviation="0.08"/></filter><rect x="4" y="5" width="9" height="9" fill="#c8553d" filter="url(#f)"/>',
  picture: `<image x="3" y="4" width="12" height="12" image-rendering="optimizeSpeed" href="${PICTURE}"/>`,
};

const PLACE: Affine = compose({ a: 1.2, b: 0, c: 0, d: 1.2, e: 11, f: -3 }, turning(0.4));
const wrap = (defs: readonly SvgElement[], body: readonly SvgElement[]): string =>
  serialise(
    element("svg", { xmlns: "http://www.w3.org/2000/svg", width: "40", height: "40", viewBox: "0 0 40 40" }, [
      element("defs", {}, defs),
      ...body,
    ]),
  );
const drape = (one: Motif, map: SmoothMap, tolerance: number = 1e-3) => {
  const draper = new Draper({ map, tolerance, digits: 5, scope: "d-" });
  const defs = new Map(one.defs.map((found) => [found.attributes.id ?? "", found]));
  const body = draper.drape(one.body, PLACE, defs);
  return { svg: wrap(draper.defs, body), draper, body };
};

describe("Draper", () => {
  it.each(Object.entries(FEATURES))(
    "under an affine map draws %s as the renderer transforms it",
    (_name, inner) => {
      const one = draw(inner);
      // Even in scale, since a stroke has one width.
      const map = compose(turning(-0.2), { a: 1.1, b: 0, c: 0, d: 1.1, e: 1, f: 6 });
      const moved = wrap(one.defs, [element("g", { transform: writeMatrix(compose(map, PLACE)) }, one.body)]);
      const { svg } = drape(one, smoothAffine(map));
      const [wanted, met] = [renderPixels(moved, 240), renderPixels(svg, 240)];
      expect(new Set(wanted.data).size).toBeGreaterThan(2);
      // 3 levels is what paths and maps rounded differently do to an edge of 255.
      expect(differingShare(wanted.data, met.data, 12)).toBeLessThan(0.002);
    },
  );

  // Each pair says the same twice: once by a clip, mask or filter, once by the shape that this leaves.
  const SAME: Readonly<Record<string, readonly [string, string]>> = {
    clip: [
      '<clipPath id="c"><circle cx="9" cy="9" r="6"/></clipPath><rect width="20" height="20" fill="#c8553d" clip-path="url(#c)"/>',
      '<circle cx="9" cy="9" r="6" fill="#c8553d"/>',
    ],
    "clip in the box of a group": [
      '<clipPath id="c" clipPathUnits="objectBoundingBox"><circle cx="0.5" cy="0.5" r="0.25"/></clipPath><g clip-path="url(#c)"><rect width="10" height="20" fill="#c8553d"/><rect x="8" width="12" height="20" fill="#c8553d"/></g>',
      '<rect x="5" y="5" width="10" height="10" rx="5" fill="#c8553d"/>',
    ],
    "clip of a clip, moved, even-odd": [
      '<clipPath id="d"><rect width="10" height="20"/></clipPath><clipPath id="c" clip-path="url(#d)" transform="translate(2 1)"><path clip-rule="evenodd" d="M1 1H17V17H1ZM5 5H13V13H5Z"/></clipPath><rect width="20" height="20" fill="#c8553d" clip-path="url(#c)"/>',
      '<path fill="#c8553d" d="M3 2H10V6H7V14H10V18H3Z"/>',
    ],
    mask: [
      '<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="20" height="20"><circle cx="9" cy="9" r="6" fill="#fff"/></mask><rect width="20" height="20" fill="#c8553d" mask="url(#m)"/>',
      '<circle cx="9" cy="9" r="6" fill="#c8553d"/>',
    ],
    "mask in the box, half through": [
      '<mask id="m" maskContentUnits="objectBoundingBox"><rect x="0.2" y="0.25" width="0.6" height="0.5" fill="#fff" fill-opacity="0.5"/></mask><rect width="20" height="20" fill="#c8553d" mask="url(#m)"/>',
      '<rect x="4" y="5" width="12" height="10" fill="#c8553d" fill-opacity="0.5"/>',
    ],
    "region of a mask": [
      '<mask id="m" maskUnits="userSpaceOnUse" x="4" y="5" width="12" height="10"><rect width="20" height="20" fill="#fff"/></mask><rect width="20" height="20" fill="#c8553d" mask="url(#m)"/>',
      '<rect x="4" y="5" width="12" height="10" fill="#c8553d"/>',
    ],
  };
  it.each(Object.entries(SAME))("bends a %s with what it cuts", (_name, [one, other]) => {
    const bend: SmoothMap = (x, y) => ({
      x: x + 1.5 * Math.sin(y / 5),
      y: y + 6 + 2 * Math.sin(x / 4),
      a: 1,
      b: Math.cos(x / 4) / 2,
      c: 0.3 * Math.cos(y / 5),
      d: 1,
    });
    const [wanted, met] = [other, one].map((inner) => renderPixels(drape(draw(inner), bend).svg, 240).data);
    expect(new Set(wanted).size).toBeGreaterThan(2);
    expect(differingShare(wanted ?? new Uint8Array(), met ?? new Uint8Array(), 24)).toBeLessThan(0.001);
  });

  const OFFSET: Readonly<Record<string, readonly [string, string]>> = {
    "a shift": [
      '<filter id="f" filterUnits="userSpaceOnUse" x="0" y="0" width="20" height="20"><feOffset dx="5" dy="2"/></filter><rect x="3" y="4" width="6" height="5" fill="#c8553d" filter="url(#f)"/>',
      '<rect x="8" y="6" width="6" height="5" fill="#c8553d"/>',
    ],
    "a shift in shares": [
      '<filter id="f" x="-1" y="-1" width="4" height="4" primitiveUnits="objectBoundingBox"><feOffset dx="0.5" dy="0.4"/></filter><rect x="3" y="4" width="6" height="5" fill="#c8553d" filter="url(#f)"/>',
      '<rect x="6" y="6" width="6" height="5" fill="#c8553d"/>',
    ],
    "a shadow": [
      '<filter id="f" x="-1" y="-1" width="3" height="3"><feDropShadow dx="3" dy="1" stdDeviation="0" flood-color="#1b2a41"/></filter><rect x="3" y="4" width="6" height="5" fill="#c8553d" filter="url(#f)"/>',
      '<rect x="6" y="5" width="6" height="5" fill="#1b2a41"/><rect x="3" y="4" width="6" height="5" fill="#c8553d"/>',
    ],
  };
  it.each(Object.entries(OFFSET))("turns and mirrors %s with the cloth", (_name, [one, other]) => {
    for (const map of [
      compose({ a: 1, b: 0, c: 0, d: 1, e: 22, f: 20 }, turning(2)),
      compose({ a: -1, b: 0, c: 0, d: 1, e: 36, f: 6 }, turning(0.3)),
    ]) {
      const [wanted, met] = [other, one].map(
        (inner) => renderPixels(drape(draw(inner), smoothAffine(map)).svg, 240).data,
      );
      expect(new Set(wanted).size).toBeGreaterThan(2);
      // A renderer shifts by whole pixels: each edge may be off by half of one.
      expect(differingShare(wanted ?? new Uint8Array(), met ?? new Uint8Array(), 150)).toBeLessThan(0.002);
    }
  });

  it("spreads a blur as the cloth is spread", () => {
    const wide = { a: 2, b: 0, c: 0, d: 0.5, e: 0, f: 0 };
    const { draper } = drape(
      draw(
        '<filter id="f"><feGaussianBlur stdDeviation="1 3"/></filter><rect width="9" height="7" filter="url(#f)"/>',
      ),
      // Undoes the place, then stretches.
      composeSmooth(smoothAffine(wide), smoothAffine(invert(PLACE) ?? PLACE)),
    );
    const [step] = draper.defs.find(({ name }) => name === "filter")?.children ?? [];
    const [across, down] = (step?.type === "element" ? (step.attributes.stdDeviation ?? "") : "")
      .split(" ")
      .map(Number);
    expect(across).toBeCloseTo(2, 4);
    expect(down).toBeCloseTo(1.5, 4);
  });

  it("refuses filters that lie on the page's own pixels", () => {
    for (const step of [
      '<feTurbulence baseFrequency="0.2"/>',
      '<feConvolveMatrix order="3" kernelMatrix="0 0 0 0 1 0 0 0 0"/>',
      '<feDiffuseLighting><feDistantLight azimuth="20" elevation="40"/></feDiffuseLighting>',
      "<feTile/>",
    ])
      expect(() =>
        drape(
          draw(`<filter id="f">${step}</filter><rect width="9" height="7" filter="url(#f)"/>`),
          smoothAffine(PLACE),
        ),
      ).toThrow(/E_FEATURE/);
  });

  it("says what it drew by its best fit only", () => {
    const kinds = (inner: string) => [...drape(draw(inner), smoothAffine(PLACE)).draper.approximations];
    expect(kinds(FEATURES.shapes ?? "")).toEqual([]);
    expect(kinds(FEATURES["gradient in the box"] ?? "")).toEqual(["gradient"]);
    expect(kinds(FEATURES.pattern ?? "")).toEqual(["pattern"]);
    expect(kinds(FEATURES.picture ?? "")).toEqual(["picture"]);
    expect(kinds(FEATURES.blur ?? "")).toEqual(["filter"]);
  });

  it("leaves no reference hanging", () => {
    for (const inner of Object.values(FEATURES)) {
      const { svg } = drape(draw(inner), smoothAffine(PLACE));
      const ids = new Set([...svg.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]));
      for (const [, id] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(id);
    }
  });

  it("keeps what a mask needs inside of the mask, so that its colours are no inks", () => {
    const { draper } = drape(draw(FEATURES.mask ?? ""), smoothAffine(PLACE));
    expect(draper.defs.map(({ name }) => name)).toEqual(["mask"]);
  });

  it("widens strokes by the local scale", () => {
    // Twice as large to the right of 20 than to the left, by (1 + x / 20) along and across.
    const grow: SmoothMap = (x, y) => ({
      x: x + (x * x) / 40,
      y: y * (1 + x / 20),
      a: 1 + x / 20,
      b: y / 20,
      c: 0,
      d: 1 + x / 20,
    });
    const width = (x: number) => {
      const draper = new Draper({ map: grow, tolerance: 1e-3, digits: 5, scope: "d-" });
      const line = draw(`<path d="M${x} 5V7" fill="none" stroke="#000" stroke-width="0.5"/>`);
      const [path] = draper.drape(line.body, { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 }, new Map());
      return Number(path?.attributes["stroke-width"]);
    };
    expect(width(4)).toBeCloseTo(0.5 * 1.2, 4);
    expect(width(16)).toBeCloseTo(0.5 * 1.8, 4);
  });

  it("says how far it is off", () => {
    const wave: SmoothMap = (x, y) => ({ x, y: y + Math.sin(x), a: 1, b: Math.cos(x), c: 0, d: 1 });
    const { draper } = drape(draw(FEATURES.shapes ?? ""), composeSmooth(wave), 0.01);
    expect(draper.worst).toBeGreaterThan(0);
    expect(draper.worst).toBeLessThanOrEqual(0.01);
  });
});
