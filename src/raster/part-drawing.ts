import type { Box } from "../geometry/box.js";
import type { PixelImage } from "../image/index.js";
import { overhangOf, type Print, writePixels } from "../repeat/index.js";
import { OVERSCAN, pieceWidth } from "./band-plan.js";
import { clearImage, pasteImage } from "./crop.js";
import { type Engine, PIXEL_LIMIT, type RenderSize } from "./engine.js";
import { moreOverscan } from "./overscan.js";

/** A part of a band as drawings: one, or pieces from left to right where it is wide. Plain data. */
export interface PartDrawing {
  readonly width: number;
  readonly height: number;
  readonly pieces: readonly PieceDrawing[];
}

/** What an engine is handed for a piece. */
export interface PieceDrawing {
  /** Where the piece begins in its part. */
  readonly x: number;
  readonly svg: string;
  readonly size: RenderSize;
}

/**
 * Windows narrower than this have no more than this around them: of a cell of a few pixels each copy stands in the
 * drawing, and the renderer refuses a million.
 */
const SMALL = 64;

function drawPiece(onGrid: Print, window: Box, x: number, edges: "soft" | "hard"): PieceDrawing {
  const { width, height } = window;
  const least = Math.min(width, height) < SMALL ? SMALL : OVERSCAN;
  const overscan =
    least + moreOverscan(window, least, (canvas) => overhangOf(onGrid, canvas, window), PIXEL_LIMIT);
  const svg = writePixels(onGrid, window, { edges, overscan });
  return { x, svg, size: { width: width + 2 * overscan, height: height + 2 * overscan, overscan } };
}

/** Draws a part of a band of a print that lies on its pixel grid. */
export function drawPart(onGrid: Print, part: Box, edges: "soft" | "hard" = "soft"): PartDrawing {
  const { width, height } = part;
  // Pieces of one width, none much narrower than the others.
  const most = Math.ceil(width / Math.ceil(width / pieceWidth(height)));
  const pieces: PieceDrawing[] = [];
  for (let x = 0; x < width; x += most) {
    const window = { ...part, x: part.x + x, width: Math.min(most, width - x) };
    pieces.push(drawPiece(onGrid, window, x, edges));
  }
  return { width, height, pieces };
}

/** Renders a drawn part, piece after piece; RGBA. */
export async function renderDrawing(
  { width, height, pieces }: PartDrawing,
  engine: Engine,
  signal?: AbortSignal,
): Promise<PixelImage> {
  const render = ({ svg, size }: PieceDrawing): Promise<PixelImage> => {
    signal?.throwIfAborted();
    return engine(svg, size);
  };
  const [one, ...others] = pieces;
  if (one === undefined) throw new RangeError("a part has a piece");
  const first = await render(one);
  if (others.length === 0) return first;
  // Not before it is needed: other bands wait for the renderer, too.
  const whole = clearImage(width, height);
  pasteImage(first, whole, 0, 0);
  for (const piece of others) pasteImage(await render(piece), whole, piece.x, 0);
  return whole;
}
