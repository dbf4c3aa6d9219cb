import type { Kind } from "./kind.js";
import type { Piece } from "./piece.js";
import type { Space } from "./space.js";
import { cosineAndSine } from "./turns.js";

/** One way in which motifs could fall into rows: turns to a mm along x and down y. */
type Wave = readonly [number, number];

/** Rows of one, two or three to a repeat: finer ones are broken up by the motifs themselves. */
const MOST_ROWS = 3;

/**
 * The waves along x and down y that close on the lattice: upright and level rows are those that the eye finds. Along x
 * alone a wave closes when it closes on u's own step; down y on v's, and on what u is lowered by (or v moved along).
 */
function wavesOf({ u, v }: Space): readonly Wave[] {
  const across = Array.from({ length: MOST_ROWS }, (_, k): Wave => [(k + 1) / closing(u[0], v?.[0]), 0]);
  if (v === undefined) return across;
  return [
    ...across,
    ...Array.from({ length: MOST_ROWS }, (_, k): Wave => [0, (k + 1) / closing(v[1], u[1])]),
  ];
}

/** The longest wave that closes on two steps, of which one may be 0: their common divisor (Euclid), to a millionth. */
function closing(one: number, other: number = 0): number {
  let [a, b] = [Math.abs(one), Math.abs(other)];
  while (b > one * 1e-6) [a, b] = [b, a - Math.floor(a / b + 1e-9) * b];
  return a;
}

const weightOf = ({ kind, scale }: Piece): number => kind.area * scale * scale;

/**
 * Moves pieces a little, so that neither all of them nor those of one kind stand closer in some upright or level rows
 * than in others: down the gradient of the power of the longest waves (the structure factor of crystallography).
 */
export function evenRows(pieces: readonly Piece[], space: Space, steps: number, farthest: number): void {
  const kinds = new Map<Kind, Piece[]>();
  for (const piece of pieces) kinds.set(piece.kind, [...(kinds.get(piece.kind) ?? []), piece]);
  const groups = [pieces, ...kinds.values()];
  for (let step = 0; step < steps; step += 1) {
    for (const group of groups) {
      const all = group.reduce((sum, piece) => sum + weightOf(piece), 0);
      for (const wave of wavesOf(space)) flatten(group, all, wave, farthest / steps);
    }
  }
}

/** One step against one wave, of at most `farthest` mm. */
function flatten(group: readonly Piece[], all: number, [kx, ky]: Wave, farthest: number): void {
  const angles = group.map((piece) => cosineAndSine(360 * (kx * piece.x + ky * piece.y)));
  let [across, along] = [0, 0];
  for (const [index, piece] of group.entries()) {
    const [cosine, sine] = angles[index] ?? [0, 0];
    across += (weightOf(piece) * cosine) / all;
    along += (weightOf(piece) * sine) / all;
  }
  const strength = Math.sqrt(across * across + along * along);
  if (strength === 0) return;
  for (const [index, piece] of group.entries()) {
    if (piece.fixed) continue;
    const [cosine, sine] = angles[index] ?? [0, 0];
    // How the strength changes as this piece moves on.
    const change = (along * cosine - across * sine) / strength;
    const move = farthest * Math.min(1, 4 * strength) * change;
    piece.x -= kx > 0 ? move : 0;
    piece.y -= ky > 0 ? move : 0;
  }
}
