import { readFileSync } from "node:fs";
import { join } from "node:path";
import * as batch from "../src/batch/index.js";
import * as board from "../src/board/index.js";
import * as emit from "../src/emit/index.js";
import * as repetend from "../src/index.js";
import * as raster from "../src/raster/index.js";
import * as testing from "../src/testing/index.js";

const {
  border,
  brick,
  checkSeams,
  colourway,
  dress,
  findContacts,
  IDENTITY,
  motif,
  parseTree,
  pixelGrid,
  place,
  planesOfImage,
  readSketch,
  tile,
} = repetend;

const DRAWING =
  '<svg xmlns="http://www.w3.org/2000/svg" width="2cm" height="2cm" viewBox="0 0 20 20">' +
  '<path id="stem" d="M2 2H18V18H2Z" fill="#c8553d"/></svg>';
const SKETCH =
  '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100" viewBox="0 0 100 100">' +
  '<path id="front" d="M10 10H90V90H10Z" fill="#ffffff"/></svg>';

const image = (): repetend.PixelImage => ({
  width: 16,
  height: 16,
  channels: 3,
  data: new Uint8Array(16 * 16 * 3).fill(90),
  stride: 48,
  dpi: { x: 150, y: 150 },
});

const crab = motif(DRAWING, { name: "crab" });
const crabs = [place(crab, { at: [10, 10] })];
const print = brick({ name: "Crabs", width: 40, height: 40, ground: "#efe6d5", motifs: crabs });
const strip = border({
  name: "Shore",
  repeat: 40,
  width: 60,
  bands: [{ name: "hem", from: 0, to: 30, motifs: crabs }],
});
const dusk = colourway("Dusk", { "#efe6d5": "#1f3140", "#c8553d": "#d9694d" });
const planes = planesOfImage(image());
const tree = parseTree(DRAWING);
const sketch = readSketch(SKETCH, { name: "smock" });
const scale = { of: "#front", is: "40cm" } as const;
const dressed = dress(sketch, strip, { scale, panels: [{ panel: "#front" }] });
const report = checkSeams(image());
const box = { x: 0, y: 0, width: 40, height: 40 };
const inks = ["#efe6d5", "#c8553d"];
const sizes = { name: "Crabs", width: 40, height: 40, ground: "#efe6d5", motifs: crabs, grain: "y" } as const;
const lab = { white: "D65", l: 50, a: 0, b: 0 } as const;
const drawing = { scope: "s", defs: [], body: tree.children };
const lining = {
  kind: "lining-report",
  ok: true,
  width: 40,
  height: 40,
  repeats: { x: true, y: true },
  distance: 3,
  stripes: [],
} as const;

