import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "./index.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-check-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

async function run(argv: readonly string[]) {
  const [out, err]: [string[], string[]] = [[], []];
  const code = await runCommand(argv, {
    stdout: { write: (text) => out.push(text) },
    stderr: { write: (text) => err.push(text) },
  });
  return { code, stdout: out.join(""), stderr: err.join("") };
}

const [WIDTH, HEIGHT] = [120, 160];

/** A window of a cloth of samphire stems and berries, `drop` of the height lower in each next column; 1 mm a pixel. */
function cloth(width: number, height: number, drop: number, skip?: "right"): string {
  const copies: string[] = [];
  for (let column = -2; column <= 8; column++)
    for (let row = -6; row <= 8; row++) {
      const [x, y] = [column * WIDTH, row * HEIGHT + column * drop * HEIGHT];
      const stem =
        skip === "right" && column > 0
          ? ""
          : '<path d="M-8 30C-30 60 20 70 6 110" fill="none" stroke="#3c5a40" stroke-width="9"/>';
      copies.push(
        `<g transform="translate(${x} ${y})">${stem}<circle cx="60" cy="70" r="17" fill="#b5533c"/>` +
          '<path d="M40 120L95 140L70 165Z" fill="#27425a"/></g>',
      );
    }
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"><rect width="${width}" height="${height}" fill="#efe6d2"/>${copies.join("")}</svg>`;
}

/** The cloth as a PNG, 1 mm a pixel. */
async function picture(name: string, svg: string): Promise<string> {
  const path = join(folder, name);
  await sharp(Buffer.from(svg.replaceAll("mm", "")))
    .withMetadata({ density: 25.4 })
    .png()
    .toFile(path);
  return path;
}

const first = async (argv: readonly string[]) => {
  const { code, stdout } = await run(["check", ...argv, "--json"]);
  return { code, ...JSON.parse(stdout).reports[0] };
};

describe("repetend check without a layout", () => {
  it("takes the layout in which the picture's own edges meet", async () => {
    const drop = await picture("drop.png", cloth(WIDTH, HEIGHT, 0.5));
    expect(await first([drop])).toMatchObject({ code: 0, layout: "half-drop", chosen: "found" });
    expect((await run(["check", drop])).stdout).toContain(
      "drop.png: closed\n  Checked as half-drop, since so its edges come nearest to meeting.\n",
    );
    expect((await first([drop, "--layout", "straight"])).code).toBe(1);
  });

  it("checks a tile of several repeats by its own edges", async () => {
    const two = await picture("two.png", cloth(3 * WIDTH, 2 * HEIGHT, 0.5));
    const found = await first([two]);
    // Three columns of a half-drop leave it half a cell lower: a quarter of two cells.
    expect(found).toMatchObject({ code: 0, chosen: "found" });
    expect(found.layout).toEqual({ kind: "stepped", along: "column", step: { p: 1, q: 4 } });
    const whole = await picture("whole.png", cloth(4 * WIDTH, 2 * HEIGHT, 0.5));
    expect(await first([whole])).toMatchObject({ code: 0, layout: "straight", chosen: "found" });
  });

  it("takes whole repeats from a length of cloth, and says so", async () => {
    const length = await picture("length.png", cloth(300, 400, 0.5));
    const found = await first([length]);
    expect([found.code, found.part.width % WIDTH, found.part.height % HEIGHT]).toEqual([0, 0, 0]);
    expect((await run(["check", length])).stdout).toContain(
      "since the picture is no whole number of repeats",
    );
  });

  it("calls a tile straight that shows nothing else, and open where it is", async () => {
    const cut = await picture("cut.png", cloth(WIDTH, HEIGHT, 0, "right"));
    const found = await first([cut]);
    expect(found).toMatchObject({ code: 1, layout: "straight" });
    expect(found.report.edges[0].kind).toBe("cut");
  });
});

describe("repetend check of pictures that show little", () => {
  /** Small blocks, 7 px apart along both sides. */
  const fine = (side: number): Uint8Array =>
    Uint8Array.from({ length: side * side }, (_, k) =>
      (k % side) % 7 < 3 === Math.floor(k / side) % 7 < 3 ? 40 : 220,
    );
  const grey = async (name: string, side: number, data: Uint8Array): Promise<string> => {
    const path = join(folder, name);
    await sharp(data, { raw: { width: side, height: side, channels: 1 } })
      .toColourspace("b-w")
      .png()
      .toFile(path);
    return path;
  };

  it("takes several repeats where one has too few pixels", async () => {
    const found = await first([await grey("fine.png", 100, fine(100))]);
    expect(found).toMatchObject({ code: 0, chosen: "found" });
    expect(Math.min(found.part.width, found.part.height)).toBeGreaterThan(27);
  });

  it("calls even cloth straight", async () => {
    const even = await grey("even.png", 64, new Uint8Array(64 * 64).fill(120));
    expect(await first([even])).toMatchObject({ code: 0, layout: "straight" });
  });
});

