import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import { type RasteriseDrawing, rasterise, wasmRasteriser } from "./index.js";

const wasmBytes = readFileSync(
  new URL("../../node_modules/@resvg/resvg-wasm/index_bg.wasm", import.meta.url),
);

const drawing = (body: string, size = 'width="2in" height="1in" viewBox="0 0 20 10"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${size}>${body}</svg>`;

const heron = readFileSync(new URL("../../examples/saltmarsh/motifs/heron.svg", import.meta.url), "utf8");

const codeOf = (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => "none",
    (error: unknown) => (error instanceof RepetendError ? error.code : String(error)),
  );

describe.each(["native", "wasm"] as const)("rasterise, %s", (name) => {
  const engine: Promise<RasteriseDrawing> =
    name === "native" ? Promise.resolve(rasterise) : wasmRasteriser(wasmBytes);

  it("gives whole pixels at a resolution and says at which they are true to size", async () => {
    const image = await (await engine)(drawing('<rect width="20" height="10" fill="#c8553d"/>'), {
      dpi: 100.3,
    });
    expect([image.width, image.height]).toEqual([201, 100]);
    expect(image.dpi).toEqual({ x: 100.5, y: 100 });
    expect([...image.data.subarray(-4)]).toEqual([0xc8, 0x55, 0x3d, 255]);
  });

  it("stretches each axis to the pixels asked for", async () => {
    const halves =
      '<rect width="10" height="10" fill="#ff0000"/><rect x="10" width="10" height="5" fill="#0000ff"/>';
    const image = await (await engine)(drawing(halves), { width: 2, height: 4 });
    const pixels = Array.from({ length: 8 }, (_, k) => image.data.subarray(k * 4, k * 4 + 4).join());
    const [red, blue, none] = ["255,0,0,255", "0,0,255,255", "0,0,0,0"];
    expect(pixels).toEqual([red, blue, red, blue, red, none, red, none]);
  });

  it("opens nothing outside the drawing", async () => {
    const svg = drawing('<image href="/etc/hostname" width="9" height="9"/>');
    expect(await codeOf((await engine)(svg, { width: 2, height: 2 }))).toBe("E_EXTERNAL_REF");
    expect(await codeOf((await engine)("no drawing", { width: 2, height: 2 }))).toBe("E_NOT_SVG");
  });
});

describe("rasterise", () => {
  it("gives the same bytes on both engines for a motif of the example", async () => {
    const size = { width: 151, height: 190 };
    const [one, other] = [await rasterise(heron, size), await (await wasmRasteriser(wasmBytes))(heron, size)];
    expect(new Uint8Array(one.data)).toEqual(new Uint8Array(other.data));
  });
});
