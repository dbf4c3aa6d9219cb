import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { decode } from "fast-png";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { RepetendError } from "../../errors.js";
import { BARE, composite, overprint, weightPlane } from "../../image/index.js";
import { motif } from "../../motif/index.js";
import { inkPlanes, rasterisePrint, readImage } from "../../raster/index.js";
import { place, straight } from "../../repeat/index.js";
import { prints } from "../../testing/index.js";
import { AS_DRAWN, type EmitSeparationsOptions, emitSeparations, emitTile } from "../index.js";

const hasTiffinfo = spawnSync("tiffinfo", ["-h"]).error === undefined;
let dir = "";
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-films-"));
});
afterEach(() => rmSync(dir, { recursive: true }));

const emit = (print: Parameters<typeof emitSeparations>[0], options: Omit<EmitSeparationsOptions, "dir">) =>
  emitSeparations(print, { ...options, dir });

const readFilms = async (files: Awaited<ReturnType<typeof emit>>["files"]) =>
  Promise.all(
    files.map(async ({ path, ink = "" }) => ({ ink, levels: (await readImage(join(dir, path))).data })),
  );

const leaf = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<path d="M10 1C18 8 16 15 10 19C4 15 2 8 10 1Z" fill="#3e6b4f"/><circle cx="10" cy="8" r="3" fill="#1b2a41"/></svg>',
  { name: "leaf" },
);
const leaves = straight({
  name: "Leaves",
  width: 30,
  height: 24,
  ground: "#f2ead8",
  motifs: [place(leaf, { at: [1, 12], width: 18, turn: 30 }), place(leaf, { at: [17, 23], width: 14 })],
});

