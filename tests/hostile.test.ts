import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { type ErrorCode, RepetendError } from "../src/errors.js";
import { readSketch } from "../src/garment/index.js";
import { motif } from "../src/motif/index.js";
import { HOSTILE_FILTERS, HOSTILE_INPUTS, svg } from "./hostile-inputs.fixture.js";
import { DRAWN_ALIKE, DRAWN_PLAINLY, drawingOf } from "./motif-features.fixture.js";

/** The refusal of an input; anything else that is thrown is passed on, and nothing at all is `undefined`. */
function refusalOf(input: string | Uint8Array, filters: boolean = false): RepetendError | undefined {
  try {
    motif(input, { name: "hostile", filters });
  } catch (error) {
    if (error instanceof RepetendError) return error;
    throw error;
  }
  return undefined;
}

/** Much more than the milliseconds that a refusal takes, much less than the minutes that doing the work would. */
const SOON_MS = 20_000;

describe("hostile drawings", () => {
  const fetched = vi.fn();
  beforeEach(() => vi.stubGlobal("fetch", fetched));
  afterEach(() => vi.unstubAllGlobals());

  it.each(HOSTILE_INPUTS.map((one) => [one.name, one.code, one.input] as const))(
    "%s: %s",
    (_, code, input) => {
      const drawing = input();
      const start = performance.now();
      const refusal = refusalOf(drawing);
      expect(performance.now() - start).toBeLessThan(SOON_MS);
      expect(refusal?.code).toBe(code);
      expect(refusal?.input).toBe("hostile");
      expect(fetched).not.toHaveBeenCalled();
    },
  );

  it.each(HOSTILE_FILTERS.map((one) => [one.name, one.code, one.input] as const))(
    "filters, asked for: %s: %s",
    (_, code, input) => {
      expect(refusalOf(input(), true)?.code).toBe(code);
      expect(refusalOf(input(), false)).toBeUndefined();
    },
  );

  it("are refused as sketches of garments alike", () => {
    const small = HOSTILE_INPUTS.map(({ name, code, input }) => ({ name, code, drawing: input() })).filter(
      ({ drawing }) => drawing.length < 20_000,
    );
    expect(small.length).toBeGreaterThan(50);
    for (const { name, code, drawing } of small) {
      const refused = (): unknown => {
        try {
          return readSketch(drawing, { name: "hostile" });
        } catch (error) {
          return error;
        }
      };
      expect([name, refused()]).toEqual([name, expect.objectContaining({ code, input: "hostile" })]);
    }
  });

  it("may name plain text by entities, as some editors do for namespaces", () => {
    const made = motif(
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [\n' +
        '  <!-- namespaces -->\n  <!ENTITY ns_svg "http://www.w3.org/2000/svg">\n' +
        "  <!ENTITY sea 'teal'><!-- and colours -->\n]>\n" +
        '<svg xmlns="&ns_svg;" viewBox="0 0 9 9"><path d="M0 0H9V9" fill="&sea;"/></svg>',
    );
    expect(made.inks).toEqual([{ ink: "#008080", uses: 1 }]);
  });

  it("with a hundred thousand stops or shapes that use them are read soon", () => {
    const stops = '<stop offset=".5" stop-color="teal"/>'.repeat(20_000);
    const start = performance.now();
    motif(
      svg(
        `<linearGradient id="a">${stops}</linearGradient>${'<path d="M0 0H9V9" fill="url(#a)"/>'.repeat(2_000)}`,
      ),
    );
    expect(performance.now() - start).toBeLessThan(SOON_MS);
  });

  it("say where: line and column of the element", () => {
    const refusal = refusalOf(svg('\n  <g>\n    <path d="M0 0H9V9" fill="reedgreen"/></g>'));
    expect(refusal?.where).toBe("3:5");
    expect(refusal?.value).toBe("reedgreen");
    expect(refusal?.message).toContain("fill of <path>");
    expect(refusalOf(svg("\n<g></path>"))?.where).toMatch(/^2:/);
  });

  it("are read at their limits, not one below", () => {
    expect(refusalOf(svg("<g>".repeat(255) + "</g>".repeat(255)))).toBeUndefined();
    expect(refusalOf(svg("<g>".repeat(256) + "</g>".repeat(256)))?.code).toBe("E_DEPTH");
    expect(refusalOf(svg(`<path d="M0 0${"h1".repeat(49_999)}"/>`))).toBeUndefined();
    expect(refusalOf(svg(`<path d="M0 0${"h1".repeat(50_000)}"/>`))?.code).toBe("E_LIMIT");
    expect(refusalOf(svg('<path d="M0 0H999999V9"/>'))).toBeUndefined();
    expect(refusalOf(svg('<path d="M0 0H1000000V9"/>'))?.code).toBe("E_NUMBER");
  });
});

describe("a good drawing cut short", () => {
  const good =
    '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n' +
    svg(
      '<!-- reeds --><style><![CDATA[.a{fill:teal}]]></style><title>R&#233;eds &amp; hérons</title><g id="g"><path class="a" d="M0 0H9V9Z"/></g><use xlink:href="#g"/>',
    );

  it("is whole by itself", () => {
    expect(motif(good).inks).toEqual([{ ink: "#008080", uses: 2 }]);
  });

  it("is refused wherever it ends, with the place", () => {
    const answers = Array.from({ length: good.length - 1 }, (_, k) => refusalOf(good.slice(0, k + 1)));
    expect(answers.filter((refusal) => refusal?.code !== "E_XML")).toEqual([]);
    expect(answers.filter((refusal) => !/^\d+:\d+$/.test(refusal?.where ?? ""))).toEqual([]);
  });

  it("is refused wherever its bytes end, in the middle of a character too", () => {
    const bytes = new TextEncoder().encode(good);
    const codes = new Set(
      Array.from({ length: bytes.length - 1 }, (_, k) => refusalOf(bytes.slice(0, k + 1))?.code),
    );
    expect([...codes].sort()).toEqual(["E_ENCODING", "E_XML"]);
  });

  it("or damaged anywhere is read or refused, and nothing else", () => {
    const heron = readFileSync(
      fileURLToPath(new URL("../examples/saltmarsh/motifs/seeds.svg", import.meta.url)),
      "utf8",
    ).slice(0, 3000);
    const wounds = fc.array(
      fc.record({
        at: fc.nat(heron.length),
        cut: fc.nat(5),
        put: fc.constantFrom(
          "",
          "<",
          ">",
          '"',
          "&",
          "/",
          "<g>",
          "</g>",
          "-",
          "e9",
          "url(#a)",
          "]]>",
          "<!--",
          "#",
          "\ud800",
          " 0 ",
        ),
      }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(wounds, (list) => {
        const damaged = list.reduce(
          (text, { at, cut, put }) => text.slice(0, at) + put + text.slice(at + cut),
          `${heron}`,
        );
        const whole = damaged.endsWith("</svg>") ? damaged : `${damaged}</g></svg>`;
        refusalOf(whole);
      }),
      { numRuns: 300 },
    );
  });
});

describe("good drawings with any value anywhere", () => {
  const drawings = [...DRAWN_ALIKE, ...DRAWN_PLAINLY].map(({ inner, root }) => drawingOf(inner, root));
  const values =
    "|0|-1|5|100|1e-7|-0|1e9|999999|NaN|50%|calc(1px)|none|auto|inherit|initial|visible|reflect|evenodd|currentColor|red|#123|var(--x)|url(#a)|url(#c)|url(#m)|#a|#m|objectBoundingBox|userSpaceOnUse|0 0 10 10|1 2 3|10,10 20,20|scale(2)|scale(999999)|scale(1e-9)|rotate(30)|M0 0zm1 1z";
  const wounds = fc.array(
    fc.record({ at: fc.nat(100_000), value: fc.constantFrom(...values.split("|")), whole: fc.boolean() }),
    { minLength: 1, maxLength: 3 },
  );
  /** Puts a value in the place of another, or at its end. */
  const wound = (
    text: string,
    { at, value, whole }: { at: number; value: string; whole: boolean },
  ): string => {
    const found = [...text.matchAll(/ (?!xmlns)[\w:-]+="([^"]*)"/g)];
    const match = found[at % found.length];
    if (match === undefined) return text;
    const end = match.index + match[0].length - 1;
    return text.slice(0, whole ? end - (match[1]?.length ?? 0) : end) + value + text.slice(end);
  };

  it("are refused with a place, or give motifs of plain numbers", () => {
    fc.assert(
      fc.property(fc.constantFrom(...drawings), wounds, (drawing, list) => {
        const text = list.reduce(wound, drawing);
        try {
          const made = motif(text, { filters: true });
          expect(Object.values(made.reach).every(Number.isFinite)).toBe(true);
          const geometry = /"(?:d|points|transform|x|y|width|height|r|rx|ry|cx|cy|stroke-width)":"([^"]*)"/g;
          for (const [, value] of JSON.stringify([made.body, made.defs]).matchAll(geometry)) {
            expect(value).not.toMatch(/NaN|Infinity|undefined|\de|(?<![\d.])-0(?![\d.])/);
          }
        } catch (error) {
          if (!(error instanceof RepetendError)) throw error;
          if (error.code !== "E_INSTANCES") expect(error.where).toBeDefined();
        }
      }),
      { numRuns: 1500 },
    );
  });
});

