import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { unpremultiply } from "./unpremultiply.js";

describe("unpremultiply", () => {
  it("undoes every premultiplied value to the nearest colour", () => {
    let worst = 0;
    for (let alpha = 1; alpha <= 255; alpha++) {
      for (let value = 0; value <= alpha; value++) {
        const pixel = Uint8Array.of(value, 0, alpha, alpha);
        unpremultiply(pixel);
        worst = Math.max(worst, Math.abs((pixel[0] ?? Number.NaN) - (value * 255) / alpha));
        worst += pixel[1] === 0 && pixel[2] === 255 && pixel[3] === alpha ? 0 : 1;
      }
    }
    expect(worst).toBeLessThanOrEqual(0.5);
  });

  it("gives back what premultiplying took, where that lost nothing", () => {
    const changed: string[] = [];
    for (let alpha = 1; alpha <= 255; alpha++) {
      for (let value = 0; value <= alpha; value++) {
        const pixel = Uint8Array.of(value, value, value, alpha);
        unpremultiply(pixel);
        if (Math.round(((pixel[0] ?? 0) * alpha) / 255) !== value) changed.push(`${value} at ${alpha}`);
      }
    }
    expect(changed).toEqual([]);
  });

  it("makes what is fully transparent black, whatever stood there", () => {
    const pixel = Uint8Array.of(9, 9, 9, 0);
    unpremultiply(pixel);
    expect([...pixel]).toEqual([0, 0, 0, 0]);
  });

  it("does with many pixels what it does with each, wherever they lie in memory", () => {
    const pixel = fc
      .tuple(fc.constantFrom(0, 1, 128, 254, 255, 255), fc.array(fc.nat(255), { minLength: 3, maxLength: 3 }))
      .map(([alpha, colours]) => [...colours.map((value) => Math.floor((value * alpha) / 255)), alpha]);
    fc.assert(
      fc.property(fc.array(pixel, { maxLength: 23 }), fc.nat(7), (pixels, offset) => {
        const picture = new Uint8Array(offset + 4 * pixels.length).subarray(offset);
        picture.set(pixels.flat());
        unpremultiply(picture);
        const each = pixels.map((one) => Uint8Array.from(one));
        for (const one of each) unpremultiply(one);
        expect([...picture]).toEqual(each.flatMap((one) => [...one]));
      }),
    );
  });
});
