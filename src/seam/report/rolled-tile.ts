import type { Box } from "../../geometry/box.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { aLayout } from "../checks.js";
import { seamCourses } from "../strip/layout.js";
import type { EdgePair, SeamLayout, SeamReport, SeamRun } from "../types.js";

/** A tile rolled by half, so that its seams cross in the middle; all in whole pixels. */
export interface RolledTile {
  readonly width: number;
  readonly height: number;
  /** The corner of the rolled window on the cloth; the tile itself lies at 0, 0. */
  readonly x: number;
  readonly y: number;
  /** How much the next tile along x is lowered, and the next tile down is moved along. */
  readonly lowered: number;
  readonly along: number;
}

/** Where the rolled window of a tile lies. A border is rolled along the cloth only. */
export function rollTile(width: number, height: number, layout: SeamLayout): RolledTile {
  const courses = seamCourses(layout, width, height);
  const offset = (edge: EdgePair) => courses.find((course) => course.edge === edge)?.offset ?? 0;
  const isBorder = courses.length === 1;
  return {
    width,
    height,
    x: Math.floor(width / 2),
    y: isBorder ? 0 : Math.floor(height / 2),
    lowered: offset("left-right"),
    along: offset("top-bottom"),
  };
}

const wrap = (value: number, period: number): number => ((value % period) + period) % period;

/**
 * The rolled picture of a tile: what the cloth shows around the corner where four tiles meet.
 *
 * @returns A copy with the same channels.
 */
export function rollPicture(image: PixelImage, layout: SeamLayout): PixelImage {
  anImage(image, "image");
  aLayout(layout, "layout");
  const { width, height, channels } = image;
  const roll = rollTile(width, height, layout);
  const stride = width * channels;
  const data = new Uint8Array(stride * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [column, row] = [roll.x + x < width ? 0 : 1, roll.y + y < height ? 0 : 1];
      const fromX = wrap(roll.x + x - row * roll.along, width);
      const fromY = wrap(roll.y + y - column * roll.lowered, height);
      const from = fromY * image.stride + fromX * channels;
      data.set(image.data.subarray(from, from + channels), y * stride + x * channels);
    }
  }
  return { ...image, data, stride };
}

/** A seam of the rolled picture, or an open stretch of one. */
export interface RolledMark {
  readonly edge: EdgePair;
  readonly run: SeamRun | undefined;
  /** In pixels of the rolled picture; without thickness for a seam. */
  readonly box: Box;
}

/** Seams and open stretches in pixels of the rolled picture, as far as they show there. */
export function markRolled(report: SeamReport, roll: RolledTile): readonly RolledMark[] {
  const { width, height } = roll;
  const marks: RolledMark[] = [];
  for (const { edge, runs } of report.edges) {
    const side = edge === "left-right" ? height : width;
    const whole = { run: undefined, from: 0, to: side };
    const stretches = [whole, ...runs.map((run) => ({ run, from: run.px.from, to: run.px.to }))];
    for (const [i, j] of TILES_AROUND) {
      const left = i * width + j * roll.along - roll.x;
      const top = j * height + i * roll.lowered - roll.y;
      for (const { run, from, to } of stretches) {
        const box =
          edge === "left-right"
            ? { x: left + width, y: top + from, width: 0, height: to - from }
            : { x: left + from, y: top + height, width: to - from, height: 0 };
        const shows = box.x <= width && box.y <= height && box.x + box.width >= 0 && box.y + box.height >= 0;
        if (shows) marks.push({ edge, run, box });
      }
    }
  }
  return marks;
}

const TILES_AROUND: readonly (readonly [number, number])[] = [-1, 0, 1].flatMap((j) =>
  [-1, 0, 1].map((i) => [i, j] as const),
);
