import { describe, expect, it } from "vitest";
import { applyTo, type Point } from "../../geometry/affine.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { composeSmooth, invertAt, smoothAffine } from "../../geometry/smooth-map.js";
import { field } from "../../repeat/draw/field.js";
import type { Print } from "../../repeat/types.js";
import { dress } from "../dress/dress.js";
import { writeDressed } from "../dress/write-dressed.js";
import type { DrapeOptions } from "../options.js";
import { renderPixels } from "../pictures.fixture.js";
import { placePanel } from "../place/place-panel.js";
import { readSketch } from "../sketch/read-sketch.js";
import { sketchScale } from "../sketch/scale.js";
import { choosePanels } from "../sketch/select.js";
import { shoreBorder } from "../sketches.fixture.js";

const SCALE = { of: "#l", is: "100cm" } as const;
/** Pixels across the page of 100 mm. */
const WIDTH = 300;
/** Pixels a mm of cloth in the flat picture that is warped: one page pixel is 3.3 mm of cloth. */
const FINE = 1.6;
/** Samples a page pixel, along and down. */
const SAMPLES = 4;

const SKIRT = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
<path id="p" d="M35 10Q50 15 65 10C70 40 78 70 92 88C70 96 30 96 8 88C22 70 30 40 35 10Z" fill="#ffffff"/>
<line id="l" x1="0" y1="0" x2="0" y2="100" stroke="#000" stroke-width="0.1"/></svg>`;

/** What a renderer that bends pixels instead of paths makes of the panel, and which pixels lie well inside it. */
function warpRaster(print: Print, drape: DrapeOptions) {
  const sketch = readSketch(SKIRT);
  const [shape] = choosePanels(sketch, "#p");
  if (!shape) throw new Error("no panel");
  const scale = sketchScale(sketch, SCALE);
  const options = { panel: "#p", band: "hem", drape } as const;
  const placed = placePanel({ sketch, scale, earlier: new Map() }, "#p", shape, 0, print, options);
  const { draped, frame } = placed;
  const box = pathBounds(shape.outline);
  if (!draped || !box) throw new Error("not draped");
  const { window } = draped;
  const map = composeSmooth(smoothAffine(frame.toSketch), draped.map);
  const flat = renderPixels(field(print, window), Math.round(window.width * FINE));
  const perMm = flat.width / window.width;
  const unit = WIDTH / 100;
  const pixels = new Uint8Array(4 * WIDTH * WIDTH);
  const inside = new Uint8Array(WIDTH * WIDTH);
  const middle = { x: window.x + window.width / 2, y: window.y + window.height / 2 };
  let near: Point = middle;
  for (let y = Math.floor(box.y * unit); y < (box.y + box.height) * unit; y += 1)
    for (let x = Math.floor(box.x * unit); x < (box.x + box.width) * unit; x += 1) {
      const centre = { x: (x + 0.5) / unit, y: (y + 0.5) / unit };
      const at = invertAt(map, centre, near, 1e-7) ?? invertAt(map, centre, middle, 1e-7);
      if (at === undefined) continue;
      near = at;
      const margin = 8;
      const u = at.x - window.x;
      const v = at.y - window.y;
      const [left, right] = [0, 1].map((side) => draped.cloth(side, v / window.height).x);
      if (at.x < (left ?? 0) + margin || at.x > (right ?? 0) - margin) continue;
      if (v < margin || v > window.height - margin) continue;
      inside[y * WIDTH + x] = 1;
      // Within one pixel the map is affine to far less than a sample.
      const { a, b, c, d } = map(at.x, at.y);
      const area = a * d - b * c;
      const sum = [0, 0, 0, 0];
      for (let i = 0; i < SAMPLES; i += 1)
        for (let j = 0; j < SAMPLES; j += 1) {
          const dx = ((i + 0.5) / SAMPLES - 0.5) / unit;
          const dy = ((j + 0.5) / SAMPLES - 0.5) / unit;
          const px = Math.floor((u + (d * dx - c * dy) / area) * perMm);
          const py = Math.floor((v + (a * dy - b * dx) / area) * perMm);
          for (let k = 0; k < 4; k += 1)
            sum[k] = (sum[k] ?? 0) + (flat.data[4 * (py * flat.width + px) + k] ?? 0);
        }
      for (let k = 0; k < 4; k += 1)
        pixels[4 * (y * WIDTH + x) + k] = Math.round((sum[k] ?? 0) / SAMPLES ** 2);
    }
  const dressed = dress(sketch, print, { scale: SCALE, panels: [options] });
  return { pixels, inside, drawn: renderPixels(writeDressed(dressed), WIDTH).data, placed, frame };
}

/**
 * Two anti-aliased renders of one edge may differ by a share of the step across it: coverage by 16 samples is off by up
 * to an eighth, and the flat picture is itself anti-aliased over 0.6 mm of cloth, a fifth of a page pixel. Three eighths
 * of the largest step, 180 levels.
 */
const ANTI_ALIASING = 68;

describe("a draped print", () => {
  it.each([{ hold: "bottom" }, { hold: "top", fullness: 1.5 }, { hold: "both" }] as const)(
    "%j looks like the flat print, bent pixel by pixel",
    (drape) => {
      const { pixels, inside, drawn } = warpRaster(shoreBorder(), drape);
      const differing = (shift: number): number => {
        let [count, off] = [0, 0];
        for (let k = 0; k < inside.length; k += 1) {
          if (inside[k] === 0) continue;
          count += 1;
          const gap = [0, 1, 2].map((channel) =>
            Math.abs((pixels[4 * k + channel] ?? 0) - (drawn[4 * (k + shift) + channel] ?? 0)),
          );
          if (Math.max(...gap) > ANTI_ALIASING) off += 1;
        }
        expect(count).toBeGreaterThan(10_000);
        return off / count;
      };
      expect(differing(0)).toBeLessThan(0.01);
      // The measure sees a print that lies off by two pixels, half a mm of the page.
      expect(differing(2)).toBeGreaterThan(0.01);
    },
  );

  it("turned on the bias keeps its pinned place and its angle there", () => {
    const sketch = readSketch(SKIRT);
    const [shape] = choosePanels(sketch, "#p");
    if (!shape) throw new Error("no panel");
    const scale = sketchScale(sketch, SCALE);
    const options = {
      panel: "#p",
      drape: true,
      grain: 30,
      pin: { print: [100, 200], at: [50, 60] },
    } as const;
    const placed = placePanel({ sketch, scale, earlier: new Map() }, "#p", shape, 0, shoreBorder(), options);
    if (!placed.draped) throw new Error("not draped");
    const at = placed.draped.map(100, 200);
    const on = applyTo(placed.frame.toSketch, at);
    expect(on.x).toBeCloseTo(50, 3);
    expect(on.y).toBeCloseTo(60, 3);
    // On the centre line of a symmetrical panel the cloth hangs straight, so the print is turned by its own 30 degrees.
    const both = composeSmooth(smoothAffine(placed.frame.toSketch), placed.draped.map)(100, 200);
    const along = (Math.atan2(both.b, both.a) * 180) / Math.PI;
    expect(along).toBeGreaterThan(20);
    expect(along).toBeLessThan(45);
  });
});
