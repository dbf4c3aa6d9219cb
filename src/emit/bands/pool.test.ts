import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bundleProgram } from "../../../bundle.mjs";
import { RepetendError } from "../../errors.js";
import { brick, halfDrop, type Print, pixelGrid, straight } from "../../repeat/index.js";
import { BandPool, type BandPoolOptions, type EmitTileOptions, emitTile } from "../index.js";
import { day, dusk, longCell } from "../leaves.fixture.js";
import type { BandWork } from "./work.js";

let dir = "";
let bundles = "";
/** The worker's program as it is published, in one file: it starts in a tenth of the time that the sources take. */
let bundled = "";
beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), "repetend-pool-"));
  // It loads other packages, so that it must lie where they are found.
  bundles = mkdtempSync(fileURLToPath(new URL("../../../node_modules/.repetend-pool-", import.meta.url)));
  bundled = join(bundles, "band-worker.mjs");
  await bundleProgram(fileURLToPath(new URL("../band-worker.ts", import.meta.url)), bundled);
});
afterAll(() => {
  rmSync(dir, { recursive: true });
  rmSync(bundles, { recursive: true });
});

/** A program for the processes: the package's own, which runs this code before it does a task. */
function programOf(name: string, code: string): URL {
  const path = join(dir, name);
  const text = `
    import { existsSync, writeFileSync } from "node:fs";
    const on = process.on.bind(process);
    const before = () => { ${code} };
    process.on = (event, listener) => on(event, event === "message" ? (task) => { before(); listener(task); } : listener);
    await import("${pathToFileURL(bundled)}");`;
  writeFileSync(path, text);
  return pathToFileURL(path);
}

async function withPool<T>(options: BandPoolOptions, use: (pool: BandPool) => Promise<T>): Promise<T> {
  const pool = new BandPool({ program: pathToFileURL(bundled), ...options });
  try {
    return await use(pool);
  } finally {
    await pool.close();
  }
}

const emit = (print: Print, folder: string, options: Partial<EmitTileOptions>) =>
  emitTile(print, { dpi: 120, formats: ["png"], ...options, dir: join(dir, folder) });

const codeOf = (error: unknown) => (error instanceof RepetendError ? error.code : error);

