import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../colour/index.js";
import { RepetendError } from "../errors.js";
import { BARE, composite, coverageOf, indexPlane, weightPlane } from "../image/index.js";
import { type Motif, motif } from "../motif/index.js";
import { inksOf, type Print, place, recolour, straight } from "../repeat/index.js";
import { prints } from "../testing/index.js";
import { hasTranslucency, inkPlanes, planeInks, rasterisePrint, whyNotLinear } from "./index.js";

const draw = (inner: string, name: string) =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${inner}</svg>`,
    { name },
  );

const hex = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, "0")}`);

/** Opacities over each other, gradients between inks and to nothing, and masks: all that is linear in the inks. */
const shaded = draw(
  '<defs><linearGradient id="g"><stop offset="0" stop-color="#c8553d"/><stop offset="1" stop-color="#3e6b4f"/></linearGradient>' +
    '<radialGradient id="r"><stop offset="0" stop-color="#f2ead8"/><stop offset="1" stop-color="#1b2a41" stop-opacity="0"/></radialGradient>' +
    '<mask id="m"><rect width="20" height="20" fill="white"/><circle cx="12" cy="9" r="5" fill="#888888"/></mask></defs>' +
    '<rect x="2" y="2" width="12" height="9" fill="url(#g)"/><circle cx="12" cy="12" r="7" fill="url(#r)"/>' +
    '<path d="M3 18L17 4" stroke="#1b2a41" stroke-width="2.5" opacity="0.6"/>' +
    '<g mask="url(#m)" opacity="0.8"><circle cx="9" cy="8" r="6" fill="#c8553d"/><circle cx="13" cy="10" r="5" fill="#3e6b4f"/></g>',
  "shaded",
);

/** A gradient between inks that cover. */
const graded = draw(
  '<defs><linearGradient id="g"><stop offset="0" stop-color="#c8553d"/><stop offset="0.4" stop-color="#1b2a41"/>' +
    '<stop offset="1" stop-color="#3e6b4f"/></linearGradient></defs><path d="M2 3L18 6L15 18Z" fill="url(#g)"/>',
  "graded",
);

const printsOf = (drawing: Motif): fc.Arbitrary<Print> =>
  fc
    .record({
      ground: fc.constantFrom("#d7e3e0", undefined),
      places: fc.array(
        fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 40 }), fc.nat(359)),
        { minLength: 1, maxLength: 4 },
      ),
    })
    .map(({ ground, places }) =>
      straight({
        name: "Shaded",
        width: 40,
        height: 40,
        ...(ground === undefined ? {} : { ground }),
        motifs: places.map(([x, y, turn]) => place(drawing, { at: [x, y], width: 26, turn })),
      }),
    );
const gradedPrints = printsOf(graded);
const shadedPrints = printsOf(shaded);

/**
 * Levels that two pictures are apart, as they show on any cloth: what is hardly there has colours that are hardly known,
 * so they count by the cover.
 */
function apart(one: Uint8Array, other: Uint8Array): { worst: number; over: number; all: number } {
  let [worst, over] = [0, 0];
  for (let at = 0; at < one.length; at += 4) {
    const [cover, otherCover] = [one[at + 3] ?? 0, other[at + 3] ?? 0];
    for (let channel = 0; channel < 4; channel++) {
      const [level, otherLevel] = [one[at + channel] ?? 0, other[at + channel] ?? 0];
      const difference = channel === 3 ? cover - otherCover : (level * cover - otherLevel * otherCover) / 255;
      worst = Math.max(worst, Math.abs(difference));
      if (Math.abs(difference) > 1.5) over++;
    }
  }
  return { worst, over, all: one.length };
}

async function compare(print: Print, edges: "soft" | "hard", inks: readonly string[]) {
  const table = Object.fromEntries(inksOf(print).map(({ ink }, at) => [ink, inks[at % inks.length] ?? ink]));
  const other = colourway("Other", table);
  const planes = await inkPlanes(print, { dpi: 70, edges });
  const direct = await rasterisePrint(recolour(print, other), { dpi: 70, edges });
  return { planes, ...apart(composite(planes, other).data, direct.data) };
}

