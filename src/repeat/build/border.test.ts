import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { motif } from "../../motif/index.js";
import { field } from "../draw/field.js";
import { straight } from "./all-over.js";
import { border } from "./border.js";
import { place } from "./place.js";

const dot = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="4mm" height="4mm" viewBox="0 0 4 4">' +
    '<circle cx="2" cy="2" r="2" fill="#b3263f"/></svg>',
  { name: "dot" },
);
const shore = (level: number, clip: boolean) =>
  border({
    name: "Shore",
    repeat: 20,
    width: 100,
    ground: "#ffffff",
    bands: [{ name: "hem", from: 60, to: 80, clip, motifs: [place(dot, { at: [10, level] })] }],
  });

describe("a motif of which nothing shows", () => {
  it("is told, where its band cuts it off or it lies beyond a selvedge", () => {
    expect(shore(30, true).notes).toEqual([
      {
        level: "warning",
        code: "N_UNSEEN",
        message:
          'nothing shows of motif "dot" in band "hem": it lies wholly outside of the band, which cuts off what leans out, ' +
          "28 to 32 mm from the band's upper limit",
        where: "hem",
      },
    ]);
    expect(shore(30, false).notes).toEqual([]);
    expect(shore(50, false).notes[0]?.message).toMatch(/beyond the selvedge, 48 to 52 mm/);
    expect(shore(-70, false).notes[0]?.message).toMatch(/beyond the selvedge, -72 to -68 mm/);
  });

  it("is told exactly where its ink is not in the whole cloth", () => {
    fc.assert(
      fc.property(fc.integer({ min: -80, max: 60 }), fc.boolean(), (whole, clip) => {
        // Half a millimetre off, so that none only touches a limit.
        const print = shore(whole + 0.5, clip);
        const svg = field(print, { x: 0, y: 0, width: 20, height: 100 });
        const shows = svg.includes("<use ");
        expect(print.notes.map(({ code }) => code)).toEqual(shows ? [] : ["N_UNSEEN"]);
      }),
    );
  });
});

describe("a motif far larger than its repeat", () => {
  it("is told once, with both sizes, since a unit may have slipped", () => {
    const large = place(dot, { at: [10, 10], width: 41 });
    const fits = place(dot, { at: [10, 10], width: 39 });
    const bandOf = (...motifs: readonly (typeof large)[]) =>
      border({
        name: "Shore",
        repeat: 60,
        width: 100,
        bands: [{ name: "hem", from: 0, to: 40, period: 20, motifs }],
      });
    const note = (more: object) => ({ level: "info", code: "N_LARGE", ...more });
    expect(bandOf(large, fits, large).notes).toEqual([
      note({
        message: 'motif "dot" is 41 mm wide and 41 mm tall, and repeats every 20 mm: it lies over itself',
        where: "hem",
      }),
    ]);
    expect(bandOf(fits).notes).toEqual([]);
    const cell = { name: "Cell", width: 60, height: 20 };
    expect(straight({ ...cell, motifs: [large] }).notes).toEqual([
      note({
        message:
          'motif "dot" is 41 mm wide and 41 mm tall, and repeats every 60 mm across and 20 mm down: it lies over itself',
      }),
    ]);
    expect(straight({ ...cell, motifs: [fits] }).notes).toEqual([]);
  });
});

describe("a motif exactly as long as its repeat", () => {
  it("is told, since a hairline may show where it only touches the next one", () => {
    const bandOf = (width: number, fit: "scale" | "space" = "scale", period = 20) =>
      border({
        name: "Shore",
        repeat: 60,
        width: 100,
        bands: [{ name: "hem", from: 0, to: 40, period, fit, motifs: [place(dot, { at: [10, 10], width })] }],
      });
    const codes = (print: ReturnType<typeof bandOf>) => print.notes.map(({ code }) => code);
    expect(codes(bandOf(20))).toEqual(["N_TOUCHING"]);
    expect(codes(bandOf(20.2))).toEqual([]);
    expect(codes(bandOf(19.8))).toEqual([]);
    // Fitted by its size it is as long as the fitted period, fitted by spacing it is not.
    expect(codes(bandOf(19, "scale", 19))).toEqual(["N_BAND_FITTED", "N_TOUCHING"]);
    expect(codes(bandOf(19, "space", 19))).toEqual(["N_BAND_FITTED"]);
    const cell = { name: "Cell", width: 60, height: 20, motifs: [place(dot, { at: [10, 10], width: 20 })] };
    expect(straight(cell).notes.map(({ code }) => code)).toEqual(["N_TOUCHING"]);
  });
});
