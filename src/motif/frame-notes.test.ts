import { describe, expect, it } from "vitest";
import { motif } from "./motif.js";

const notesOf = (inner: string, clip: boolean = true) =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="4cm" height="2cm" viewBox="-20 0 40 20">${inner}</svg>`,
    { clip },
  ).removed;

describe("a motif says what its frame does to it:", () => {
  it("what is cut off, at which sides, and how much", () => {
    expect(notesOf('<path d="M-30 10L0-4L30 10L0 20Z" fill="#b3263f"/>')).toEqual([
      {
        level: "info",
        code: "N_CUT",
        message:
          "what leans out of the drawing's frame (viewBox) is cut off, in shares of its size: 25 % at the left, 25 % at the right, 20 % at the top",
      },
    ]);
  });

  it("nothing where nothing is cut, or only strokes that lie on its edge", () => {
    expect(notesOf('<path d="M-20 0H20V20H-20Z"/>')).toEqual([]);
    expect(notesOf('<path d="M-20 4H20" stroke="#b3263f" stroke-width="1"/>')).toEqual([]);
    expect(notesOf('<path d="M-30 10L0-4L30 10Z"/>', false)).toEqual([]);
  });

  it("that nothing of the drawing is left, or that it never painted", () => {
    const blank = (inner: string) => notesOf(inner).map(({ level, code }) => `${level} ${code}`);
    expect(blank('<circle cx="90" cy="90" r="9"/>')).toEqual(["warning N_BLANK"]);
    expect(blank('<g display="none"><circle cx="0" cy="9" r="9"/></g>')).toEqual(["warning N_BLANK"]);
    expect(blank("")).toEqual(["warning N_BLANK"]);
    expect(blank('<circle cx="0" cy="9" r="9"/>')).toEqual([]);
  });
});
