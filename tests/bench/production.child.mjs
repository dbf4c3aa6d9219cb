// One way of making one file, as a process of its own, from what is built; prints its figures as JSON.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deserialize } from "node:v8";

const {
  way,
  file,
  dpi,
  edges,
  workers,
  engine,
  memory,
  formats = ["png"],
} = JSON.parse(process.argv[2] ?? "{}");
const dir = mkdtempSync(join(tmpdir(), "production-"));

const ways = {
  repetend: async () => {
    const { BandPool, emitTile } = await import("../../dist/emit/index.js");
    const pool = new BandPool({ workers, engine, memory });
    await emitTile(deserialize(readFileSync(file)), { dpi, dir, formats, edges, maker: pool });
    await pool.close();
  },
  "one-shot": async () => {
    const { Resvg } = await import("@resvg/resvg-js");
    const svg = readFileSync(file, "utf8");
    writeFileSync(join(dir, "a.png"), new Resvg(svg, { font: { loadSystemFonts: false } }).render().asPng());
  },
  sharp: async () => {
    const { default: sharp } = await import("sharp");
    await sharp(readFileSync(file), { unlimited: true, limitInputPixels: false })
      .png()
      .toFile(join(dir, "a.png"));
  },
  "rsvg-convert": () => {
    // Its parser refuses large files without --unlimited.
    const done = spawnSync("rsvg-convert", ["--unlimited", "--output", join(dir, "a.png"), file]);
    if (done.status !== 0) throw new Error(`rsvg-convert: ${done.error ?? done.stderr}`);
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

/**
 * Seconds that the processor worked for this process and for those of its children that have ended, from Linux's
 * /proc (proc(5): utime, stime, cutime, cstime, in hundredths of a second); 0 where there is none.
 */
function cpuSeconds() {
  try {
    const stat = readFileSync("/proc/self/stat", "utf8");
    const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    return fields.slice(11, 15).reduce((sum, ticks) => sum + Number(ticks), 0) / 100;
  } catch {
    return 0;
  }
}

try {
  const start = performance.now();
  await ways[way]();
  const seconds = (performance.now() - start) / 1000;
  const bytes = readdirSync(dir).reduce((sum, name) => sum + statSync(join(dir, name)).size, 0);
  console.log(JSON.stringify({ seconds, cpuSeconds: cpuSeconds(), bytes }));
} finally {
  rmSync(dir, { recursive: true, force: true });
}
