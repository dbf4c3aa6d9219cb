import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { decode } from "fast-png";
import sharp from "sharp";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import { motif } from "../../motif/index.js";
import { rasterisePrint, readImage } from "../../raster/index.js";
import { type AllOverOptions, border, halfDrop, place, recolour, straight } from "../../repeat/index.js";
import { type EmitTileOptions, emitTile } from "../index.js";

let dir = "";
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-emit-"));
});
afterEach(() => rmSync(dir, { recursive: true }));

const leaf = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30">' +
    '<path d="M10 1C19 8 19 20 12 29C3 22 1 10 10 1Z" fill="#3c6e5a"/><circle cx="3" cy="4" r="2.2" fill="#c8553d"/></svg>',
  { name: "leaf" },
);
const shaded = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<circle cx="10" cy="10" r="9" fill="#c8553d" fill-opacity=".5"/></svg>',
  { name: "shaded" },
);
const cell: AllOverOptions = {
  name: "Leaves",
  width: 50,
  height: 40,
  ground: "#1b2a41",
  motifs: [
    place(leaf, { at: [23, 31], width: 19, turn: 20 }),
    place(leaf, { at: [1, 17], width: 23, turn: 71 }),
  ],
};
const dusk = colourway("Dusk", { "#1b2a41": "#f3ead7", "#3c6e5a": "#1b2a41", "#c8553d": "#d9a441" });
const day = colourway("Day", { "#1b2a41": "#1b2a41", "#3c6e5a": "#3c6e5a", "#c8553d": "#c8553d" });

const emit = (print: Parameters<typeof emitTile>[0], options: Omit<EmitTileOptions, "dir">) =>
  emitTile(print, { ...options, dir });

