import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Resvg } from "@resvg/resvg-js";
import { describe, expect, it } from "vitest";
import { type Box, growBox } from "../src/geometry/index.js";
import { type Motif, motif } from "../src/motif/index.js";
import { element, serialise } from "../src/svg/index.js";
import { DRAWN_ALIKE, drawingOf } from "./motif-features.fixture.js";

const PIXELS = 300;

/** The box of the painted pixels, in user units, of a motif drawn with as much room again on every side. */
function paintedBox({ viewBox, defs, body }: Motif): Box | undefined {
  const side = Math.max(viewBox.width, viewBox.height);
  const window = growBox({ ...viewBox, width: side, height: side }, side);
  const root = {
    xmlns: "http://www.w3.org/2000/svg",
    width: String(PIXELS),
    height: String(PIXELS),
    viewBox: [window.x, window.y, window.width, window.height].join(" "),
  };
  const svg = serialise(element("svg", root, [element("defs", {}, defs), ...body]));
  const { pixels, width } = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let index = 3; index < pixels.length; index += 4) {
    if (pixels[index] === 0) continue;
    const x = ((index - 3) / 4) % width;
    const y = Math.floor((index - 3) / 4 / width);
    left = Math.min(left, x);
    top = Math.min(top, y);
    right = Math.max(right, x + 1);
    bottom = Math.max(bottom, y + 1);
  }
  const unit = window.width / PIXELS;
  return left > right
    ? undefined
    : {
        x: window.x + left * unit,
        y: window.y + top * unit,
        width: (right - left) * unit,
        height: (bottom - top) * unit,
      };
}

/** How far one box leans out of the other, in pixels; below 0 when there is room on every side. */
function leaning(inner: Box, outer: Box, motifSide: number): number {
  const unit = (3 * motifSide) / PIXELS;
  const most = Math.max(
    outer.x - inner.x,
    outer.y - inner.y,
    inner.x + inner.width - outer.x - outer.width,
    inner.y + inner.height - outer.y - outer.height,
  );
  return most / unit;
}

const folder = fileURLToPath(new URL("../node_modules/openmoji/color/svg/", import.meta.url));
const open = readdirSync(folder)
  .sort()
  .filter((_, index) => index % 100 === 50);

describe("a motif paints inside of its reach, whole pixels aside", () => {
  it.each([
    ...DRAWN_ALIKE.map(
      ({ name, inner, root, filters }) => [name, drawingOf(inner, root), filters ?? false] as const,
    ),
    ...open.map((file) => [file, readFileSync(folder + file, "utf8"), false] as const),
  ])("%s", (_, svg, filters) => {
    for (const clip of [true, false]) {
      const made = motif(svg, { filters, clip });
      const painted = paintedBox(made);
      if (painted === undefined) continue;
      const side = Math.max(made.viewBox.width, made.viewBox.height);
      expect(leaning(painted, made.reach, side)).toBeLessThanOrEqual(1);
    }
  });
});

it("the reach of open drawings is no more than two pixels larger than what they paint, in nine of ten", () => {
  const loose = open.filter((file) => {
    const made = motif(readFileSync(folder + file, "utf8"));
    const painted = paintedBox(made);
    return (
      painted === undefined ||
      leaning(made.reach, painted, Math.max(made.viewBox.width, made.viewBox.height)) > 2
    );
  });
  expect(open.length).toBeGreaterThan(40);
  expect(loose.length).toBeLessThanOrEqual(open.length / 10);
});
