/** Lines that follow each other: five numbers each, x0, y0, x1, y1 and how far around is painted. */
type Lines = readonly number[];

const NUMBERS = 5;
/** More lines than these are followed more and more coarsely: each is held against each of a neighbour. */
const MOST_LINES = 4_000;
const MOST_ROUNDS = 12;

/**
 * Fewer lines that hold all that these do: neighbours in a run become one, as long as what lies between is no farther
 * from it than `within`, which is then painted around it. A drawing of very many lines is followed more coarsely.
 */
export function joinLines(lines: Lines, within: number): Lines {
  let [joined, stray] = [joinOnce(lines, within), within];
  for (let round = 0; joined.length > MOST_LINES * NUMBERS && round < MOST_ROUNDS; round += 1) {
    stray *= 2;
    joined = joinOnce(lines, stray);
  }
  return joined;
}

function joinOnce(lines: Lines, within: number): Lines {
  const joined: number[] = [];
  for (let first = 0; first < lines.length; ) {
    const radius = lines[first + 4] ?? 0;
    let [last, stray] = [first, 0];
    while (follows(lines, last, radius) && last - first < MOST_JOINED * NUMBERS) {
      const farther = strayOf(lines, first, last + NUMBERS);
      if (farther > within) break;
      stray = farther;
      last += NUMBERS;
    }
    const [x0, y0] = [lines[first] ?? 0, lines[first + 1] ?? 0];
    joined.push(x0, y0, lines[last + 2] ?? 0, lines[last + 3] ?? 0, radius + stray);
    first = last + NUMBERS;
  }
  return joined;
}

/** So many lines at most become one, since all between are looked at for each. */
const MOST_JOINED = 64;

/** Whether the next line begins where this one ends, and is as broad. */
function follows(lines: Lines, at: number, radius: number): boolean {
  const next = at + NUMBERS;
  return (
    next < lines.length &&
    lines[next] === lines[at + 2] &&
    lines[next + 1] === lines[at + 3] &&
    lines[next + 4] === radius
  );
}

/** How far the points between stray from the line from the first one's start to the last one's end. */
function strayOf(lines: Lines, first: number, last: number): number {
  const [x0, y0] = [lines[first] ?? 0, lines[first + 1] ?? 0];
  const [dx, dy] = [(lines[last + 2] ?? 0) - x0, (lines[last + 3] ?? 0) - y0];
  const length = dx * dx + dy * dy;
  let most = 0;
  for (let k = first; k < last; k += NUMBERS) {
    const [x, y] = [(lines[k + 2] ?? 0) - x0, (lines[k + 3] ?? 0) - y0];
    const t = length === 0 ? 0 : Math.min(1, Math.max(0, (x * dx + y * dy) / length));
    const [px, py] = [x - t * dx, y - t * dy];
    most = Math.max(most, px * px + py * py);
  }
  return Math.sqrt(most);
}
