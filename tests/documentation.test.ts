import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import ts from "typescript";
import { afterAll, describe, expect, it } from "vitest";
import { ERROR_CODES } from "../src/errors.js";

const root = fileURLToPath(new URL("..", import.meta.url));
const generated = join(root, "tests", ".generated");

const list = (folder: string, keep: (path: string) => boolean): readonly string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .map((path) => join(root, folder, path))
    .filter(keep);

const pages = [
  ...["README.md", "DEVELOPERS.md", "CHANGELOG.md"]
    .map((page) => join(root, page))
    .filter((page) => existsSync(page)),
  ...list("docs", (path) => path.endsWith(".md") && !path.includes(`${join("docs", "api")}`)),
  ...list("src", (path) => path.endsWith(".md")),
];
const sources = list("src", (path) => path.endsWith(".ts") && !/\.(test|fixture)\.ts$/.test(path));

interface Example {
  /** File and line, for the name of the test. */
  readonly at: string;
  readonly code: string;
}

/** The ```ts blocks of a text; in a docstring each line starts with a star. */
function examplesOf(path: string): readonly Example[] {
  const text = readFileSync(path, "utf8");
  return [...text.matchAll(/^([ \t]*(?:\* ?)?)```ts\n([\s\S]*?)^\s*(?:\* ?)?```/gm)].map((match) => ({
    at: `${relative(root, path)}:${text.slice(0, match.index).split("\n").length}`,
    code: (match[2] ?? "").replace(/^[ \t]*\* ?/gm, ""),
  }));
}

/** `expression; // value` becomes a check, where the comment is nothing but a JavaScript value. */
function checkValues(code: string): string {
  return code
    .split("\n")
    .map((line) => {
      const match =
        /^(?!\s|const |let |import |export |return |throw |if |for |while |try |\}|\/\/)(.+); \/\/ (.+)$/.exec(
          line,
        );
      if (!match) return line;
      try {
        new Function(`"use strict"; return (${match[2]});`)();
      } catch {
        return line;
      }
      return `globalThis.expectSame(${match[1]}, ${match[2]});`;
    })
    .join("\n");
}

const examples = [...pages, ...sources].flatMap(examplesOf);
const fileOf = (index: number): string => join(generated, `example-${index}.ts`);

rmSync(generated, { recursive: true, force: true });
mkdirSync(generated, { recursive: true });
examples.forEach((example, index) => {
  writeFileSync(fileOf(index), `${example.code}\nexport {};\n`);
});

const entries = ["raster", "emit", "board", "batch", "testing"].filter((entry) =>
  existsSync(join(root, "src", entry, "index.ts")),
);

describe("the examples", () => {
  afterAll(() => rmSync(generated, { recursive: true, force: true }));

  it("type-check", () => {
    const config = ts.parseJsonConfigFileContent(
      ts.readConfigFile(join(root, "tsconfig.json"), ts.sys.readFile).config,
      ts.sys,
      root,
    );
    const program = ts.createProgram(
      examples.map((_, index) => fileOf(index)),
      {
        ...config.options,
        isolatedDeclarations: false,
        noUnusedLocals: false,
        paths: {
          repetend: [join(root, "src/index.ts")],
          ...Object.fromEntries(
            entries.map((entry) => [`repetend/${entry}`, [join(root, `src/${entry}/index.ts`)]]),
          ),
        },
      },
    );
    const faults = examples.flatMap((example, index) => {
      const file = program.getSourceFile(fileOf(index));
      if (!file) return [`${example.at}: not read`];
      return [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)].map(
        (fault) => `${example.at}: ${ts.flattenDiagnosticMessageText(fault.messageText, " ")}`,
      );
    });
    expect(faults).toEqual([]);
  }, 120_000);

  it.each(examples.map((example, index) => [example.at, index] as const))("%s runs", async (_at, index) => {
    const runnable = join(generated, `run-${index}.ts`);
    writeFileSync(runnable, `${checkValues(examples[index]?.code ?? "")}\nexport {};\n`);
    Object.assign(globalThis, { expectSame: (met: unknown, said: unknown) => expect(met).toEqual(said) });
    await import(/* @vite-ignore */ pathToFileURL(runnable).href);
  });
});

describe("the pages", () => {
  it("name only files that exist", () => {
    const missing = pages.flatMap((page) => {
      const links = [...readFileSync(page, "utf8").matchAll(/\]\((?!https?:|#|mailto:)([^)#\s]+)[^)]*\)/g)];
      return links
        .map((match) => match[1] ?? "")
        .filter((link) => !link.startsWith("api/") && !existsSync(join(dirname(page), link)))
        .map((link) => `${relative(root, page)} -> ${link}`);
    });
    expect(missing).toEqual([]);
  });

  it("list every error code in docs/errors.md, as the source states it", () => {
    const page = readFileSync(join(root, "docs", "errors.md"), "utf8");
    const rows = Object.entries(ERROR_CODES).map(([code, meaning]) => `| \`${code}\` | ${meaning} |`);
    expect(page.split("\n").filter((line) => line.startsWith("| `E_"))).toEqual(rows);
  });

  it("list every code of a note in docs/notes.md, and none that no source gives", () => {
    const sources = list("src", (path) => path.endsWith(".ts") && !/\.(test|fixture)\.ts$/.test(path));
    const given = sources.flatMap((path) => readFileSync(path, "utf8").match(/(?<=\bN_)[A-Z_]+\b/g) ?? []);
    const page = readFileSync(join(root, "docs", "notes.md"), "utf8");
    const listed = page.match(/(?<=`N_)[A-Z_]+(?=`)/g) ?? [];
    expect([...listed].sort()).toEqual([...new Set(given)].sort());
  });
});
