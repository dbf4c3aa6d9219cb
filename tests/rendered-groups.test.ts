import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { PixelImage } from "../src/image/index.js";
import { type Affine, type FriezeGroup, groupOperations, type PlaneGroup, planeCell } from "../src/index.js";
import { rasterise } from "../src/raster/index.js";

// A rendered cell is unchanged under each operation of its group. The groups are those of International Tables for
// Crystallography, vol. A and vol. E: see the head of the file.
const published = readFileSync(new URL("./reference/plane-groups.tsv", import.meta.url), "utf8")
  .split("\n")
  .filter((line) => /^(?:plane|frieze)\t/.test(line))
  .map((line) => line.split("\t"))
  .map(([kind = "", , symbol = ""]) => ({ kind, symbol }));

const [WIDTH, HEIGHT] = [48, 36];
/** Steps of the lattice each way: enough for the window, wherever an operation takes it. */
const STEPS = 5;
/** A hooked leaf without any symmetry of its own; of one ink, so that it does not matter which copy lies above. */
const LEAF = '<path d="M3 4C12 2 17 7 19 13L14 11L13 17C10 15 5 11 3 4Z" fill="#3e6b4f"/>';

const write = ({ a, b, c, d, e, f }: Affine): string => `matrix(${[a, b, c, d, e, f].join(" ")})`;

function fill(kind: string, symbol: string): { operations: readonly Affine[]; body: string } {
  const isPlane = kind === "plane";
  const cell = isPlane
    ? planeCell(symbol as PlaneGroup, WIDTH, HEIGHT)
    : { a: { x: WIDTH, y: 0 }, b: { x: 0, y: 0 } };
  const operations = isPlane
    ? groupOperations(symbol as PlaneGroup, cell)
    : groupOperations(symbol as FriezeGroup, { a: cell.a });
  const orbit = operations.map((one) => `<g transform="${write(one)}">${LEAF}</g>`).join("");
  const steps = Array.from({ length: 2 * STEPS + 1 }, (_, k) => k - STEPS);
  const copies = steps.flatMap((i) =>
    (isPlane ? steps : [0]).map((j) => {
      const [x, y] = [i * cell.a.x + j * cell.b.x, i * cell.a.y + j * cell.b.y];
      return `<g transform="translate(${x} ${y})">${orbit}</g>`;
    }),
  );
  return { operations, body: copies.join("") };
}

/** What stands around the origin, 2 pixels a unit. */
const render = (body: string): Promise<PixelImage> =>
  rasterise(
    `<svg xmlns="http://www.w3.org/2000/svg" width="140" height="140" viewBox="-35 -35 70 70">${body}</svg>`,
    { width: 140, height: 140 },
  );

/** The share of pixels that differ by more than soft edges do. */
function shareApart({ data: one }: PixelImage, { data: other }: PixelImage): number {
  let apart = 0;
  for (let k = 0; k < one.length; k += 4) {
    if ([0, 1, 2, 3].some((c) => Math.abs((one[k + c] ?? 0) - (other[k + c] ?? 0)) > 64)) apart++;
  }
  return apart / (one.length / 4);
}

describe("a rendered cell", () => {
  it.each(published)(
    "of $kind $symbol is unchanged under each of its operations",
    async ({ kind, symbol }) => {
      const { operations, body } = fill(kind, symbol);
      const cloth = await render(body);
      for (const operation of operations) {
        const moved = await render(`<g transform="${write(operation)}">${body}</g>`);
        expect(shareApart(cloth, moved)).toBeLessThan(1e-3);
      }
      // The comparison can fail: no group has this turn and shift.
      const other = await render(`<g transform="translate(7 3) rotate(31)">${body}</g>`);
      expect(shareApart(cloth, other)).toBeGreaterThan(0.02);
    },
  );
});
