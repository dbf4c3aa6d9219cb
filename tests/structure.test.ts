import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const source = fileURLToPath(new URL("../src", import.meta.url));

/** The rooms, ground floor first: a room imports only from itself and from rooms before it. */
const ROOMS = [
  "units",
  "geometry",
  "colour",
  "image",
  "svg",
  "motif",
  "repeat",
  "seam",
  "garment",
  "raster",
  "emit",
  "board",
  "batch",
  "cli",
  "testing",
];
const LAST_PURE = ROOMS.indexOf("garment");
const PURE = new Set(ROOMS.slice(0, LAST_PURE + 1));

/** Small beside the core; refusals and the checks of plain JavaScript's values are of no room. */
const EVERYWHERE = ["errors.ts", "checks.ts"];

interface Import {
  readonly file: string;
  readonly room: string;
  readonly from: string;
}

function listSources(): readonly string[] {
  return readdirSync(source, { recursive: true, encoding: "utf8" })
    .filter((path) => path.endsWith(".ts") && !/\.(test|fixture)\.ts$/.test(path))
    .map((path) => path.replaceAll("\\", "/"));
}

/** The room of a file; none of one that stands beside the rooms. */
const roomOf = (file: string): string => (file.includes("/") ? (file.split("/")[0] ?? "") : "");

function importsOf(file: string): readonly Import[] {
  const text = readFileSync(join(source, file), "utf8").replace(/^\s*(\*|\/\/).*$/gm, "");
  return [...text.matchAll(/(?<!")(?:from|import)\s*\(?\s*"([^"]+)"/g)].map((match) => ({
    file,
    room: roomOf(file),
    from: match[1] ?? "",
  }));
}

/** The file of this package that is imported, if it is one. */
function targetOf({ file, from }: Import): string | undefined {
  if (!from.startsWith(".")) return undefined;
  const target = relative(source, resolve(source, dirname(file), from)).replaceAll("\\", "/");
  return target.replace(/\.js$/, ".ts");
}

const imports = listSources().flatMap(importsOf);

describe("the rooms", () => {
  it("are the folders of src, all of them listed", () => {
    const folders = new Set(imports.map((one) => one.room).filter((room) => room !== ""));
    expect([...folders].filter((room) => !ROOMS.includes(room))).toEqual([]);
    expect(folders.size).toBeGreaterThan(5);
  });

  it("import only downwards", () => {
    const upward = imports.filter((one) => {
      const target = targetOf(one);
      if (one.room === "" || target === undefined || EVERYWHERE.includes(target)) return false;
      return ROOMS.indexOf(roomOf(target)) > ROOMS.indexOf(one.room) || roomOf(target) === "";
    });
    expect(upward.map(({ file, from }) => `${file} -> ${from}`)).toEqual([]);
  });

  it("have folders that take from each other in one direction", () => {
    const folderOf = (path: string): string => path.split("/").slice(0, -1).slice(0, 2).join("/");
    const steps = new Map<string, Set<string>>();
    for (const taken of imports) {
      const [one, other] = [folderOf(taken.file), folderOf(targetOf(taken) ?? "")];
      // What stands in a room itself, not in a folder of it, serves them all.
      if (!one.includes("/") || !other.includes("/") || one === other) continue;
      steps.set(one, (steps.get(one) ?? new Set()).add(other));
    }
    expect(steps.size).toBeGreaterThan(5);
    const ringFrom = (folder: string, way: readonly string[]): readonly string[] | undefined => {
      if (way.includes(folder)) return [...way.slice(way.indexOf(folder)), folder];
      for (const next of steps.get(folder) ?? []) {
        const ring = ringFrom(next, [...way, folder]);
        if (ring !== undefined) return ring;
      }
      return undefined;
    };
    expect([...steps.keys()].map((folder) => ringFrom(folder, [])).find((ring) => ring !== undefined)).toBe(
      undefined,
    );
  });

  it("stay free of node up to the garment", () => {
    const impure = imports.filter(
      ({ room, from }) => /^node:|^sharp$|^@resvg/.test(from) && ROOMS.indexOf(room) <= LAST_PURE,
    );
    expect(impure.map(({ file, from }) => `${file} -> ${from}`)).toEqual([]);
  });

  it("leave the board to browsers too: it takes from pure rooms only", () => {
    const heavy = imports.filter((one) => {
      const target = targetOf(one);
      if (one.room !== "board" || (target !== undefined && EVERYWHERE.includes(target))) return false;
      return target === undefined || !(roomOf(target) === "board" || PURE.has(roomOf(target)));
    });
    expect(heavy.map(({ file, from }) => `${file} -> ${from}`)).toEqual([]);
  });

  it("know no clock, locale or unseeded chance below the batch", () => {
    const below = listSources().filter(
      (file) => ROOMS.indexOf(file.split("/")[0] ?? "") < ROOMS.indexOf("batch"),
    );
    const moody = below.filter((file) =>
      /Math\.random\(|Date\.now\(|new Date\(|toLocale|Intl\.|process\.env/.test(
        readFileSync(join(source, file), "utf8").replace(/^\s*(\*|\/\/).*$/gm, ""),
      ),
    );
    expect(moody).toEqual([]);
  });

  it("re-export by name only in index.ts", () => {
    const stray = listSources()
      .filter((file) => file.endsWith("index.ts"))
      .filter((file) =>
        /^export \*|^(const|let|function|class)\b/m.test(readFileSync(join(source, file), "utf8")),
      );
    expect(stray).toEqual([]);
  });
});
