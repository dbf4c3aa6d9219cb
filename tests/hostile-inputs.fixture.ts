import { gzipSync } from "node:zlib";
import type { ErrorCode } from "../src/errors.js";

/** An input that must be refused, and how. */
export interface HostileInput {
  readonly name: string;
  readonly code: ErrorCode;
  /** Made when asked for: some are large. */
  readonly input: () => string | Uint8Array;
}

const NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"';

/** A drawing of 100 by 100 units around this. */
export const svg = (inner: string, root: string = 'viewBox="0 0 100 100"'): string =>
  `<svg ${NS} ${root}>${inner}</svg>`;

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (sign) => sign.charCodeAt(0));
const utf16 = (text: string, mark: boolean): Uint8Array =>
  Uint8Array.from(`${mark ? "\ufeff" : ""}${text}`, () => 0).length === 0
    ? new Uint8Array()
    : new Uint8Array(Buffer.from(`${mark ? "\ufeff" : ""}${text}`, "utf16le"));
const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/** The header of a PNG picture of this size, without a single pixel. */
function pngHeader(width: number, height: number): string {
  const header = Buffer.alloc(33);
  Buffer.from(PNG).copy(header);
  header.writeUInt32BE(13, 8);
  header.write("IHDR", 12);
  header.writeUInt32BE(width, 16);
  header.writeUInt32BE(height, 20);
  header.set([8, 6], 24);
  return `data:image/png;base64,${header.toString("base64")}`;
}

const one = (name: string, code: ErrorCode, input: string | Uint8Array): HostileInput => ({
  name,
  code,
  input: () => input,
});

const ENCODING: readonly HostileInput[] = [
  one("UTF-16 with a mark", "E_ENCODING", utf16(svg(""), true)),
  one("UTF-16 without one", "E_ENCODING", utf16(svg(""), false)),
  one("Latin-1", "E_ENCODING", latin1(svg("<title>Grèbe</title>"))),
  one(
    "Latin-1 that was decoded as UTF-8",
    "E_ENCODING",
    new TextDecoder().decode(latin1(svg("<title>Grèbe</title>"))),
  ),
  one("gzip", "E_ENCODING", gzipSync(svg(""))),
  one("NUL", "E_ENCODING", bytes(svg("<title>\u0000</title>"))),
  one("a control character", "E_ENCODING", svg("<title>\u0008</title>")),
  one("half a surrogate pair", "E_ENCODING", svg("<title>\ud83d</title>")),
];

const NOT_SVG: readonly HostileInput[] = [
  one("nothing", "E_NOT_SVG", ""),
  one("white space", "E_NOT_SVG", " \n\t"),
  one("no bytes", "E_NOT_SVG", new Uint8Array()),
  one("a PNG file", "E_NOT_SVG", Uint8Array.from([...PNG, 0, 0, 0, 13])),
  one("a JPEG file", "E_NOT_SVG", Uint8Array.from([0xff, 0xd8, 0xff, 0xe0])),
  one("HTML", "E_NOT_SVG", "<!DOCTYPE html><html><body><svg></svg></body></html>"),
  one("HTML without a document type", "E_NOT_SVG", "<html><p>reeds<br></html>"),
  one("plain text", "E_NOT_SVG", "reeds"),
  one("another root", "E_NOT_SVG", '<g xmlns="http://www.w3.org/2000/svg"/>'),
  one("a root without SVG's namespace", "E_NOT_SVG", '<svg viewBox="0 0 1 1"/>'),
];

const XML: readonly HostileInput[] = [
  one("an unclosed comment", "E_XML", svg("<!-- ")),
  one("two hyphens in a comment", "E_XML", svg("<!-- -- -->")),
  one("mismatched elements", "E_XML", svg("<g><path></g></path>")),
  one("duplicate attributes", "E_XML", svg('<path d="" d=""/>')),
  one(
    "duplicate attributes by namespace",
    "E_XML",
    svg('<use xmlns:a="urn:a" xmlns:b="urn:a" a:x="" b:x=""/>'),
  ),
  one("an attribute without quotes", "E_XML", svg("<g id=a/>")),
  one("a bare ampersand", "E_XML", svg("<title>reeds & herons</title>")),
  one("a prefix that is not bound", "E_XML", svg("<x:g/>")),
  one("text after the end", "E_XML", `${svg("")}<g/>`),
  one("a character reference to nothing", "E_XML", svg("<title>&#0;</title>")),
];