/** A right call of every guarded function of the root entry: its arguments, with every option that it knows. */
export const RIGHT_CALLS: Readonly<Record<string, readonly unknown[]>> = {
  border: [
    {
      name: "Shore",
      repeat: 40,
      width: 60,
      ground: "none",
      grain: "x",
      bands: [
        {
          name: "hem",
          from: 0,
          to: 30,
          edge: "top",
          period: 9,
          fit: "space",
          ground: "#fff",
          motifs: crabs,
          clip: true,
        },
      ],
    },
  ],
  brick: [sizes],
  cellOf: [print],
  checkColourway: [print, dusk, { strict: true, first: dusk }],
  checkContacts: [findContacts(planes), dusk, { first: dusk }],
  checkDrawnSeams: [image(), DRAWING, { layout: "straight", dpi: 150 }],
  checkGamut: [dusk],
  checkLining: [image(), { distance: 3, dpi: 150, layout: "straight" }],
  checkSeams: [
    image(),
    {
      layout: { kind: "stepped", along: "row", step: "1/2" },
      dpi: 150,
      repeat: { width: 9, height: { px: 9 } },
    },
  ],
  ciede2000: [lab, lab],
  clusterInks: [inks.map((ink) => ({ ink, weight: 1 })), 1, { keep: [inks[0]] }],
  codeColours: [3],
  colourCard: [print, dusk, { coverage: [{ ink: "#efe6d5", share: 0.5 }], names: { "#efe6d5": "sand" } }],
  colourDifference: ["#fff", "#000"],
  colourway: ["Dusk", { "#efe6d5": "#1f3140" }],
  compareInks: [inks, dusk, { strict: true }],
  composite: [planes, colourway("Dusk", {})],
  contrastRatio: ["#fff", "#000"],
  coverageOf: [planes],
  deriveColourway: [
    print,
    { name: "Dusk", turnHue: 20, lighten: 0, chroma: 1, keep: [inks[0]], anchors: { "#c8553d": "#123456" } },
  ],
  deriveInks: [
    inks,
    { turnHue: 20, lighten: 0, chroma: 1, keep: [inks[0]], anchors: { "#c8553d": "#123456" } },
  ],
  describeLayout: [print],
  describeRepeat: [print],
  describeToss: [
    repetend.toss({ space: { width: 40, height: 40 }, motifs: [{ motif: crab }], gap: 4, count: 1 }),
  ],
  describeSeams: [report],
  drawLayers: [repetend.layersInWindow(print, box), { window: box, digits: 3, scope: "s", onto: IDENTITY }],
  drawLining: [lining, image()],
  drawSeams: [report, { layout: "straight", href: "a.png" }],
  dress: [
    sketch,
    strip,
    {
      scale,
      clothWidth: "1m",
      garmentInks: [],
      panels: [
        {
          panel: "#front",
          print: strip,
          band: "hem",
          edge: "bottom",
          gap: 1,
          along: 0,
          centre: "crab",
          grain: "bottom",
          drape: { hold: "bottom", fullness: 1, guides: [], height: "50cm" },
        },
      ],
    },
  ],
  enlargementOf: [print, { scale: 1, shrinkage: { warp: "2%", weft: "1%" } }],
  field: [print, { x: 0, y: 0, width: 40, height: 40 }, { scope: "s", colourway: "Dusk" }],
  findContacts: [planes, { wrapY: true }],
  findRepeat: [image(), { dpi: 150 }],
  findUnmatched: [tile(print)],
  fitPeriod: [40, 9],
  fromOklch: [{ l: 0.5, c: 0, h: 0 }],
  fromSvgson: [repetend.toSvgson(tree)],
  groupOperations: ["p1", { a: { x: 1, y: 0 }, b: { x: 0, y: 1 } }],
  halfDrop: [sizes],
  holdAgainstField: [report, image(), image(), { x: 8, y: 8 }],
  indexPlane: [planes],
  inksIn: [planes, dusk],
  inksOf: [print],
  isBareSomewhere: [planes],
  latticeOf: [print],
  layersInWindow: [print, box, box],
  limitInks: [print, 1, { keep: [inks[0]], coverage: [{ ink: "#efe6d5", share: 0.5 }] }],
  makeScreen: ["ordered"],
  measureGamut: ["#fff"],
  mm: ["10in"],
  motif: [DRAWING, { name: "crab", filters: true, clip: true }],
  nearestInk: ["#fff", inks],
  overprint: [{ width: 2, height: 1 }, [{ ink: "#123456", levels: new Uint8Array(2) }], "#fff"],
  paintedBox: [drawing.body, drawing.defs],
  parseTransform: ["scale(2)", "here"],
  parseTree: [DRAWING],
  pathOfShape: ["rect", { width: "2", height: "3" }],
  patternPaint: [print, { id: "p", unitsPerMm: 1 }],
  pictureSeams: [image(), report, { layout: "straight" }],
  pixelGrid: [print, { dpi: { x: 150, y: 150 }, scale: 1, shrinkage: { warp: "2%", weft: "1%" } }],
  pixelPrint: [print, pixelGrid(print, { dpi: 150 })],
  pixelsPerMetre: [150],
  place: [crab, { at: [1, 2], width: "1cm", turn: 3, flip: "x" }],
  placeOfInk: [planes, "#5a5a5a"],
  planeCell: ["p1", 10, 10],
  planesOfImage: [image(), { inks: ["#5a5a5a"] }],
  printingOrder: [planes],
  readColour: ["#fff", "here"],
  readColourObject: [{ rgb: () => ({ r: 1, g: 1, b: 1, opacity: 1 }) }, "here"],
  readColourways: ["ink,Dusk\n#efe6d5,#1f3140\n", { name: "table.csv" }],
  readDrawing: [DRAWING, { name: "crab" }],
  readInk: ["#fff", "here"],
  readLength: ["10in", { where: "here", atLeast: 1, above: 0, atMost: 900 }],
  readPath: ["M0 0H10"],
  readPercent: ["10%", { where: "here", atLeast: 0, atMost: 1 }],
  readResolution: [{ x: 150, y: 150 }, "here"],
  readSketch: [SKETCH, { name: "smock", filters: true }],
  readStep: [{ p: 1, q: 3 }],
  readWindow: [{ x: 0, y: 0, width: 40, height: 40 }],
  recolour: [print, dusk],
  recolourDressed: [dressed, dusk],
  recolourMotif: [crab, { "#c8553d": "#123456" }],
  rectangleOf: [print],
  resizePrint: [print, { width: 20, height: 20 }],
  rollPicture: [image(), { kind: "half-drop" }],
  satin: [{ ...sizes, ends: 5, move: 2 }],
  scopeIds: [tree.children, "s"],
  scopeName: ["crab", DRAWING],
  screenRows: [{ ...image(), channels: 1, stride: 16 }, repetend.makeScreen("ordered"), { y: 0, height: 1 }],
  seeColourway: [print, dusk, "protan"],
  serialise: [tree, { indent: 2 }],
  simulateVision: ["#c8553d", "protan"],
  sketchScale: [sketch, { from: [10, 10], to: [90, 10], is: "40cm" }],
  solvePixels: [{ width: 64, height: 64, dpi: 300, step: { along: "row", p: 1, q: 2 } }],
  stepped: [{ ...sizes, along: "row", step: "1/3" }],
  straight: [sizes],
  tile: [print, { extent: "cell", scope: "s", colourway: "Dusk" }],
  tileExtent: [print, "cell"],
  toss: [
    {
      space: { width: "4cm", height: "4cm", layout: "brick" },
      motifs: [{ motif: crab, width: [9, 10], share: 1, filler: false, turn: "any", flip: true }],
      gap: "4mm",
      seed: 1,
      around: [],
      count: 1,
    },
  ],
  toLab: ["#fff", "D50"],
  toOklab: ["#fff"],
  toOklch: ["#fff"],
  toSvgson: [tree],
  weightPlane: [planes, "#5a5a5a"],
  writeColourways: [[dusk], "csv"],
  writeDocument: [
    { defs: [], body: [tree] },
    {
      width: 4,
      height: 4,
      unit: "mm",
      digits: 3,
      title: "t",
      description: "d",
      data: { a: "b" },
      attributes: { id: "a" },
    },
  ],
  writeDressed: [dressed, { colourway: "Dusk", pixels: { width: 20, height: 20 } }],
  writePixels: [print, box, { edges: "hard", overscan: 4 }],
  yardage: [
    {
      print: strip,
      clothWidth: "1m",
      seam: "1cm",
      sketch,
      scale,
      pieces: [
        {
          name: "front",
          width: 30,
          height: 30,
          count: 1,
          band: "hem",
          level: 0,
          edge: "bottom",
          gap: 1,
          cut: "along",
          match: true,
          along: 0,
        },
        { name: "back", panel: "#front" },
      ],
    },
  ],
};

