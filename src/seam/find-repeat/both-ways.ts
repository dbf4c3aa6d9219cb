import { type Answer, DOUBTFUL, sureness } from "./answer.js";
import { type Basis, cellArea, type LatticeGuess, mapBasis } from "./lattice.js";
import { basisOf, readLattice } from "./layout.js";
import type { Look } from "./look.js";
import { explainsAsWell, refineBasis, refineShift, unexplainedShare } from "./refine.js";

interface Verified {
  readonly basis: Basis;
  readonly likeness: number;
  readonly unexplained: number;
}

function verify(look: Look, guess: LatticeGuess): Verified {
  const rough = mapBasis(guess.basis, (shift) =>
    refineShift(look.fineDetail, look.toFine(shift), look.slack),
  );
  const { basis, likeness } = refineBasis(look.fineDetail, rough);
  return {
    basis,
    likeness,
    unexplained: Math.max(...basis.map((shift) => unexplainedShare(look.soft, shift))),
  };
}

/** So many guesses, smallest cell first, are measured before the search is given up. */
const MEASURED = 12;

/**
 * The finest lattice that explains the picture as well as the best one does, then the others that were measured. A lattice that is too
 * fine leaves unexplained what breaks it: a motif that stands twice makes a high peak, and its neighbours lower it only a little.
 */
function chooseLattice(look: Look, guesses: readonly LatticeGuess[]): readonly Verified[] {
  const best = Math.max(0, ...guesses.map((guess) => guess.likeness));
  const measured = new Map<LatticeGuess, Verified>();
  const measure = (guess: LatticeGuess): Verified => {
    const found = measured.get(guess) ?? verify(look, guess);
    measured.set(guess, found);
    return found;
  };
  const likely = guesses.filter((guess) => guess.likeness > best - 0.04).slice(0, 4);
  const reference = Math.min(1, ...likely.map((guess) => measure(guess).unexplained));
  const first = guesses
    .slice(0, MEASURED)
    .find((guess) => guess.likeness > best - 0.3 && explainsAsWell(measure(guess).unexplained, reference));
  const others = [...measured].filter(([guess]) => guess !== first).map(([, one]) => one);
  others.sort(
    (one, other) => one.unexplained - other.unexplained || cellArea(one.basis) - cellArea(other.basis),
  );
  return first ? [measure(first), ...others] : others;
}

/** A shift is measured to better than this many pixels of the fine picture. */
const MEASURED_TO = 0.9;

/** The repeat of a picture that repeats both ways. */
export function answerBothWays(look: Look, guesses: readonly LatticeGuess[]): Answer | undefined {
  const scale = look.fine.scaleX;
  const answers = chooseLattice(look, guesses)
    .filter((one) => one.likeness >= DOUBTFUL)
    .map((one) => {
      const basis = mapBasis(one.basis, ({ x, y }) => ({ x: x * scale, y: y * scale }));
      return { ...one, readings: readLattice(basis, MEASURED_TO * scale) };
    })
    .filter((one) => one.readings.length > 0);
  const [first] = answers;
  const [reading, ...sameAs] = first?.readings ?? [];
  if (!first || !reading) return undefined;
  return {
    found: "lattice",
    layout: reading.layout,
    width: reading.width,
    height: reading.height,
    repeats: { x: true, y: true },
    confidence: sureness(first.likeness) * (1 - first.unexplained),
    sameAs,
    shifts: basisOf(reading),
    candidates: answers.flatMap(({ readings: [one], likeness, unexplained }) =>
      one ? [{ ...one, likeness, unexplained }] : [],
    ),
  };
}