describe("emitTile", () => {
  it("writes what the renderer drew, with the true resolution, in every colourway", async () => {
    const print = halfDrop(cell);
    const { files, notes } = await emit(print, { dpi: 100, colourways: [day, dusk] });
    expect(files.map((file) => file.path)).toEqual([
      "leaves--day.svg",
      "leaves--day.png",
      "leaves--dusk.svg",
      "leaves--dusk.png",
    ]);
    for (const [path, inks] of [
      ["leaves--day.png", day],
      ["leaves--dusk.png", dusk],
    ] as const) {
      const drawn = await rasterisePrint(recolour(print, inks), { dpi: 100 });
      const read = await readImage(join(dir, path));
      // 50 mm is 196.85 px at 100 dpi, drawn as 197; 40 mm is 157.48, drawn as 158: a half-drop needs an even number.
      expect([read.width, read.height, read.channels]).toEqual([394, 158, 3]);
      expect(read.dpi?.x).toBeCloseTo((197 * 25.4) / 50, 1);
      expect(read.dpi?.y).toBeCloseTo((158 * 25.4) / 40, 1);
      // Several colourways come from ink planes, which round otherwise than the renderer does.
      const apart = drawn.data
        .filter((_, k) => k % 4 !== 3)
        .map((level, at) => Math.abs(level - (read.data[at] ?? -1)));
      expect(apart.some((levels) => levels > 4)).toBe(false);
      expect(apart.filter((levels) => levels > 1).length).toBeLessThan(apart.length / 10_000);
    }
    expect(notes.map((note) => [note.code, note.where])).toEqual([
      ["N_PIXELS", "width"],
      ["N_PIXELS", "height"],
    ]);
    const svg = readFileSync(join(dir, "leaves--dusk.svg"), "utf8");
    expect(svg).toContain('width="100mm" height="40mm" viewBox="0 0 100 40"');
    expect(svg).toContain("Dusk");
    expect(spawnSync("xmllint", ["--noout", join(dir, "leaves--dusk.svg")]).stderr?.toString() ?? "").toBe(
      "",
    );
  });

  it("writes several colourways of tall and wide tiles, of many bands and pieces, as they are drawn one by one", async () => {
    const sizes = [
      { width: 10, height: 1500 },
      { width: 3000, height: 12 },
    ];
    for (const [size, edges] of sizes.flatMap((one) => [[one, "soft"] as const, [one, "hard"] as const])) {
      const motifs = [0, 0.33, 0.66].map((share) =>
        place(leaf, { at: [size.width * share, size.height * share], width: 17, turn: 400 * share }),
      );
      const print = straight({ ...cell, ...size, motifs });
      const { files } = await emit(print, { dpi: 80, formats: ["png"], edges, colourways: [day, dusk] });
      for (const [at, inks] of [day, dusk].entries()) {
        const drawn = await rasterisePrint(recolour(print, inks), { dpi: 80, edges });
        const { data, channels } = await readImage(join(dir, files[at]?.path ?? ""));
        expect(channels).toBe(3);
        const apart = drawn.data
          .filter((_, k) => k % 4 !== 3)
          .map((level, k) => Math.abs(level - (data[k] ?? -1)));
        expect(apart.some((levels) => levels > (edges === "hard" ? 0 : 4))).toBe(false);
        expect(apart.filter((levels) => levels > 1).length).toBeLessThanOrEqual(apart.length / 10_000);
      }
    }
  });

  it("gives the same bytes again", async () => {
    const first = await emit(straight(cell), { dpi: 77 });
    const bytes = first.files.map((file) => readFileSync(join(dir, file.path)));
    const second = await emit(straight(cell), { dpi: 77 });
    expect(second).toEqual(first);
    expect(second.files.map((file) => readFileSync(join(dir, file.path)))).toEqual(bytes);
    expect(readdirSync(dir)).toHaveLength(2);
  });

  it("writes hard edges as places in a palette, which alone changes from colourway to colourway", async () => {
    const { files, notes } = await emit(straight(cell), {
      dpi: 101.6,
      formats: ["png"],
      edges: "hard",
      colourways: [day, dusk],
    });
    const [one, other] = files.map((file) => decode(readFileSync(join(dir, file.path))));
    expect(notes).toEqual([]);
    expect(one?.depth).toBe(2);
    expect(one?.data).toEqual(other?.data);
    const hexOf = (entry: readonly number[]) => `#${Buffer.from(entry.slice(0, 3)).toString("hex")}`;
    const named = (one?.palette ?? []).map(hexOf);
    expect([...named].sort()).toEqual(["#1b2a41", "#3c6e5a", "#c8553d"]);
    expect((other?.palette ?? []).map(hexOf)).toEqual(named.map((ink) => dusk.inks[ink]));
    const pixels = await sharp(readFileSync(join(dir, files[0]?.path ?? "")))
      .ensureAlpha()
      .raw()
      .toBuffer();
    const drawn = await rasterisePrint(straight(cell), { dpi: 101.6, edges: "hard" });
    expect(new Uint8Array(pixels)).toEqual(drawn.data);
  });

  it("falls back to RGB where a hard-edged print has shades, and says so", async () => {
    const print = straight({ ...cell, motifs: [place(shaded, { at: [20, 20] })] });
    const { files, notes } = await emit(print, { dpi: 50.8, formats: ["png"], edges: "hard" });
    expect(notes.map((note) => note.code)).toEqual(["N_NOT_FLAT"]);
    expect((await readImage(join(dir, files[0]?.path ?? ""))).channels).toBe(3);
  });

  it("keeps bare cloth bare", async () => {
    const { ground: _, ...bare } = cell;
    for (const edges of ["soft", "hard"] as const) {
      const { files } = await emit(straight(bare), { dpi: 50.8, formats: ["png"], edges });
      const image = await readImage(join(dir, files[0]?.path ?? ""));
      expect([edges, image.channels, image.data[3]]).toEqual([edges, 4, 0]);
    }
  });

  it("makes the artwork larger along the grain by 1 / (1 - shrinkage)", async () => {
    const hem = border({ name: "Hem", repeat: 48, width: 96, ground: "#1b2a41", bands: [] });
    const shrinkage = { warp: "4%", weft: "20%" };
    // Warp along x for a border: 48 / 0.96 = 50; weft along y: 96 / 0.8 = 120. All-over: the other way round.
    const along = await emit(hem, { dpi: 254, shrinkage });
    expect(along.files.map((file) => file.mm)).toEqual(Array(2).fill({ width: 50, height: 120 }));
    expect([along.files[1]?.width, along.files[1]?.height]).toEqual([500, 1200]);
    expect(readFileSync(join(dir, "hem--as-drawn.svg"), "utf8")).toContain('width="50mm" height="120mm"');
    const all = straight({ ...cell, width: 96, height: 48 });
    const across = await emit(all, { dpi: 254, shrinkage, formats: ["svg"] });
    expect(across.files[0]?.mm).toEqual({ width: 120, height: 50 });
  });

  it("draws tiles of one pixel and of odd sizes", async () => {
    for (const [width, height, dpi] of [
      [1, 1, 25.4],
      [3, 7, 25.4],
      [0.1, 10, 25.4],
    ] as const) {
      const print = straight({ name: "Odd", width, height, ground: "#1b2a41", motifs: [] });
      const { files } = await emit(print, { dpi, formats: ["png"] });
      const image = await readImage(join(dir, files[0]?.path ?? ""));
      expect([image.width, image.height]).toEqual([Math.max(1, Math.round(width)), height]);
      expect([...image.data.subarray(0, 3)]).toEqual([27, 42, 65]);
    }
  });

  it("tells a colourway that does not fit, and refuses it in strict mode", async () => {
    const { notes } = await emit(straight(cell), {
      dpi: 50.8,
      formats: ["svg"],
      colourways: [colourway("Half", {})],
    });
    expect(notes.length).toBeGreaterThan(0);
    const strict = emit(straight(cell), { dpi: 50.8, colourways: [colourway("Half", {})], strict: true });
    await expect(strict).rejects.toThrow(/E_COLOURWAY/);
  });

  it("checks sizes before anything is drawn or written", async () => {
    const huge = straight({ name: "Huge", width: "100m", height: "100m", ground: "#1b2a41", motifs: [] });
    const refused = await emit(huge, { dpi: 100_000, scale: 100 }).catch((error: unknown) => error);
    expect(refused instanceof RepetendError ? refused.code : refused).toBe("E_TOO_LARGE");
    expect(readdirSync(dir)).toEqual([]);
  });

  it("stops between bands and leaves nothing half done", async () => {
    const stop = new AbortController();
    const work = emit(straight(cell), {
      dpi: 100,
      formats: ["png"],
      signal: stop.signal,
      onProgress: ({ done, total }) => {
        if (done < total) stop.abort(new Error("enough"));
      },
    });
    await expect(work).rejects.toThrow("enough");
    expect(readdirSync(dir)).toEqual([]);
  });
});