const billion = Array.from({ length: 10 }, (_, k) => `<!ENTITY l${k + 1} "${`&l${k};`.repeat(10)}">`).join(
  "",
);

const DTD: readonly HostileInput[] = [
  one(
    "an entity that doubles and doubles",
    "E_DTD",
    `<!DOCTYPE svg [<!ENTITY l0 "ha">${billion}]>${svg("<title>&l10;</title>")}`,
  ),
  one(
    "one long entity, used often",
    "E_DTD",
    `<!DOCTYPE svg [<!ENTITY a "${"M0 0".repeat(25_000)}">]>${svg(`<path d="${"&a;".repeat(10_000)}"/>`)}`,
  ),
  one(
    "an entity from a file",
    "E_DTD",
    `<!DOCTYPE svg [<!ENTITY f SYSTEM "file:///etc/passwd">]>${svg("<title>&f;</title>")}`,
  ),
  one(
    "a parameter entity",
    "E_DTD",
    `<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://example.org/p.dtd"> %p;]>${svg("")}`,
  ),
  one("an external document type", "E_DTD", `<!DOCTYPE svg SYSTEM "http://example.org/evil.dtd">${svg("")}`),
  one(
    "a public document type of someone else",
    "E_DTD",
    `<!DOCTYPE svg PUBLIC "-//Other//DTD//EN" "http://example.org/o.dtd">${svg("")}`,
  ),
  one("an element type behind a comment", "E_DTD", `<!DOCTYPE svg [<!-- a --><!ELEMENT svg ANY>]>${svg("")}`),
  one("an entity of markup", "E_DTD", `<!DOCTYPE svg [<!ENTITY g "<g/>">]>${svg("&g;")}`),
  one("an element type of its own", "E_DTD", `<!DOCTYPE svg [<!ATTLIST svg onload CDATA "x">]>${svg("")}`),
  one("an entity of HTML", "E_DTD", svg("<title>&nbsp;</title>")),
];

const EXTERNAL: readonly HostileInput[] = [
  ...[
    "file:///etc/passwd",
    "/etc/passwd",
    "reed.svg",
    "reed.svg#a",
    "http://example.org/a.png",
    "//example.org/a",
    "HTTP://EXAMPLE.ORG/",
  ].map((href) =>
    one(`image ${href}`, "E_EXTERNAL_REF", svg(`<image href="${href}" width="9" height="9"/>`)),
  ),
  ...["use", "linearGradient", "radialGradient", "pattern", "filter", "feImage"].map((name) =>
    one(`${name} to another file`, "E_EXTERNAL_REF", svg(`<${name} id="a" xlink:href="other.svg#b"/>`)),
  ),
  one("a use of a data: drawing", "E_EXTERNAL_REF", svg('<use href="data:image/svg+xml,%3Csvg/%3E#a"/>')),
  ...["fill", "stroke", "clip-path", "mask", "filter", "marker-start"].map((name) =>
    one(`${name} to another file`, "E_EXTERNAL_REF", svg(`<path d="M0 0H9V9" ${name}="url(other.svg#b)"/>`)),
  ),
  one(
    "a url() in style=",
    "E_EXTERNAL_REF",
    svg('<path d="M0 0H9V9" style="fill:url(http://example.org/a#b)"/>'),
  ),
  one("a url() in a style sheet", "E_EXTERNAL_REF", svg("<style>.never{mask:url('other.svg#b')}</style>")),
  one("a url() in a custom property", "E_EXTERNAL_REF", svg('<g style="--a:url(other.svg)"/>')),
  one("a url() that is not closed", "E_EXTERNAL_REF", svg('<g fill="url(#a"/>')),
  one("@import", "E_EXTERNAL_REF", svg('<style>@import "other.css";</style>')),
  one(
    "a font from elsewhere",
    "E_EXTERNAL_REF",
    svg("<style>@font-face{font-family:a;src:url(data:a),url(http://example.org/a.woff)}</style>"),
  ),
  one("@import url()", "E_EXTERNAL_REF", svg("<style>@import url(http://example.org/o.css);</style>")),
  one(
    "a style sheet beside the drawing",
    "E_EXTERNAL_REF",
    `<?xml-stylesheet href="o.css" type="text/css"?>${svg("")}`,
  ),
  one("a base elsewhere", "E_EXTERNAL_REF", svg('<g xml:base="http://example.org/"><use href="#a"/></g>')),
  one(
    "an external reference in what is never painted",
    "E_EXTERNAL_REF",
    svg('<defs><image href="/etc/passwd"/></defs>'),
  ),
  one(
    "an image that is a drawing",
    "E_IMAGE",
    svg('<image href="data:image/svg+xml;base64,PHN2Zy8+" width="9" height="9"/>'),
  ),
  one(
    "an image that is nothing",
    "E_IMAGE",
    svg('<image href="data:image/png;base64,AAAA" width="9" height="9"/>'),
  ),
  one(
    "an image that says one thing and is another",
    "E_IMAGE",
    svg('<image href="data:image/png;base64,PHN2Zy8+" width="9" height="9"/>'),
  ),
];

