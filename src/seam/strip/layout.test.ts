import { describe, expect, it } from "vitest";
import type { SeamLayout } from "../types.js";
import { seamCourses } from "./layout.js";

const goesRound = (layout: SeamLayout) => seamCourses(layout, 120, 240).map(({ cyclic }) => cyclic);

describe("the course of a seam", () => {
  it("goes on in the next tile, and ends where the next column or row lies further on", () => {
    expect(goesRound("straight")).toEqual([true, true]);
    expect(goesRound("half-drop")).toEqual([true, false]);
    expect(goesRound("brick")).toEqual([false, true]);
    expect(goesRound({ kind: "stepped", along: "column", step: "1/3" })).toEqual([true, false]);
    expect(goesRound({ kind: "stepped", along: "row", step: "1/3" })).toEqual([false, true]);
    expect(goesRound({ kind: "stepped", along: "row", step: "0/3" })).toEqual([true, true]);
    expect(goesRound("border")).toEqual([false]);
  });
});
