import { runInNewContext } from "node:vm";
import { describe, expect, it } from "vitest";
import { checkSeams, motif } from "../src/index.js";
import { readImage } from "../src/raster/index.js";

/** Bytes as a frame of a page, or a test's own window, makes them: of another class of the same name. */
const fromAnotherRealm = (name: "Uint8Array" | "Uint8ClampedArray", bytes: Uint8Array): Uint8Array =>
  runInNewContext(`${name}.from(bytes)`, { bytes: [...bytes] }) as Uint8Array;

const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" width="4" height="4"><path d="M0 0H4V4Z" fill="red"/></svg>';

describe("bytes of another realm", () => {
  it("are read as a drawing and as a picture", async () => {
    const drawing = fromAnotherRealm("Uint8Array", new TextEncoder().encode(svg));
    expect(drawing instanceof Uint8Array).toBe(false);
    expect(motif(drawing, { name: "sail" }).inks).toEqual([{ ink: "#ff0000", uses: 1 }]);
    await expect(readImage(fromAnotherRealm("Uint8Array", Uint8Array.of(1, 2)))).rejects.toThrow(
      /E_IMAGE: this is not a picture/,
    );
  });

  it("are pixels, clamped or not", () => {
    for (const name of ["Uint8Array", "Uint8ClampedArray"] as const) {
      const data = fromAnotherRealm(name, new Uint8Array(256).fill(9));
      expect(checkSeams({ width: 16, height: 16, channels: 1, data, stride: 16 }).ok).toBe(true);
    }
  });

  it("are told from what only says that it is bytes", () => {
    for (const value of [
      { [Symbol.toStringTag]: "Uint8Array" },
      new Uint16Array(4),
      new DataView(new ArrayBuffer(4)),
    ]) {
      expect(() => motif(value as unknown as Uint8Array, { name: "sail" })).toThrow(/E_ARGUMENT/);
    }
  });
});
