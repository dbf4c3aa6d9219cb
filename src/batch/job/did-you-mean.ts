import { aText, listOf } from "../../checks.js";

/** The number of letters to add, drop, change or swap with their neighbour to get from one word to the other. */
function editDistance(one: string, other: string): number {
  const [a, b] = [[...one], [...other]];
  const rows: number[][] = [b.map((_, k) => k).concat(b.length)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const at = (r: number, c: number) => (r === i ? row[c] : rows[r]?.[c]) ?? Number.POSITIVE_INFINITY;
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      row.push(
        Math.min(
          at(i - 1, j) + 1,
          at(i, j - 1) + 1,
          at(i - 1, j - 1) + cost,
          swapped ? at(i - 2, j - 2) + 1 : Number.POSITIVE_INFINITY,
        ),
      );
    }
    rows.push(row);
  }
  return rows[a.length]?.[b.length] ?? Number.POSITIVE_INFINITY;
}

/** Words longer than this are not compared. */
const LONGEST = 40;

/**
 * The known word that a mistyped one was most likely meant to be: at most a third of its letters differ, case aside.
 * `undefined` when none is near.
 */
export function findNearest(word: string, known: readonly string[]): string | undefined {
  aText(word, "word");
  listOf(aText)(known, "known");
  if (word.length > LONGEST) return undefined;
  const ranked = known
    .map((candidate) => ({ candidate, distance: editDistance(word.toLowerCase(), candidate.toLowerCase()) }))
    .filter(({ candidate, distance }) => distance <= Math.max(1, Math.floor(candidate.length / 3)))
    .sort((one, other) => one.distance - other.distance);
  return ranked[0]?.candidate;
}

/** "; did you mean …?" for the nearest known word, or nothing. */
export function suggest(word: string, known: readonly string[]): string {
  const nearest = findNearest(word, known);
  return nearest === undefined ? "" : `; did you mean "${nearest}"?`;
}