describe("emitSeparations", () => {
  it("of hard edges have one ink a pixel, and printed in order they are the tile, trapped or not", async () => {
    const traps = fc.constantFrom(undefined, "0.3mm", "1.5mm");
    await fc.assert(
      fc.asyncProperty(prints({ grounds: ["#f2ead8", "#d7e3e0"] }), traps, async (print, trap) => {
        const options = { dpi: 70, edges: "hard" as const };
        const { files } = await emit(print, { ...options, ...(trap === undefined ? {} : { trap }) });
        const films = await readFilms(files);
        const tile = await rasterisePrint(print, options);
        const printed = overprint(tile, films);
        expect(
          Buffer.compare(
            printed.data,
            tile.data.filter((_, at) => at % 4 !== 3),
          ),
        ).toBe(0);
        if (trap === undefined) {
          const sums = films.reduce(
            (all, { levels }) => all.map((sum, at) => sum + (levels[at] ?? 0)),
            new Uint16Array(tile.width * tile.height),
          );
          expect(sums.every((sum) => sum === 255)).toBe(true);
        }
      }),
      { numRuns: 12, seed: 3 },
    );
  });

  it("of soft edges are the ink planes, whose sum by ink is the tile", async () => {
    const { files, coverage } = await emit(leaves, { dpi: 120 });
    expect(files.map(({ path, kind, ink }) => [path, kind, ink])).toEqual([
      ["leaves--01-f2ead8.png", "separation", "#f2ead8"],
      ["leaves--02-3e6b4f.png", "separation", "#3e6b4f"],
      ["leaves--03-1b2a41.png", "separation", "#1b2a41"],
    ]);
    const planes = await inkPlanes(leaves, { dpi: 120 });
    const films = await readFilms(files);
    for (const { ink, levels } of films) {
      expect(Buffer.compare(levels, weightPlane(planes, ink).data)).toBe(0);
    }
    const tile = composite(planes, AS_DRAWN).data;
    const sum = (pixel: number, channel: number) =>
      films.reduce((all, { ink, levels }) => {
        const level = Number.parseInt(ink.slice(1 + 2 * channel, 3 + 2 * channel), 16);
        return all + (level * (levels[pixel] ?? 0)) / 255;
      }, 0);
    expect(
      tile.every((level, at) => at % 4 === 3 || Math.abs(level - sum(at >> 2, at % 4)) <= 0.5 + 1e-9),
    ).toBe(true);
    expect(coverage.reduce((all, { share }) => all + share, 0)).toBeCloseTo(1, 9);
  });

  it("are the same levels as TIFFs, of the same depth", async () => {
    for (const options of [
      { edges: "soft" },
      { edges: "hard", full: "black" },
      { edges: "soft", screen: "blue-noise", trap: "0.5mm" },
    ] as const) {
      for (const compression of ["deflate", "lzw", "none"] as const) {
        const { files } = await emit(leaves, { dpi: 90, ...options });
        const { files: tiffs } = await emit(leaves, { dpi: 90, ...options, format: "tiff", compression });
        expect(tiffs.map(({ path }) => path)).toEqual(files.map(({ path }) => path.replace(/png$/, "tif")));
        expect(tiffs.map(({ format }) => format)).toEqual(files.map(() => "tiff"));
        for (const [at, { path }] of tiffs.entries()) {
          const [one, other] = [join(dir, path), join(dir, files[at]?.path ?? "")];
          const { dpi: _, ...levels } = await readImage(one); // its reader rounds the resolution
          expect(levels).toEqual((({ dpi: _, ...rest }) => rest)(await readImage(other)));
          if (hasTiffinfo) {
            const { stdout, stderr } = spawnSync("tiffinfo", ["-D", one], { encoding: "utf8" });
            expect(stderr).toBe("");
            expect(stdout).toContain("DocumentName: Leaves");
            expect(stdout).toContain(
              `Bits/Sample: ${"screen" in options || options.edges === "hard" ? 1 : 8}`,
            );
          }
        }
      }
    }
  });

  it("with a trap run on under darker inks by that width, over the seams too, and nowhere else", async () => {
    // A dark square that lies over the tile's corner: the light ground runs on under it by 1 mm on all sides.
    const square = motif(
      '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"><rect width="10" height="10" fill="#1b2a41"/></svg>',
      { name: "square" },
    );
    const print = straight({
      name: "Corner",
      width: 40,
      height: 40,
      ground: "#f2ead8",
      motifs: [place(square, { at: [0, 0], width: 20 })],
    });
    const { files } = await emit(print, { dpi: 254, edges: "hard", trap: "1mm" });
    const [ground] = await readFilms(files);
    const isInk = (x: number, y: number) =>
      (ground?.levels[((y + 400) % 400) * 400 + ((x + 400) % 400)] ?? 0) > 0;
    // 254 dpi: 10 px a mm. The square is from -100 to 100 px, so that ground is bare of ink from -90 to 89.
    for (let at = -100; at < 100; at++) {
      expect([at, isInk(at, 0)]).toEqual([at, at < -90 || at > 89]);
      expect([at, isInk(0, at)]).toEqual([at, at < -90 || at > 89]);
    }
  });

  it("screened have dots of the tone's share and one bit a pixel", async () => {
    const wash = motif(
      '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><rect width="20" height="20" fill="#1b2a41" opacity="0.3"/></svg>',
      { name: "wash" },
    );
    const motifs = [place(wash, { at: [10, 10], width: 20 })];
    const print = straight({ name: "Wash", width: 20, height: 20, ground: "#f2ead8", motifs });
    for (const screen of ["ordered", "blue-noise"] as const) {
      const { files } = await emit(print, { dpi: 254, screen });
      const decoded = decode(readFileSync(join(dir, files[1]?.path ?? "")));
      expect(decoded.depth).toBe(1);
      const [, dark] = await readFilms(files);
      const share =
        (dark?.levels ?? new Uint8Array()).reduce((sum, level) => sum + level, 0) / (255 * 200 * 200);
      expect(share).toBeCloseTo(0.3, 1);
    }
  });

  it("have an under-base of the inks lighter than the ground, drawn back from its edges", async () => {
    const pale = motif(
      '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"><rect width="10" height="10" fill="#dfe6e0"/></svg>',
      { name: "pale" },
    );
    const motifs = [place(pale, { at: [20, 20], width: 20 })];
    const print = straight({ name: "Night", width: 40, height: 40, ground: "#1d1a26", motifs });
    const share = async (choke: string) => {
      const { files } = await emit(print, { dpi: 254, edges: "hard", underBase: { choke } });
      expect(files.map(({ path, kind }) => [path, kind])[0]).toEqual([
        "night--00-under-base.png",
        "under-base",
      ]);
      const [base] = await readFilms(files);
      return (base?.levels ?? new Uint8Array()).reduce((sum, level) => sum + level, 0) / (255 * 400 * 400);
    };
    expect(await share("0mm")).toBeCloseTo(0.25, 6);
    expect(await share("1mm")).toBeCloseTo((180 / 400) ** 2, 6);
  });

  it("leave out bare cloth, and turn to black on demand", async () => {
    const motifs = [place(leaf, { at: [10, 10], width: 18 })];
    const bare = straight({ name: "Bare", width: 30, height: 24, motifs });
    const { files, coverage } = await emit(bare, { dpi: 50, full: "black" });
    expect(files).toHaveLength(2);
    expect(coverage.map(({ ink }) => ink)).toContain(BARE);
    const [first] = await readFilms(files);
    const plane = weightPlane(await inkPlanes(bare, { dpi: 50 }), "#3e6b4f").data;
    expect(first?.levels.every((level, at) => level === 255 - (plane[at] ?? 0))).toBe(true);
  });

  it("refuse a trap below 0 or too wide, and inks that are not there", async () => {
    const code = (options: Partial<EmitSeparationsOptions>) =>
      emit(leaves, { dpi: 120, ...options }).catch((error: unknown) => (error as RepetendError).code);
    expect(await code({ trap: "-1mm" })).toBe("E_NUMBER");
    expect(await code({ trap: "6cm" })).toBe("E_NUMBER");
    expect(await code({ underBase: { inks: ["#123456"] } })).toBe("E_INK");
  });

  it("say the repeat as it is printed, enlarged by scale and shrinkage, as the tile does", async () => {
    const options = { dpi: 90, scale: 1.5, shrinkage: { warp: "4%", weft: "2%" } };
    const { files } = await emit(leaves, options);
    const tile = await emitTile(leaves, { ...options, dir, formats: ["png"] });
    const repeatIn = (path = "") => decode(readFileSync(join(dir, path))).text?.Repeat;
    expect(repeatIn(files[0]?.path)).toContain("cell 45.918 x 37.5 mm");
    expect(repeatIn(files[0]?.path)).toBe(repeatIn(tile.files[0]?.path));
    const { files: tiffs } = await emit(leaves, { ...options, format: "tiff" });
    expect(readFileSync(join(dir, tiffs[0]?.path ?? "")).includes("cell 45.918 x 37.5 mm")).toBe(true);
  });

  it("say when the under-base holds nothing, since no ink is lighter than the ground", async () => {
    const codes = async (print: Parameters<typeof emit>[0]) =>
      (await emit(print, { dpi: 50, underBase: {} })).notes.map(({ code }) => code);
    expect(await codes({ ...leaves, ground: "#ffffff" })).toEqual(["N_UNDER_BASE"]);
    expect(await codes({ ...leaves, ground: "#000000" })).toEqual([]);
    expect(await codes({ ...leaves, ground: undefined })).toEqual([]);
  });
});
