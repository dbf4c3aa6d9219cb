import { readFileSync, writeFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { jobJsonSchema } from "./json-schema.js";
import { parseJob } from "./read-job.js";

const published = new URL("../../../docs/job.schema.json", import.meta.url);

type Schema = Readonly<Record<string, unknown>>;
const isSchema = (value: unknown): value is Schema => typeof value === "object" && value !== null;
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/**
 * Whether a value fits a JSON Schema (draft 7: the words that the published one uses, from the specification), written
 * apart from the checks that read a job.
 */
function fits(value: unknown, schema: Schema): boolean {
  const known =
    "$schema title description type const enum anyOf oneOf properties required additionalProperties items minItems maxItems pattern minLength exclusiveMinimum";
  const unknown = Object.keys(schema).filter((word) => !known.split(" ").includes(word));
  if (unknown.length > 0) throw new Error(`the test knows no ${unknown}`);
  const types: Readonly<Record<string, boolean>> = {
    string: typeof value === "string",
    number: typeof value === "number",
    integer: Number.isInteger(value),
    boolean: typeof value === "boolean",
    array: Array.isArray(value),
    object: isSchema(value) && !Array.isArray(value),
  };
  const rules: Readonly<Record<string, (rule: unknown) => boolean>> = {
    type: (rule) => types[String(rule)] ?? false,
    const: (rule) => value === rule,
    enum: (rule) => listOf(rule).includes(value),
    anyOf: (rule) => listOf(rule).some((one) => isSchema(one) && fits(value, one)),
    oneOf: (rule) => listOf(rule).filter((one) => isSchema(one) && fits(value, one)).length === 1,
    required: (rule) =>
      !types.object || listOf(rule).every((key) => Object.hasOwn(value as object, String(key))),
    properties: (rule) =>
      !types.object ||
      Object.entries(rule as Schema).every(
        ([key, one]) => !Object.hasOwn(value as object, key) || fits((value as Schema)[key], one as Schema),
      ),
    additionalProperties: () =>
      !types.object ||
      Object.keys(value as object).every((key) => Object.hasOwn(schema.properties as object, key)),
    items: (rule) => !Array.isArray(value) || value.every((one) => fits(one, rule as Schema)),
    minItems: (rule) => !Array.isArray(value) || value.length >= Number(rule),
    maxItems: (rule) => !Array.isArray(value) || value.length <= Number(rule),
    pattern: (rule) => typeof value !== "string" || new RegExp(String(rule), "u").test(value),
    minLength: (rule) => typeof value !== "string" || [...value].length >= Number(rule),
    exclusiveMinimum: (rule) => typeof value !== "number" || value > Number(rule),
  };
  return Object.entries(schema).every(([word, rule]) => rules[word]?.(rule) ?? true);
}

const reads = (job: unknown): boolean => {
  try {
    parseJob(JSON.stringify(job), "a");
    return true;
  } catch {
    return false;
  }
};

const cell = {
  name: "A",
  width: "16cm",
  height: 128,
  motifs: [{ file: "a.svg", at: [0, "-2 cm"], flip: "xy" }],
};
const goods: readonly unknown[] = [
  { print: { ...cell, layout: "straight" } },
  { print: { ...cell, layout: "half-drop", ground: "navy", grain: "x" }, colourways: "c.csv" },
  {
    print: { ...cell, layout: "stepped", along: "row", step: "1/3" },
    emit: { dpi: { x: 300, y: 200 }, scale: 0.5 },
  },
  {
    print: { ...cell, layout: "satin", ends: 5, move: 2 },
    emit: { shrinkage: { warp: "4%" }, formats: ["svg"] },
  },
  {
    print: {
      ...{ name: "T", width: 640, height: "64cm", layout: "half-drop", motifs: [] },
      toss: {
        motifs: [
          { file: "a.svg", width: ["6cm", 80], share: 2.5, turn: { from: -20, to: 20.5 }, flip: true },
          { file: "b.svg", width: "2cm", filler: true, turn: "four-way" },
          { file: "c.svg", turn: [0, 45.5] },
        ],
        ...{ gap: "6mm", seed: 7, count: 80, clear: false },
      },
    },
  },
  {
    $schema: "x",
    print: {
      name: "B",
      layout: "border",
      repeat: ".5 yd",
      width: "1.4m",
      bands: [
        {
          name: "hem",
          from: 0,
          to: "12cm",
          edge: "bottom",
          period: "8cm",
          fit: "space",
          clip: true,
          ground: "red",
        },
        {
          name: "field",
          from: "-0in",
          to: 3,
          motifs: [{ file: "a.svg", at: [1, 2], width: "1cm", turn: -4.5 }],
          toss: { motifs: [{ file: "a.svg" }], gap: 4, across: "free" },
        },
      ],
    },
    emit: { dpi: 300, edges: "hard" },
  },
  {
    print: { ...cell, layout: "brick" },
    garments: [
      {
        name: "Skirt",
        sketch: "skirt.svg",
        scale: { of: { fill: "#dcd6cc" }, is: "86cm", across: "width" },
        panels: [
          { panel: "#one", band: "hem", edge: "bottom", gap: "-1cm", grain: "left", drape: true },
          {
            panel: { fill: "white" },
            print: "brick.job.json",
            pin: { print: ["1cm", 2], at: [3, 4.5] },
            grain: -90,
            continues: { panel: "#one", from: "right", to: "left" },
            drape: {
              hold: "both",
              fullness: 1.5,
              corners: [
                [0, 0],
                [1, 0],
                [1, 1],
                [0, 1],
              ],
              guides: [".fold"],
            },
          },
          { panel: "#two", mirrors: "#one", mirrored: "placement", continues: { fill: "red" }, drape: {} },
        ],
        colourways: "trims.csv",
        clothWidth: "1.4m",
        dpi: 150,
      },
      { name: "Smock", sketch: "smock.svg", scale: { from: [0, 1], to: [2, 3], is: 720 }, panels: [] },
    ],
  },
];

/** Every place in a value, as paths. */
function placesIn(value: unknown): readonly (readonly string[])[] {
  if (!isSchema(value)) return [[]];
  return [[], ...Object.entries(value).flatMap(([key, one]) => placesIn(one).map((path) => [key, ...path]))];
}

/** The value with another at a place, or without it. */
function changeAt(value: unknown, [key, ...rest]: readonly string[], change: unknown): unknown {
  if (key === undefined) return change;
  const copy: Record<string, unknown> | unknown[] = Array.isArray(value)
    ? [...value]
    : { ...(value as Schema) };
  const record = copy as Record<string, unknown>;
  const next = changeAt(record[key], rest, change);
  if (next === undefined && !Array.isArray(copy)) delete record[key];
  else record[key] = next;
  return copy;
}

const spoilers = fc.constantFrom<unknown[]>(
  ...[
    undefined,
    null,
    0,
    -1,
    2.5,
    4,
    "",
    "x",
    "y",
    "0mm",
    "4%",
    "1/2",
    "-2cm",
    "12 cubits",
    "border",
    "stepped",
  ],
  ...[true, [], {}, [1, 2], ["svg"], { x: 1, y: 2 }, { file: "a.svg", at: [0, 0] }, { extra: 1 }],
);

describe("the JSON Schema of jobs", () => {
  const schema = jobJsonSchema();

  it("is published as it is made from the checks", () => {
    const text = `${JSON.stringify(schema, null, 2)}\n`;
    if (process.env.REPETEND_UPDATE) writeFileSync(published, text);
    expect(readFileSync(published, "utf8")).toBe(text);
    expect(process.env.REPETEND_UPDATE).toBeUndefined();
  });

  it("accepts what the checks accept", () => {
    for (const job of goods) expect([job, fits(job, schema), reads(job)]).toEqual([job, true, true]);
  });

  it("agrees with the checks on good jobs spoilt at any place", () => {
    const spoilt = fc
      .constantFrom(...goods)
      .chain((job) =>
        fc.record({ job: fc.constant(job), path: fc.constantFrom(...placesIn(job)), change: spoilers }),
      )
      .map(({ job, path, change }) => changeAt(job, path, change))
      .filter((job) => job !== undefined);
    let refused = 0;
    fc.assert(
      fc.property(spoilt, (job) => {
        const fitting = fits(job, schema);
        if (!fitting) refused++;
        expect(reads(job)).toBe(fitting);
      }),
      { numRuns: 1500 },
    );
    expect(refused).toBeGreaterThan(300);
  });
});