describe("rings of references", () => {
  /** What refers, what it refers to, and how the reference is written. */
  const KINDS = {
    use: { holder: ["<g", "</g>"], refer: (id: string) => `<use href="#${id}"/>` },
    symbol: { holder: ["<symbol", "</symbol>"], refer: (id: string) => `<use xlink:href="#${id}"/>` },
    fill: {
      holder: ['<pattern width="1" height="1"', "</pattern>"],
      refer: (id: string) => `<path d="M0 0H9V9" fill="url(#${id})"/>`,
    },
    stroke: {
      holder: ['<pattern width="1" height="1"', "</pattern>"],
      refer: (id: string) => `<path d="M0 0H9V9" style="stroke:url('#${id}')"/>`,
    },
    clip: {
      holder: ["<clipPath", "</clipPath>"],
      refer: (id: string) => `<path d="M0 0H9V9" clip-path="url(#${id})"/>`,
    },
    mask: {
      holder: ["<mask", "</mask>"],
      refer: (id: string) => `<path d="M0 0H9V9" mask="url(&quot;#${id}&quot;)"/>`,
    },
    marker: {
      holder: ["<marker", "</marker>"],
      refer: (id: string) => `<path d="M0 0H9V9" style="marker:url(#${id})"/>`,
    },
  } as const;
  type Kind = keyof typeof KINDS;
  const kinds = Object.keys(KINDS) as Kind[];

  /** A ring that starts where the first of its holders refers to the second. */
  const ring = (links: readonly Kind[]): string =>
    svg(
      links
        .map((kind, k) => {
          const [open, close] = KINDS[kind].holder;
          const next = (k + 1) % links.length;
          return `${open} id="r${k}">${KINDS[links[next] ?? "use"].refer(`r${next}`)}${close}`;
        })
        .join(""),
    );
  const expectRing = (links: readonly Kind[]) => {
    const refusal = refusalOf(ring(links));
    expect(refusal?.code).toBe("E_CYCLE");
    const ids = (refusal?.value ?? "").split(" -> ");
    expect(ids[0]).toBe(ids.at(-1));
    expect(new Set(ids).size).toBe(links.length);
    expect(ids).toHaveLength(links.length + 1);
  };

  it.each(kinds)("of one kind, one to five long: %s", (kind) => {
    for (let length = 1; length <= 5; length++) expectRing(Array.from({ length }, () => kind));
  });

  it("of mixed kinds", () => {
    fc.assert(fc.property(fc.array(fc.constantFrom(...kinds), { minLength: 1, maxLength: 5 }), expectRing), {
      numRuns: 200,
    });
  });

  it.each<readonly [string, string, ErrorCode]>([
    ["gradient templates", '<linearGradient id="a" href="#b"/><radialGradient id="b" href="#a"/>', "E_CYCLE"],
    [
      "pattern templates",
      '<pattern id="a" href="#b"/><pattern id="b" href="#c"/><pattern id="c" href="#a"/>',
      "E_CYCLE",
    ],
    ["a use of what it is in", '<g id="a"><g><use href="#a"/></g></g>', "E_CYCLE"],
    [
      "a clip path that clips itself",
      '<clipPath id="a" clip-path="url(#a)"><path d="M0 0H9V9"/></clipPath>',
      "E_CYCLE",
    ],
    ["a mask that masks itself", '<mask id="a" mask="url(#b)"/><mask id="b" mask="url(#a)"/>', "E_CYCLE"],
    [
      "a style sheet",
      '<style>.a{fill:url(#p)}</style><pattern id="p" width="1" height="1"><path class="a" d="M0 0H9V9"/></pattern>',
      "E_CYCLE",
    ],
    [
      "inheritance",
      '<g fill="url(#p)"><pattern id="p" width="1" height="1"><path d="M0 0H9V9"/></pattern><path d="M0 0H9V9"/></g>',
      "E_CYCLE",
    ],
    [
      "var()",
      '<pattern id="p" width="1" height="1" style="--p:url(#p)"><path d="M0 0H9V9" fill="var(--p)"/></pattern><path d="M0 0H9V9" fill="url(#p)"/>',
      "E_CYCLE",
    ],
    ["custom properties", '<g style="--a:var(--b);--b:var(--c);--c:var(--a)"/>', "E_CYCLE"],
  ])("by way of %s", (_, inner, code) => {
    expect(refusalOf(svg(inner))?.code).toBe(code);
  });

  it("are told from references that only meet again", () => {
    const inner =
      '<path id="d" d="M0 0H9V9"/><g id="c"><use href="#d"/></g><g id="b"><use href="#c"/><use href="#d"/></g><use href="#b"/><use href="#c"/>';
    expect(refusalOf(svg(inner))).toBeUndefined();
  });
});

