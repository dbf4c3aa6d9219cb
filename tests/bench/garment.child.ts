import { fileURLToPath } from "node:url";
import { readGarments } from "../../src/batch/garments/read-garments.js";
import { buildPrint, readJob, readJobColourways } from "../../src/batch/index.js";
import { type Dressed, dress, recolourDressed, writeDressed } from "../../src/garment/index.js";
import type { Placement, Print } from "../../src/repeat/index.js";
import { median } from "./measure.js";

/** What one process measures. */
export interface GarmentTask {
  readonly rounds: number;
  /** How many times as many motifs lie in the print, one below the other. */
  readonly motifs: number;
}

/** Wall and processor seconds. */
export interface Taken {
  readonly wall: number;
  readonly cpu: number;
}

export interface GarmentAnswer {
  /** Reading the job, the sketch and the motifs, and building the print. */
  readonly reading: Taken;
  /** The first time, with code that nobody has run yet. */
  readonly first: Taken;
  /** Dressing, three colourways and three texts. */
  readonly all: Taken;
  readonly dressing: Taken;
  readonly paths: number;
  readonly bytes: number;
  /** The largest miss of a path, in mm of the page. */
  readonly off: number;
}

async function time<T>(work: () => T | Promise<T>): Promise<{ readonly taken: Taken; readonly result: T }> {
  const before = process.cpuUsage();
  const start = performance.now();
  const result = await work();
  const wall = (performance.now() - start) / 1000;
  const { user, system } = process.cpuUsage(before);
  return { taken: { wall, cpu: (user + system) / 1e6 }, result };
}

const middle = (all: readonly Taken[]): Taken => ({
  wall: median(all.map(({ wall }) => wall)),
  cpu: median(all.map(({ cpu }) => cpu)),
});

/** The print with every placed motif several times over, at the same place: as many more paths in the same cloth. */
function multiply(print: Print, times: number): Print {
  const more = (motifs: readonly Placement[]) => Array.from({ length: times }, () => motifs).flat();
  if (print.kind === "all-over") return { ...print, motifs: more(print.motifs) };
  return { ...print, bands: print.bands.map((band) => ({ ...band, motifs: more(band.motifs) })) };
}

const countPaths = (dressed: Dressed): number => writeDressed(dressed).match(/<path/g)?.length ?? 0;

const task = JSON.parse(process.argv[2] ?? "{}") as GarmentTask;
const path = fileURLToPath(new URL("../../examples/saltmarsh/border.job.json", import.meta.url));
const reading = await time(async () => {
  const job = await readJob(path);
  const [garment] = await readGarments(job);
  if (garment === undefined) throw new Error("the job has no garment");
  return { print: await buildPrint(job), garment, colourways: (await readJobColourways(job)).slice(0, 3) };
});
const { garment, colourways } = reading.result;
const print = multiply(reading.result.print, task.motifs);
const { options } = garment;

const dressAll = () => {
  const dressed = dress(garment.sketch, print, options);
  return colourways.map((one) => writeDressed(recolourDressed(dressed, one)));
};

const first = await time(dressAll);
const all: Taken[] = [];
const dressing: Taken[] = [];
let last = dress(garment.sketch, print, options);
for (let round = 0; round < task.rounds; round += 1) {
  all.push((await time(dressAll)).taken);
  const alone = await time(() => dress(garment.sketch, print, options));
  dressing.push(alone.taken);
  last = alone.result;
}
const answer: GarmentAnswer = {
  reading: reading.taken,
  first: first.taken,
  all: middle(all),
  dressing: middle(dressing),
  paths: countPaths(last),
  bytes: first.result[0]?.length ?? 0,
  off: Math.max(...last.report.panels.map(({ off }) => off)),
};
console.log(JSON.stringify(answer));
