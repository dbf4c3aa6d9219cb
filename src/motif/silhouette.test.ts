import { describe, expect, it } from "vitest";
import { IDENTITY } from "../geometry/affine.js";
import { isInside } from "./covered.js";
import { motif } from "./motif.js";
import { takeSilhouette } from "./silhouette.js";

const TOLERANCE = 0.01;

function silhouetteOf(inside: string) {
  const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">${inside}</svg>`;
  return takeSilhouette(motif(drawing, { name: "test" }), IDENTITY, TOLERANCE);
}

/** How far a place is from what is covered: 0 inside. */
function distance(inside: string, x: number, y: number): number {
  const { segments, fills } = silhouetteOf(inside);
  if (fills.some((fill) => isInside(fill, x, y))) return 0;
  let least = Infinity;
  for (let k = 0; k < segments.length; k += 5) {
    const [x0 = 0, y0 = 0, x1 = 0, y1 = 0, radius = 0] = segments.subarray(k, k + 5);
    const [dx, dy] = [x1 - x0, y1 - y0];
    const length = dx * dx + dy * dy;
    const t = length === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / length));
    least = Math.min(least, Math.hypot(x - x0 - t * dx, y - y0 - t * dy) - radius);
  }
  return Math.max(0, least);
}

/** Never farther than it is, and at most by the tolerance, twice for chords, nearer. */
function expectDistance(inside: string, x: number, y: number, exact: number): void {
  const found = distance(inside, x, y);
  expect(found).toBeLessThanOrEqual(exact + 1e-6);
  expect(found).toBeGreaterThanOrEqual(Math.max(0, exact - 2 * TOLERANCE));
}

describe("a silhouette", () => {
  it("holds fills, and strokes with their width, as far as geometry says", () => {
    expectDistance('<circle cx="20" cy="20" r="5"/>', 32, 20, 7);
    expectDistance('<circle cx="20" cy="20" r="5" fill="none" stroke="red" stroke-width="2"/>', 32, 20, 6);
    // Inside of a ring there is nothing.
    expectDistance('<circle cx="20" cy="20" r="5" fill="none" stroke="red" stroke-width="2"/>', 20, 20, 4);
    expectDistance('<path d="M5 5H35V35H5Z M15 15H25V25H15Z" fill-rule="evenodd"/>', 20, 20, 5);
    expectDistance('<path d="M5 5H35V35H5Z M15 15H25V25H15Z"/>', 20, 20, 0);
    expectDistance('<g transform="translate(10 0) scale(2)"><circle cx="5" cy="10" r="3"/></g>', 20, 36, 10);
  });

  it("reaches as far as mitres and square ends do", () => {
    // A right angle: the point stands out by half the width times the root of 2.
    const corner = 'd="M5 25H25V5" fill="none" stroke="red" stroke-width="4"';
    expectDistance(`<path ${corner}/>`, 31, 31, Math.hypot(4, 4));
    expectDistance(`<path ${corner} stroke-linejoin="round"/>`, 31, 31, Math.hypot(6, 6) - 2);
    const line = 'd="M10 20H20" fill="none" stroke="red" stroke-width="6"';
    expectDistance(`<path ${line} stroke-linecap="square"/>`, 27, 27, Math.hypot(4, 4));
    expectDistance(`<path ${line} stroke-linecap="round"/>`, 30, 20, 7);
  });

  it("counts the smaller of clip and clipped", () => {
    const clip = '<clipPath id="c"><rect x="15" y="15" width="10" height="10"/></clipPath>';
    expectDistance(`${clip}<g clip-path="url(#c)"><circle cx="20" cy="20" r="15"/></g>`, 35, 20, 10);
    expectDistance(`${clip}<g clip-path="url(#c)"><circle cx="20" cy="20" r="2"/></g>`, 35, 20, 13);
  });

  it("leaves out lines that lie under a shape, and changes no distance by it", () => {
    const body = '<circle cx="20" cy="20" r="12"/>';
    const veins = '<path d="M14 20H26M20 14V26" fill="none" stroke="red"/>';
    expect(silhouetteOf(body + veins).segments).toEqual(silhouetteOf(body).segments);
    const long = '<path d="M20 20H38" fill="none" stroke="red" stroke-width="2" stroke-linecap="round"/>';
    expect(silhouetteOf(body + long).segments.length).toBeGreaterThan(silhouetteOf(body).segments.length);
    expectDistance(body + long, 36, 26, 5);
  });
});