describe("what is dropped is listed", () => {
  const codesOf = (inner: string) =>
    motif(svg(`${inner}<path d="M0 0H9V9"/>`)).removed.map(({ code }) => code);

  it.each([
    ["scripts", "<script>alert(1)</script>", "N_SCRIPT"],
    [
      "scripts of HTML",
      '<script xmlns="http://www.w3.org/1999/xhtml" src="http://example.org/x.js"/>',
      "N_SCRIPT",
    ],
    ["scripts from elsewhere", '<script href="http://example.org/x.js"/>', "N_SCRIPT"],
    ["events", '<g onload="alert(1)"/>', "N_EVENT"],
    [
      "foreign content",
      '<foreignObject><iframe xmlns="http://www.w3.org/1999/xhtml" src="http://example.org/"/></foreignObject>',
      "N_FOREIGN",
    ],
    [
      "animations",
      '<rect><animate attributeName="x" to="9"/><set attributeName="fill" to="red"/></rect>',
      "N_ANIMATION",
    ],
    ["animations of style sheets", "<style>@keyframes a{to{fill:red}}</style>", "N_ANIMATION"],
    [
      "filters",
      '<filter id="f"><feGaussianBlur stdDeviation="2"/></filter><path d="M0 0H9V9" filter="url(#f)"/>',
      "N_FILTER",
    ],
    ["filters of CSS", '<path d="M0 0H9V9" style="filter:blur(2px)"/>', "N_FILTER"],
    ["links", '<a href="javascript:alert(1)"><path d="M0 0H9V9"/></a>', "N_LINK"],
    ["markers that are not there", '<path d="M0 0H9V9" marker-mid="url(#gone)"/>', "N_MARKER"],
    ["elements that SVG does not have", "<tide/>", "N_UNKNOWN"],
  ])("%s", (_, inner, code) => {
    expect(codesOf(inner)).toEqual([code]);
  });

  it("and nothing of it is in the motif", () => {
    const inner =
      '<script>x</script><g onclick="x" id="secret"><path d="M0 0H9V9" onload="x"/><metadata>x</metadata></g><title>x</title>';
    const made = motif(svg(inner));
    expect(JSON.stringify([made.defs, made.body])).not.toMatch(
      /script|on(?:click|load)|secret|title|metadata/,
    );
  });

  it("once a kind, with the number and the first place", () => {
    const [note] = motif(svg("\n<script/><script/>\n<script/>")).removed;
    expect(note).toEqual({
      level: "warning",
      code: "N_SCRIPT",
      message: "scripts were dropped (3)",
      where: "2:1",
    });
  });

  it("and editors' own notes are not worth listing", () => {
    expect(
      codesOf(
        '<x:view xmlns:x="urn:editor" x:base="file:///home"/><metadata><r xmlns="urn:r"/></metadata><title>t</title>',
      ),
    ).toEqual([]);
  });
});
