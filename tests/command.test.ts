import { createHash } from "node:crypto";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Manifest } from "../src/batch/index.js";
import { runCommand } from "../src/cli/index.js";
import { filesIn } from "./files-in.fixture.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-command-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Runs a command line in this process. */
async function run(argv: readonly string[], signal?: AbortSignal) {
  const [out, err]: string[][] = [[], []];
  const code = await runCommand(argv, {
    stdout: { write: (text) => out?.push(text) },
    stderr: { write: (text) => err?.push(text) },
    ...(signal === undefined ? {} : { signal }),
  });
  return { code, stdout: (out ?? []).join(""), stderr: (err ?? []).join("") };
}

/** The Saltmarsh example with another resolution and without garments and sheets, as a technician would change it. */
async function newExample(name: string, dpi: number): Promise<string> {
  const dir = join(folder, name);
  expect((await run(["new", dir])).code).toBe(0);
  for (const job of ["border", "half-drop", "brick"]) {
    const path = join(dir, `${job}.job.json`);
    const text = readFileSync(path, "utf8").replace(
      / {2}"garments": \[[\s\S]*?\n {2}\],\n|,\s*"(?:sheet|board|lineSheet)": true/g,
      "",
    );
    writeFileSync(path, text.replace(/"dpi": \d+/, `"dpi": ${dpi}`));
  }
  return dir;
}

describe("repetend", () => {
  it("helps, and says its version", async () => {
    expect(await run(["--version"])).toEqual({ code: 0, stdout: "0.1.0\n", stderr: "" });
    const help = await run(["--help"]);
    expect(help.code).toBe(0);
    for (const command of ["make", "check", "inks", "preview", "new"]) {
      expect(help.stdout).toContain(`  ${command} `);
      const own = await run([command, "--help"]);
      expect([own.code, own.stderr]).toEqual([0, ""]);
      expect(own.stdout).toContain(`Usage: repetend ${command} `);
    }
    expect((await run([])).code).toBe(2);
  });

  it("suggests the command and the option that was meant, in one line", async () => {
    const refusals = [
      [["mkae", "a.json"], 'did you mean "make"?'],
      [["make", "a.json", "--dryrun"], 'did you mean "--dry-run"?'],
      [["make"], "JOB.json is missing"],
      [["make", "a", "b"], "too many operands: b"],
      [["make", "a", "--out"], "--out needs a value"],
      [["make", "a", "--strict=yes"], "--strict takes no value"],
      [["check", "a", "--dpi", "much"], "--dpi is a number above 0"],
      [["make", "a", "--workers", "two"], "--workers is a whole number"],
      [["make", "a", "--memory", "512"], "--memory is a size of memory"],
      [["make", "a", "--crop", "1cm 2cm"], "--crop is four lengths"],
      [["check", "a", "--layout", "twill"], "there is no such layout"],
      [["--colour"], "there is no option --colour"],
    ] as const;
    for (const [argv, words] of refusals) {
      const { code, stdout, stderr } = await run(argv);
      expect([argv, code, stdout]).toEqual([argv, 2, ""]);
      expect(stderr).toContain(words);
      expect(stderr).toMatch(/^repetend: E_USAGE[ :][^\n]*\n$/);
    }
  });

  it("tells what is wrong with a job in one line with its place", async () => {
    const path = join(folder, "bad.job.json");
    writeFileSync(path, '{\n  "print": { "name": "A", "layout": "border", "repeat": "32 barns" }\n}');
    const { code, stderr } = await run(["make", path]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/^repetend: E_JOB .*bad\.job\.json:2:47 print\.repeat: [^\n]*32 barns[^\n]*\n$/);
    expect((await run(["make", join(folder, "missing.job.json")])).stderr).toMatch(
      /^repetend: E_READ [^\n]*\n$/,
    );
    const drawing = join(folder, "torn.svg");
    writeFileSync(drawing, "<svg");
    expect((await run(["inks", drawing])).stderr).toContain(`E_XML ${drawing}:1:`);
  });
});

