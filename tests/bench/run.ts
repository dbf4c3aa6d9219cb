// `npm run bench` lists the benchmarks; `npm run bench -- NAME [--json] [--runs N]` runs one.
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import type { Benchmark, Row } from "./contract.js";

const folder = fileURLToPath(new URL(".", import.meta.url));
const OWN_FILES = ["run.ts", "contract.ts", "measure.ts"];
const names = readdirSync(folder)
  .filter((file) => file.endsWith(".ts") && !OWN_FILES.includes(file) && !file.endsWith(".child.ts"))
  .map((file) => file.replace(/\.ts$/, ""));

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { json: { type: "boolean", default: false }, runs: { type: "string", default: "3" } },
});
const name = positionals[0];
const runs = Number(values.runs);

if (name === undefined || !names.includes(name) || !(runs >= 1)) {
  console.error(`usage: npm run bench -- NAME [--json] [--runs N]\nbenchmarks: ${names.join(", ")}`);
  process.exit(2);
}

const { benchmark } = (await import(`./${name}.ts`)) as { benchmark: Benchmark };
const log = (line: string): void => {
  console.error(line);
};
const rows = await benchmark.run({ runs, log });

const sentence = ({ figure, value, unit, target, met }: Row): string => {
  const goal =
    target === undefined ? "" : `  (asked: ${target}${met === undefined ? "" : met ? ", met" : ", NOT met"})`;
  return `${figure}: ${typeof value === "number" ? Number(value.toPrecision(4)) : value} ${unit}${goal}`;
};
console.log(
  values.json
    ? JSON.stringify({ benchmark: name, title: benchmark.title, node: process.version, rows }, null, 2)
    : [`# ${benchmark.title}`, ...rows.map(sentence)].join("\n"),
);
