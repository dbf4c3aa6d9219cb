import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { motif } from "../src/motif/index.js";
import { rasterise } from "../src/raster/index.js";
import {
  border,
  brick,
  field,
  halfDrop,
  type Print,
  patternPaint,
  place,
  satin,
  stepped,
  straight,
} from "../src/repeat/index.js";

// SVG 2, chapter "Paint Servers: Gradients and Patterns" (https://www.w3.org/TR/SVG2/pservers.html#Patterns): a tile
// used as a <pattern> paints the same picture as the endless field. The field is drawn by this project's renderer, the
// pattern by unrelated ones: librsvg (inside sharp) and, where it is installed, Chromium.

const draw = (name: string, inner: string) =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${inner}</svg>`,
    { name },
  );
const leaf = draw(
  "leaf",
  '<path d="M10 1C18 8 16 15 10 19C4 15 2 8 10 1Z" fill="#3e6b4f"/><path d="M10 4V17" stroke="#f2ead8" stroke-width="0.8" fill="none"/>',
);
const ring = draw("ring", '<circle cx="10" cy="10" r="7" fill="none" stroke="#c8553d" stroke-width="3"/>');
/** Not symmetrical in any way. */
const hook = draw("hook", '<path d="M3 3H17V8H8V17H3Z" fill="#1b2a41"/>');

const motifs = [
  place(leaf, { at: [20, 30], width: 24, turn: 20 }),
  place(ring, { at: [1, 12], width: 16 }),
  place(hook, { at: [38, 39], width: 14, turn: 130, flip: "x" }),
];
const cell = { name: "Any", width: 40, height: 44, ground: "#f2ead8", motifs };

const prints: Readonly<Record<string, Print>> = {
  straight: straight(cell),
  "half-drop": halfDrop(cell),
  brick: brick(cell),
  "step 1/3 along columns": stepped({ ...cell, along: "column", step: "1/3" }),
  "step 2/5 along rows": stepped({ ...cell, along: "row", step: "2/5" }),
  satin: satin({ ...cell, width: 150, height: 150, ends: 5, move: 2 }),
  border: border({
    name: "Any border",
    repeat: 40,
    width: 120,
    ground: "#f2ead8",
    bands: [
      {
        name: "hem",
        from: 80,
        to: 120,
        ground: "#1b2a41",
        motifs: [place(ring, { at: [38, 20], width: 18 })],
      },
      { name: "field", from: 0, to: 80, period: 20, motifs: [place(leaf, { at: [2, 20], width: 18 })] },
    ],
  }),
};

/** Four px to the mm, so that every period is whole pixels: librsvg, too, paints patterns through a pixel surface. */
const PX_PER_MM = 4;
const WINDOW = { x: 0, y: 0, width: 150, height: 110 };
const size = { width: WINDOW.width * PX_PER_MM, height: WINDOW.height * PX_PER_MM };

function patternPage(print: Print): string {
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${size.height}" ` +
    `viewBox="0 0 ${WINDOW.width} ${WINDOW.height}">${patternPaint(print, { id: "cloth" })}` +
    `<rect width="${WINDOW.width}" height="${WINDOW.height}" fill="url(#cloth)"/></svg>`
  );
}

/** The share of pixels that differ by more than 48 levels in some channel: more than two renderers' anti-aliasing. */
function shareApart(one: Uint8Array, other: Uint8Array): number {
  expect(one.length).toBe(other.length);
  let apart = 0;
  for (let k = 0; k < one.length; k += 4) {
    const far = [0, 1, 2].some((c) => Math.abs((one[k + c] ?? 0) - (other[k + c] ?? 0)) > 48);
    if (far) apart++;
  }
  return apart / (one.length / 4);
}

const CHROMIUM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((path) =>
  existsSync(path),
);

function renderInChromium(svg: string): Promise<Uint8Array> {
  const folder = mkdtempSync(join(tmpdir(), "pattern-"));
  try {
    const page = join(folder, "page.html");
    const picture = join(folder, "page.png");
    writeFileSync(page, `<!doctype html><style>body{margin:0}svg{display:block}</style>${svg}`);
    const flags = [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
      "--hide-scrollbars",
      `--user-data-dir=${folder}`,
      `--window-size=${size.width},${size.height}`,
      `--screenshot=${picture}`,
    ];
    spawnSync(CHROMIUM ?? "", [...flags, page], { timeout: 60_000 });
    const data = readFileSync(picture);
    return sharp(data).ensureAlpha().raw().toBuffer();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe.each(Object.entries(prints))("a %s print as a pattern", (_name, print) => {
  it("is the field in librsvg", async () => {
    const ours = await rasterise(field(print, WINDOW), size);
    const theirs = await sharp(Buffer.from(patternPage(print)))
      .ensureAlpha()
      .raw()
      .toBuffer();
    expect(shareApart(ours.data, theirs)).toBeLessThan(0.002);
  });

  it("is not the field moved by a millimetre (the comparison can fail)", async () => {
    const ours = await rasterise(field(print, { ...WINDOW, x: 1 }), size);
    const theirs = await sharp(Buffer.from(patternPage(print)))
      .ensureAlpha()
      .raw()
      .toBuffer();
    expect(shareApart(ours.data, theirs)).toBeGreaterThan(0.01);
  });
});

describe.runIf(CHROMIUM)("a half-drop as a pattern in Chromium", () => {
  it("is the field", async () => {
    const print = prints["half-drop"];
    if (!print) throw new Error("the half-drop is expected");
    const ours = await rasterise(field(print, WINDOW), size);
    expect(shareApart(ours.data, await renderInChromium(patternPage(print)))).toBeLessThan(0.002);
  }, 90_000);
});