describe("repetend new", () => {
  it("writes an example that stands alone, and nothing over what is there", async () => {
    const dir = await newExample("new", 20);
    expect(readdirSync(dir)).toContain("border.job.json");
    expect(existsSync(join(dir, "job.schema.json"))).toBe(true);
    expect(readFileSync(join(dir, "border.job.json"), "utf8")).toContain('"$schema": "job.schema.json"');
    const before = filesIn(join(dir, "motifs"));
    const again = await run(["new", dir]);
    expect([again.code, again.stdout]).toEqual([2, ""]);
    expect(again.stderr).toContain("E_WRITE");
    expect(filesIn(join(dir, "motifs"))).toEqual(before);
  });
});

describe("repetend make", () => {
  it("writes a border in three colourways as the manifest says, the same on every run", async () => {
    const dir = await newExample("border", 25.4);
    const job = join(dir, "border.job.json");
    const out = join(dir, "out");

    const plan = await run(["make", job, "--dry-run"]);
    expect(plan.code).toBe(0);
    expect(plan.stdout).toContain("saltmarsh-border--low-tide.png  320 x 1400 px  320 x 1400 mm");
    expect(existsSync(out)).toBe(false);

    const { code, stdout, stderr } = await run(["make", job, "--json"]);
    expect(code).toBe(0);
    const manifest: Manifest = JSON.parse(stdout);
    expect(JSON.parse(readFileSync(join(out, "manifest.json"), "utf8"))).toEqual(manifest);
    expect(manifest).toMatchObject({
      print: "Saltmarsh border",
      layout: "border",
      repeats: { x: true, y: false },
    });
    expect(manifest.files.map((file) => file.path)).toEqual(
      ["low-tide", "samphire", "nightjar"].flatMap((name) => [
        `saltmarsh-border--${name}.svg`,
        `saltmarsh-border--${name}.png`,
      ]),
    );
    expect(readdirSync(out).sort()).toEqual(
      [...manifest.files.map((file) => file.path), "manifest.json"].sort(),
    );
    for (const file of manifest.files) {
      const bytes = readFileSync(join(out, file.path));
      expect(file.bytes).toBe(bytes.length);
      expect(file.sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
      expect(file.mm).toEqual({ width: 320, height: 1400 });
      if (file.format === "svg") continue;
      // 1 px a mm: 25.4 dpi is 1000 px/m in pHYs (PNG specification, section 11.3.5.3).
      expect(file).toMatchObject({ width: 320, height: 1400, dpi: { x: 25.4, y: 25.4 } });
      expect(file.deviation).toEqual({
        x: { microns: 0, micronsPerMetre: 0 },
        y: { microns: 0, micronsPerMetre: 0 },
      });
      expect(bytes.readUInt32BE(bytes.indexOf("pHYs") + 4)).toBe(1000);
      const { width, height, channels } = await sharp(bytes).metadata();
      expect([width, height, channels]).toEqual([320, 1400, 3]);
    }
    expect(manifest.seams.map(({ colourway, report }) => [colourway, report.ok])).toEqual([
      ["Low Tide", true],
      ["Samphire", true],
      ["Nightjar", true],
    ]);
    expect(manifest.notes.map((note) => note.code)).toContain("N_BAND_FITTED");
    const events = stderr
      .trimEnd()
      .split("\n")
      .map((line): { event: string } => JSON.parse(line));
    expect(new Set(events.map(({ event }) => event))).toEqual(new Set(["planned", "rows", "file", "seams"]));

    const before = filesIn(out);
    const quiet = await run(["make", job]);
    expect(quiet.code).toBe(0);
    expect(quiet.stdout.split("\n")).toHaveLength(7);
    expect(filesIn(out)).toEqual(before);
  });

  it("draws a hard-edged tile with its inks only, in a palette, once for all colourways", async () => {
    const dir = await newExample("hard", 25.4);
    const job = join(dir, "half-drop.job.json");
    writeFileSync(job, readFileSync(job, "utf8").replace('"edges": "soft"', '"edges": "hard"'));
    const { stdout, code } = await run(["make", job, "--json", "--out", join(dir, "hard")]);
    expect(code).toBe(0);
    const manifest: Manifest = JSON.parse(stdout);
    const inks: { inks: { ink: string }[] } = JSON.parse((await run(["inks", job, "--json"])).stdout);
    const drawn = new Set(inks.inks.map(({ ink }) => ink));
    const places: string[] = [];
    for (const file of manifest.files.filter((one) => one.format === "png")) {
      const bytes = readFileSync(join(dir, "hard", file.path));
      expect(bytes[25]).toBe(3); // colour type of IHDR: palette
      places.push(bytes.subarray(bytes.indexOf("IDAT")).toString("hex"));
    }
    expect(new Set(places).size).toBe(1);
    const lowTide = await sharp(join(dir, "hard", manifest.files[1]?.path ?? ""))
      .raw()
      .toBuffer();
    const met = new Set<string>();
    for (let at = 0; at < lowTide.length; at += 3)
      met.add(`#${lowTide.subarray(at, at + 3).toString("hex")}`);
    expect([...met].filter((ink) => !drawn.has(ink))).toEqual([]);
    expect(met.size).toBeGreaterThan(4);
  });

  it("follows scale and shrinkage along the grain", async () => {
    const dir = await newExample("grain", 25.4);
    const job = join(dir, "border.job.json");
    const text = readFileSync(job, "utf8");
    writeFileSync(
      job,
      text
        .replace(/"scale": 1/, '"scale": 0.5')
        .replace('"warp": "0%", "weft": "0%"', '"warp": "20%", "weft": "0%"'),
    );
    const { stdout } = await run(["make", job, "--dry-run", "--json"]);
    const plan: Manifest = JSON.parse(stdout);
    // A border's warp runs along x: 320 mm * 0.5 / (1 - 0.2) = 200 mm; across, 1400 mm * 0.5 = 700 mm.
    expect(plan.files[1]).toMatchObject({ width: 200, height: 700, mm: { width: 200, height: 700 } });
  });

  it("takes a plain number for millimetres", async () => {
    const dir = await newExample("millimetres", 25.4);
    const job = join(dir, "brick.job.json");
    const plan = await run(["make", job, "--dry-run", "--length", "500", "--crop", "-5 0 .5 1cm"]);
    expect([plan.code, plan.stderr]).toEqual([0, expect.not.stringContaining("E_")]);
    expect(plan.stdout).toContain("--2-repeats.svg  160 x 512 mm");
    const bad = await run(["make", job, "--dry-run", "--crop", "... 0 5 5"]);
    expect([bad.code, bad.stderr]).toEqual([2, expect.stringContaining("E_UNIT")]);
  });

  it("refuses to write over what it reads", async () => {
    const dir = await newExample("over", 10);
    const job = join(dir, "manifest.json");
    writeFileSync(job, readFileSync(join(dir, "brick.job.json")));
    const before = filesIn(join(dir, "motifs"));
    const { code, stderr } = await run(["make", job, "--out", dir]);
    expect(code).toBe(2);
    expect(stderr).toContain("E_WRITE");
    expect(filesIn(join(dir, "motifs"))).toEqual(before);
    expect(readdirSync(dir).filter((name) => name.endsWith(".png"))).toEqual([]);
  });

  it("leaves whole files only when it is interrupted, and says so", async () => {
    const dir = await newExample("stop", 25.4);
    const stop = new AbortController();
    const out = join(dir, "out");
    let files = 0;
    const code = await runCommand(["make", join(dir, "border.job.json"), "--json"], {
      stdout: { write: () => {} },
      stderr: {
        write: (line) => {
          if (line.startsWith('{"event":"file"') && ++files === 3) stop.abort();
        },
      },
      signal: stop.signal,
    });
    expect(code).toBe(130);
    // Beside the three files a list of them, from which the next run goes on.
    expect(readdirSync(out)).toHaveLength(4);
    expect(readdirSync(out).filter((name) => name.startsWith(".") || name === "manifest.json")).toEqual([
      ".repetend-finished",
    ]);
    expect((await run(["make", join(dir, "border.job.json")])).code).toBe(0);
    expect(readdirSync(out)).toHaveLength(7);
  });
});

describe("repetend check", () => {
  it("finds the tiles of all example jobs closed", async () => {
    const dir = await newExample("check", 50);
    for (const job of ["border", "half-drop", "brick"]) {
      const { code, stdout } = await run(["check", join(dir, `${job}.job.json`), "--dpi", "30"]);
      expect([job, code, stdout.includes("open")]).toEqual([job, 0, false]);
    }
  });

  it("tells an open seam from a closed one, and both from bad input", async () => {
    const dir = await newExample("open", 50.8);
    expect((await run(["make", join(dir, "brick.job.json")])).code).toBe(0);
    const found = readdirSync(join(dir, "out")).filter((name) => name.endsWith("--low-tide.png"));
    expect(found).toHaveLength(1);
    const tile = join(dir, "out", found[0] ?? "");
    const gaping = join(folder, "gaping.png");
    await sharp(tile).extend({ right: 6, background: "#ffffff" }).toFile(gaping);
    expect((await run(["check", tile])).code).toBe(0);
    const open = await run(["check", gaping, "--json"]);
    expect(open.code).toBe(1);
    const { reports } = JSON.parse(open.stdout);
    expect(
      reports[0].report.edges.map((edge: { edge: string; ok: boolean }) => [edge.edge, edge.ok]),
    ).toEqual([
      ["left-right", false],
      ["top-bottom", true],
    ]);
    expect((await run(["check", tile, gaping])).stdout).toContain("gaping.png: open\n  Left and right edge");
    expect((await run(["check", tile.replace(/png$/, "svg"), "--dpi", "50.8"])).code).toBe(0);
    const bad = join(folder, "bad.png");
    writeFileSync(bad, "no picture");
    const refused = await run(["check", tile, bad]);
    expect([refused.code, refused.stderr.includes("E_IMAGE"), refused.stderr.includes(bad)]).toEqual([
      2,
      true,
      true,
    ]);
  });
});

describe("repetend inks", () => {
  it("counts the inks of a motif", async () => {
    const path = join(folder, "reed.svg");
    writeFileSync(
      path,
      '<svg xmlns="http://www.w3.org/2000/svg" width="1cm" height="1cm" viewBox="0 0 10 10">' +
        '<rect width="1" height="9" fill="#C8553D"/><rect x="2" width="1" height="9" fill="#c8553d" stroke="navy"/></svg>',
    );
    expect(JSON.parse((await run(["inks", path, "--json"])).stdout)).toEqual({
      inks: [
        { ink: "#c8553d", uses: 2 },
        { ink: "#000080", uses: 1 },
      ],
    });
  });

  it("finds in the example's job the inks of its table of colourways", async () => {
    const table = readFileSync(new URL("../examples/saltmarsh/colourways.csv", import.meta.url), "utf8");
    const named = table.split("\n").flatMap((line) => line.match(/^#[0-9a-f]{6}/)?.[0] ?? []);
    const dir = await newExample("inks", 20);
    const { stdout } = await run(["inks", join(dir, "border.job.json"), "--json"]);
    const found: { inks: { ink: string }[] } = JSON.parse(stdout);
    expect(found.inks.map(({ ink }) => ink).filter((ink) => !named.includes(ink))).toEqual([]);
    expect(found.inks.length).toBeGreaterThan(4);
  });
});

describe("repetend preview", () => {
  it("writes a page that needs nothing else, and a picture", async () => {
    const dir = await newExample("preview", 300);
    const job = join(dir, "border.job.json");
    const page = await run(["preview", job, "--dpi", "10"]);
    expect(page.code).toBe(0);
    const html = readFileSync(page.stdout.trim(), "utf8");
    for (const name of ["Low Tide", "Samphire", "Nightjar"]) expect(html).toContain(`<h2>${name}</h2>`);
    expect(html.match(/url\(data:image\/png;base64,/g)).toHaveLength(3);
    expect(html).not.toMatch(/<script|https?:\/\//);
    const picture = join(dir, "three.png");
    expect((await run(["preview", job, "--dpi", "12.7", "--out", picture])).code).toBe(0);
    const { width, height } = await sharp(picture).metadata();
    expect([width, height]).toEqual([3 * (3 * 160) + 2 * 24, 700]);
  });

  it("refuses what would not fit into memory, and says so at once", async () => {
    const dir = await newExample("preview-large", 300);
    const job = join(dir, "brick.job.json");
    const start = performance.now();
    const { code, stderr } = await run(["preview", job, "--dpi", "1500", "--out", join(dir, "large.png")]);
    expect(performance.now() - start).toBeLessThan(5_000);
    expect([code, stderr]).toEqual([2, expect.stringMatching(/^repetend: E_TOO_LARGE .* megapixels/)]);
  });

  it("refuses to write over what the job reads, its garments too", async () => {
    const dir = join(folder, "preview-over");
    expect((await run(["new", dir])).code).toBe(0);
    const job = join(dir, "border.job.json");
    const names = [
      "border.job.json",
      "motifs/crab.svg",
      "colourways.csv",
      "garments/smock.svg",
      "brick.job.json",
    ];
    for (const name of names) {
      const before = readFileSync(join(dir, name), "utf8");
      const { code, stderr } = await run(["preview", job, "--dpi", "2", "--out", join(dir, name)]);
      expect([name, code]).toEqual([name, 2]);
      expect(stderr).toMatch(/^repetend: E_WRITE /);
      expect(readFileSync(join(dir, name), "utf8")).toBe(before);
    }
  });
});

describe("files of an earlier run that a job does not make any more", () => {
  it("stay, and are told with what they were of", async () => {
    const dir = await newExample("left", 10);
    const out = join(dir, "files");
    const make = (job: string, ...more: string[]) =>
      run(["make", join(dir, `${job}.job.json`), "--out", out, "--workers", "0", ...more]);
    const told = ({ stderr }: { readonly stderr: string }) =>
      stderr.split("\n").filter((line) => /stand/.test(line));
    expect(told(await make("brick"))).toEqual([]);
    expect(told(await make("brick"))).toEqual([]);

    const table = join(dir, "colourways.csv");
    const rows = readFileSync(table, "utf8").trimEnd().split("\n");
    const last = rows[0]?.split(",").at(-1);
    writeFileSync(table, rows.map((row) => row.slice(0, row.lastIndexOf(","))).join("\n"));
    const files = `saltmarsh-brick--${last?.toLowerCase()}.svg, saltmarsh-brick--${last?.toLowerCase()}.png`;
    expect(told(await make("brick"))).toEqual([
      `warning: files of an earlier run stand in the folder still, and are not of this job any more: ${files}`,
    ]);
    expect(told(await make("brick"))).toEqual([]);

    const [line = "", ...none] = told(await make("half-drop"));
    expect(none).toEqual([]);
    expect(line).toMatch(
      /^warning: the manifest in the folder was that of "Saltmarsh brick" and is replaced; its files/,
    );
    expect(line).toContain("saltmarsh-brick--low-tide.svg");
    expect(line).not.toContain(files);
    const events = (await make("brick", "--json")).stderr
      .split("\n")
      .filter((text) => text.includes('"left"'));
    expect(events.map((text) => JSON.parse(text))).toMatchObject([
      { event: "left", print: "Saltmarsh half-drop" },
    ]);
    writeFileSync(join(out, "manifest.json"), '{"print":"x","files":[{"path":"../colourways.csv"},{}]}');
    expect(told(await make("brick"))).toEqual([]);
  });
});
