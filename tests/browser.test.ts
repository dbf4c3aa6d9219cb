import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync } from "node:fs";
import { rm } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { text } from "node:stream/consumers";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";

// The entries that say they run in a browser are bundled for one, and run in one where Chromium is installed.

const CHROMIUM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((path) =>
  existsSync(path),
);

/** One script that puts an entry of the package into a variable. */
async function bundle(entry: string, name: string): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(new URL(`../src/${entry}`, import.meta.url))],
    bundle: true,
    format: "iife",
    globalName: name,
    platform: "browser",
    write: false,
    logLevel: "silent",
  });
  return outputFiles[0]?.text ?? "";
}

/** What a page says when its script is through: it sends it back, since nothing else tells when a page has ended. */
async function runInChromium(scripts: Readonly<Record<string, string>>, code: string): Promise<unknown> {
  const profile = mkdtempSync(join(tmpdir(), "repetend-browser-"));
  const tags = Object.keys(scripts).map((name) => `<script src="${name}"></script>`);
  const page =
    `<!doctype html><meta charset="utf-8">${tags.join("")}<script>` +
    `const say = (what) => fetch("said", { method: "POST", body: JSON.stringify(what) });` +
    `(async () => {${code}})().then(say, (error) => say(String(error)));</script>`;
  const server = createServer();
  const said = new Promise<string>((resolve) => {
    server.on("request", async (request, response) => {
      if (request.method === "POST") resolve(await text(request));
      const name = (request.url ?? "").slice(1);
      response.setHeader("content-type", name === "" ? "text/html" : "text/javascript");
      response.end(name === "" ? page : scripts[name]);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"];
  const browser = spawn(
    CHROMIUM ?? "",
    [...flags, `--user-data-dir=${profile}`, `http://127.0.0.1:${port}/`],
    { stdio: "ignore" },
  );
  const ended = new Promise((resolve) => browser.once("exit", resolve));
  try {
    return JSON.parse(await said);
  } finally {
    browser.kill(); // on being asked it ends its own processes, which would go on writing into the profile
    await ended;
    server.closeAllConnections();
    server.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
  }
}

const example = (name: string): string =>
  JSON.stringify(readFileSync(new URL(`../examples/saltmarsh/${name}`, import.meta.url), "utf8"));

describe("in a browser", () => {
  it("the root entry, the board and raster are bundled as they are", async () => {
    expect((await bundle("index.ts", "repetend")).length).toBeGreaterThan(100_000);
    expect((await bundle("board/index.ts", "board")).length).toBeGreaterThan(50_000);
    expect((await bundle("raster/index.ts", "raster")).length).toBeGreaterThan(50_000);
  });

  it("what only Node can do is refused, with what does it there", async () => {
    const code = `${await bundle("raster/index.ts", "raster")}; return raster;`;
    const raster = new Function(code)() as typeof import("../src/raster/index.js");
    const refusal = (work: Promise<unknown>): Promise<unknown> => work.catch((error: Error) => error.message);
    const png = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
    const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="4" height="4"/>';
    expect(await refusal(raster.rasterise(svg, { width: 4, height: 4 }))).toBe(
      "E_RENDER: the native renderer runs in Node only; accepted: wasmRasteriser() in a browser",
    );
    expect(await refusal(raster.readImage(png))).toBe(
      "E_IMAGE: picture files are read in Node only; accepted: the pixels of a canvas, in a browser",
    );
    expect(await refusal(raster.readImage("tile.png"))).toBe("E_READ tile.png: files are read in Node only");
  });

  it.skipIf(CHROMIUM === undefined)(
    "a print is drawn, rendered by WebAssembly, checked and laid on a sketch",
    async () => {
      const scripts = {
        "repetend.js": await bundle("index.ts", "repetend"),
        "raster.js": await bundle("raster/index.ts", "raster"),
        "wasm.js": `const wasm = Uint8Array.from(atob("${readFileSync(
          new URL("../node_modules/@resvg/resvg-wasm/index_bg.wasm", import.meta.url),
        ).toString("base64")}"), (sign) => sign.charCodeAt(0));`,
      };
      const said = await runInChromium(
        scripts,
        `const { motif, place, halfDrop, border, tile, checkSeams, readSketch, dress, writeDressed } = repetend;
        const samphire = motif(${example("motifs/samphire.svg")}, { name: "samphire" });
        const motifs = [place(samphire, { at: ["3cm", "3cm"], width: "6cm", turn: 20 })];
        const print = halfDrop({ name: "Samphire", width: "8cm", height: "8cm", ground: "#efe6d5", motifs });
        const rasterise = await raster.wasmRasteriser(wasm);
        const { svg, width, height } = tile(print);
        const picture = await rasterise(svg, { width: 320, height: 160 });
        const report = await checkSeams(tile(print), { rasterise });
        const hem = border({ name: "Hem", repeat: "32cm", width: "140cm", ground: "#efe6d5",
          bands: [{ name: "hem", from: "100cm", to: "140cm", period: "8cm", motifs }] });
        const dressed = dress(readSketch(${example("garments/wrap-skirt.svg")}), hem,
          { scale: { of: "#length-line", is: "86cm" }, panels: [{ panel: "#tier-3", band: "hem", drape: true }] });
        return { width, height, pixels: [picture.width, picture.height], ok: report.ok,
          dressed: writeDressed(dressed).startsWith("<svg") };`,
      );
      expect(said).toEqual({ width: 160, height: 80, pixels: [320, 160], ok: true, dressed: true });
    },
    90_000,
  );
});
