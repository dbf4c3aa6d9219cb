import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readBytes, readText } from "./read-file.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-read-"));
  mkdirSync(join(folder, "motifs"));
  writeFileSync(join(folder, "motifs", "snail.svg"), "<svg/>");
});
afterAll(() => rmSync(folder, { recursive: true }));

const refusalOf = (reading: Promise<unknown>) =>
  reading.then(
    () => undefined,
    (error: unknown) => error,
  );

describe("a file that is not there", () => {
  it.each([
    ["motifs/snial.svg", '; did you mean "snail.svg"?'],
    ["motifs/Snail.SVG", '; did you mean "snail.svg"?'],
    ["motifs/heron.svg", ""],
    ["none/snail.svg", ""],
  ])("is refused, %s with the name that was meant", async (name, hint) => {
    const path = join(folder, name);
    expect(await refusalOf(readBytes(path, 100))).toMatchObject({
      code: "E_READ",
      input: path,
      problem: `cannot read: there is no such file${hint}`,
    });
  });

  it.skipIf(process.platform === "win32")("may be named with the other kind of slashes", async () => {
    const refusal = await refusalOf(readBytes(`${folder}/motifs\\snail.svg`, 100));
    expect(refusal).toMatchObject({ problem: expect.stringMatching(/mean ".*motifs\/snail\.svg"\?$/) });
  });
});

describe("a text in another encoding", () => {
  const bytes = (...parts: (string | number[])[]) =>
    Buffer.concat(parts.map((part) => (typeof part === "string" ? Buffer.from(part) : Buffer.from(part))));
  it.each([
    ["a spreadsheet", bytes("PK", [3, 4], "[Content"), /packed \(ZIP\), as spreadsheets are/],
    ["UTF-16", bytes([0xff, 0xfe], "i\0n\0k\0"), /the file is UTF-16/],
    ["the other UTF-16", bytes([0xfe, 0xff], "\0i\0n\0k"), /the file is UTF-16/],
    ["an older one", bytes("ink,Fr", [0xfc], "hling"), /the file is not UTF-8 text/],
  ])("is refused with what it is: %s", async (_, content, problem) => {
    const path = join(folder, "table.csv");
    writeFileSync(path, content);
    expect(await refusalOf(readText(path, 1000))).toMatchObject({
      code: "E_ENCODING",
      problem: expect.stringMatching(problem),
      accepted: "plain text in UTF-8; a table from a spreadsheet saved as CSV in UTF-8",
    });
  });
});