describe("repetend check of a tile whose edges nearly meet", () => {
  it("takes the layout that is nearest to closing, so that the fault is told and not the layout", async () => {
    const drop = await picture("nearly.png", cloth(WIDTH, HEIGHT, 0.5));
    const mended = join(folder, "nearly-cut.png");
    // A smear over the lower left corner: what crosses there has lost its partner.
    const smear = Buffer.from(
      '<svg width="14" height="20"><rect width="14" height="20" fill="#b5533c"/></svg>',
    );
    await sharp(drop)
      .composite([{ input: smear, left: 0, top: 60 }])
      .toFile(mended);
    expect(await first([mended])).toMatchObject({ code: 1, layout: "half-drop", chosen: "default" });
  });
});

describe("repetend check --repeat", () => {
  it("holds the picture against the repeat it should have", async () => {
    const tile = await picture("stated.png", cloth(WIDTH, HEIGHT, 0));
    expect((await first([tile, "--repeat", "120,16cm"])).code).toBe(0);
    expect((await first([tile, "--repeat", "60px"])).code).toBe(0);
    const { code, report } = await first([tile, "--repeat", ",150px"]);
    expect([code, report.edges[1].kind]).toEqual([1, "size"]);
    expect((await run(["check", tile, "--repeat", "1,2,3"])).stderr).toMatch(/^repetend: E_USAGE/);
    expect((await run(["check", tile, "--repeat", "6ells"])).stderr).toMatch(/^repetend: E_UNIT/);
  });
});

describe("repetend check --pictures", () => {
  it("writes the rolled tile with its faults, and the lining map", async () => {
    const svg = join(folder, "Cut reeds.svg");
    writeFileSync(svg, cloth(WIDTH, HEIGHT, 0, "right"));
    const closed = await picture("closed.png", cloth(WIDTH, HEIGHT, 0));
    const out = join(folder, "pictures");
    const { code, stdout } = await run(["check", svg, closed, "--pictures", out, "--lining"]);
    expect(code).toBe(1);
    expect(readdirSync(out).sort()).toEqual([
      "closed--lining.svg",
      "closed--seams.png",
      "closed--seams.svg",
      "cut-reeds--lining.svg",
      "cut-reeds--seams.png",
      "cut-reeds--seams.svg",
    ]);
    expect(stdout).toContain(join(out, "cut-reeds--seams.svg"));
    expect(stdout).toContain("Lining: ");
    const text = readFileSync(join(out, "cut-reeds--seams.svg"), "utf8");
    expect(text).toContain("data:image/png;base64,");
    expect(text).toContain("<title>a motif is cut");
    const { width, height } = await sharp(join(out, "closed--seams.png")).metadata();
    expect([width, height]).toEqual([WIDTH, HEIGHT]);
  });

  it("draws a job's tile too, and refuses --lining without a folder", async () => {
    const dir = join(folder, "example");
    expect((await run(["new", dir])).code).toBe(0);
    const out = join(folder, "job-pictures");
    const { code } = await run(["check", join(dir, "border.job.json"), "--dpi", "20", "--pictures", out]);
    expect([code, readdirSync(out).length]).toEqual([0, 2]);
    expect((await run(["check", "a.png", "--lining"])).stderr).toMatch(/^repetend: E_USAGE/);
    expect(existsSync(join(folder, "a--lining.svg"))).toBe(false);
  });

  it("writes over nothing that it checks", async () => {
    const tile = await picture("eddy.png", cloth(WIDTH, HEIGHT, 0));
    const own = await picture("eddy--seams.png", cloth(WIDTH, HEIGHT, 0));
    const before = readFileSync(own);
    const { code, stderr } = await run(["check", tile, own, "--pictures", folder]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/^repetend: E_WRITE .*eddy--seams\.png/);
    expect(readFileSync(own).equals(before)).toBe(true);
  });

  it("leaves no pictures of a tile that it cannot look at in every way that is asked", async () => {
    const path = join(folder, "small.png");
    await sharp({ create: { width: 12, height: 12, channels: 3, background: "#efe6d2" } })
      .png()
      .toFile(path);
    const pictures = join(folder, "of-small");
    const { code, stderr } = await run([
      "check",
      path,
      "--layout",
      "straight",
      "--pictures",
      pictures,
      "--lining",
    ]);
    expect([code, stderr]).toEqual([2, expect.stringMatching(/^repetend: E_IMAGE[^\n]*\n$/)]);
    expect(existsSync(pictures)).toBe(false);
  });
});