const LIMITS: readonly HostileInput[] = [
  { name: "more bytes than allowed", code: "E_LIMIT", input: () => svg(`<!--${"x".repeat(10_500_000)}-->`) },
  { name: "too many elements", code: "E_LIMIT", input: () => svg("<g/>".repeat(200_001)) },
  {
    name: "too many attributes",
    code: "E_LIMIT",
    input: () => svg(`<g ${Array.from({ length: 257 }, (_, k) => `a${k}=""`).join(" ")}/>`),
  },
  {
    name: "too many path commands",
    code: "E_LIMIT",
    input: () => svg(`<path d="M0 0${"h1v1".repeat(25_000)}"/>`),
  },
  {
    name: "too many points",
    code: "E_LIMIT",
    input: () => svg(`<polygon points="${"1 2 ".repeat(50_001)}"/>`),
  },
  one(
    "a picture of 20,000 x 20,000",
    "E_LIMIT",
    svg(`<image href="${pngHeader(20_000, 20_000)}" width="9" height="9"/>`),
  ),
  one(
    "custom properties that double and double",
    "E_LIMIT",
    svg(
      `<style>:root{--a0:xxxxxxxx;${Array.from({ length: 40 }, (_, k) => `--a${k + 1}:var(--a${k})var(--a${k})`).join(";")}}</style><path d="M0 0H9V9" fill="var(--a40)"/>`,
    ),
  ),
  {
    name: "a style sheet of a million rules",
    code: "E_LIMIT",
    input: () => svg(`<style>${"a{}".repeat(300_000)}</style>`),
  },
  {
    name: "a hundred thousand cascade layers",
    code: "E_LIMIT",
    input: () =>
      svg(`<style>@layer ${Array.from({ length: 100_000 }, (_, k) => `a${k}`).join(",")};</style>`),
  },
  {
    name: "cascade layers in cascade layers",
    code: "E_DEPTH",
    input: () => svg(`<style>@layer ${"a.".repeat(100_000)}a;</style>`),
  },
  {
    name: "a style attribute of a million declarations",
    code: "E_LIMIT",
    input: () => svg(`<g style="${"a:b;".repeat(1_000_000)}"/>`),
  },
  {
    name: "very many custom properties",
    code: "E_LIMIT",
    input: () =>
      svg(
        `<g style="${Array.from({ length: 300 }, (_, k) => `--a${k}:1`).join(";")}"><g style="--b:1"/></g>`,
      ),
  },
  {
    name: "a transform of very many functions, out of range at last",
    code: "E_NUMBER",
    input: () =>
      svg(`<g transform="${"translate(1)".repeat(200_000)} translate(999999)"><path d="M0 0H9V9"/></g>`),
  },
  {
    name: "a path of a million commands",
    code: "E_LIMIT",
    input: () => svg(`<path d="M0 0${"h1".repeat(1_000_000)}"/>`),
  },
  {
    name: "a selector that can be matched in endless ways",
    code: "E_LIMIT",
    input: () =>
      svg(
        `<style>.x ${"g ".repeat(40)}rect{fill:red}</style>${"<g>".repeat(200)}<rect width="1" height="1"/>${"</g>".repeat(200)}`,
      ),
  },
  {
    name: "selectors over siblings of siblings",
    code: "E_LIMIT",
    input: () => svg(`<style>.x~${"rect~".repeat(20)}rect{fill:red}</style>${"<rect/>".repeat(3000)}`),
  },
  {
    name: "counting among very many siblings",
    code: "E_LIMIT",
    input: () => svg(`<style>g:nth-last-child(3n){fill:red}</style>${"<g/>".repeat(100_000)}`),
  },
  {
    name: "a selector of ten thousand parts",
    code: "E_LIMIT",
    input: () => svg(`<style>${"a>".repeat(10_000)}a{fill:red}</style>`),
  },
  {
    name: "brackets in brackets in a style",
    code: "E_DEPTH",
    input: () => svg(`<style>${":not(".repeat(100_000)}a</style>`),
  },
  {
    name: "brackets in brackets in style=",
    code: "E_DEPTH",
    input: () => svg(`<g style="fill:${"(".repeat(100_000)}"/>`),
  },
  {
    name: "fallbacks in fallbacks",
    code: "E_DEPTH",
    input: () => svg(`<path d="M0 0H9V9" style="fill:${"var(--a,".repeat(1_000)}red${")".repeat(1_000)}"/>`),
  },
  ...[300, 1_000, 100_000].map((depth) => ({
    name: `depth ${depth}`,
    code: "E_DEPTH" as const,
    input: () => svg("<g>".repeat(depth) + "</g>".repeat(depth)),
  })),
  {
    name: "a chain of 10,000 uses",
    code: "E_DEPTH",
    input: () =>
      svg(Array.from({ length: 10_000 }, (_, k) => `<g id="a${k}"><use href="#a${k + 1}"/></g>`).join("")),
  },
  {
    name: "a chain of 10,000 patterns",
    code: "E_DEPTH",
    input: () =>
      svg(
        `${Array.from({ length: 10_000 }, (_, k) => `<pattern id="a${k}" width="1" height="1"><path d="M0 0H9V9" fill="url(#a${k + 1})"/></pattern>`).join("")}<path d="M0 0H9V9" fill="url(#a0)"/>`,
      ),
  },
  {
    name: "a chain of 10,000 gradient templates",
    code: "E_DEPTH",
    input: () =>
      svg(
        `${Array.from({ length: 10_000 }, (_, k) => `<linearGradient id="a${k}" href="#a${k + 1}"/>`).join("")}<path d="M0 0H9V9" fill="url(#a0)"/>`,
      ),
  },
  {
    name: "patterns in patterns by way of var()",
    code: "E_DEPTH",
    input: () =>
      svg(
        `${Array.from({ length: 200 }, (_, k) => `<pattern id="a${k}" width="1" height="1" style="--p:url(#a${k + 1})">${"<g>".repeat(100)}<path d="M0 0H9V9" fill="var(--p)"/>${"</g>".repeat(100)}</pattern>`).join("")}<path d="M0 0H9V9" fill="url(#a0)"/>`,
      ),
  },
];

