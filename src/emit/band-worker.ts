import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { setImmediate as nextTurn } from "node:timers/promises";
import { deserialize } from "node:v8";
import type { PixelImage } from "../image/index.js";
import { type Engine, openNativePipeline, wasmEngine } from "../raster/index.js";
import { dropPicture, pictureFreer } from "./bands/picture-memory.js";
import { openStore, type RowsWork } from "./bands/store-rows.js";
import { type BandWork, makeBands, makeDrawn, prepareWork } from "./bands/work.js";
import { EXIT_MEMORY, failureOf, type WorkerAnswer, type WorkerTask } from "./bands/worker-words.js";
import { zlibHere } from "./deflate/zlib.js";

/** How often a worker looks at its own memory, in ms: renderings run on threads, so that it can. */
const LOOK = 100;

/**
 * So many bands of one colourway are packed until all garbage is collected. After every one it took 5 to 8 % more time for
 * some 10 MB less, and never, 90 MB more. Of planes, which leave little, it took 5 to 15 % more time.
 */
const WHOLE_AFTER = 2;

const [engineName = "native", limit = "0"] = process.argv.slice(2);
const memoryLimit = Number(limit);

/** What draws bands of one colourway, and what draws ink planes, which fill the memory without pictures that wait. */
async function openEngines(): Promise<{ readonly direct: Engine; readonly planes: Engine }> {
  if (engineName === "wasm") {
    const module = createRequire(import.meta.url).resolve("@resvg/resvg-wasm/index_bg.wasm");
    const engine = await wasmEngine(await readFile(module));
    return { direct: engine, planes: engine };
  }
  // One thread draws. With more of them each would keep memory of its own for its pictures, twice as much in all.
  const [direct, planes] = [
    openNativePipeline(pictureFreer(WHOLE_AFTER), 2),
    openNativePipeline(pictureFreer(Infinity), 1),
  ];
  return { direct: await direct, planes: await planes };
}

const engines = openEngines();
/** What the tasks of the work share that was sent last. */
let known: { readonly key: number; readonly made: unknown } | undefined;

/** What tasks share, made once from what was sent with the first of them. */
function share<Sent, Made>(
  { key, shared }: { readonly key: number; readonly shared?: Uint8Array },
  make: (sent: Sent) => Made,
): Made {
  if (known?.key === key) return known.made as Made;
  if (shared === undefined) throw new RangeError(`work ${key} was never sent`);
  const made = make(deserialize(shared) as Sent);
  known = { key, made };
  return made;
}

/** Tasks begin one a turn: the first one's drawing is with the renderer's thread before the next one is looked at. */
let begun: Promise<unknown> = engines;

/** When the last answer has left. */
let sent: Promise<void> = Promise.resolve();

function send(answer: WorkerAnswer): void {
  sent = new Promise((resolve) => {
    process.send?.(answer, undefined, undefined, () => resolve());
  });
}

/**
 * An engine whose pictures are noted, and wait until the last answer has left: while they are packed nothing leaves, and
 * the pool would tell the next task too late.
 */
const noting =
  (engine: Engine, pictures: PixelImage[]): Engine =>
  async (svg, size) => {
    const picture = await engine(svg, size);
    pictures.push(picture);
    await sent;
    return picture;
  };

async function answer(task: WorkerTask, pictures: PixelImage[]): Promise<unknown> {
  begun = begun.then(nextTurn);
  await begun;
  const { direct, planes } = await engines;
  const draw = noting(direct, pictures);
  switch (task.kind) {
    case "render":
      return draw(task.svg, task.size);
    case "drawn":
      return makeDrawn(
        share(task, (work: RowsWork) => openStore(work, zlibHere)),
        task,
        draw,
      );
    case "planes":
      return makeBands(
        share(task, (work: BandWork) => prepareWork(work, zlibHere)),
        task.task,
        { engine: planes },
      );
  }
}

/** Without its pool a worker is an orphan. A rendering on a thread would hold up a tidy exit. */
process.on("disconnect", () => process.kill(process.pid, "SIGKILL"));
// A terminal tells all its processes to stop; the pool decides what becomes of its workers.
process.on("SIGINT", () => {});

if (memoryLimit > 0) {
  setInterval(() => {
    if (process.memoryUsage.rss() > memoryLimit) process.exit(EXIT_MEMORY);
  }, LOOK).unref();
}

process.on("message", (task: WorkerTask) => {
  const pictures: PixelImage[] = [];
  answer(task, pictures)
    .then(
      (result) => send({ id: task.id, kind: "done", result, resident: process.memoryUsage.rss() }),
      (error) => send({ id: task.id, kind: "failed", error: failureOf(error) }),
    )
    // What is sent has been copied: rows that are stored as they are lie in their picture.
    .finally(() => pictures.forEach(dropPicture));
});