describe("inkPlanes", () => {
  it("give every colourway as a direct rendering does: within 4 levels, 99.99 % within 1", async () => {
    const sums = { over: 0, all: 0 };
    const colours = fc.array(hex, { minLength: 6, maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(fc.oneof(prints(), gradedPrints), colours, async (print, inks) => {
        const { worst, over, all } = await compare(print, "soft", inks);
        expect(worst).toBeLessThanOrEqual(4);
        sums.over += over;
        sums.all += all;
      }),
      { numRuns: 24, seed: 20, endOnFailure: true },
    );
    expect(sums.over / sums.all).toBeLessThan(1e-4);
  });

  it("keep within 4 levels where inks shine through each other, which renderers round layer by layer", async () => {
    const colours = fc.array(hex, { minLength: 6, maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(shadedPrints, colours, async (print, inks) => {
        expect(hasTranslucency(print)).toBe(true);
        const { worst, over, all } = await compare(print, "soft", inks);
        expect(worst).toBeLessThanOrEqual(4);
        expect(over / all).toBeLessThan(0.03);
      }),
      { numRuns: 8, seed: 23, endOnFailure: true },
    );
  });

  it("give a hard-edged flat print exactly, with one index a pixel", async () => {
    await fc.assert(
      fc.asyncProperty(prints(), fc.array(hex, { minLength: 6, maxLength: 6 }), async (print, inks) => {
        const { planes, worst } = await compare(print, "hard", inks);
        expect(worst).toBe(0);
        expect(planes.bands.every((band) => band.table.weights.every((weight) => weight === 255))).toBe(true);
        expect(indexPlane(planes).data.every((place) => place < planes.inks.length)).toBe(true);
      }),
      { numRuns: 10, seed: 21, endOnFailure: true },
    );
  });

  it("add up to full coverage at every pixel and over all inks", async () => {
    await fc.assert(
      fc.asyncProperty(fc.oneof(prints(), shadedPrints), async (print) => {
        const planes = await inkPlanes(print, { dpi: 50 });
        const sums = new Uint16Array(planes.width * planes.height);
        for (const ink of planes.inks) {
          for (const [at, weight] of weightPlane(planes, ink).data.entries())
            sums[at] = (sums[at] ?? 0) + weight;
        }
        expect(sums.every((sum) => sum === 255)).toBe(true);
        expect(coverageOf(planes).reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
      }),
      { numRuns: 8, seed: 22, endOnFailure: true },
    );
  });

  it("know the area of what they cover", async () => {
    // A square of half the width and half the height covers a quarter.
    const half = draw('<rect width="20" height="20" fill="#c8553d"/>', "half");
    const motifs = [place(half, { at: [20, 20], width: 20 })];
    const bare = straight({ name: "Bare", width: 40, height: 40, motifs });
    const planes = await inkPlanes(bare, { dpi: 127 });
    expect(planes.inks).toEqual(["#c8553d", BARE]);
    const shares = Object.fromEntries(coverageOf(planes).map(({ ink, share }) => [ink, share]));
    expect(shares["#c8553d"]).toBeCloseTo(0.25, 6);
    expect(shares[BARE]).toBeCloseTo(0.75, 6);
  });

  it("are in the print's order of inks", () => {
    const print = straight({ name: "Plain", width: 10, height: 10, ground: "#f2ead8", motifs: [] });
    expect(planeInks(print)).toEqual(["#f2ead8"]);
  });

  it("refuse a print that is no sum of its inks, and say why", async () => {
    const blended = draw(
      '<circle cx="9" cy="9" r="8" fill="#c8553d" style="mix-blend-mode:multiply"/>',
      "blended",
    );
    const motifs = [place(blended, { at: [10, 10] })];
    const print = straight({ name: "Blended", width: 20, height: 20, ground: "#f2ead8", motifs });
    expect(whyNotLinear(print)).toEqual(['motif "blended" blends by multiply']);
    const refusal = await inkPlanes(print, { dpi: 50 }).catch((error: unknown) => error);
    expect(refusal).toBeInstanceOf(RepetendError);
    expect((refusal as RepetendError).code).toBe("E_FEATURE");
  });
});