describe("BandPool", () => {
  it("draws one band a turn, so that a program goes on meanwhile", async () => {
    const print = straight({ ...longCell, height: 8 * 1800 });
    const encodings = [{ format: "png", colour: { kind: "rgba" }, colourway: day }] as const;
    const drawn: number[] = [];
    let turn = 0;
    const work: BandWork = {
      way: "direct",
      print,
      grid: pixelGrid(print, { dpi: 120 }),
      across: 1,
      encodings,
      // Asked for where a band is drawn.
      get edges(): "soft" {
        drawn.push(turn);
        return "soft";
      },
    };
    await withPool({ workers: 1 }, async (pool) => {
      const count = () => {
        turn++;
        if (drawn.length < 3) setImmediate(count);
      };
      setImmediate(count);
      const made = await Promise.all([0, 1, 2].map((task) => pool.make(work, task)));
      expect(made.map((bands) => bands?.length)).toEqual([1, 1, 1]);
    });
    expect(new Set(drawn).size).toBe(3);
  });

  it("gives the same bytes as this process does, in every way of making them", async () => {
    await withPool({ workers: 2 }, async (maker) => {
      for (const [name, options] of [
        ["one", {}],
        ["planes", { colourways: [day, dusk, day] }],
        ["hard", { colourways: [day, dusk], edges: "hard" }],
        ["length", { length: "4m", dpi: 60, colourways: [dusk] }],
        // Such rows lie in the picture that was drawn, whose memory is given back.
        ["stored", { formats: ["tiff"], compression: "none" }],
      ] as const) {
        const { ground, ...bare } = longCell;
        const prints = [straight(longCell), halfDrop(longCell), brick({ ...longCell, grain: "x" })];
        for (const print of name === "stored" ? [...prints, straight(bare)] : prints) {
          const here = await emit(print, `${name}-here`, options);
          const apart = await emit(print, `${name}-apart`, { ...options, maker });
          expect(apart).toEqual(here);
          expect(here.files.length).toBeGreaterThan(0);
        }
      }
    });
  });

  it("is a program without what only reading a drawing takes, since each process loads it anew", () => {
    const program = readFileSync(bundled, "utf8");
    expect(program).toMatch(/^\/\/ .*node_modules\//m);
    expect(program).not.toMatch(/^\/\/ .*node_modules\/(css-tree|saxes|svgson|css-select)\//m);
  });

  it("tries a task again whose process died, and finishes the file", async () => {
    const mark = join(dir, "died");
    const program = programOf(
      "dies-once.mjs",
      `if (!existsSync("${mark}")) { writeFileSync("${mark}", ""); process.kill(process.pid, "SIGSEGV"); }`,
    );
    const here = await emit(straight(longCell), "once-here", {});
    const apart = await withPool({ workers: 2, program }, (maker) =>
      emit(straight(longCell), "once-apart", { maker }),
    );
    expect(existsSync(mark)).toBe(true);
    expect(apart).toEqual(here);
  });

  it("refuses after a second death and names rows and motifs; nothing half done is left", async () => {
    const program = programOf("dies.mjs", `process.kill(process.pid, "SIGSEGV");`);
    const work = withPool({ workers: 2, program }, (maker) => emit(straight(longCell), "dies", { maker }));
    const error = await work.catch((reason: unknown) => reason);
    expect(codeOf(error)).toBe("E_RENDER");
    expect(String(error)).toMatch(
      /rows \d+ to \d+(, with leaf)?: the renderer failed 2 times: it ended with SIGSEGV/,
    );
    expect(readdirSync(join(dir, "dies"))).toEqual([]);
  });

  it("ends a process that hangs, and one that takes too much memory", async () => {
    const hangs = programOf("hangs.mjs", "for (;;);");
    const slow = withPool({ workers: 1, program: hangs, timeLimit: 0.2 }, (maker) =>
      emit(straight(longCell), "hangs", { maker }),
    );
    await expect(slow).rejects.toThrow(/it took more than 0.2 s/);
    const grows = programOf("grows.mjs", "globalThis.held = Buffer.alloc(2 ** 29, 1);");
    const large = withPool({ workers: 1, program: grows, memory: 300 * 2 ** 20 }, (maker) =>
      emit(straight({ ...longCell, width: 500 }), "grows", { maker, dpi: 300 }),
    );
    await expect(large).rejects.toThrow(/it took more than \d+ MB/);
  });

  it("starts a further process for long work only", async () => {
    const started = () => readdirSync(dir).filter((name) => name.startsWith("busy-")).length;
    const busy = (milliseconds: number) =>
      programOf(
        `busy${milliseconds}.mjs`,
        `writeFileSync("${join(dir, "busy-")}" + process.pid, "");
         Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ${milliseconds});`,
      );
    const many = straight({ ...longCell, height: 7200 }); // nine tasks
    await withPool({ workers: 3, program: busy(0) }, (maker) => emit(many, "short", { maker }));
    expect(started()).toBe(1);
    await withPool({ workers: 3, program: busy(600) }, (maker) => emit(many, "long", { maker }));
    expect(started()).toBeGreaterThan(2);
  });

  it("stops at once when it is told to, and leaves no process behind", async () => {
    const mark = join(dir, "pids");
    const program = programOf("slow.mjs", `writeFileSync("${mark}-" + process.pid, ""); for (;;);`);
    const stop = new AbortController();
    const before = performance.now();
    const pool = new BandPool({ workers: 2, program });
    const work = emit(straight(longCell), "stopped", { maker: pool, signal: stop.signal });
    while (readdirSync(dir).filter((name) => name.startsWith("pids-")).length < 1) await wait(20);
    await wait(100);
    const asked = performance.now();
    stop.abort(new Error("enough"));
    await expect(work).rejects.toThrow("enough");
    expect(performance.now() - asked).toBeLessThan(1000);
    await pool.close();
    expect(performance.now() - before).toBeLessThan(30_000);
    const pids = readdirSync(dir).flatMap((name) =>
      name.startsWith("pids-") ? [Number(name.slice(5))] : [],
    );
    for (const pid of pids) expect(() => process.kill(pid, 0)).toThrow();
    expect(readdirSync(join(dir, "stopped"))).toEqual([]);
  });

  it("runs from the sources too, as this package's own tests do", async () => {
    const pool = new BandPool({ workers: 1 });
    const here = await emit(straight(longCell), "sources-here", { dpi: 20 });
    expect(await emit(straight(longCell), "sources-apart", { dpi: 20, maker: pool })).toEqual(here);
    await pool.close();
  });

  it("renders with the other engine as with the native one", async () => {
    const here = await emit(straight(longCell), "engine-here", { dpi: 60 });
    const apart = await withPool({ workers: 1, engine: "wasm" }, (maker) =>
      emit(straight(longCell), "engine-apart", { dpi: 60, maker }),
    );
    expect(apart).toEqual(here);
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="4" height="3"><path d="M0 0H4V3Z" fill="red"/></svg>';
    const image = await withPool({ workers: 1 }, (pool) => pool.render(svg, { width: 4, height: 3 }));
    expect([image.width, image.height, [...image.data.subarray(8, 12)]]).toEqual([4, 3, [255, 0, 0, 255]]);
  });

  it("refuses a tile that is too wide for its memory before it draws, and says what would do", async () => {
    // 30,236 px.
    const wide = straight({ ...longCell, width: 1280, height: 180 });
    const work = withPool({ workers: 1, memory: 400e6 }, (maker) => emit(wide, "wide", { maker, dpi: 600 }));
    const error = await work.catch((reason: unknown) => reason);
    expect(codeOf(error)).toBe("E_TOO_LARGE");
    expect(error).toMatchObject({ where: "memory", accepted: "505 MB or more, or a narrower tile" });
    expect(existsSync(join(dir, "wide"))).toBe(false);
    // 14 megapixels in many colourways at once: at 350 MB their bands ended the process each time.
    const large = straight({ ...longCell, width: 320, height: 320 });
    const colourways = [day, dusk, day];
    const many = withPool({ workers: 1, memory: 350e6 }, (maker) =>
      emit(large, "many", { maker, dpi: 300, colourways }),
    );
    await expect(many).rejects.toThrow(/E_TOO_LARGE memory: .*or one colourway at a time/);
  });

  it("refuses what is under way when it is closed, and what comes after, as any refusal", async () => {
    const pool = new BandPool({ program: pathToFileURL(bundled), workers: 1 });
    const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="4" height="3"/>';
    const underWay = pool.render(svg, { width: 4, height: 3 }).catch(codeOf);
    await pool.close();
    await pool.close();
    expect(await underWay).toBe("E_USAGE");
    expect(await emit(straight(longCell), "closed", { maker: pool }).catch(codeOf)).toBe("E_USAGE");
  });

  it("refuses options that make no sense", () => {
    for (const options of [{ workers: 0 }, { workers: 1.5 }, { memory: 1000 }]) {
      expect(() => new BandPool(options)).toThrow(/E_NUMBER/);
    }
    // So much is enough for one process.
    expect(new BandPool({ workers: 64, memory: 2 ** 29 }).atOnce).toBe(new BandPool({ workers: 1 }).atOnce);
  });
});
