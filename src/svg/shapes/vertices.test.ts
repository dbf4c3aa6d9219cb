import { describe, expect, it } from "vitest";
import { verticesOf } from "./vertices.js";

const degrees = (d: string): readonly number[] =>
  verticesOf(d).map(({ angle }) => Math.round((((angle * 180) / Math.PI + 540) % 360) - 180));

// SVG 2, chapter Painting, "Vertex markers" and "orient": directions at the start, middle, end, and on closed runs.
describe("the directions of markers", () => {
  it("follow the line at the ends and halve the corner between", () => {
    expect(degrees("M0 0H10V10")).toEqual([0, 45, 90]);
  });

  it("halve the corner at both ends of a closed run", () => {
    expect(degrees("M0 0H10V10H0Z")).toEqual([-45, 45, 135, -135, -45]);
  });

  it("follow curves by their control points, those that lie on the ends left out", () => {
    expect(degrees("M0 0C0 10 10 10 10 0")).toEqual([90, -90]);
    expect(degrees("M0 0C0 0 10 10 20 10")).toEqual([45, 0]);
    expect(degrees("M0 0Q10 0 10 10T20 20")).toEqual([0, 90, 0]);
  });

  it("follow arcs", () => {
    expect(degrees("M0 0A10 10 0 0 1 10 10")).toEqual([0, 90]);
  });

  it("skip pieces without length", () => {
    expect(degrees("M0 0L0 0L10 0L10 0")).toEqual([0, 0, 0, 0]);
    expect(degrees("M5 5L5 5")).toEqual([0, 0]);
  });

  it("are those of each run", () => {
    expect(verticesOf("M0 0H10M0 5V10").map(({ x, y }) => [x, y])).toEqual([
      [0, 0],
      [10, 0],
      [0, 5],
      [0, 10],
    ]);
  });
});