/**
 * What is called for each point, node or row of pixels: a check in there would cost more than the work itself. Those who
 * build with these have types, or what repetend made.
 */
export const BUILDING_BLOCKS: readonly string[] = [
  // Points, curves and maps.
  "applyTo",
  "boxAround",
  "boxOverlap",
  "compose",
  "composeSmooth",
  "cubicLength",
  "cubicsOf",
  "curveAt",
  "decideFolds",
  "derivativeOn",
  "determinant",
  "directionOn",
  "findFolds",
  "flattenCubic",
  "flattenPath",
  "growBox",
  "invert",
  "invertAt",
  "invertPatch",
  "joinCubics",
  "localAffine",
  "locateLength",
  "mapBox",
  "mapPath",
  "mapPoint",
  "measureCurve",
  "nearestOnCubics",
  "partOfCubic",
  "partOfCurve",
  "patch",
  "pathArea",
  "pathBounds",
  "pointOn",
  "reverseCubic",
  "scaling",
  "secondDerivativeOn",
  "smoothAffine",
  "splitCubic",
  "straightCubic",
  "stretchAt",
  "transformPath",
  "translation",
  "turning",
  "writePath",
  // Nodes and numbers of drawings.
  "childElements",
  "handedDown",
  "svgElement",
  "svgText",
  "writeMatrix",
  "writeNumber",
  // Rows of pixels and of ink planes.
  "BandWeigher",
  "RunWriter",
  "Separator",
  "compositeBand",
  "countMixes",
  "isPure",
  "mainInks",
  "mapRuns",
  "mixColours",
  "readCodes",
  "spreadBand",
  "weighMixes",
  // An error is made of what is known.
  "RepetendError",
];

