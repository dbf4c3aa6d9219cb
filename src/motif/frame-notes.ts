import type { Note } from "../errors.js";
import type { Box } from "../geometry/box.js";
import { boxOverlap } from "../geometry/index.js";

/** Less than this share of the frame's side is half of a stroke that lies on its edge, and meant to be cut. */
const MEANT = 0.02;

/** What a motif does not show of its drawing: what its frame cuts off by more than strokes that lie on it, or all of it. */
export function frameNotes(painted: Box | undefined, frame: Box, isCut: boolean): readonly Note[] {
  const blank = (message: string): readonly Note[] => [{ level: "warning", code: "N_BLANK", message }];
  if (painted === undefined) return blank("the drawing paints nothing");
  if (!isCut) return [];
  if (boxOverlap(painted, frame) === undefined)
    return blank("all that the drawing paints lies outside of its frame (viewBox), which cuts it off");
  const sides = [
    { side: "left", by: (frame.x - painted.x) / frame.width },
    { side: "right", by: (painted.x + painted.width - frame.x - frame.width) / frame.width },
    { side: "top", by: (frame.y - painted.y) / frame.height },
    { side: "bottom", by: (painted.y + painted.height - frame.y - frame.height) / frame.height },
  ].filter(({ by }) => by > MEANT);
  if (sides.length === 0) return [];
  const where = sides.map(({ side, by }) => `${Math.round(by * 100)} % at the ${side}`).join(", ");
  const message = `what leans out of the drawing's frame (viewBox) is cut off, in shares of its size: ${where}`;
  return [{ level: "info", code: "N_CUT", message }];
}