const tens = (tag: (k: number) => string): string =>
  svg(`<g id="a0"><path d="M0 0H9V9"/></g>${Array.from({ length: 9 }, (_, k) => tag(k)).join("")}`);

const INSTANCES: readonly HostileInput[] = [
  one(
    "a thousand million uses",
    "E_INSTANCES",
    tens((k) => `<g id="a${k + 1}">${`<use href="#a${k}"/>`.repeat(10)}</g>`),
  ),
  one(
    "a thousand million symbols",
    "E_INSTANCES",
    tens((k) => `<symbol id="a${k + 1}">${`<use href="#a${k}"/>`.repeat(10)}</symbol>`).replace(
      "</svg>",
      '<use href="#a9"/></svg>',
    ),
  ),
  one(
    "a thousand million patterns",
    "E_INSTANCES",
    svg(
      `<pattern id="p0" width="1" height="1"><path d="M0 0H9V9"/></pattern>${Array.from({ length: 9 }, (_, k) => `<pattern id="p${k + 1}" width="1" height="1">${`<path d="M0 0H9V9" fill="url(#p${k})"/>`.repeat(10)}</pattern>`).join("")}<path d="M0 0H9V9" fill="url(#p9)"/>`,
    ),
  ),
  one(
    "a thousand million masks",
    "E_INSTANCES",
    svg(
      `<mask id="p0"><path d="M0 0H9V9"/></mask>${Array.from({ length: 9 }, (_, k) => `<mask id="p${k + 1}">${`<path d="M0 0H9V9" mask="url(#p${k})"/>`.repeat(10)}</mask>`).join("")}<path d="M0 0H9V9" mask="url(#p9)"/>`,
    ),
  ),
  one(
    "patterns that shapes inherit, by the million",
    "E_INSTANCES",
    svg(
      `<pattern id="p" width="1" height="1">${'<path d="M0 0H9V9"/>'.repeat(1000)}</pattern><g fill="url(#p)">${'<path d="M0 0H9V9"/>'.repeat(1000)}</g>`,
    ),
  ),
  one(
    "clips by the million",
    "E_INSTANCES",
    svg(
      `<clipPath id="p">${'<path d="M0 0H9V9"/>'.repeat(1000)}</clipPath>${'<path d="M0 0H9V9" clip-path="url(#p)"/>'.repeat(1000)}`,
    ),
  ),
  one(
    "markers on every vertex, by the million",
    "E_INSTANCES",
    svg(
      `<marker id="p">${'<path d="M0 0H9V9"/>'.repeat(100)}</marker><path d="M0 0${"h1v1".repeat(5000)}" marker-mid="url(#p)"/>`,
    ),
  ),
];

