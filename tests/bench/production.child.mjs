// One way of making one file, as a process of its own, from what is built; prints its figures as JSON.
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deserialize } from "node:v8";

const { way, file, dpi, edges, workers, engine } = JSON.parse(process.argv[2] ?? "{}");
const dir = mkdtempSync(join(tmpdir(), "production-"));

const ways = {
  repetend: async () => {
    const { BandPool, emitTile } = await import("../../dist/emit/index.js");
    const pool = new BandPool({ workers, engine });
    await emitTile(deserialize(readFileSync(file)), { dpi, dir, formats: ["png"], edges, maker: pool });
    await pool.close();
  },
  "one-shot": async () => {
    const { Resvg } = await import("@resvg/resvg-js");
    const svg = readFileSync(file, "utf8");
    writeFileSync(join(dir, "a.png"), new Resvg(svg, { font: { loadSystemFonts: false } }).render().asPng());
  },
  sharp: async () => {
    const { default: sharp } = await import("sharp");
    await sharp(readFileSync(file), { unlimited: true, limitInputPixels: false }).png().toFile(join(dir, "a.png"));
  },
  /** Nothing but rendering, and one pass of deflate at its fastest over places in a palette. */
  bound: async () => {
    const { Resvg } = await import("@resvg/resvg-js");
    const { deflateRawSync } = await import("node:zlib");
    const { pixels } = new Resvg(readFileSync(file, "utf8"), { font: { loadSystemFonts: false } }).render();
    const places = new Uint8Array(pixels.length / 4);
    for (let at = 0; at < places.length; at++) places[at] = pixels[4 * at];
    writeFileSync(join(dir, "a.png"), deflateRawSync(places, { level: 1 }));
  },
};

try {
  const start = performance.now();
  await ways[way]();
  const seconds = (performance.now() - start) / 1000;
  const bytes = readdirSync(dir).reduce((sum, name) => sum + statSync(join(dir, name)).size, 0);
  console.log(JSON.stringify({ seconds, bytes }));
} finally {
  rmSync(dir, { recursive: true, force: true });
}
