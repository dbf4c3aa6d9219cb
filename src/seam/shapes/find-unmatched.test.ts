import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { motif } from "../../motif/index.js";
import { renderNative } from "../../raster/index.js";
import { place, straight, tile } from "../../repeat/index.js";
import { prints } from "../../testing/index.js";
import { checkSeams } from "../check-seams.js";
import { findUnmatched } from "./find-unmatched.js";

const by = { repeats: { x: true, y: true }, offset: { x: 0, y: 0 } };
const drawing = (inner: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">${inner}</svg>`;
const find = (inner: string, more: Partial<Parameters<typeof findUnmatched>[0]> = {}) =>
  findUnmatched({ svg: drawing(inner), width: 40, height: 40, ...by, ...more });

const leaf = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<path d="M10 1C18 8 16 15 10 19C4 15 2 8 10 1Z" fill="#3e6b4f"/><path d="M10 4V17" stroke="#f2ead8" stroke-width="0.8" fill="none"/></svg>',
  { name: "leaf" },
);

describe("findUnmatched", () => {
  it("finds nothing on any tile that we build, whole or a single cell", () => {
    fc.assert(
      fc.property(prints(), fc.constantFrom("rectangle" as const, "cell" as const), (print, extent) => {
        expect(findUnmatched(tile(print, { extent }))).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it("names the shapes of a copy that was taken out of a tile of ours", () => {
    fc.assert(
      fc.property(fc.integer({ min: 6, max: 30 }), fc.nat(359), fc.boolean(), (width, turn, first) => {
        const print = straight({
          name: "Any",
          width: 40,
          height: 40,
          motifs: [place(leaf, { at: [0, 20], width, turn })],
        });
        const whole = tile(print);
        const uses = [...whole.svg.matchAll(/<use [^>]*\/>/g)].map((match) => match[0]);
        expect(uses).toHaveLength(2);
        const torn = { ...whole, svg: whole.svg.replace(uses[first ? 0 : 1] ?? "", "") };
        const found = findUnmatched(torn);
        expect(found.length).toBeGreaterThan(0);
        expect(new Set(found.map((one) => one.over))).toEqual(new Set([first ? "right" : "left"]));
      }),
      { numRuns: 60 },
    );
  });

  it("tells id, edge and place of a motif without its partner", () => {
    const [lone, ...others] = find('<circle id="shell" cx="40" cy="20" r="9" fill="#1b2a41"/>');
    expect(others).toEqual([]);
    expect(lone).toMatchObject({ id: "shell", over: "right", at: { x: 40, y: 20 }, wanted: { x: 0, y: 20 } });
    expect(lone?.mend).toContain("draw it again at 0, 20 mm");
  });

  it("is content with a partner in the same paint, and not with one in another or out of place", () => {
    const pair = (cx: number, fill: string) =>
      `<circle cx="40" cy="20" r="9" fill="#1b2a41"/><circle cx="${cx}" cy="20" r="9" fill="${fill}"/>`;
    expect(find(pair(0, "#1b2a41"))).toEqual([]);
    expect(find(pair(0.02, "#1b2a41"))).toEqual([]);
    expect(find(pair(0.1, "#1b2a41")).map((one) => one.over)).toEqual(["right", "left"]);
    expect(find(pair(0, "#1b2a42")).map((one) => one.over)).toEqual(["right", "left"]);
  });

  it("asks for four at a corner, and counts the stroke", () => {
    expect(
      find('<circle cx="0" cy="0" r="5"/>')
        .map((one) => one.over)
        .sort(),
    ).toEqual(["corner", "left", "top"]);
    expect(find('<path d="M39 5V9" fill="none" stroke="#c8553d" stroke-width="1.9"/>')).toEqual([]);
    expect(find('<path d="M39 5V9" fill="none" stroke="#c8553d" stroke-width="2.1"/>')).toHaveLength(1);
  });

  it("lets grounds and stripes run over, but not stripes beside a tile that is lowered", () => {
    const stripe = '<rect x="-3" y="10" width="46" height="5" fill="#c8553d"/>';
    expect(find(`<rect x="-3" y="-3" width="46" height="46" fill="#f2ead8"/>${stripe}`)).toEqual([]);
    expect(find(stripe, { offset: { x: 0, y: 20 } }).length).toBeGreaterThan(0);
  });

  it("knows where the neighbour of a half-drop cell lies, and that a border has none above", () => {
    const lowered = '<circle cx="40" cy="30" r="4"/><circle cx="0" cy="10" r="4"/>';
    expect(find(lowered, { offset: { x: 0, y: 20 } })).toEqual([]);
    expect(find(lowered)).toHaveLength(2);
    expect(find('<circle cx="20" cy="0" r="4"/>', { repeats: { x: true, y: false } })).toEqual([]);
  });
});

describe("a drawing's seams", () => {
  const rasterise = (svg: string, size: { width: number; height: number }) =>
    renderNative(sized(svg, size), size);
  const sized = (svg: string, { width, height }: { width: number; height: number }) =>
    svg.replace(/width="40mm" height="40mm"/, `width="${width}" height="${height}"`);
  const ground = '<rect width="40" height="40" fill="#f3ead7"/>';

  it("are open where a motif is cut square at the edge, which pixels alone cannot tell from a straight side", async () => {
    const torn = await checkSeams(
      drawing(`${ground}<circle id="shell" cx="40" cy="20" r="9" fill="#1b2a41"/>`),
      { rasterise },
    );
    expect(torn.ok).toBe(false);
    expect(torn.edges[0]).toMatchObject({ edge: "left-right", ok: false, kind: "cut" });
    expect(torn.edges[0]?.mend).toContain('"shell"');
    expect(torn.edges[0]?.runs[0]?.mm?.from).toBeCloseTo(11, 0);
    const down = await checkSeams(drawing(`${ground}<circle cx="20" cy="0" r="9" fill="#1b2a41"/>`), {
      rasterise,
    });
    expect(down.edges.map((edge) => edge.ok)).toEqual([true, false]);
  });

  it("are closed where the partner is there, and where a line runs on by itself", async () => {
    const pair =
      '<circle cx="40" cy="20" r="9" fill="#1b2a41"/><circle cx="0" cy="20" r="9" fill="#1b2a41"/>';
    expect((await checkSeams(drawing(ground + pair), { rasterise })).ok).toBe(true);
    const wave = '<path d="M-5 20H45" fill="none" stroke="#1b2a41" stroke-width="3"/>';
    expect((await checkSeams(drawing(ground + wave), { rasterise })).ok).toBe(true);
  });
});
