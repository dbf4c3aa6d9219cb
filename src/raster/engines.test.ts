import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import type { Engine } from "./engine.js";
import { renderNative } from "./native.js";
import { wasmEngine } from "./wasm.js";

const wasmBytes = readFileSync(
  new URL("../../node_modules/@resvg/resvg-wasm/index_bg.wasm", import.meta.url),
);

const root = (width: number, height: number, body: string, more = "") =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}"${more}>${body}</svg>`;

/** One scene a question: opacity, curves, strokes, gradients, clips, masks, patterns, hard edges. */
const scenes: readonly (readonly [number, number, string, string?])[] = [
  [1, 1, '<rect width="1" height="1" fill="#ff0000" fill-opacity=".5"/>'],
  [
    37,
    23,
    '<circle cx="18" cy="11" r="9.3" fill="#1b2a41"/><path d="M2 2C30 1 5 22 35 21" stroke="#c8553d" fill="none"/>',
  ],
  [
    37,
    23,
    '<g opacity=".4"><rect x="3.3" width="20" height="9" fill="#123456"/><circle r="14" fill="#fedcba"/></g>',
  ],
  [
    40,
    20,
    '<defs><linearGradient id="g" gradientUnits="userSpaceOnUse" x2="40"><stop stop-color="#f00"/>' +
      '<stop offset="1" stop-color="#00f" stop-opacity=".2"/></linearGradient><clipPath id="c"><circle cx="20" cy="10" r="9"/></clipPath></defs>' +
      '<rect width="40" height="20" fill="url(#g)" clip-path="url(#c)"/>',
  ],
  [
    24,
    24,
    '<defs><mask id="m"><rect width="24" height="12" fill="#888"/></mask><pattern id="p" width="6" height="6" patternUnits="userSpaceOnUse">' +
      '<circle cx="3" cy="3" r="2" fill="#0a0"/></pattern></defs><rect width="24" height="24" fill="url(#p)" mask="url(#m)"/>',
  ],
  [37, 23, '<circle cx="18" cy="11" r="9.3" fill="#1b2a41"/>', ' shape-rendering="crispEdges"'],
];

const codeOf = (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => "none",
    (error: unknown) => (error instanceof RepetendError ? error.code : String(error)),
  );

describe.each(["native", "wasm"] as const)("the %s engine", (name) => {
  let engine: Engine = renderNative;
  beforeAll(async () => {
    if (name === "wasm") engine = await wasmEngine(wasmBytes);
  });

  it("gives half red back as half red", async () => {
    const [width, height, body] = scenes[0] ?? [1, 1, ""];
    const image = await engine(root(width, height, body), { width, height });
    expect([image.channels, image.stride, ...image.data]).toEqual([4, 4, 255, 0, 0, 128]);
  });

  it("refuses a drawing that does not come out in the size asked for", async () => {
    expect(await codeOf(engine(root(3, 3, ""), { width: 4, height: 3 }))).toBe("E_RENDER");
  });

  it("refuses what it cannot read, in its own words", async () => {
    expect(await codeOf(engine("<svg", { width: 1, height: 1 }))).toBe("E_RENDER");
  });

  it("refuses sizes that are no whole pixels or too many, before it starts", async () => {
    for (const [width, height, code] of [
      [0, 1, "E_SIZE"],
      [1.5, 1, "E_SIZE"],
      [Number.NaN, 1, "E_SIZE"],
      [65_537, 1, "E_TOO_LARGE"],
      [20_000, 20_000, "E_TOO_LARGE"],
    ] as const) {
      expect([width, await codeOf(engine("<svg/>", { width, height }))]).toEqual([width, code]);
    }
  });

  it("paints only its inks with hard edges", async () => {
    const [width, height, body, more] = scenes[5] ?? [1, 1, ""];
    const { data } = await engine(root(width, height, body, more), { width, height });
    const colours = new Set(
      Array.from({ length: width * height }, (_, k) => data.subarray(k * 4, k * 4 + 4).join()),
    );
    expect([...colours].sort()).toEqual(["0,0,0,0", "27,42,65,255"]);
  });
});

describe("both engines", () => {
  it("give the same bytes", async () => {
    const wasm = await wasmEngine(wasmBytes);
    for (const [width, height, body, more] of scenes) {
      const svg = root(width, height, body, more);
      const [one, other] = [await renderNative(svg, { width, height }), await wasm(svg, { width, height })];
      expect(new Uint8Array(one.data)).toEqual(new Uint8Array(other.data));
    }
  });

  it("start one WebAssembly module once, however often it is asked for", async () => {
    const engines = [await wasmEngine(wasmBytes), await wasmEngine(wasmBytes)];
    for (const engine of engines)
      expect((await engine(root(2, 1, ""), { width: 2, height: 1 })).width).toBe(2);
  });
});
