import { type ChildProcess, spawn } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BandQueue, makeJob, serveBands } from "../src/batch/index.js";
import { readBudget } from "../src/emit/bands/budget.js";
import { type BandWork, type EmitTileOptions, emitSeparations, emitTile } from "../src/emit/index.js";
import { day, dusk, longCell } from "../src/emit/leaves.fixture.js";
import { halfDrop, type Print, pixelGrid, straight } from "../src/index.js";
import { expectGone } from "./expect-gone.fixture.js";
import { filesIn } from "./files-in.fixture.js";
import { installCommand } from "./installed-command.fixture.js";
import { freePort, hasRedis, type RedisServer, startRedis } from "./redis-server.fixture.js";

// The bands of one print are drawn by several machines, here processes of the installed command: the bytes are the same,
// whoever comes, goes or dies meanwhile.

/** So many bands a machine of one process takes at a time. */
const PLACES = readBudget({ workers: 1 }).bands;
/** Eight tasks at 120 dpi: as many as both machines take at a time. */
const large = straight({ ...longCell, name: "Many leaves", width: 750 });

/** A machine that serves. */
interface Machine {
  readonly child: ChildProcess;
  readonly said: () => string;
  readonly end: Promise<number | NodeJS.Signals | null>;
}

describe.skipIf(!hasRedis)("a queue across machines", () => {
  let folder = "";
  let main = "";
  let job = "";
  /** The profile of a press. */
  let press: Uint8Array = new Uint8Array();
  let server: RedisServer;
  const machines: Machine[] = [];

  const run = (...words: readonly string[]): Machine => runProgram(main, words);
  const runProgram = (program: string, words: readonly string[]): Machine => {
    const child = spawn(process.execPath, [program, ...words], {
      stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, TMPDIR: folder }, // what one leaves that is killed
    });
    let text = "";
    for (const stream of [child.stdout, child.stderr]) {
      stream.on("data", (some) => {
        text += String(some);
      });
    }
    const end = new Promise<number | NodeJS.Signals | null>((done) =>
      child.once("close", (code, signal) => done(code ?? signal)),
    );
    return { child, said: () => text, end };
  };
  /** A machine that serves already. */
  const startMachine = async (program = main): Promise<Machine> => {
    const machine = runProgram(program, ["serve", server.url, "--workers", "1", "--patience", "1"]);
    machines.push(machine);
    while (!machine.said().includes("serving")) {
      if (machine.child.exitCode !== null) throw new Error(machine.said());
      await wait(10);
    }
    return machine;
  };
  const keysOf = async (): Promise<readonly string[]> => server.redis.keys("*");
  /** How many tasks machines are at. */
  const countActive = async (): Promise<number> => {
    const [list] = (await keysOf()).filter((key) => key.endsWith(":active"));
    return list === undefined ? 0 : server.redis.llen(list);
  };
  const untilActive = async (count: number): Promise<void> => {
    while ((await countActive()) !== count) await wait(2);
  };
  /** Holds a machine in the middle of whatever it draws; what it says and takes goes on. */
  const hold = ({ child }: Machine): readonly number[] => {
    const path = `/proc/${child.pid}/task/${child.pid}/children`;
    const drawing = readFileSync(path, "utf8").trim().split(/\s+/).map(Number);
    for (const pid of drawing) process.kill(pid, "SIGSTOP");
    return drawing;
  };
  const emit = (print: Print, name: string, options: Partial<EmitTileOptions> = {}) =>
    emitTile(print, { dpi: 120, formats: ["png"], ...options, dir: join(folder, name) });
  async function withQueue<T>(use: (queue: BandQueue) => Promise<T>): Promise<T> {
    const queue = await BandQueue.open(server.url);
    try {
      return await use(queue);
    } finally {
      await queue.close();
    }
  }

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "repetend-queue-"));
    job = join(folder, "leaves.job.json");
    const saltmarsh = join("package", "examples", "saltmarsh");
    const motifs = [{ file: join(saltmarsh, "motifs", "eddy.svg"), at: ["2cm", "2cm"], width: "3cm" }];
    const print = { name: "Eddies", layout: "brick", width: "4cm", height: "4cm", ground: "#efe6d5", motifs };
    const colourways = join(saltmarsh, "colourways.csv");
    writeFileSync(job, JSON.stringify({ print, colourways, emit: { dpi: 100, separations: {} } }));
    const pixel = sharp({ create: { width: 1, height: 1, channels: 3, background: "#1f3140" } });
    const { icc } = await sharp(await pixel.withIccProfile("cmyk").jpeg().toBuffer()).metadata();
    press = icc ?? press;
    [main, server] = await Promise.all([installCommand(join(folder, "package")), startRedis()]);
    await Promise.all([startMachine(), startMachine()]);
  }, 60_000);
  afterAll(async () => {
    for (const { child } of machines) child.kill("SIGKILL");
    await Promise.all(machines.map(({ end }) => end));
    await server.close();
    rmSync(folder, { recursive: true });
  });

  it("gives the same bytes as this process does, in every way of making them", async () => {
    await withQueue(async (maker) => {
      expect(maker.atOnce).toBe(4 * PLACES); // two machines; as many wait
      for (const [name, options] of [
        ["one", { dpi: 60, colourways: [dusk] }],
        ["planes", { colourways: [day, dusk, day] }],
        ["hard", { colourways: [day, dusk], edges: "hard", dpi: 60 }],
        ["strips", { formats: ["tiff"], length: "4m", dpi: 60 }],
        ["cmyk", { formats: ["tiff"], space: "cmyk", profile: press, dpi: 60 }], // a file that machines need not have
      ] as const) {
        const here = await emit(halfDrop(longCell), `${name}-here`, options);
        const apart = await emit(halfDrop(longCell), `${name}-apart`, { ...options, maker });
        expect(apart).toEqual(here);
        expect(filesIn(join(folder, `${name}-apart`))).toEqual(filesIn(join(folder, `${name}-here`)));
      }
      const films = { dpi: 60, trap: "0.2mm" };
      const here = await emitSeparations(straight(longCell), { ...films, dir: join(folder, "films-here") });
      const apart = await emitSeparations(straight(longCell), {
        ...films,
        maker,
        dir: join(folder, "films-apart"),
      });
      expect(apart).toEqual(here);
    });
  });

  it("serves two jobs at once, and the command makes with it what it makes alone", async () => {
    const out = (name: string) => join(folder, name);
    const made = run("make", job, "--out", out("job-apart"), "--queue", server.url);
    const [, other] = await Promise.all([
      made.end.then((code) => expect([code, made.said()]).toEqual([0, expect.stringContaining("nightjar")])),
      withQueue((maker) => emit(straight(longCell), "beside-apart", { maker, colourways: [dusk] })),
    ]);
    expect(other).toEqual(await emit(straight(longCell), "beside-here", { colourways: [dusk] }));
    await makeJob(job, { out: out("job-here"), workers: 0 });
    expect(filesIn(out("job-apart"))).toEqual(filesIn(out("job-here")));
  });

  it("passes a refusal on as the same error", async () => {
    const profile = join(folder, "none.icc");
    writeFileSync(profile, "This is no profile, and long enough to be read as the head of one. ".repeat(3));
    const print = straight(longCell);
    const encoding = {
      format: "tiff",
      colour: { kind: "cmyk" },
      compression: "none",
      rowsPerStrip: 64,
    } as const;
    const work: BandWork = {
      way: "direct",
      print,
      grid: pixelGrid(print, { dpi: 120 }),
      edges: "soft",
      across: 1,
      encodings: [{ ...encoding, colourway: day, profile }],
    };
    await withQueue(async (queue) => {
      await expect(queue.make(work, 0)).rejects.toMatchObject({ name: "RepetendError", code: "E_FORMAT" });
      await expect(queue.make({ ...work, encodings: [] }, 999)).rejects.toThrow("there is no task 999");
    });
  });

  it("takes back at once what waits when it is stopped", async () => {
    const stop = new AbortController();
    const held = machines.flatMap(hold);
    const queue = await BandQueue.open(server.url);
    const work = emit(straight({ ...longCell, width: 400 }), "stopped", {
      maker: queue,
      dpi: 300,
      signal: stop.signal,
    });
    await untilActive(2 * PLACES);
    expect((await keysOf()).filter((key) => key.endsWith(":wait"))).toHaveLength(1);
    const asked = performance.now();
    stop.abort(new Error("enough"));
    await expect(work).rejects.toThrow("enough");
    await queue.close();
    expect(performance.now() - asked).toBeLessThan(1000);
    expect((await keysOf()).filter((key) => /:wait$|:work:|:answers:/.test(key))).toEqual([]);
    expect(readdirSync(join(folder, "stopped"))).toEqual([]);
    for (const pid of held) process.kill(pid, "SIGCONT");
    await untilActive(0); // their answers go to nobody
  });

  it("refuses a task that ended two machines, and names its motifs", async () => {
    const held = machines.flatMap(hold);
    const work = withQueue((maker) =>
      emit(straight({ ...longCell, width: 400 }), "ends", { maker, dpi: 300 }),
    );
    await untilActive(2 * PLACES);
    const [list = ""] = (await keysOf()).filter((key) => key.endsWith(":wait"));
    const [id] = await server.redis.lrange(list, -1, -1); // the next that would be taken
    await server.redis.hset(list.replace(/wait$/, String(id)), "stc", 2); // as if they had been at it
    for (const pid of held) process.kill(pid, "SIGCONT");
    await expect(work).rejects.toThrow(/E_RENDER rows \d+ to \d+.*: 2 machines went away/);
  });

  it("goes on when machines end or are killed in the middle of a task, and leaves nothing behind", async () => {
    const here = await emit(large, "large-here");
    const [first, second] = machines;
    if (first === undefined || second === undefined) throw new Error("both machines serve");
    const held = [first, second].flatMap(hold);
    const work = withQueue((maker) => emit(large, "large-apart", { maker }));
    await untilActive(2 * PLACES);
    const asked = performance.now();
    first.child.kill("SIGINT");
    expect(await first.end).toBe(0);
    expect(performance.now() - asked).toBeLessThan(1000);
    expect(first.said()).toMatch(/ended after \d+ tasks?\n$/);
    expect(await countActive()).toBe(PLACES); // its tasks wait again
    second.child.kill("SIGKILL");
    expect(await second.end).toBe("SIGKILL");
    expect(await countActive()).toBe(PLACES); // its tasks, which it can no longer give back
    const third = await startMachine();
    expect(await work).toEqual(here);
    expect(third.said().match(/^Many leaves {2}rows \d+ to \d+ {2}[\d.]+ s {2}[\d.]+ k?B$/gm)).toHaveLength(
      2 * PLACES,
    );
    for (const pid of held.slice(1)) process.kill(pid, "SIGCONT"); // it finds itself an orphan
    await expectGone(held);

    await untilActive(0);
    const left = await keysOf();
    const books = ["meta", "id", "events", "stalled-check", "marker"];
    expect(left.filter((key) => !books.includes(key.split(":").at(-1) ?? ""))).toEqual([]);
    for (const key of left) {
      expect(await server.redis.pttl(key)).toBeGreaterThan(0);
      expect(await server.redis.memory("USAGE", key)).toBeLessThan(100_000);
    }
  });

  it("ends as soon as all is said, however much came back", async () => {
    const path = join(folder, "fine.job.json");
    const { print } = JSON.parse(readFileSync(job, "utf8"));
    writeFileSync(
      path,
      JSON.stringify({ print, emit: { dpi: 400, formats: ["tiff"], compression: "none" } }),
    );
    const { child, said, end } = run("make", path, "--out", join(folder, "fine"), "--queue", server.url);
    let last = 0;
    child.stdout?.on("data", () => {
      last = performance.now();
    });
    expect([await end, said()]).toEqual([0, expect.stringContaining("eddies--as-drawn.tif")]);
    // Of what is large the client of the queue keeps its memory for some seconds, which must not hold up the end.
    expect(performance.now() - last).toBeLessThan(600);
  });

  it("refuses in one line where there is no server, nobody of its kind who serves, or no address", async () => {
    const none = `redis://:secret@127.0.0.1:${await freePort()}`;
    const words = ["make", job, "--out", join(folder, "refused"), "--queue"];
    for (const { child, end } of machines) {
      child.kill("SIGINT");
      await end;
    }
    // One of another version serves: it has a queue of its own.
    const older = join(folder, "older");
    cpSync(join(folder, "package"), older, { recursive: true });
    const about = JSON.parse(readFileSync(join(older, "package.json"), "utf8"));
    writeFileSync(join(older, "package.json"), JSON.stringify({ ...about, version: "0.0.9" }));
    await startMachine(join(older, "dist", "cli", "main.js"));
    const refusals = [
      ["E_QUEUE redis://127.0.0.1:", "serve", none],
      ["E_QUEUE redis://127.0.0.1:", ...words, none],
      ["no machine serves this queue; accepted: repetend serve", ...words, server.url],
      ["E_QUEUE: not the address of a queue", "serve", "http://:secret@studio"],
      ["E_USAGE: with --queue", ...words, server.url, "--workers", "2"],
    ] as const;
    const all = refusals.map(async ([said, ...line]) => {
      const command = run(...line);
      expect([await command.end, command.said()]).toEqual([
        2,
        expect.stringMatching(/^repetend: E_[^\n]*\n$/),
      ]);
      expect(command.said()).toContain(said);
      expect(command.said()).not.toContain("secret");
    });
    await Promise.all(all);
    await expect(BandQueue.open(server.url, { patience: 0 })).rejects.toThrow(/E_NUMBER options.patience/);
    await expect(serveBands(server.url, { onTask: "log" as never })).rejects.toThrow(/E_ARGUMENT/);
    await expect(serveBands(server.url, { workers: 0 })).rejects.toThrow(/E_NUMBER/);
  });
});
