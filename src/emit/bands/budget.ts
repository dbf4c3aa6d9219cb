import { availableParallelism } from "node:os";
import { RepetendError } from "../../errors.js";
import { WIDEST_PIECE } from "../../raster/index.js";
import type { PixelGrid } from "../../repeat/index.js";
import type { BandWork } from "./work.js";

/**
 * What one process takes at most, measured on tiles of 3,780 px: 155 MB for the bands of one colourway one by one, 210 MB
 * with the WebAssembly engine, and 295 MB for those of twenty-four colourways. What it should have, for two at a time; and
 * what the one that leads them takes.
 */
const WORKER_BYTES = { least: 200e6, usual: 350e6 };
const LEADER_BYTES = 98e6;

/** What the bands are of that a process makes. */
type BandsOf = Pick<BandWork, "way" | "keepsPlanes"> & {
  readonly grid: { readonly tile: PixelGrid["tile"] };
};

/** Bytes that a process takes: to start; for its pictures, where they are as large as they may be; and for a column. */
const TAKEN = {
  start: 80e6,
  direct: { pictures: 62e6, column: 6500 },
  planes: { pictures: 190e6, column: 3500 },
};

/**
 * Bytes for each further band at a time: while one is rendered on a thread, another is packed. Of a direct rendering a
 * third and a fourth wait as text, so that the thread goes on without this one's help; but then drawn ones wait more often,
 * and where each is drawn in several pieces, the first ones of a third.
 */
const FURTHER = { whole: [85e6, 0, 0], inPieces: [50e6, 50e6], planes: [140e6] };

/** So many bands a process makes at a time at most. */
const TOGETHER = 1 + FURTHER.whole.length;

function furtherFor({ way, grid: { tile } }: BandsOf): readonly number[] {
  if (way !== "direct") return FURTHER.planes;
  return tile.width > WIDEST_PIECE ? FURTHER.inPieces : FURTHER.whole;
}

const takenBy = ({ way }: BandsOf) => (way === "direct" ? TAKEN.direct : TAKEN.planes);

/** Share of the largest pictures that are drawn in one go, which a tile's bands have. */
const fullness = ({ width, height }: PixelGrid["tile"]): number => Math.min(1, (width * height) / 4.2e6);

/**
 * Below this a process cannot make bands of a tile, however often it starts anew. Measured between 155 MB at 3,780 px and
 * 240 MB at 15,118 px (330 MB at 30,236), and of many colourways at once between 285 and 320 MB.
 */
function leastFor(work: BandsOf): number {
  const { tile } = work.grid;
  const { pictures, column } = takenBy(work);
  return TAKEN.start + pictures * fullness(tile) + column * tile.width * Math.min(1, tile.height / 384);
}

/** Where no budget is given, a process that grows beyond this is beyond hope: 3 GiB. */
const MEMORY_LIMIT = 3 * 2 ** 30;

/** What the processes of a pool may use. */
export interface BandBudget {
  /** Bands that are made at a time at most. */
  readonly bands: number;
  readonly processes: number;
  /** As many processes as there may be where memory does not matter. */
  readonly workers: number;
  /** For each process, in bytes. */
  readonly limit: number;
}

/**
 * How many bands and processes there may be, and how large each.
 *
 * @throws `RepetendError` E_NUMBER for options out of range.
 */
export function readBudget({
  workers = availableParallelism(),
  memory,
}: {
  readonly workers?: number;
  readonly memory?: number;
}): BandBudget {
  if (!Number.isInteger(workers) || workers < 1) {
    throw new RepetendError("E_NUMBER", "there is at least one worker process", {
      where: "workers",
      value: String(workers),
      accepted: "a whole number from 1 on",
    });
  }
  if (memory === undefined) {
    return { bands: workers * TOGETHER, processes: workers, workers, limit: MEMORY_LIMIT };
  }
  if (!(memory >= LEADER_BYTES + WORKER_BYTES.least)) {
    throw new RepetendError("E_NUMBER", "the memory is too small for one worker process", {
      where: "memory",
      value: `${Math.floor(memory / 1e6)} MB`,
      accepted: `${Math.ceil((LEADER_BYTES + WORKER_BYTES.least) / 1e6)} MB or more`,
    });
  }
  const fit = Math.floor((memory - LEADER_BYTES) / WORKER_BYTES.usual);
  const processes = Math.min(workers, Math.max(1, fit));
  const limit = (memory - LEADER_BYTES) / processes;
  return { bands: processes * TOGETHER, processes, workers, limit };
}

/** How many bands a process makes at a time. */
export function bandsTogether({ limit }: BandBudget, work: BandsOf): number {
  // The planes themselves gather in the process that leads, which has the room of a second band for them.
  if (work.keepsPlanes === true) return 1;
  const full = fullness(work.grid.tile);
  let room = limit - leastFor(work);
  let bands = 1;
  for (const bytes of furtherFor(work)) {
    room -= bytes * full;
    if (room < 0) break;
    bands++;
  }
  return bands;
}

/**
 * Refuses a tile whose bands do not fit into a process, before anything is drawn.
 *
 * @throws `RepetendError` E_TOO_LARGE.
 */
export function checkRoom({ limit, workers }: BandBudget, work: BandsOf): void {
  const least = leastFor(work);
  if (least <= limit) return;
  const [what, less] =
    work.way === "direct"
      ? ["bands as wide as this tile", "a narrower tile"]
      : ["many colourways at once", "one colourway at a time"];
  // With more memory there are more processes, so that only what is enough for all of them is enough.
  const enough = (count: number): number => Math.ceil((LEADER_BYTES + count * 1.2 * least) / 1e6);
  const one = `${enough(1)} MB or more${workers > 1 ? " with one worker" : ""}`;
  const all = workers > 1 ? `, ${enough(workers)} MB with ${workers}` : "";
  throw new RepetendError("E_TOO_LARGE", `the memory is too small for ${what}`, {
    where: "memory",
    value: `${Math.floor(limit / 1e6)} MB a process, ${work.grid.tile.width} px`,
    accepted: `${one}${all}, or ${less}`,
  });
}
