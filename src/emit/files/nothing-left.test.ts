import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import { planesOfImage } from "../../image/index.js";
import { motif } from "../../motif/index.js";
import { border, place, straight } from "../../repeat/index.js";
import {
  BandPool,
  type EmitSeparationsOptions,
  type EmitTileOptions,
  emitSeparations,
  emitTile,
  writeSeparations,
} from "../index.js";

// What is refused before anything is drawn leaves nothing behind: no file, and no folder that was made for files.

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-nothing-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

const engine = () => Promise.reject(new Error("nothing is drawn"));
const dot = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm" viewBox="0 0 1 1"><path d="M0 0H1V1Z"/></svg>',
  { name: "dot" },
);
const shaded = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">' +
    '<path d="M1 1H8V8Z" fill="#c8553d" style="mix-blend-mode:multiply"/></svg>',
  { name: "shaded" },
);
const cell = { name: "Sand", width: 40, height: 40, ground: "#efe6d5", motifs: [] };
const sand = straight(cell);
const spots = straight({ ...cell, width: 1, height: 1, motifs: [place(dot, { at: [0, 0], width: 0.5 })] });
const wide = straight({ ...cell, width: 1280, height: 180 });
const shore = border({ name: "Shore", repeat: 40, width: 60, ground: "#efe6d5", bands: [] });
const night = colourway("Night", { "#111111": "#222222" });

async function expectNothing(work: (dir: string) => Promise<unknown>, code: string): Promise<void> {
  const dir = join(folder, "prints", "sand");
  await expect(work(dir)).rejects.toThrow(expect.objectContaining({ code }));
  expect(existsSync(join(folder, "prints"))).toBe(false);
}

describe("a tile that is refused before it is drawn leaves nothing", () => {
  it.each<[string, Partial<EmitTileOptions>, typeof sand | typeof shore, string]>([
    ["a size that no file holds", { scale: 1e4, dpi: 1e4, formats: ["png"] }, wide, "E_TOO_LARGE"],
    ["a colourway, in strict mode", { colourways: [night], strict: true }, sand, "E_COLOURWAY"],
    ["a profile that is none", { profile: new Uint8Array(200) }, sand, "E_FORMAT"],
    ["a profile that is not there", { profile: "/nowhere/press.icc" }, sand, "E_READ"],
    [
      "the profile of a press that is none",
      { formats: ["svg", "tiff"], space: "cmyk", profile: new Uint8Array(200) },
      sand,
      "E_FORMAT",
    ],
    [
      "drawings of too many motifs",
      { formats: ["svg"], crop: { width: 900, height: 900 } },
      spots,
      "E_INSTANCES",
    ],
    [
      "a strike-off over a selvedge in a space without bare cloth",
      { formats: ["tiff"], space: "lab", crop: { y: -5, width: 9, height: 20 } },
      shore,
      "E_FORMAT",
    ],
  ])("%s", async (_, options, print, code) => {
    await expectNothing((dir) => emitTile(print, { dpi: 100, engine, ...options, dir }), code);
  });

  it("a memory that is too small for its bands, before its drawing is written", async () => {
    const pool = new BandPool({ workers: 1, memory: 400e6 });
    try {
      await expectNothing((dir) => emitTile(wide, { dpi: 600, maker: pool, dir }), "E_TOO_LARGE");
    } finally {
      await pool.close();
    }
  });

  it("a run that was stopped before it began", async () => {
    const signal = AbortSignal.abort(Object.assign(new Error("stopped"), { code: "STOPPED" }));
    await expectNothing((dir) => emitTile(sand, { dpi: 100, engine, signal, dir }), "STOPPED");
  });
});

describe("separations that are refused before they are drawn leave nothing", () => {
  it.each<[string, Partial<EmitSeparationsOptions>, string]>([
    ["a trap below 0", { trap: -1 }, "E_NUMBER"],
    ["a trap that is too wide", { trap: "9cm" }, "E_NUMBER"],
    ["an under-base of an ink that is not there", { underBase: { inks: ["#123456"] } }, "E_INK"],
    ["such an ink, drawn back", { underBase: { inks: ["#123456"], choke: "1mm" } }, "E_INK"],
    ["a choke that is too wide", { underBase: { choke: "9cm" } }, "E_NUMBER"],
  ])("%s", async (_, options, code) => {
    await expectNothing((dir) => emitSeparations(sand, { dpi: 100, engine, ...options, dir }), code);
    const pixel = {
      width: 1,
      height: 1,
      channels: 3,
      data: Uint8Array.of(239, 230, 213),
      stride: 3,
    } as const;
    await expectNothing(
      (dir) => writeSeparations(sand, planesOfImage(pixel), { dpi: 100, ...options, dir }),
      code,
    );
  });

  it("a print that is no sum of its inks", async () => {
    const print = straight({ ...cell, motifs: [place(shaded, { at: [20, 20] })] });
    await expectNothing((dir) => emitSeparations(print, { dpi: 100, engine, dir }), "E_FEATURE");
  });

  it("a memory that is too small for the planes", async () => {
    const pool = new BandPool({ workers: 1, memory: 350e6 });
    try {
      await expectNothing((dir) => emitSeparations(wide, { dpi: 600, maker: pool, dir }), "E_TOO_LARGE");
    } finally {
      await pool.close();
    }
  });
});
