import { colourDifference } from "../../colour/index.js";
import type { PixelImage } from "../../image/index.js";
import type { Tile } from "../../repeat/index.js";
import { seamCourses } from "../strip/layout.js";
import type { EdgePair, EdgeReport, SeamLayout, SeamReport, SeamRun } from "../types.js";
import { findUnmatched, type UnmatchedShape } from "./find-unmatched.js";

/** A step across the seam that an eye sees, CIEDE2000: well above the steps of anti-aliasing along a slanted outline. */
const SEEN_STEP = 8;

/** Shorter runs of steps are outlines that cross the seam at a slant. */
const LEAST_RUN = 4;

const hexAt = (image: PixelImage, x: number, y: number): string => {
  const from = y * image.stride + x * image.channels;
  const level = (channel: number) => image.data[from + (image.channels === 1 ? 0 : channel)] ?? 0;
  return `#${[0, 1, 2].map((channel) => level(channel).toString(16).padStart(2, "0")).join("")}`;
};

/**
 * Holds a report on pixels against the drawing they came from. A shape that is cut square at the edge looks like one that
 * ends there; the drawing knows that its partner is missing. A shape is only taken for cut where the pixels step, too,
 * so that a line that runs on by itself is no false alarm.
 */
export function confirmUnmatched(
  report: SeamReport,
  image: PixelImage,
  tile: Omit<Tile, "kind">,
  layout: SeamLayout,
): SeamReport {
  if (!report.ok) return report;
  const shapes = findUnmatched(tile);
  if (shapes.length === 0) return report;
  const courses = seamCourses(layout, image.width, image.height);
  const edges = report.edges.map((edge): EdgeReport => {
    const offset = courses.find((course) => course.edge === edge.edge)?.offset ?? 0;
    const runs = stepsAlong(image, edge.edge, offset);
    for (const shape of shapes.filter((one) => touches(one, edge.edge))) {
      const mm = edge.edge === "left-right" ? tile.height / image.height : tile.width / image.width;
      const [middle, half] =
        edge.edge === "left-right" ? [shape.at.y, shape.size.height / 2] : [shape.at.x, shape.size.width / 2];
      const cut = runs.filter(({ px }) => px.from * mm < middle + half && px.to * mm > middle - half);
      if (cut.length > 0) return openEdge(edge, cut, mm, image, shape);
    }
    return edge;
  });
  return { ...report, ok: edges.every((edge) => edge.ok), edges };
}

const touches = ({ over }: UnmatchedShape, edge: EdgePair): boolean =>
  over === "corner" ||
  (edge === "left-right" ? over === "left" || over === "right" : over === "top" || over === "bottom");

/** Every stretch along a seam whose pixels step, in pixels of the right or bottom edge. */
function stepsAlong(image: PixelImage, edge: EdgePair, offset: number): readonly SeamRun[] {
  const { width, height } = image;
  const side = edge === "left-right" ? height : width;
  const runs: SeamRun[] = [];
  let [from, worst] = [-1, 0];
  for (let k = 0; k <= side; k++) {
    // The next tile is moved along by the offset, so its first row meets this edge that much further on.
    const far = (k - offset + side) % side;
    const step =
      k === side
        ? 0
        : edge === "left-right"
          ? colourDifference(hexAt(image, width - 1, k), hexAt(image, 0, far))
          : colourDifference(hexAt(image, k, height - 1), hexAt(image, far, 0));
    if (step > SEEN_STEP) {
      if (from < 0) from = k;
      worst = Math.max(worst, step);
    } else {
      if (from >= 0 && k - from >= LEAST_RUN)
        runs.push({ kind: "cut", px: { from, to: k }, mm: undefined, worst });
      [from, worst] = [-1, 0];
    }
  }
  return runs;
}

function openEdge(
  edge: EdgeReport,
  cut: readonly SeamRun[],
  mm: number,
  image: PixelImage,
  shape: UnmatchedShape,
): EdgeReport {
  const side = edge.edge === "left-right" ? image.height : image.width;
  const runs = cut.map((run) => ({ ...run, mm: { from: run.px.from * mm, to: run.px.to * mm } }));
  return {
    ...edge,
    ok: false,
    kind: "cut",
    runs,
    worst: Math.max(...runs.map((run) => run.worst)),
    share: runs.reduce((sum, { px }) => sum + px.to - px.from, 0) / side,
    mend: `A motif ends at the edge: ${shape.mend}.`,
  };
}