const plain = repetend.straight({ name: "Sand", width: 20, height: 20, ground: "#efe6d5", motifs: [] });
const JOB =
  '{ "print": { "name": "Sand", "layout": "straight", "width": 20, "height": 20, "motifs": [] }, "emit": { "formats": ["svg"] } }';
const job = batch.parseJob(JOB, "sand.json");
const PICTURE = "docs/pictures/sheet-border.png";
const MODULE = "node_modules/@resvg/resvg-wasm/index_bg.wasm";
const sandPixels = new Uint8Array(16 * 16 * 3).map((_, at) => [0xef, 0xe6, 0xd5][at % 3] ?? 0);
const loaded = { path: "sand.json", folder: "/", job: { kind: "job", ...job } };
const files = { dpi: 25, scale: 1, colourways: [dusk] };

/** The name of a function, the function, and the arguments of a right call. */
export type RightDoor = readonly [name: string, call: unknown, given: readonly unknown[]];

const grid = pixelGrid(plain, { dpi: 25 });
const onGrid = repetend.pixelPrint(plain, grid);
const rgba = (): repetend.PixelImage => ({
  ...image(),
  channels: 4,
  data: new Uint8Array(1024).fill(255),
  stride: 64,
});
const engine: raster.Engine = async (_, { width, height, overscan = 0 }) => {
  const size = { width: width - 2 * overscan, height: height - 2 * overscan };
  return { ...size, channels: 4, data: new Uint8Array(size.width * size.height * 4), stride: size.width * 4 };
};
const rgb = { kind: "rgb" } as const;
const png = {
  width: 16,
  height: 16,
  colour: rgb,
  dpi: { x: 25, y: 25 },
  texts: { Title: "Sand" },
  iccName: "sRGB",
};
const strips = { compression: "lzw", rowsPerStrip: 4 } as const;
const tiff = { ...png, texts: { documentName: "Sand" }, ...strips };
const pieces = async function* () {
  yield { deflated: Uint8Array.of(3, 0), adler: 1, length: 0 };
};
const nothing = async (): Promise<void> => {};
/** A colour profile's header and nothing else. */
const icc = (): Uint8Array => {
  const bytes = Buffer.alloc(132);
  bytes.writeUInt32BE(132, 0);
  bytes.write("RGB ", 16, "latin1");
  bytes.write("acsp", 36, "latin1");
  return bytes;
};
const tilePlan = emit.planTile(plain, { ...files, formats: ["svg", "png"], crop: { width: 9, height: 9 } });
const garmentPlan = emit.planGarment(sketch, { print: "Shore", garment: "Smock", formats: ["svg"] });
const band = { y: 0, height: 16, patches: [{ part: 0, from: 0, to: 0, width: 16 }] };
const choice = {
  motifs: testing.motifs(),
  maxMotifs: 2,
  grounds: ["#efe6d5"],
  grid: 1,
  smallest: 12,
  largest: 40,
};

