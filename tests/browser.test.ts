import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";

// The entries that say they run in a browser are bundled for one, and run in one where Chromium is installed.

const CHROMIUM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((path) =>
  existsSync(path),
);

/** What `repetend/raster` loads under Node only, when it is first needed: a bundle for browsers leaves it out. */
const NODE_ONLY = ["node:fs/promises", "sharp", "@resvg/resvg-js"];

/** One script that puts an entry of the package into a variable. */
async function bundle(entry: string, name: string, external: readonly string[] = []): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(new URL(`../src/${entry}`, import.meta.url))],
    bundle: true,
    format: "iife",
    globalName: name,
    platform: "browser",
    external: [...external],
    write: false,
    logLevel: "silent",
  });
  return outputFiles[0]?.text ?? "";
}

/** What a page says when its script is through. */
function runInChromium(scripts: Readonly<Record<string, string>>, code: string): unknown {
  const folder = mkdtempSync(join(tmpdir(), "repetend-browser-"));
  try {
    for (const [name, text] of Object.entries(scripts)) writeFileSync(join(folder, name), text);
    const page = join(folder, "page.html");
    const tags = Object.keys(scripts).map((name) => `<script src="${name}"></script>`);
    writeFileSync(
      page,
      `<!doctype html><meta charset="utf-8"><pre></pre>${tags.join("")}<script>` +
        `const say = (what) => { document.querySelector("pre").textContent = JSON.stringify(what); };` +
        `(async () => {${code}})().then(say, (error) => say(String(error)));</script>`,
    );
    const flags = [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--no-first-run",
      "--virtual-time-budget=60000",
    ];
    const { stdout } = spawnSync(
      CHROMIUM ?? "",
      [...flags, `--user-data-dir=${join(folder, "profile")}`, "--dump-dom", `file://${page}`],
      { encoding: "utf8", timeout: 60_000, maxBuffer: 2 ** 26 },
    );
    const said = /<pre>([\s\S]*?)<\/pre>/.exec(stdout)?.[1] ?? "";
    return JSON.parse(
      said.replaceAll("&amp;", "&").replaceAll("&lt;", "<").replaceAll("&gt;", ">") || "null",
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const example = (name: string): string =>
  JSON.stringify(readFileSync(new URL(`../examples/saltmarsh/${name}`, import.meta.url), "utf8"));

describe("in a browser", () => {
  it("the root entry and the board are bundled as they are", async () => {
    expect((await bundle("index.ts", "repetend")).length).toBeGreaterThan(100_000);
    expect((await bundle("board/index.ts", "board")).length).toBeGreaterThan(50_000);
  });

  it.skipIf(CHROMIUM === undefined)(
    "a print is drawn, rendered by WebAssembly, checked and laid on a sketch",
    async () => {
      const scripts = {
        "repetend.js": await bundle("index.ts", "repetend"),
        "raster.js": await bundle("raster/index.ts", "raster", NODE_ONLY),
        "wasm.js": `const wasm = Uint8Array.from(atob("${readFileSync(
          new URL("../node_modules/@resvg/resvg-wasm/index_bg.wasm", import.meta.url),
        ).toString("base64")}"), (sign) => sign.charCodeAt(0));`,
      };
      const said = runInChromium(
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
