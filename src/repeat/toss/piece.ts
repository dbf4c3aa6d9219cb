import type { Kind } from "./kind.js";
import { cosineAndSine, type Turns } from "./turns.js";

/** A motif that stands already in the same cell or band. */
export const STANDING = -1;
/** A motif that another band draws over the same cloth. */
export const BESIDE = -2;

/** One motif on the move. Its place and turn change while the toss settles. Lengths in mm, turns in degrees. */
export interface Piece {
  readonly kind: Kind;
  /** Which of the asked motifs it is, or `STANDING`, or `BESIDE`. */
  readonly asked: number;
  readonly turns: Turns;
  readonly fixed: boolean;
  readonly mirrored: boolean;
  /** Moves only: its own copies are so near that it must not turn, or it has single turns. */
  readonly stiff: boolean;
  /** Where the middle of what it covers lies. */
  x: number;
  y: number;
  turn: number;
  /** From the motif's units to mm. */
  scale: number;
  /** The same with turn and mirror: a, b, c, d of the map. */
  a: number;
  b: number;
  c: number;
  d: number;
  /** From its middle to the farthest painted point, in mm. */
  radius: number;
}

/** Sets turn and size, and what follows from them. */
export function setPose(piece: Piece, turn: number, scale: number): void {
  const [cosine, sine] = cosineAndSine(turn);
  const flip = piece.mirrored ? -scale : scale;
  piece.turn = turn;
  piece.scale = scale;
  piece.a = cosine * flip;
  piece.b = sine * flip;
  piece.c = -sine * scale;
  piece.d = cosine * scale;
  piece.radius = piece.kind.radius * scale;
}

/** What a new piece needs. */
export interface NewPiece {
  readonly kind: Kind;
  readonly asked: number;
  readonly turns: Turns;
  readonly mirrored: boolean;
  readonly stiff: boolean;
  readonly x: number;
  readonly y: number;
  readonly turn: number;
  readonly scale: number;
}

/** A piece that may be moved. */
export function makePiece(made: NewPiece): Piece {
  const { turn, scale } = made;
  const piece: Piece = { ...made, fixed: false, a: 1, b: 0, c: 0, d: 1, radius: 0 };
  setPose(piece, turn, scale);
  return piece;
}

/** Where a piece was, to go back to. */
export interface Pose {
  readonly x: number;
  readonly y: number;
  readonly turn: number;
}

export const poseOf = ({ x, y, turn }: Piece): Pose => ({ x, y, turn });

export function takePose(piece: Piece, { x, y, turn }: Pose): void {
  piece.x = x;
  piece.y = y;
  if (!piece.fixed) setPose(piece, turn, piece.scale);
}
