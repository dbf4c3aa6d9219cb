import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import type { Job } from "./job.js";
import { parseJob } from "./read-job.js";

const good = {
  print: {
    name: "Saltmarsh border",
    layout: "border",
    repeat: "32cm",
    width: "140cm",
    bands: [{ name: "hem", from: "96cm", to: "140cm", motifs: [{ file: "heron.svg", at: ["8cm", 200] }] }],
  },
  emit: { dpi: 300, formats: ["png"] },
} satisfies Job;

/** The refusal of a job, which starts as the good one and is then changed. */
function refusalOf(text: string): Pick<RepetendError, "code" | "where" | "problem" | "value" | "accepted"> {
  try {
    parseJob(text, "a.job.json");
  } catch (error) {
    if (error instanceof RepetendError) {
      const { code, where, problem, value, accepted } = error;
      return { code, where, problem, value, accepted };
    }
    throw error;
  }
  throw new Error("nothing was refused");
}

const changed = (change: (job: Record<string, never>) => void): string => {
  const copy = JSON.parse(JSON.stringify(good));
  change(copy);
  return JSON.stringify(copy, null, 2);
};

describe("parseJob", () => {
  it("reads a job in JSON and in YAML alike", () => {
    expect(parseJob(JSON.stringify(good), "a")).toEqual(good);
    const yaml = `
print:
  name: Saltmarsh border
  layout: border
  repeat: 32cm
  width: 140cm
  bands:
    - { name: hem, from: 96cm, to: 140cm, motifs: [{ file: heron.svg, at: [8cm, 200] }] }
emit: { dpi: 300, formats: [png] }
`;
    expect(parseJob(yaml, "a")).toEqual(good);
  });

  it("names line, column, path, value and what is accepted", () => {
    const text = `{
  "print": {
    "name": "A", "layout": "border", "repeat": "32cm", "width": "140cm",
    "bands": [
      { "name": "hem", "from": 0, "to": "12 parsecs" }
    ]
  }
}`;
    expect(refusalOf(text)).toEqual({
      code: "E_JOB",
      where: "5:35 print.bands[0].to",
      problem: "this value is not accepted",
      value: "12 parsecs",
      accepted: "a number of mm, or a number with one of mm, cm, m, in, yd",
    });
  });

  it("suggests the key or word that was meant", () => {
    const text =
      '{ "print": { "name": "A", "layout": "border", "repeet": 3, "width": 3, "bands": [], "repeat": 3 } }';
    expect(refusalOf(text)).toMatchObject({
      where: "1:47 print.repeet",
      problem: 'there is no key "repeet"; did you mean "repeat"?',
      accepted: "name, layout, repeat, width, ground, bands, grain",
    });
    expect(refusalOf(text.replace("border", "boarder").replace('"repeet": 3,', ""))).toMatchObject({
      problem: 'this value is not accepted; did you mean "border"?',
      value: "boarder",
    });
  });

  it("says what is missing, and where", () => {
    expect(refusalOf('{\n  "emit": {}\n}')).toMatchObject({
      where: "1:1 print",
      problem: '"print" is missing',
    });
    expect(refusalOf('{ "print": {} }')).toMatchObject({
      where: "1:12 print.layout",
      problem: '"layout" is missing',
    });
    expect(refusalOf("")).toMatchObject({ where: "1:1", problem: "an object is wanted here" });
    expect(
      refusalOf('{ "print": { "layout": "brick", "name": "A", "width": 1, "height": 1 } }'),
    ).toMatchObject({
      where: "1:12 print.motifs",
      problem: '"motifs" is missing',
    });
  });

  it("suggests the length that was meant", () => {
    for (const [given, meant] of [
      ["32,5cm", "32.5cm"],
      ["32 CM", "32cm"],
      ["12 inches", "12in"],
    ])
      expect(refusalOf(JSON.stringify(good).replace("32cm", given ?? ""))).toMatchObject({
        where: expect.stringContaining("print.repeat"),
        problem: `this value is not accepted; did you mean "${meant}"?`,
      });
    expect(refusalOf(JSON.stringify(good).replace("32cm", "32")).problem).toBe("this value is not accepted");
  });

  it("finds the fault inside of an object where other shapes would be accepted, too", () => {
    const garment = (more: object) => ({ name: "Skirt", sketch: "skirt.svg", panels: [], ...more });
    const scale = { of: "#front", is: "80cm" };
    const panels = (drape: unknown) => garment({ scale, panels: [{ panel: "#front", drape }] });
    const cases: readonly [object, string, RegExp | string][] = [
      [{ emit: { board: { page: "A3" } } }, "emit.board.page", /^"A4 portrait", .*"A1 landscape", or keys/],
      [{ emit: { board: { page: { width: "42", height: 1 } } } }, "emit.board.page.width", /^a number of mm/],
      [{ emit: { board: { titel: "A" } } }, "emit.board.titel", "page, prints, title"],
      [{ emit: { lineSheet: 3 } }, "emit.lineSheet", /^true, false/],
      [{ garments: [garment({ scale: { ...scale, is: "80" } })] }, "garments[0].scale.is", /^a number of mm/],
      [{ garments: [garment({ scale: { ...scale, of: "front" } })] }, "garments[0].scale.of", /^"#id"/],
      [{ garments: [garment({ scale: {} })] }, "garments[0].scale", /^keys "of", "is"/],
      [{ garments: [panels({ fullness: "1,5" })] }, "garments[0].panels[0].drape.fullness", /^cloth for one/],
      [{ garments: [panels("yes")] }, "garments[0].panels[0].drape", /^true, false/],
    ];
    for (const [more, where, accepted] of cases) {
      const refusal = refusalOf(JSON.stringify({ ...good, ...more }));
      expect(refusal.where?.split(" ")[1]).toBe(where);
      expect(refusal.accepted).toMatch(accepted);
    }
  });

  it("counts what a list lacks as people do", () => {
    expect(refusalOf(JSON.stringify(good).replace('["8cm",200]', '["8cm"]')).problem).toBe(
      "part 2 of a list is missing",
    );
  });

  it("refuses values out of range, each at its path", () => {
    const cases: readonly [string, string][] = [
      ['"repeat":"32cm"', '"repeat":"0cm"'],
      ['"repeat":"32cm"', '"repeat":-1'],
      ['"width":"140cm"', '"width":"140 cubits"'],
      ['"dpi":300', '"dpi":0'],
      ['"dpi":300', '"dpi":{"x":300}'],
      ['["png"]', "[]"],
      ['["png"]', '["gif"]'],
      ['["8cm",200]', '["8cm"]'],
      ['["8cm",200]', '["8cm",200,1]'],
      ['"heron.svg"', '""'],
      ['"Saltmarsh border"', '"Salt\\u0000marsh"'],
      ['"Saltmarsh border"', '"Salt\\nmarsh"'],
      ['"Saltmarsh border"', '"Salt\\ud800marsh"'],
      ['"hem"', '"\\u0007"'],
    ];
    for (const [from, to] of cases) {
      const text = JSON.stringify(good);
      expect(text).toContain(from);
      expect([to, refusalOf(text.replace(from, to)).code]).toEqual([to, "E_JOB"]);
    }
  });

  it("refuses what is no JSON at its place", () => {
    expect(refusalOf('{\n  "print": {\n')).toMatchObject({ code: "E_JOB" });
    expect(refusalOf('{ "print": 1,\n  "print": 2 }')).toMatchObject({ code: "E_JOB", where: "2:3" });
    expect(refusalOf('{ "print": { "a": 1,\n "b": 2, "a": 3 } }')).toMatchObject({
      where: "2:10",
      problem: "not a readable job: a key stands twice in one object",
    });
    expect(refusalOf("[".repeat(50_000)).problem).toBe("not a readable job: it is nested too deeply");
    expect(refusalOf("a: &a [1]\nb: *a\n").code).toBe("E_JOB");
  });

  it("takes names in any script, and numbers beyond all bounds for what they are", () => {
    const named = changed((job) => Object.assign(job.print ?? {}, { name: "海辺 🦀 ñandú" }));
    expect(parseJob(named, "a").print.name).toBe("海辺 🦀 ñandú");
    expect(refusalOf(JSON.stringify(good).replace('"dpi":300', '"dpi":1e400')).value).toBe("Infinity");
  });

  it("answers to a hundred thousand keys in a moment", () => {
    const keys = Array.from({ length: 100_000 }, (_, k) => `"k${k}":1`);
    const start = performance.now();
    expect(refusalOf(`{${keys.join(",")}}`).code).toBe("E_JOB");
    expect(performance.now() - start).toBeLessThan(15_000);
  });

  it("keeps hostile keys from changing anything", () => {
    const refusal = refusalOf(
      changed((job) => Object.defineProperty(job, "__proto__", { value: {}, enumerable: true })),
    );
    expect(refusal.problem).toContain("__proto__");
  });
});
