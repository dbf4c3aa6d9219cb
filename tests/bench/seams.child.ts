// A share of the seam bench's tiles, as a process of its own; prints its counts as JSON.
import sharp from "sharp";
import type { PixelImage } from "../../src/image/index.js";
import { checkSeams } from "../../src/seam/index.js";
import { composeTile, drawComposition, drawingNames, renderOpaque } from "./seams/compose.js";
import { INJECTIONS, injectFault } from "./seams/faults.js";

/** Tiles `from` up to `to`, every `step`-th. */
export interface SeamsTask {
  readonly from: number;
  readonly to: number;
  readonly step: number;
  /** No further tile is begun after so long. */
  readonly seconds: number;
  /** Each tile gets this many of the faults, in turn. */
  readonly faultsATile: number;
}

/** What became of one kind of fault. */
export interface FaultCount {
  readonly shown: number;
  readonly found: number;
  readonly named: number;
  /** Of shifts: estimated within half a pixel. */
  readonly within: number;
}

export interface SeamsAnswer {
  readonly closed: number;
  readonly falseAlarms: readonly number[];
  readonly compressed: number;
  readonly compressedAlarms: readonly number[];
  readonly faults: Readonly<Record<string, FaultCount>>;
  readonly renderSeconds: number;
  readonly checkSeconds: number;
}

async function compress(image: PixelImage): Promise<PixelImage> {
  const { width, height, data } = image;
  const jpeg = await sharp(data, { raw: { width, height, channels: 4 } })
    .removeAlpha()
    .jpeg({ quality: 85 })
    .toBuffer();
  const pixels = new Uint8Array(await sharp(jpeg).raw().toBuffer());
  return { width, height, channels: 3, data: pixels, stride: 3 * width };
}

async function run({ from, to, step, seconds, faultsATile }: SeamsTask): Promise<SeamsAnswer> {
  const names = drawingNames();
  const falseAlarms: number[] = [];
  const compressedAlarms: number[] = [];
  const faults: Record<string, { shown: number; found: number; named: number; within: number }> = {};
  let [closed, compressed, renderSeconds, checkSeconds] = [0, 0, 0, 0];
  const start = performance.now();
  for (let seed = from; seed < to && performance.now() - start < 1000 * seconds; seed += step) {
    // A renderer called in a tight loop keeps its memory.
    await new Promise((resolve) => setImmediate(resolve));
    const composition = composeTile(seed, names);
    const { layout } = composition;
    const begin = performance.now();
    const clean = renderOpaque(drawComposition(composition));
    const rendered = performance.now();
    if (!checkSeams(clean, { layout }).ok) falseAlarms.push(seed);
    checkSeconds += (performance.now() - rendered) / 1000;
    renderSeconds += (rendered - begin) / 1000;
    closed++;
    if (seed % 2 === 0) {
      if (!checkSeams(await compress(clean), { layout }).ok) compressedAlarms.push(seed);
      compressed++;
    }
    for (let k = 0; k < faultsATile; k++) {
      const injection = INJECTIONS[(seed * faultsATile + k) % INJECTIONS.length];
      if (injection === undefined) continue;
      await new Promise((resolve) => setImmediate(resolve));
      const faulty = injectFault(composition, clean, injection, seed);
      if (faulty === undefined) continue;
      const name = `${injection.name}, ${composition.edges}`;
      const count = faults[name] ?? { shown: 0, found: 0, named: 0, within: 0 };
      faults[name] = count;
      count.shown++;
      const open = checkSeams(faulty.image, { layout }).edges.filter(
        (report) => !report.ok && faulty.edges.some(({ edge }) => edge === report.edge),
      );
      if (open.length > 0) count.found++;
      const right = open.find((report) => report.kind === faulty.kind);
      if (right) count.named++;
      if (right?.shift && Math.abs(Math.abs(right.shift.along) - (faulty.shift ?? 0)) <= 0.5) count.within++;
    }
  }
  return { closed, falseAlarms, compressed, compressedAlarms, faults, renderSeconds, checkSeconds };
}

console.log(JSON.stringify(await run(JSON.parse(process.argv[2] ?? "{}") as SeamsTask)));
