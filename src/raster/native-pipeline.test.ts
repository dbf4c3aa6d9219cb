import { describe, expect, it } from "vitest";
import { renderNative } from "./native.js";
import { openNativePipeline } from "./native-pipeline.js";

const square = (fill: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30"><rect x="3.3" y="4.4" width="20" height="17" fill="${fill}"/></svg>`;
const size = { width: 40, height: 30, overscan: 5 };

describe("openNativePipeline", () => {
  it.each([1, 2] as const)(
    "gives what the native engine does, and frees once a picture: %i",
    async (handed) => {
      let freed = 0;
      const draw = await openNativePipeline(() => {
        freed++;
      }, handed);
      const fills = ["#c8553d", "#3c6e5a", "#1b2a41"];
      const drawn = await Promise.all(fills.map((fill) => draw(square(fill), size)));
      expect(drawn).toEqual(await Promise.all(fills.map((fill) => renderNative(square(fill), size))));
      expect(freed).toBe(3);
    },
  );

  it("goes on after a drawing that failed", async () => {
    const draw = await openNativePipeline(() => {}, 2);
    const [bad, good] = await Promise.allSettled([draw("<svg", size), draw(square("#c8553d"), size)]);
    expect([bad?.status, good?.status]).toEqual(["rejected", "fulfilled"]);
  });
});