/** The same for every function of the other entries; what is read and written lies in a folder. */
export const rightDoors = (dir: string): readonly RightDoor[] => [
  ["countPasses", raster.countPasses, [plain]],
  ["cropImage", raster.cropImage, [image(), { x: 1, y: 1, width: 2, height: 2 }]],
  ["dropAlpha", raster.dropAlpha, [rgba()]],
  ["hasTranslucency", raster.hasTranslucency, [plain]],
  ["inkPlanes", raster.inkPlanes, [plain, { dpi: 25, edges: "hard", scale: 1 }]],
  ["joinParts", raster.joinParts, [[rgba()], band]],
  ["openNativePipeline", raster.openNativePipeline, [() => undefined]],
  ["pasteImage", raster.pasteImage, [image(), { ...image(), data: new Uint8Array(768) }, 0, 0]],
  ["planBands", raster.planBands, [onGrid, grid]],
  ["planeInks", raster.planeInks, [plain]],
  ["planeSource", raster.planeSource, [plain, grid]],
  ["rasterise", raster.rasterise, [DRAWING, { width: 8, height: 8, filters: false }]],
  ["rasterisePage", raster.rasterisePage, [board.specSheet({ print: plain })[0], { dpi: 10, engine }]],
  ["rasterisePrint", raster.rasterisePrint, [plain, { dpi: 25, edges: "soft" }]],
  ["readImage", raster.readImage, [new Uint8Array(readFileSync(PICTURE))]],
  [
    "renderBands",
    raster.renderBands,
    [plain, grid, { edges: "soft", engine, window: { x: 0, y: 0, width: 9, height: 9 } }],
  ],
  [
    "renderNative",
    raster.renderNative,
    [DRAWING.replaceAll("2cm", "20"), { width: 20, height: 20, overscan: 1 }],
  ],
  [
    "renderParts",
    raster.renderParts,
    [onGrid, raster.planBands(onGrid, grid).tasks[0], { edges: "soft", engine }],
  ],
  ["repeatColumns", raster.repeatColumns, [rgba(), 3, 20]],
  ["streamPlanes", raster.streamPlanes, [raster.planeSource(plain, grid), { edges: "soft", ahead: 1 }]],
  ["toIndices", raster.toIndices, [rgba(), ["#ffffff"]]],
  ["wasmEngine", raster.wasmEngine, [readFileSync(MODULE)]],
  ["wasmRasteriser", raster.wasmRasteriser, [readFileSync(MODULE)]],
  ["whyNotLinear", raster.whyNotLinear, [plain]],
  ["codeOf", emit.codeOf, [new Error("no")]],
  ["compressRows", emit.compressRows, [image(), { ...rgb }]],
  ["compressStrips", emit.compressStrips, [image(), rgb, strips]],
  ["emitSeparations", emit.emitSeparations, [plain, { dpi: 25, dir, edges: "hard", trap: 0, full: "high" }]],
  [
    "emitTile",
    emit.emitTile,
    [plain, { ...files, dir, formats: ["svg"], crop: { x: 0, y: 0, width: 9, height: 9 } }],
  ],
  ["encodePng", emit.encodePng, [image(), { dpi: { x: 25, y: 25 }, texts: { Title: "Sand" } }]],
  ["encodeTiff", emit.encodeTiff, [image(), { dpi: { x: 25, y: 25 }, texts: { documentName: "Sand" } }]],
  ["estimateTile", emit.estimateTile, [tilePlan, { ...files, edges: "hard" }, 2]],
  ["iccSpace", emit.iccSpace, [icc()]],
  ["isBigTiff", emit.isBigTiff, [tiff]],
  ["joinPng", emit.joinPng, [png, pieces()]],
  ["localMaker", emit.localMaker, [engine]],
  ["makeFolder", emit.makeFolder, [dir]],
  [
    "planGarment",
    emit.planGarment,
    [
      sketch,
      { print: "Shore", garment: "Smock", slug: "smock", dpi: 50, formats: ["svg"], colourways: [dusk] },
    ],
  ],
  ["planSeparations", emit.planSeparations, [plain, { grid }, inks, { underBase: { inks }, format: "png" }]],
  [
    "planTile",
    emit.planTile,
    [plain, { ...files, formats: ["svg"], edges: "soft", strict: false, length: "5cm" }],
  ],
  ["slugOf", emit.slugOf, ["Low Tide"]],
  ["slugsOf", emit.slugsOf, [["Low Tide"]]],
  ["streamPng", emit.streamPng, [png, [image()]]],
  ["streamTiff", emit.streamTiff, [{ write: nothing, patch: nothing }, tiff, [image()]]],
  ["temporaryPrefix", emit.temporaryPrefix, []],
  ["toLabPixels", emit.toLabPixels, [image()]],
  ["usualStripRows", emit.usualStripRows, [{ width: 16, colour: rgb }]],
  ["writeAtomically", emit.writeAtomically, [join(dir, "sand.txt"), nothing]],
  ["writeGarment", emit.writeGarment, [garmentPlan, dressed, { dir, engine, finished: [] }]],
  [
    "writeSeparations",
    emit.writeSeparations,
    [
      plain,
      planesOfImage({ ...image(), data: sandPixels }),
      { dpi: 25, dir, underBase: { choke: 0 }, screen: "ordered" },
    ],
  ],
  ["writeTile", emit.writeTile, [tilePlan, { ...files, dir, engine, formats: ["svg"], finished: [] }]],
  [
    "specSheet",
    board.specSheet,
    [
      {
        print: plain,
        scale: 1,
        colourways: [dusk],
        coverage: [{ ink: "#c8553d", share: 0.2, perRepeat: 1, perRunningMetre: 9 }],
        notes: [{ level: "info", code: "N_X", message: "a note" }],
        findings: [{ level: "info", code: "N_Y", message: "another note" }],
      },
    ],
  ],
  [
    "colourwayBoard",
    board.colourwayBoard,
    [
      {
        prints: [{ print: plain, colourways: [dusk], coverage: [{ ink: "#c8553d", share: 0.2 }] }],
        colourways: [dusk],
        garments: [{ dressed, colourways: [dusk] }],
        title: "Plain",
        head: { collection: "Saltmarsh" },
        page: { width: "30cm", height: 210 },
      },
    ],
  ],
  [
    "lineSheet",
    board.lineSheet,
    [
      {
        styles: [
          {
            name: "Smock",
            number: "SM 02",
            dressed,
            front: "Dusk",
            cloth: [{ print: "Plain", length: 1200, clothWidth: 1400, spare: 0 }],
            facts: [{ name: "Sizes", value: "S, M" }],
          },
        ],
        colourways: [dusk],
        prints: [plain],
        page: "A4 landscape",
        perPage: 2,
      },
    ],
  ],
  ["buildPrint", batch.buildPrint, [loaded, {}]],
  ["checkPrintPicture", batch.checkPrintPicture, [plain, { dpi: 25 }]],
  ["checkPrintSeams", batch.checkPrintSeams, [plain, { dpi: 25 }]],
  ["clearStrays", batch.clearStrays, [dir]],
  ["estimateJob", batch.estimateJob, [loaded, { strict: false, out: dir, workers: 1 }]],
  ["findNearest", batch.findNearest, ["wdth", ["width"]]],
  ["inputsOf", batch.inputsOf, [loaded]],
  ["jobJsonSchema", batch.jobJsonSchema, []],
  ["makeJob", batch.makeJob, [loaded, { strict: false, out: dir, again: true }]],
  ["parseJob", batch.parseJob, [JOB, "sand.json"]],
  ["planJob", batch.planJob, [loaded, { strict: false, out: dir }]],
  ["readBytes", batch.readBytes, [PICTURE, 2 ** 20]],
  ["readJob", batch.readJob, ["examples/saltmarsh/brick.job.json", {}]],
  ["readJobColourways", batch.readJobColourways, [loaded, {}]],
  ["readMotif", batch.readMotif, ["examples/saltmarsh/motifs/heron.svg", {}]],
  ["readText", batch.readText, ["examples/saltmarsh/brick.job.json", 2 ** 20]],
  ["readVersion", batch.readVersion, []],
  ["suggest", batch.suggest, ["wdth", ["width"]]],
  ["allOverPrints", testing.allOverPrints, [{ ...choice, layouts: testing.layouts() }]],
  ["borderPrints", testing.borderPrints, [{ ...choice, maxBands: 2 }]],
  ["colourways", testing.colourways, [["#efe6d5"], { by: "trade", apart: 5 }]],
  ["latticeVector", testing.latticeVector, [print, 1, 2]],
  ["latticeVectors", testing.latticeVectors, [print, { furthest: 2 }]],
  ["layouts", testing.layouts, [{ kinds: ["straight", "stepped", "satin"], largestStep: 3, mostEnds: 6 }]],
  ["motifs", testing.motifs, [{ inks, maxShapes: 2, strokes: true, holes: true, translucent: true }]],
  ["palettes", testing.palettes, [{ count: { min: 1, max: 2 }, apart: 5 }]],
  ["prints", testing.prints, [{ ...choice, layouts: testing.layouts(), maxBands: 2 }]],
  ["windows", testing.windows, [print, { tiles: 2 }]],
];

/** The functions that {@link rightDoors} has of the other entries. */
export const OTHER_ENTRIES: readonly Readonly<Record<string, unknown>>[] = [
  raster,
  emit,
  board,
  batch,
  testing,
];

/** Classes, which have tests of their own, and what waits for a server until it is told to end. */
export const NO_DOORS: readonly string[] = [
  "BandPool",
  "BandQueue",
  "CmykConverter",
  "TiffSink",
  "serveBands",
];