const VALUES: readonly HostileInput[] = [
  ...["NaN", "Infinity", "-Infinity", "1e400", "1e7", "0x10", "ten", "", "1,2"].map((value) =>
    one(
      `an x of "${value}"`,
      value === "ten" ? "E_NUMBER" : "E_NUMBER",
      svg(`<line x1="${value === "" ? "." : value}" x2="9" stroke="red"/>`),
    ),
  ),
  ...[
    "M0 0LNaN 0",
    "M0 0L1e400 0",
    "M0 0H1e9",
    "L0 0",
    "M0 0 L",
    "M0 0X",
    "M0 0A1 1 0 2 0 3 3",
    "M999999 0h2",
  ].map((d) => one(`path data "${d}"`, "E_NUMBER", svg(`<path d="${d}"/>`))),
  one("points that are no numbers", "E_NUMBER", svg('<polygon points="0,0 1,x 2,2"/>')),
  one("an odd number of points", "E_NUMBER", svg('<polygon points="0,0 1,1 2"/>')),
  ...[
    "scale(0)",
    "matrix(1 1 1 1 0 0)",
    "matrix(1 2 3)",
    "rotate(NaN)",
    "translate(1e9)",
    "skewX(90deg)",
    "spin(3)",
    "scale(2",
  ].map((value) =>
    one(`transform ${value}`, "E_NUMBER", svg(`<g transform="${value}"><path d="M0 0H9V9"/></g>`)),
  ),
  one(
    "transforms inside each other that grow out of range",
    "E_NUMBER",
    svg(`${'<g transform="scale(900000)">'.repeat(200)}<path d="M0 0H9V9"/>${"</g>".repeat(200)}`),
  ),
  one(
    "a transform that flattens as good as all",
    "E_NUMBER",
    svg('<g transform="scale(1 1e-12)"><path d="M0 0H9V9"/></g>'),
  ),
  one(
    "a media attribute that cannot be read",
    "E_STYLE",
    svg('<style media="10,10 20">path{fill:red}</style>'),
  ),
  one("an opacity that is none", "E_NUMBER", svg('<path d="M0 0H9V9" opacity="half"/>')),
  one("a miter limit below 1", "E_NUMBER", svg('<path d="M0 0H9V9" stroke="red" stroke-miterlimit="0"/>')),
  one("negative dashes", "E_NUMBER", svg('<path d="M0 0H9V9" stroke="red" stroke-dasharray="3 -1"/>')),
  one("a viewBox of three numbers", "E_NUMBER", svg("", 'viewBox="0 0 9"')),
  one("a viewBox that is no numbers", "E_NUMBER", svg("", 'viewBox="0 0 a b"')),
  one("no size and no viewBox", "E_SIZE", svg("", "")),
  one("sizes in per cent and no viewBox", "E_SIZE", svg("", 'width="100%" height="100%"')),
  ...['width="0" height="9"', 'width="-9mm" height="9mm"', 'viewBox="0 0 0 9"', 'viewBox="0 0 9 -9"'].map(
    (root) => one(`a root with ${root}`, "E_SIZE", svg("", root)),
  ),
  one("a negative width of a shape", "E_SIZE", svg('<rect width="-1" height="9"/>')),
  one("a negative radius", "E_SIZE", svg('<circle r="-1"/>')),
  ...["em", "ex", "rem", "vw", "furlong"].map((unit) =>
    one(`the unit ${unit}`, "E_UNIT", svg(`<rect width="9${unit}" height="9"/>`)),
  ),
  one("a root in em", "E_UNIT", svg("", 'width="9em" height="9em"')),
  ...[
    "reedgreen",
    "#12",
    "123",
    "rgb(1)",
    "rgb(1,2,3,4,5)",
    "auto",
    "rgb(10%, 20, 30%)",
    "javascript:alert(1)",
  ].map((value) => one(`the colour ${value}`, "E_COLOUR", svg(`<path d="M0 0H9V9" fill="${value}"/>`))),
  one(
    "a stop's colour",
    "E_COLOUR",
    svg('<linearGradient id="a"><stop stop-color="x"/></linearGradient><path d="M0 0H9V9" fill="url(#a)"/>'),
  ),
  one("a colour of a style sheet", "E_COLOUR", svg('<style>path{stroke:no}</style><path d="M0 0H9V9"/>')),
  one("an id that stands twice, used", "E_ID", svg('<g id="a"/><use href="#a"/><g id="a"/>')),
  one(
    "a gradient that stands twice, where nothing is painted",
    "E_ID",
    svg('<defs><linearGradient id="a"/><linearGradient id="a"/><path d="M0 0H9V9" fill="url(#a)"/></defs>'),
  ),
  one(
    "a gradient that stands twice, behind a var()",
    "E_ID",
    svg(
      '<linearGradient id="a"/><linearGradient id="a"/><path d="M0 0H9V9" style="--a:url(#a);fill:var(--a)"/>',
    ),
  ),
  one("a use that leads nowhere", "E_REF", svg('<use href="#gone"/>')),
  one("a fill that leads nowhere", "E_REF", svg('<path d="M0 0H9V9" fill="url(#gone)"/>')),
  one("a clip that leads nowhere", "E_REF", svg('<path d="M0 0H9V9" clip-path="url(#gone)"/>')),
  one("a mask that leads to a group", "E_REF", svg('<g id="g"/><path d="M0 0H9V9" mask="url(#g)"/>')),
  one(
    "a template of another kind",
    "E_REF",
    svg('<g id="g"/><linearGradient id="a" href="#g"/><path d="M0 0H9V9" fill="url(#a)"/>'),
  ),
  one("live text", "E_TEXT", svg("<text>Low Tide</text>")),
  one(
    "live text in a clip",
    "E_TEXT",
    svg('<clipPath id="c"><text>Low Tide</text></clipPath><path d="M0 0H9V9" clip-path="url(#c)"/>'),
  ),
  one("a style that cannot be read", "E_STYLE", svg("<style>path{fill:red}}}</style>")),
  one("a selector that cannot be read", "E_STYLE", svg("<style>path:sideways{fill:red}</style>")),
  one("a style attribute that cannot be read", "E_STYLE", svg('<g style="fill"/>')),
  one(
    "a media query about a width",
    "E_FEATURE",
    svg("<style>@media (min-width: 10px){path{fill:red}}</style>"),
  ),
  one("@supports", "E_FEATURE", svg("<style>@supports (grid-gap:1px){path{fill:red}}</style>")),
  one("@container", "E_FEATURE", svg("<style>@container (width > 1px){path{fill:red}}</style>")),
  one(
    "a url() in a condition",
    "E_EXTERNAL_REF",
    svg("<style>@supports (fill:url(http://example.org/a#b)){path{fill:red}}</style>"),
  ),
  one("a layer of two names", "E_STYLE", svg("<style>@layer a, b{path{fill:red}}</style>")),
  one("a layer whose name is none", "E_STYLE", svg("<style>@layer 1;</style>")),
  one("a layer named nothing", "E_STYLE", svg("<style>@layer;</style>")),
  one(
    "an important revert-layer",
    "E_FEATURE",
    svg("<style>path{fill:revert-layer!important}</style><path d='M0 0H9V9'/>"),
  ),
  one("a clip of CSS's own shapes", "E_FEATURE", svg('<path d="M0 0H9V9" style="clip-path:circle(4px)"/>')),
  one(
    "a transform from the box of a stroke",
    "E_FEATURE",
    svg('<path d="M0 0H9V9" style="transform:rotate(9deg);transform-box:border-box"/>'),
  ),
  one("a paint that is a group", "E_FEATURE", svg('<g id="g"/><path d="M0 0H9V9" fill="url(#g)"/>')),
];

