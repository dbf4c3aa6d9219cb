import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "./index.js";

const CRAB =
  '<svg xmlns="http://www.w3.org/2000/svg" width="2cm" height="2cm" viewBox="0 0 20 20">' +
  '<path d="M2 2H18V14H2Z" fill="#d9694d"/></svg>';
const motifs = [{ file: "crab.svg", at: ["2cm", "2cm"] }];

/** Every file below the folder. */
const list = () =>
  readdirSync(folder, { recursive: true, withFileTypes: true }).flatMap((one) =>
    one.isFile() ? [one.name] : [],
  );

let folder = "";
let before: readonly string[] = [];

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-refusals-"));
  const write = (name: string, print: object) =>
    writeFileSync(join(folder, name), JSON.stringify({ print, emit: { dpi: 50 } }));
  writeFileSync(join(folder, "crab.svg"), CRAB);
  write("shore.json", { name: "Shore", layout: "half-drop", width: "4cm", height: "4cm", motifs });
  const hem = { name: "hem", from: "4cm", to: "8cm", motifs };
  write("tide.json", { name: "Tide", layout: "border", repeat: "8cm", width: "8cm", bands: [hem] });
  before = list();
});
afterAll(() => rmSync(folder, { recursive: true }));

async function run(argv: readonly string[]) {
  const err: string[] = [];
  const stderr = { write: (text: string) => err.push(text) };
  const code = await runCommand(argv, { stdout: { write: () => undefined }, stderr });
  return { code, stderr: err.join("") };
}

describe("the command refuses in one line, writes nothing, and says what would do", () => {
  it.each([
    ["preview shore --dpi 0.001", "E_SIZE", "--dpi 5.08 or more"],
    ["preview shore --dpi 0", "E_USAGE", "--dpi 300"],
    ["preview shore --dpi -3", "E_USAGE", "--dpi 300"],
    ["preview shore --dpi 1e9", "E_USAGE", "--dpi 300"],
    ["preview shore --dpi 999999", "E_NUMBER", "at most 100000"],
    ["preview shore --dpi 50000", "E_TOO_LARGE", "megapixels"],
    ["preview shore --out shore.jpg", "E_USAGE", ".html or .png"],
    ["make shore --length 0", "E_SIZE --length", "above 0"],
    ["make shore --length -5m", "E_SIZE --length", "above 0"],
    ["make shore --length 1e9", "E_UNIT --length", "mm, cm, m, in, yd"],
    ["make shore --length 99999999999m", "E_TOO_LARGE", "px"],
    ["make shore --memory 1B", "E_USAGE", "512MB"],
    ["make shore --memory 0MB", "E_USAGE", "512MB"],
    ["make shore --memory 1MB", "E_NUMBER memory", "MB or more"],
    ["make shore --workers -1", "E_USAGE", "--workers 2"],
    ["make shore --workers 1.5", "E_USAGE", "--workers 2"],
    ["make shore --crop 0,0,0,0", "E_SIZE", "at least 0.00001 mm"],
    ["make shore --crop 0,0,-5,5", "E_SIZE", "at least 0.00001 mm"],
    ["make shore --crop a,0,5,5", "E_UNIT --crop", "mm, cm, m, in, yd"],
    ["make shore --crop 0,0,5", "E_USAGE", "0 10cm 20cm 15cm"],
    ["make tide --crop 0,8cm,1cm,1cm", "E_SIZE tide.json:crop", "meets 0 to 80 mm"],
    ["make tide --crop 0,-2cm,1cm,2cm", "E_SIZE tide.json:crop", "meets 0 to 80 mm"],
    ["check shore --repeat 0,0", "E_SIZE --repeat", "above 0"],
    ["check shore --repeat -4cm", "E_SIZE --repeat", "above 0"],
    ["check shore --repeat 0px", "E_NUMBER --repeat", "above 0"],
    ["check shore --repeat abc", "E_UNIT --repeat", "mm, cm, m, in, yd"],
    ["check shore --layout column:1/0", "E_LAYOUT", "1/3"],
  ])("repetend %s", async (line, start, accepted) => {
    const [command = "", job, ...options] = line.split(" ");
    const words = options.map((word) => (word.endsWith(".jpg") ? join(folder, word) : word));
    const { code, stderr } = await run([command, join(folder, `${job}.json`), ...words]);
    const told = stderr.replaceAll(`${folder}/`, "");
    expect([code, told]).toEqual([2, expect.stringMatching(/^repetend: [^\n]*\n$/)]);
    expect(told).toContain(`repetend: ${start}`);
    expect(told.split("; accepted: ")[1]).toContain(accepted);
    expect(list()).toEqual(before);
  });

  it("takes a strike-off that shows a part of a border, and a small preview of a small tile", async () => {
    const out = mkdtempSync(join(tmpdir(), "repetend-taken-"));
    const crop = ["--crop", "0 7cm 2cm 2cm"];
    expect(await run(["make", join(folder, "tide.json"), "--dry-run", ...crop])).toMatchObject({ code: 0 });
    const page = join(out, "shore.html");
    expect(await run(["preview", join(folder, "shore.json"), "--dpi", "5.08", "--out", page])).toMatchObject({
      code: 0,
    });
    rmSync(out, { recursive: true });
  });
});
