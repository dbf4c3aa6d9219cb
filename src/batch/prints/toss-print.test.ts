import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import { applyTo } from "../../geometry/affine.js";
import { type Motif, motif } from "../../motif/index.js";
import { parseJob } from "../job/read-job.js";
import { makePrint } from "./make-print.js";
import { tossedFiles } from "./toss-print.js";

const leaf = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="2cm" height="2cm" viewBox="0 0 20 20">' +
    '<path d="M10 1C16 8 16 13 10 19C4 13 4 8 10 1Z" fill="#5a8b80"/></svg>',
  { name: "leaf" },
);
const find = (): Motif => leaf;
const toss = { motifs: [{ file: "leaf.svg", width: ["12mm", "20mm"] }], gap: "3mm" };
const read = (print: object) => parseJob(JSON.stringify({ print }), "job").print;

describe("a toss in a job", () => {
  it.each([
    { layout: "straight" },
    { layout: "half-drop" },
    { layout: "brick" },
    { layout: "stepped", along: "row", step: "1/3" },
    { layout: "satin", ends: 5, move: 2, width: "14cm", height: "14cm" },
  ])("fills the cell of every layout around what is placed by hand: $layout", (layout) => {
    const by = { file: "leaf.svg", at: [10, 10], width: "24mm" };
    const made = makePrint(read({ name: "T", width: 60, height: 52, motifs: [by], toss, ...layout }), find);
    const alone = makePrint(read({ name: "T", width: 60, height: 52, motifs: [], toss, ...layout }), find);
    if (made.kind !== "all-over" || alone.kind !== "all-over") throw new Error("no border was asked for");
    expect([made.motifs.length > 5, alone.motifs.length > 5]).toEqual([true, true]);
    expect(made.motifs[0]?.map).toMatchObject({ a: 1.2, e: 10 - 12 });
    expect(made.notes.map(({ code, where }) => [code, where])).toEqual([["N_TOSSED", "toss"]]);
    expect(made.notes[0]?.message).toMatch(/^\d+ leaf; smallest gap 3/);
  });

  it("fills a band at its own period, from whichever edge it is measured", () => {
    const bands = [{ name: "hem", edge: "bottom", from: 5, to: 45, period: 80, toss }];
    const made = makePrint(read({ name: "B", layout: "border", repeat: 160, width: 200, bands }), find);
    if (made.kind !== "border") throw new Error("a border was asked for");
    const [hem] = made.bands;
    expect([hem?.from, hem?.to, hem?.count, hem?.fit.change]).toEqual([155, 195, 2, 0]);
    const tips = (hem?.motifs ?? []).flatMap(({ map }) => [1, 19].map((y) => applyTo(map, { x: 10, y }).y));
    expect(tips.length).toBeGreaterThan(8);
    expect([Math.min(...tips) >= 156.5, Math.max(...tips) <= 193.5]).toEqual([true, true]);
    expect(made.notes.map(({ code, where }) => [code, where])).toEqual([["N_TOSSED", "hem, toss"]]);
  });

  it("keeps the gap on the cloth where the band is drawn smaller to close", () => {
    const bands = [{ name: "hem", from: 5, to: 65, period: 90, toss }];
    const made = makePrint(read({ name: "B", layout: "border", repeat: 160, width: 200, bands }), find);
    if (made.kind !== "border") throw new Error("a border was asked for");
    const change = made.bands[0]?.fit.change ?? 0;
    expect(change).toBeCloseTo((80 / 90 - 1) * 100);
    const told = made.notes.find(({ code }) => code === "N_TOSSED")?.message ?? "";
    const smallest = Number(/smallest gap ([\d.]+)/.exec(told)?.[1]);
    expect(smallest * (1 + change / 100)).toBeGreaterThanOrEqual(2.98); // told to a tenth of a millimetre or so
    expect(smallest * (1 + change / 100)).toBeLessThan(3.2);
  });

  it("keeps a band clear of what the others draw over it, of tossed motifs too", () => {
    const reed = { file: "leaf.svg", at: [20, -2], width: "24mm" };
    const free = { ...toss, across: "free" };
    const bands = [
      { name: "field", from: 0, to: 60, toss: free },
      { name: "hem", edge: "bottom", from: 0, to: 60, period: 80, motifs: [reed], toss: free },
    ];
    const frame = { name: "B", layout: "border", repeat: 160, width: 120 };
    const made = makePrint(read({ ...frame, bands }), find);
    if (made.kind !== "border") throw new Error("a border was asked for");
    const [field, hem] = made.bands;
    // A disc inside of each leaf.
    const discs = (band: typeof field) =>
      (band?.motifs ?? []).flatMap(({ map }) =>
        Array.from({ length: 3 * (band?.count ?? 0) }, (_, k) => {
          const { x, y } = applyTo(map, { x: 10, y: 10 });
          return { x: x + k * (band?.period ?? 0), y, radius: 4 * Math.hypot(map.a, map.b) };
        }),
      );
    const near = discs(field).flatMap((one) =>
      discs(hem).map((other) => Math.hypot(other.x - one.x, other.y - one.y) - one.radius - other.radius),
    );
    expect(Math.min(...near)).toBeGreaterThanOrEqual(3);
    const leaning = [field, hem].map(
      (band) =>
        (band?.motifs ?? []).filter(({ reach }) => reach.y < 60 && reach.y + reach.height > 60).length,
    );
    expect(leaning.every((count) => count > 0)).toBe(true);
    const blind = bands.map((band) => ({ ...band, toss: { ...free, clear: false } }));
    const over = makePrint(read({ ...frame, bands: blind }), find);
    expect(over.kind === "border" && over.bands[0]?.motifs.length).toBeGreaterThan(field?.motifs.length ?? 0);
  });

  it("may be tossed over what is placed by hand", () => {
    const by = { file: "leaf.svg", at: [30, 30], width: "58mm" };
    const count = (clear: boolean) => {
      const print = {
        name: "T",
        layout: "straight",
        width: 60,
        height: 60,
        motifs: [by],
        toss: { ...toss, clear },
      };
      const made = makePrint(read(print), find);
      return made.kind === "all-over" ? made.motifs.length : 0;
    };
    expect(count(false)).toBeGreaterThan(count(true));
  });

  it("refuses to be respaced, and names the drawings it reads", () => {
    const bands = [{ name: "hem", from: 0, to: 40, period: 70, fit: "space", toss }];
    const print = read({ name: "B", layout: "border", repeat: 160, width: 200, bands });
    expect(tossedFiles(print)).toEqual(["leaf.svg"]);
    expect(() => makePrint(print, find)).toThrow(RepetendError);
    expect(() => makePrint(print, find)).toThrow("E_BAND hem");
  });
});