const LONG_PATH = `M0 0${"h1v1".repeat(20_000)}`;

const MULTIPLIED: readonly HostileInput[] = [
  one(
    "a long path, used often",
    "E_INSTANCES",
    svg(`<path id="p" d="${LONG_PATH}"/>${'<use href="#p"/>'.repeat(2_000)}`),
  ),
  one(
    "markers that hold nothing, on very many vertices",
    "E_INSTANCES",
    svg(
      `<marker id="m"/><path id="p" d="${LONG_PATH}" marker-mid="url(#m)"/>${'<use href="#p"/>'.repeat(1000)}`,
    ),
  ),
  one(
    "markers that are inherited",
    "E_INSTANCES",
    svg(
      `<marker id="m">${'<path d="M0 0H9V9"/>'.repeat(100)}</marker><g marker-mid="url(#m)"><path d="${LONG_PATH}"/></g>`,
    ),
  ),
];

/** Every input of the table, by the part of the guard that answers. */
export const HOSTILE_INPUTS: readonly HostileInput[] = [
  ...ENCODING,
  ...NOT_SVG,
  ...XML,
  ...DTD,
  ...EXTERNAL,
  ...LIMITS,
  ...INSTANCES,
  ...MULTIPLIED,
  ...VALUES,
];

/** Filters that would keep a renderer busy; refused where filters are asked for. */
export const HOSTILE_FILTERS: readonly HostileInput[] = [
  ["a convolution of 100 x 100", "E_LIMIT", '<feConvolveMatrix order="100"/>'],
  ["a blur wider than the drawing", "E_LIMIT", '<feGaussianBlur stdDeviation="1000"/>'],
  ["growing wider than the drawing", "E_LIMIT", '<feMorphology operator="dilate" radius="500"/>'],
  ["a thousand octaves", "E_LIMIT", '<feTurbulence numOctaves="1000"/>'],
  ["a thousand steps", "E_LIMIT", "<feOffset/>".repeat(1000)],
  ["a step that is not known", "E_FEATURE", "<feTeleport/>"],
  ["a picture of another element", "E_FEATURE", '<feImage href="#g"/>'],
  ["what lies behind", "E_FEATURE", '<feOffset in="BackgroundImage"/>'],
  ["a number that is none", "E_NUMBER", '<feGaussianBlur stdDeviation="NaN"/>'],
].map(([name = "", code, steps]) => ({
  name,
  code: code as ErrorCode,
  input: () => svg(`<g id="g"/><filter id="f">${steps}</filter><path d="M0 0H9V9" filter="url(#f)"/>`),
}));
