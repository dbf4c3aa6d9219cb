import { describe, expect, it } from "vitest";
import type { JobPlan, JobProgress } from "../batch/index.js";
import { progressWriter } from "./progress.js";

const file = (path: string, side: number) =>
  ({
    path,
    kind: "tile",
    format: "png",
    colourway: "Low Tide",
    width: side,
    height: side,
    mm: { width: 1, height: 1 },
  }) as const;

const plan: JobPlan = {
  print: "Saltmarsh",
  layout: "border",
  repeats: { x: true, y: false },
  files: [file("a.png", 10), file("b.png", 10)],
  notes: [],
};

const steps: readonly JobProgress[] = [
  { kind: "planned", plan },
  { kind: "rows", path: "a.png", done: 5, total: 10 },
  { kind: "rows", path: "a.png", done: 10, total: 10 },
  { kind: "rows", path: "b.png", done: 10, total: 10 },
];

function written(
  sink: { readonly isTTY?: boolean; readonly columns?: number },
  asJson: boolean,
  milliseconds = 0,
): readonly string[] {
  const lines: string[] = [];
  let time = 0;
  const tick = () => {
    time += milliseconds;
    return time;
  };
  const writer = progressWriter({ ...sink, write: (text) => lines.push(text) }, asJson, tick);
  for (const step of steps) writer.show(step);
  writer.end();
  writer.end();
  return lines;
}

describe("progressWriter", () => {
  it("draws one bar over itself on a terminal, and takes it away at the end", () => {
    const lines = written({ isTTY: true, columns: 80 }, false);
    expect(lines.map((line) => line.replace("\r\x1b[K", ""))).toEqual([
      "[======                  ]  25 % a.png",
      "[============            ]  50 % a.png",
      "[========================] 100 % b.png",
      "",
    ]);
  });

  it("tells rate and remaining time as soon as they mean something", () => {
    const big = { ...plan, files: [file("a.png", 10_000), file("b.png", 10_000)] };
    const lines: string[] = [];
    let time = 0;
    const sink = { isTTY: true, columns: 120, write: (text: string) => lines.push(text) };
    const writer = progressWriter(sink, false, () => time);
    writer.show({ kind: "planned", plan: big });
    writer.show({ kind: "kept", file: { ...file("a.png", 10_000), bytes: 1, sha256: "" } });
    writer.show({ kind: "rows", path: "b.png", done: 0, total: 10_000 });
    time = 2000;
    writer.show({ kind: "rows", path: "b.png", done: 2000, total: 10_000 });
    // 20 megapixels in 2 s, 80 to go; what an earlier run drew is no part of the rate.
    expect(lines.at(-1)).toContain(" 60 % 10.0 Mpx/s, 8 s left  b.png");
    expect(lines[0]).toContain(" 50 % b.png");
  });

  it("stays within the terminal's width", () => {
    const lines = written({ isTTY: true, columns: 30 }, false);
    expect(Math.max(...lines.map((line) => line.replace("\r\x1b[K", "").length))).toBeLessThan(30);
  });

  it("is quiet in a pipe", () => {
    expect(written({}, false)).toEqual([]);
  });

  it("writes one JSON object a line for scripts", () => {
    const lines = written({ isTTY: true }, true);
    expect(lines.every((line) => line.endsWith("\n"))).toBe(true);
    expect(lines.map((line) => JSON.parse(line).event)).toEqual(["planned", "rows", "rows", "rows"]);
  });
});
