/** A drawing and what it asks of the reader, one question each. */
export interface FeatureCase {
  readonly name: string;
  readonly inner: string;
  /** Attributes of the root; a square of 100 units where nothing is said. */
  readonly root?: string;
  /** The same picture written plainly, where the renderer does not understand the drawing itself. */
  readonly plain?: string;
  readonly filters?: boolean;
}

/** The drawing as a document. */
export function drawingOf(inner: string, root: string = 'viewBox="0 0 100 100"'): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${root}>${inner}</svg>`;
}

const GRADIENT =
  '<linearGradient id="a"><stop offset="0" stop-color="#1b2a41"/><stop offset=".6" stop-color="#c8553d" stop-opacity=".6"/><stop offset="1" stop-color="#f2ead8"/></linearGradient>';

/** Drawings that the renderer draws rightly by itself: the motif must look like its source. */
export const DRAWN_ALIKE: readonly FeatureCase[] = [
  { name: "the black of a shape that says nothing", inner: '<circle cx="50" cy="50" r="30"/>' },
  {
    name: "basic shapes",
    inner:
      '<rect x="5" y="5" width="40" height="30" rx="8" fill="teal"/><ellipse cx="70" cy="20" rx="20" ry="12" fill="#c8553d"/><line x1="5" y1="50" x2="95" y2="60" stroke="navy" stroke-width="4"/><polyline points="5,70 30,90 50,70 70,95" fill="none" stroke="#334" stroke-width="3"/><polygon points="75,65 95,95 60,90" fill="olive" stroke="black"/>',
  },
  {
    name: "a rectangle with one radius, and radii beyond half",
    inner:
      '<rect x="5" y="5" width="40" height="80" rx="9" fill="teal"/><rect x="55" y="5" width="30" height="80" rx="40" ry="10" fill="teal"/>',
  },
  {
    name: "path commands of every kind",
    inner:
      '<path fill="none" stroke="#1b2a41" stroke-width="2" d="m10 10h20v10l10-5t20 5 10-5q10 20 20 0s5-10 10 10c-5 5-10 20-30 10a20 10 30 1 0-20 20A30 20 0 0 1 20 60z m5 5-2.5.5.5 3"/>',
  },
  {
    name: "the even-odd rule",
    inner: '<path fill-rule="evenodd" d="M50 5 79 95 3 39H97L21 95Z" fill="#c8553d"/>',
  },
  {
    name: "inheritance through groups",
    inner:
      '<g fill="#3e6b4f" stroke="#c8553d" stroke-width="3"><rect x="10" y="10" width="30" height="30"/><g fill="none" stroke-width="1"><rect x="50" y="10" width="30" height="30"/><rect x="50" y="50" width="30" height="30" fill="inherit" stroke="none"/></g></g>',
  },
  {
    name: "opacity of fills, strokes and groups",
    inner:
      '<g opacity=".6"><rect x="10" y="10" width="60" height="60" fill="red" fill-opacity=".5"/><rect x="30" y="30" width="60" height="60" fill="rgba(0,0,255,.5)" stroke="#00800080" stroke-width="8" stroke-opacity="50%"/></g>',
  },
  {
    name: "caps, joins, dashes",
    inner:
      '<g fill="none" stroke="#1b2a41" stroke-width="8"><path d="M10 20H40L25 40" stroke-linecap="round" stroke-linejoin="round"/><path d="M60 20H90L75 40" stroke-linecap="square" stroke-linejoin="bevel"/><path d="M10 60H40L10 66" stroke-miterlimit="12"/><path d="M10 90H90" stroke-dasharray="12 4 2" stroke-dashoffset="3" stroke-width="5"/></g>',
  },
  {
    name: "transforms of every kind",
    inner:
      '<g transform="translate(20 10) scale(.5,.8)"><rect width="40" height="40" transform="rotate(15)" fill="teal"/><rect width="40" height="40" transform="rotate(30 60 60) skewX(20)" fill="#c8553d"/><rect width="40" height="40" transform="matrix(1 .2 -.3 1 90 10) skewY(-10)" fill="navy"/></g>',
  },
  {
    name: "a style sheet with classes, ids and importance",
    inner:
      '<style>.a{fill:teal}#b{fill:navy}rect{fill:red;stroke:black!important}g .a{stroke-width:4}</style><g><rect class="a" width="40" height="40" x="5" y="5" stroke="white"/></g><rect class="a" id="b" width="40" height="40" x="50" y="50"/>',
  },
  {
    name: "style attributes over style sheets over attributes",
    inner:
      '<style>.a{fill:teal}</style><rect class="a" fill="red" width="40" height="40"/><rect class="a" fill="red" style="fill:navy" x="50" width="40" height="40"/>',
  },
  {
    name: "currentColor",
    inner:
      '<g color="#c8553d" fill="currentColor"><circle cx="30" cy="50" r="20"/><circle cx="70" cy="50" r="20" stroke="currentColor" stroke-width="4" fill="none"/></g>',
  },
  {
    name: "hsl and percentages of rgb",
    inner:
      '<rect width="50" height="100" fill="hsl(200 50% 40%)"/><rect x="50" width="50" height="100" fill="rgb(20%,60%,40%)"/>',
  },
  {
    name: "a linear gradient",
    inner: `<defs>${GRADIENT}</defs><rect x="10" y="10" width="80" height="50" fill="url(#a)"/>`,
  },
  {
    name: "a gradient in user space, turned and reflected",
    inner: `<defs>${GRADIENT}<linearGradient id="b" xlink:href="#a" gradientUnits="userSpaceOnUse" x1="10%" y1="0" x2="30" y2="10" gradientTransform="rotate(20)" spreadMethod="reflect"/></defs><rect x="10" y="10" width="80" height="50" fill="url(#b)"/>`,
  },
  {
    name: "a radial gradient with a focus, from templates",
    inner: `<defs>${GRADIENT}<radialGradient id="c" href="#a" cx=".4" r="60%" fx=".2"/><radialGradient id="d" href="#c" cy=".3"/></defs><circle cx="50" cy="50" r="45" fill="url(#d)"/>`,
  },
  {
    name: "a gradient on a stroke",
    inner: `<defs>${GRADIENT}</defs><path d="M10 80Q50-20 90 80" fill="none" stroke="url(#a)" stroke-width="9"/>`,
  },
  {
    name: "a gradient without stops, with one, and one without length",
    inner:
      '<defs><linearGradient id="n"/><linearGradient id="o"><stop stop-color="teal"/></linearGradient><linearGradient id="z" x1=".5" x2=".5"><stop stop-color="red"/><stop offset="1" stop-color="navy"/></linearGradient></defs><rect width="30" height="30" fill="url(#n)"/><rect x="35" width="30" height="30" fill="url(#o)"/><rect x="70" width="30" height="30" fill="url(#z)"/>',
  },
  {
    name: "a paint with a fallback",
    inner:
      '<rect width="50" height="50" fill="url(#gone) #c8553d"/><rect x="50" width="50" height="50" fill="url(#gone) none"/>',
  },
  {
    name: "a clip path",
    inner:
      '<clipPath id="c"><circle cx="40" cy="40" r="30"/><rect x="50" y="50" width="40" height="40" transform="rotate(10)"/></clipPath><rect width="100" height="100" fill="teal" clip-path="url(#c)"/>',
  },
  {
    name: "a clip path in the units of the box, with the even-odd rule",
    inner:
      '<clipPath id="c" clipPathUnits="objectBoundingBox"><path clip-rule="evenodd" d="M.5 .05 .79 .95 .03 .39H.97L.21 .95Z"/></clipPath><rect x="10" y="20" width="80" height="60" fill="teal" clip-path="url(#c)"/>',
  },
  {
    name: "a clip path that is clipped, and its shapes too",
    inner:
      '<clipPath id="a"><circle cx="50" cy="50" r="40"/></clipPath><clipPath id="b" clip-path="url(#a)"><rect width="100" height="60"/></clipPath><clipPath id="c"><rect width="60" height="100" clip-path="url(#a)"/></clipPath><rect width="100" height="100" fill="teal" clip-path="url(#b)"/><rect width="100" height="100" fill="#c8553d" clip-path="url(#c)" opacity=".5"/>',
  },
  {
    name: "a clip path with a use",
    inner:
      '<defs><circle id="s" cx="30" cy="30" r="25"/></defs><clipPath id="c"><use href="#s" x="20" y="10" transform="scale(1.2)"/></clipPath><rect width="100" height="100" fill="teal" clip-path="url(#c)"/>',
  },
  {
    name: "an empty clip path",
    inner:
      '<clipPath id="c"/><rect width="100" height="100" fill="teal" clip-path="url(#c)"/><circle r="20"/>',
  },
  {
    name: "a mask by luminance",
    inner: `<defs>${GRADIENT}</defs><mask id="m"><rect width="100" height="100" fill="url(#a)"/><circle cx="30" cy="30" r="20" fill="white"/></mask><rect width="100" height="80" fill="teal" mask="url(#m)"/>`,
  },
  {
    name: "a mask in user space with content in the box",
    inner:
      '<mask id="m" maskUnits="userSpaceOnUse" x="20" y="10" width="50" height="50" maskContentUnits="objectBoundingBox"><rect width="1" height=".5" fill="#fff"/><rect y=".5" width="1" height=".5" fill="#888"/></mask><rect x="10" y="10" width="80" height="80" fill="teal" mask="url(#m)"/>',
  },
  {
    name: "a mask by alpha, masked itself",
    inner:
      '<mask id="n"><rect width="60" height="100" fill="#fff"/></mask><mask id="m" mask="url(#n)" mask-type="alpha"><circle cx="50" cy="50" r="40" fill="#000" fill-opacity=".7"/></mask><rect width="100" height="100" fill="teal" mask="url(#m)"/>',
  },
  {
    name: "a pattern in user space",
    inner:
      '<pattern id="p" patternUnits="userSpaceOnUse" width="25" height="25" patternTransform="translate(5 0)"><rect width="12" height="12" fill="#c8553d"/><circle cx="18" cy="18" r="5" fill="teal"/></pattern><rect x="5" y="5" width="90" height="90" fill="url(#p)" stroke="black"/>',
  },
  {
    name: "a pattern in the box, with a viewBox and a template",
    inner:
      '<pattern id="p" width=".25" height=".25" viewBox="0 0 10 10"><circle cx="5" cy="5" r="4" fill="teal"/></pattern><pattern id="q" href="#p" height=".5"/><rect width="100" height="100" fill="url(#q)"/>',
  },
  {
    name: "a use with its own place and paint",
    inner:
      '<defs><g id="s"><rect width="20" height="20"/><circle cx="30" cy="10" r="8" fill="teal"/></g></defs><use href="#s" x="10" y="10" fill="#c8553d"/><use xlink:href="#s" transform="rotate(30) translate(40 20)" fill="navy" opacity=".5"/>',
  },
  {
    name: "a symbol with a viewBox",
    inner:
      '<symbol id="s" viewBox="0 0 20 20" preserveAspectRatio="xMinYMax meet"><circle cx="10" cy="10" r="14" fill="teal"/></symbol><use href="#s" x="5" y="5" width="30" height="60"/><use href="#s" x="50" y="20" width="45" height="30"/>',
  },
  {
    name: "a symbol that shows what overflows",
    inner:
      '<symbol id="s" viewBox="0 0 20 20" overflow="visible"><circle cx="10" cy="10" r="14" fill="teal"/></symbol><use href="#s" x="30" y="30" width="30" height="30"/>',
  },
  {
    name: "a nested svg",
    inner:
      '<svg x="10" y="10" width="50%" height="40" viewBox="0 0 10 10" preserveAspectRatio="xMidYMid slice"><circle cx="5" cy="5" r="5" fill="teal"/><rect width="50%" height="2" fill="navy"/></svg><svg x="50" y="60" width="30" height="30"><rect x="-10" y="10" width="100" height="100" fill="#c8553d"/></svg>',
  },
  {
    name: "a switch",
    inner:
      '<switch><rect requiredExtensions="http://example.org/x" width="90" height="90" fill="red"/><rect systemLanguage="fr" width="90" height="90" fill="red"/><circle systemLanguage="en-GB, de" cx="50" cy="50" r="30" fill="teal"/><rect width="90" height="90" fill="red"/></switch>',
  },
  {
    name: "markers",
    inner:
      '<marker id="m" viewBox="0 0 10 10" refX="5" refY="5" markerWidth="4" markerHeight="4" orient="auto"><path d="M0 0 10 5 0 10Z" fill="#c8553d"/></marker><marker id="o" markerWidth="4" markerHeight="4" refX="2" refY="2" orient="45"><circle cx="2" cy="2" r="3" fill="teal"/></marker><path d="M15 80C20 10 50 10 55 50S80 70 85 20" fill="none" stroke="navy" stroke-width="3" marker-start="url(#m)" marker-mid="url(#o)" marker-end="url(#m)"/>',
  },
  {
    name: "markers on a corner in user units",
    inner:
      '<marker id="m" markerUnits="userSpaceOnUse" markerWidth="14" markerHeight="10" refX="7" refY="5" orient="auto"><path d="M1 1 13 5 1 9Z" fill="#c8553d"/></marker><polyline points="20,20 80,30 50,80" fill="none" stroke="navy" marker-start="url(#m)" marker-mid="url(#m)" marker-end="url(#m)"/>',
  },
  {
    name: "paint order",
    inner:
      '<circle cx="30" cy="50" r="20" fill="teal" stroke="#c8553d" stroke-width="12" paint-order="stroke"/><circle cx="70" cy="50" r="20" fill="teal" stroke="#c8553d" stroke-width="12"/>',
  },
  {
    name: "blend modes and isolation",
    inner:
      '<rect width="60" height="60" fill="teal"/><g style="isolation:isolate"><rect x="30" y="30" width="60" height="60" fill="orange" style="mix-blend-mode:multiply"/></g><rect x="10" y="30" width="30" height="60" fill="orange" style="mix-blend-mode:multiply"/>',
  },
  {
    name: "what is not displayed or not visible",
    inner:
      '<g display="none"><rect width="50" height="50"/></g><g visibility="hidden"><rect width="50" height="50"/><rect x="50" y="50" width="40" height="40" visibility="visible" fill="teal"/></g>',
  },
  {
    name: "units of length",
    inner:
      '<rect x="1mm" y="2pt" width="1cm" height="1pc" fill="teal"/><rect x=".5in" y="10" width="20pc" height="5%" fill="navy"/><circle cx="50%" cy="70" r="10%" fill="#c8553d"/>',
  },
  {
    name: "a viewBox that is moved and larger than its size",
    inner: '<rect x="-20" y="-20" width="40" height="40" fill="teal"/>',
    root: 'width="40mm" height="30mm" viewBox="-30 -30 80 60"',
  },
  {
    name: "a frame of other proportions",
    inner:
      '<rect x="-50" y="-50" width="200" height="200" fill="teal"/><circle cx="50" cy="50" r="50" fill="orange"/>',
    root: 'width="200" height="100" viewBox="0 0 100 100"',
  },
  {
    name: "a frame of other proportions, sliced",
    inner: '<circle cx="50" cy="50" r="50" fill="orange"/>',
    root: 'width="200" height="100" viewBox="0 0 100 100" preserveAspectRatio="xMinYMax slice"',
  },
  {
    name: "a frame that stretches",
    inner: '<circle cx="50" cy="50" r="40" fill="orange" stroke="teal" stroke-width="10"/>',
    root: 'width="200" height="100" viewBox="0 0 100 100" preserveAspectRatio="none"',
  },
  {
    name: "styles of the root",
    inner: '<circle cx="50" cy="50" r="40"/>',
    root: 'viewBox="0 0 100 100" fill="teal" opacity=".5" style="stroke:navy;stroke-width:6"',
  },
  {
    name: "prefixes for SVG's namespace",
    inner:
      '<s:g xmlns:s="http://www.w3.org/2000/svg"><s:circle cx="50" cy="50" r="40" fill="teal"/></s:g><x:circle xmlns:x="urn:other" cx="50" cy="50" r="20"/>',
  },
  {
    name: "an embedded picture",
    inner:
      '<image x="10" y="10" width="60" height="40" href="data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAIAAAACCAIAAAD91JpzAAAACXBIWXMAAAPoAAAD6AG1e1JrAAAAFklEQVQImWM4EWAjZxPF8OHZJZueKAAmLgXTiS/1lQAAAABJRU5ErkJggg=="/>',
  },
  {
    name: "filters, where they are asked for",
    filters: true,
    inner:
      '<filter id="f" x="-20%" y="-20%" width="140%" height="140%"><feGaussianBlur in="SourceAlpha" stdDeviation="3"/><feOffset dx="4" dy="4" result="s"/><feFlood flood-color="navy" flood-opacity=".6"/><feComposite in2="s" operator="in"/><feMerge><feMergeNode/><feMergeNode in="SourceGraphic"/></feMerge></filter><circle cx="50" cy="50" r="30" fill="orange" filter="url(#f)"/>',
  },
];

/** Drawings that the renderer misreads in silence: the motif must look like the same picture written plainly. */
export const DRAWN_PLAINLY: readonly (FeatureCase & { readonly plain: string })[] = [
  {
    name: ":not, :is, :where and :nth-child",
    inner:
      "<style>rect{fill:red}rect:not(.a){fill:teal}:is(.b,#c){fill:navy}:where(rect){fill:lime}g>rect:nth-child(3n+1){stroke:black;stroke-width:4}rect:nth-last-of-type(1){opacity:.5}</style>" +
      '<g><rect class="a n" width="20" height="20"/><rect class="b" x="25" width="20" height="20"/><rect id="c" class="n" x="50" width="20" height="20"/><rect class="n" x="75" width="20" height="20"/></g>',
    plain:
      '<rect fill="red" stroke="black" stroke-width="4" width="20" height="20"/><rect fill="navy" x="25" width="20" height="20"/><rect fill="navy" x="50" width="20" height="20"/><rect fill="teal" stroke="black" stroke-width="4" opacity=".5" x="75" width="20" height="20"/>',
  },
  {
    name: "specificity before order, order before nothing, importance before both",
    inner:
      '<style>#i{fill:teal}.k.k{fill:red}.k{fill:lime}g rect{stroke:navy}rect{stroke:red}.m{fill:orange!important}rect{stroke-width:5!important}</style><g><rect id="i" class="k" width="40" height="40" x="5" y="5" style="stroke-width:1"/><rect class="m" id="j" style="fill:red" width="40" height="40" x="50" y="5"/></g>',
    plain:
      '<rect fill="teal" stroke="navy" stroke-width="5" width="40" height="40" x="5" y="5"/><rect fill="orange" stroke="navy" stroke-width="5" width="40" height="40" x="50" y="5"/>',
  },
  {
    name: "siblings, attributes and :has",
    inner:
      '<style>rect+rect{fill:teal}circle~rect{stroke:navy;stroke-width:4}[data-x^="ab"]{opacity:.5}g:has(circle){fill:orange}:root{stroke-linejoin:round}</style><g><rect width="20" height="20"/><circle cx="40" cy="10" r="8"/><rect x="55" y="2" width="16" height="16" data-x="abc"/><rect x="78" y="2" width="16" height="16"/></g>',
    plain:
      '<g fill="orange" stroke-linejoin="round"><rect width="20" height="20"/><circle cx="40" cy="10" r="8"/><rect x="55" y="2" width="16" height="16" opacity=".5" stroke="navy" stroke-width="4"/><rect fill="teal" x="78" y="2" width="16" height="16" stroke="navy" stroke-width="4"/></g>',
  },
  {
    name: "media queries: a light screen",
    inner:
      "<style>rect{fill:red}@media screen{rect{fill:teal}}@media print{rect{fill:lime}}@media (prefers-color-scheme: dark){rect{fill:black}}@media not print and (prefers-color-scheme:light){rect{stroke:navy}}@media print, all{rect{stroke-width:6}}@media (prefers-color-scheme:light) and (not (prefers-contrast:more)){rect{opacity:.5}}</style>" +
      '<style media="print">rect{fill:none}</style><rect x="10" y="10" width="50" height="50"/>',
    plain:
      '<rect x="10" y="10" width="50" height="50" fill="teal" stroke="navy" stroke-width="6" opacity=".5"/>',
  },
  {
    name: "var() with fallbacks, inheritance and one another",
    inner:
      '<style>:root{--sea:teal;--w:calc-is-not-used;--line:var(--sea)}.dusk{--sea:navy}rect{fill:var(--sea);stroke:var(--none, var(--also-none, orange));stroke-width:var( --width , 6 )}circle{fill:var(--gone)}</style><rect x="5" y="5" width="30" height="30"/><g class="dusk" style="--width:2"><rect x="50" y="5" width="30" height="30"/><path d="M5 90H90" stroke="var(--line)" stroke-width="4"/></g><circle cx="50" cy="60" r="10"/>',
    plain:
      '<rect x="5" y="5" width="30" height="30" fill="teal" stroke="orange" stroke-width="6"/><rect x="50" y="5" width="30" height="30" fill="navy" stroke="orange" stroke-width="2"/><path d="M5 90H90" stroke="teal" stroke-width="4"/><circle cx="50" cy="60" r="10"/>',
  },
  {
    // The values of the web platform's tests and of CSS Color 4: lab(46.277 -47.562 48.583) is #008000.
    name: "colours of CSS Color 4",
    inner:
      '<rect width="25" height="100" fill="lab(46.277 -47.562 48.583)"/><rect x="25" width="25" height="100" fill="color(srgb 0 0.5 0)"/><rect x="50" width="25" height="100" fill="hwb(120 0% 49.8%)"/><rect x="75" width="25" height="100" fill="oklch(51.975% 0.17686 142.495 / 50%)"/>',
    plain:
      '<rect width="75" height="100" fill="#008000"/><rect x="75" width="25" height="100" fill="#008000" fill-opacity=".5"/>',
  },
  {
    name: "currentColor is looked up where it is used",
    inner:
      '<g color="red" fill="currentColor"><rect width="40" height="40" color="teal"/><g color="navy"><rect x="50" width="40" height="40"/></g></g>',
    plain: '<rect width="40" height="40" fill="teal"/><rect x="50" width="40" height="40" fill="navy"/>',
  },
  {
    name: "inherit, initial, unset",
    inner:
      '<g fill="teal" opacity=".5" stroke="navy" stroke-width="6"><rect x="5" y="5" width="30" height="30" style="fill:initial;opacity:inherit"/><rect x="50" y="5" width="30" height="30" style="fill:unset;stroke:initial;opacity:unset"/></g>',
    plain:
      '<g opacity=".5"><rect x="5" y="5" width="30" height="30" fill="#000" opacity=".5" stroke="navy" stroke-width="6"/><rect x="50" y="5" width="30" height="30" fill="teal"/></g>',
  },
  {
    name: "geometry in style sheets",
    inner:
      '<style>circle{r:20px;cx:30;cy:50px}rect{width:1cm;height:20;rx:4px;x:55;y:10}path{d:path("M55 60H95V90Z")}</style><circle fill="teal"/><rect fill="navy"/><path fill="orange"/>',
    plain:
      '<circle cx="30" cy="50" r="20" fill="teal"/><rect x="55" y="10" width="37.795276" height="20" rx="4" fill="navy"/><path d="M55 60H95V90Z" fill="orange"/>',
  },
  {
    name: "transforms of style sheets, with an origin",
    inner:
      '<style>rect{transform:translate(10px,5px) rotate(.125turn) scale(80%);transform-origin:20px 20px}circle{transform:rotate(90deg);transform-origin:center}</style><rect width="40" height="40" fill="teal"/><circle cx="50" cy="20" r="10" fill="navy"/>',
    plain:
      '<rect width="40" height="40" fill="teal" transform="translate(20 20) translate(10 5) rotate(45) scale(.8) translate(-20 -20)"/><circle cx="80" cy="50" r="10" fill="navy"/>',
  },
  {
    name: "transforms measured from the element's own box",
    inner:
      '<style>.c{transform-box:fill-box;transform-origin:center;transform:rotate(45deg) translateX(25%)}</style><rect class="c" x="10" y="10" width="40" height="20" fill="teal" stroke="navy" stroke-width="6"/><g class="c"><path d="M50 50H90V90H50Z" fill="none"/><path d="M60 60H90V70H60Z" fill="#c8553d"/></g>',
    plain:
      '<rect x="10" y="10" width="40" height="20" fill="teal" stroke="navy" stroke-width="6" transform="translate(30 20) rotate(45) translate(-20 -20)"/><path d="M60 60H90V70H60Z" fill="#c8553d" transform="translate(70 70) rotate(45) translate(-60 -70)"/>',
  },
  {
    name: "strokes that do not scale are as wide as at the natural size",
    root: 'width="200" height="200" viewBox="0 0 100 100"',
    inner:
      '<g transform="scale(4)"><path d="M2 2H22" stroke="teal" stroke-width="8" vector-effect="non-scaling-stroke"/></g>',
    plain: '<path d="M8 8H88" stroke="teal" stroke-width="4"/>',
  },
  {
    name: "strokes that do not scale in a drawing that is stretched",
    root: 'width="200" height="200" viewBox="0 0 100 50" preserveAspectRatio="none"',
    inner:
      '<g transform="scale(10 5)"><path d="M2 4H9" stroke="teal" stroke-width="8" vector-effect="non-scaling-stroke"/></g>',
    plain: '<path d="M20 20H90" stroke="teal" stroke-width="2"/>',
  },
  {
    name: "dashes by a length of the author's",
    inner:
      '<g fill="none" stroke="teal" stroke-width="6"><path d="M10 10H90" pathLength="8" stroke-dasharray="1 1" stroke-dashoffset=".5"/><path d="M10 30H60M10 40H40" pathLength="16" stroke-dasharray="1"/><circle cx="50" cy="70" r="20" pathLength="10" stroke-dasharray="1"/></g>',
    plain:
      '<g fill="none" stroke="teal" stroke-width="6"><path d="M10 10H90" stroke-dasharray="10 10" stroke-dashoffset="5"/><path d="M10 30H60M10 40H40" stroke-dasharray="5"/><circle cx="50" cy="70" r="20" stroke-dasharray="12.566371"/></g>',
  },
  {
    name: "a gradient that begins on a circle",
    inner:
      '<radialGradient id="g" gradientUnits="userSpaceOnUse" cx="50" cy="50" r="40" fx="40" fy="45" fr="10"><stop stop-color="teal"/><stop offset=".5" stop-color="orange"/><stop offset="1" stop-color="navy"/></radialGradient><circle cx="50" cy="50" r="45" fill="url(#g)"/>',
    plain:
      '<radialGradient id="g" gradientUnits="userSpaceOnUse" cx="50" cy="50" r="40" fx="36.666667" fy="43.333333"><stop offset=".25" stop-color="teal"/><stop offset=".625" stop-color="orange"/><stop offset="1" stop-color="navy"/></radialGradient><circle cx="50" cy="50" r="45" fill="url(#g)"/>',
  },
  {
    name: "paints of the shape that a marker sits on",
    inner:
      '<marker id="m" markerWidth="10" markerHeight="10" refX="5" refY="5"><rect width="10" height="5" fill="context-stroke"/><rect y="5" width="10" height="5" fill="context-fill"/></marker><path d="M20 50H80" stroke="teal" fill="orange" stroke-width="2" style="marker:url(#m)"/>',
    plain:
      '<path d="M20 50H80" stroke="teal" stroke-width="2"/><g fill="teal"><rect x="10" y="40" width="20" height="10"/><rect x="70" y="40" width="20" height="10"/></g><g fill="orange"><rect x="10" y="50" width="20" height="10"/><rect x="70" y="50" width="20" height="10"/></g>',
  },
  {
    name: "markers that turn at the start",
    inner:
      '<marker id="m" markerWidth="6" markerHeight="6" refX="3" refY="3" orient="auto-start-reverse"><path d="M0 0 6 3 0 6Z"/></marker><path d="M20 50H80" stroke="teal" stroke-width="3" marker-start="url(#m)" marker-end="url(#m)"/>',
    plain:
      '<path d="M20 50H80" stroke="teal" stroke-width="3"/><path d="M29 41 11 50 29 59ZM71 41 89 50 71 59Z"/>',
  },
  {
    name: "the alpha of a mask, asked for in a style",
    inner:
      '<mask id="m" style="mask-type:alpha"><circle cx="50" cy="50" r="40" fill="#000" fill-opacity=".7"/></mask><rect width="100" height="100" fill="teal" mask="url(#m)"/>',
    plain: '<circle cx="50" cy="50" r="40" fill="teal" fill-opacity=".7"/>',
  },
  {
    name: "a mask whose luminance is measured in linear light",
    // The weights of CSS Masking 1, section 8, on the light of the colours: 0.2159, 0.2162 and 0.2125. Edges lie on whole pixels.
    inner:
      '<mask id="m" color-interpolation="linearRGB"><rect width="25" height="100" fill="#808080"/><rect x="25" width="25" height="100" fill="#c86432"/><rect x="50" width="25" height="100" fill="red"/></mask><rect width="100" height="100" fill="teal" mask="url(#m)"/>',
    plain:
      '<g fill="teal"><rect width="25" height="100" fill-opacity=".2159"/><rect x="25" width="25" height="100" fill-opacity=".2162"/><rect x="50" width="25" height="100" fill-opacity=".2125"/></g>',
  },
  {
    name: "attributes that say null, as some editors have it for what nobody set",
    inner:
      '<g stroke="null" fill="teal"><path d="M10 50H90V90Z" fill="null" stroke="navy" stroke-width="6" stroke-dasharray="null" stroke-linejoin="null" stroke-linecap="null" fill-opacity="null"/><rect width="40" height="40"/></g>',
    plain:
      '<path d="M10 50H90V90Z" fill="teal" stroke="navy" stroke-width="6"/><rect width="40" height="40" fill="teal"/>',
  },
  {
    name: "quarter millimetres",
    inner: '<rect width="40Q" height="80q" fill="teal"/>',
    plain: '<rect width="37.795276" height="75.590551" fill="teal"/>',
  },
  {
    name: "entities, CDATA and comments",
    inner:
      '<style><![CDATA[/* a>b */ g > .a/**/{ fill : /* no */ teal ; } ]]></style><g><rect class="&#97;" width="40" height="40"/></g><!-- <rect/> -->',
    plain: '<rect width="40" height="40" fill="teal"/>',
  },
  {
    name: "a use takes its place in the cascade of what it brings",
    inner:
      '<style>.warm{fill:orange}</style><defs><g id="s"><rect width="20" height="20"/><rect y="30" width="20" height="20" class="warm"/><rect y="60" width="20" height="20" fill="currentColor"/></g></defs><use href="#s" fill="teal" color="navy"/><use href="#s" x="40" fill="olive" color="maroon"/>',
    plain:
      '<rect width="20" height="20" fill="teal"/><rect y="30" width="20" height="20" fill="orange"/><rect y="60" width="20" height="20" fill="navy"/><g transform="translate(40)"><rect width="20" height="20" fill="olive"/><rect y="30" width="20" height="20" fill="orange"/><rect y="60" width="20" height="20" fill="maroon"/></g>',
  },
];
