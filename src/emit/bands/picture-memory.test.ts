import { describe, expect, it } from "vitest";
import { renderNative } from "../../raster/index.js";
import { dropPicture, pictureFreer } from "./picture-memory.js";

const draw = (side: number) =>
  renderNative(`<svg xmlns="http://www.w3.org/2000/svg" width="${side}" height="${side}"/>`, {
    width: side,
    height: side,
  });

describe("dropPicture", () => {
  it("takes the pixels away, and may do so twice", async () => {
    const picture = await draw(8);
    expect(picture.data.length).toBe(256);
    dropPicture(picture);
    expect(picture.data.length).toBe(0);
    expect(() => dropPicture(picture)).not.toThrow();
  });

  it("keeps the memory of one picture after another from adding up", async () => {
    const side = 1024;
    pictureFreer(1)();
    const before = process.memoryUsage().external;
    for (let count = 0; count < 8; count++) dropPicture(await draw(side));
    expect(process.memoryUsage().external - before).toBeLessThan(4 * side * side);
  });
});

describe("pictureFreer", () => {
  it("frees what has lived long, too, whatever Node takes for a request of it", async () => {
    const turn = () => new Promise((resolve) => setImmediate(resolve));
    const holder: { held?: object } = { held: {} };
    const held = new WeakRef(holder.held as object);
    const free = pictureFreer(5);
    // It has grown old by then, where only a whole collection comes.
    for (let count = 0; count < 4; count++) {
      await turn();
      free();
    }
    expect(held.deref()).toBe(holder.held);
    delete holder.held;
    await turn(); // what was asked for lives until the turn ends
    free();
    expect(held.deref()).toBeUndefined();
  });
});
