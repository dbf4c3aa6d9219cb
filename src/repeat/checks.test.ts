import { describe, expect, it } from "vitest";
import { motif } from "../motif/index.js";
import { border, halfDrop, inksOf, type Print, place, tile } from "./index.js";

const sail = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="4" height="4"><path d="M0 0H4V4Z" fill="red"/></svg>',
  { name: "sail" },
);
const motifs = [place(sail, { at: [10, 10], width: 12 })];
const prints: readonly Print[] = [
  halfDrop({ name: "Sails", width: 40, height: 40, motifs }),
  border({ name: "Sails", repeat: 40, width: 60, bands: [{ name: "hem", from: 20, to: 60, motifs }] }),
];

describe("a print that is kept as JSON", () => {
  it("is the same print again", () => {
    for (const print of prints) expect(tile(JSON.parse(JSON.stringify(print)))).toEqual(tile(print));
  });

  it("is refused with the part that it lost, or that is another", () => {
    for (const print of prints) {
      const needed = Object.keys(print).filter((key) => !["grain", "notes", "ground", "kind"].includes(key));
      for (const key of needed) {
        for (const part of [undefined, null, "words", {}]) {
          if (key === "name" && part === "words") continue;
          const torn = { ...print, [key]: part } as Print;
          for (const use of [tile, inksOf]) {
            expect(() => use(torn), `${key} = ${part}`).toThrow(
              new RegExp(`^(E_ARGUMENT|E_NUMBER) print\\.${key}`),
            );
          }
        }
      }
    }
  });
});
