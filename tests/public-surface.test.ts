import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/** Names in lines of a readable length, so that one that comes or goes changes few of them. */
function wrap(names: readonly string[]): readonly string[] {
  const lines: string[] = [];
  for (const name of names) {
    const last = lines.at(-1);
    if (last === undefined || last.length + name.length > 96) lines.push(`  ${name},`);
    else lines[lines.length - 1] = `${last} ${name},`;
  }
  return lines;
}

const bare = (name: string) => name.replace(/^type /, "");

/**
 * The names that an entry exports, types too, sorted, by the file that they come from. An entry re-exports by explicit
 * name and does nothing else (`structure.test.ts`), so its text is its surface.
 */
function surfaceOf(entry: string): string {
  const text = readFileSync(fileURLToPath(new URL(`../src/${entry}index.ts`, import.meta.url)), "utf8");
  const blocks = [...text.matchAll(/^export (type )?\{([^}]*)\} from "([^"]+)"/gm)];
  expect(blocks.length).toBe(text.match(/^export\b/gm)?.length);
  return blocks
    .flatMap(([, type = "", list = "", from = ""]) => {
      const names = list
        .split(",")
        .map((name) => name.trim())
        .filter((name) => name !== "")
        .map((name) => (name.startsWith("type ") ? name : `${type}${name}`).replace(/\w+ as /, ""));
      return [`${from}:`, ...wrap(names.sort((one, other) => (bare(one) < bare(other) ? -1 : 1)))];
    })
    .join("\n");
}

// A name that comes or goes is a change that users see: let `npx vitest run tests/public-surface.test.ts -u` write it
// down, look at the difference, and tell it in the changelog.
describe("the public surface", () => {
  it("of repetend", () => {
    expect(surfaceOf("")).toMatchInlineSnapshot(`
      "./colour/index.js:
        type Colour, type ColourObject, type Colourway, type ColourwayFormat, type DeriveOptions,
        type DerivedInks, type GamutMove, type InkMove, type InkReduction, type Lab, MERGE_BELOW,
        type NearInk, type Oklab, type Oklch, type Vision, type WeightedInk, type WhitePoint,
        checkGamut, ciede2000, clusterInks, colourDifference, colourway, compareInks, contrastRatio,
        deriveInks, fromOklch, measureGamut, nearestInk, readColour, readColourObject, readColourways,
        readInk, simulateVision, toLab, toOklab, toOklch, writeColourways,
      ./errors.js:
        ERROR_CODES, type ErrorCode, type ErrorFacts, type Note, RepetendError,
      ./garment/index.js:
        type BeyondCloth, type CutPiece, DRAPE_TOLERANCE, type DrapeOptions, type DressOptions,
        type DressReport, type Dressed, type DressedPanel, type DressedPrint, type Edge,
        type PanelChoice, type PanelOptions, type PieceOptions, type ScaleOptions, type Sketch,
        type SketchOptions, type SketchScale, type SketchShape, type Spot, type Sweep,
        type WriteDressedOptions, type Yardage, type YardageOptions, dress, readSketch, recolourDressed,
        sketchScale, writeDressed, yardage,
      ./geometry/index.js:
        type Affine, type Box, type Cubic, type CubicPath, type CurvePoint, type Fold,
        type FoldDecision, type FriezeCell, type FriezeGroup, IDENTITY, type Lattice, type MappedPath,
        type MappedPoint, type MeasuredCubic, type MeasuredCurve, type Nearest, type Patch,
        type PatchEdges, type PatchGuide, type PlaneCell, type PlaneGroup, type Point, type SmoothMap,
        type Step, type Subpath, applyTo, boxAround, boxOverlap, compose, composeSmooth, cubicLength,
        cubicsOf, curveAt, decideFolds, derivativeOn, determinant, directionOn, findFolds, flattenCubic,
        flattenPath, groupOperations, growBox, invert, invertAt, invertPatch, joinCubics, localAffine,
        locateLength, mapBox, mapPath, mapPoint, measureCurve, nearestOnCubics, partOfCubic,
        partOfCurve, patch, pathArea, pathBounds, pathOfShape, planeCell, pointOn, readPath,
        reverseCubic, scaling, secondDerivativeOn, smoothAffine, splitCubic, straightCubic, stretchAt,
        transformPath, translation, turning, writePath,
      ./image/index.js:
        BARE, BandWeigher, CLOSE_BELOW, type ImagePlanesOptions, type InkContact, type InkContacts,
        type InkCoverage, type InkPlanes, type InkRender, type MixTable, type PixelImage,
        type PlaneBand, type Rasterise, type RasteriseSize, type RunRows, RunWriter, type Screen,
        type ScreenKind, type SeparationPlan, Separator, checkContacts, codeColours, composite,
        compositeBand, countMixes, coverageOf, findContacts, indexPlane, inksIn, isBareSomewhere,
        isPure, mainInks, makeScreen, mapRuns, mixColours, overprint, placeOfInk, planesOfImage,
        printingOrder, readCodes, screenRows, spreadBand, weighMixes, weightPlane,
      ./motif/index.js:
        type InkUse, type Motif, type MotifOptions, motif, recolourMotif,
      ./repeat/index.js:
        type AllOver, type AllOverOptions, type Band, type BandOptions, type Border, type BorderOptions,
        type CheckColourwayOptions, type ColourCardOptions, type DeriveColourwayOptions,
        type DerivedColourway, type DocumentOptions, type DrawOptions, type DrawnLayers,
        type FieldOptions, type FieldPixelsOptions, type Grain, type GroundLayer, type Layer,
        type Layout, type LimitInksOptions, type LimitedInks, type MotifCopy, type MotifLayer,
        type PatternOptions, type PeriodFit, type PixelGrid, type PixelGridOptions, type PlaceOptions,
        type Placement, type Print, type PrintSize, type SatinOptions, type Shrinkage, type StepLike,
        type SteppedOptions, type Tile, type TileOptions, type TossBand, type TossCell, type TossFacts,
        type TossLayout, type TossMotif, type TossOptions, type TossTurn, type Tossed, type TossedMotif,
        type Window, border, brick, cellOf, checkColourway, colourCard, deriveColourway, describeLayout,
        describeRepeat, describeToss, drawLayers, enlargementOf, field, fitPeriod, halfDrop, inksOf,
        latticeOf, layersInWindow, limitInks, patternPaint, pixelGrid, pixelPrint, place, readStep,
        readWindow, recolour, rectangleOf, resizePrint, satin, seeColourway, stepped, straight, tile,
        tileExtent, toss, writeDocument, writePixels,
      ./seam/index.js:
        type CheckDrawingOptions, type CheckLiningOptions, type CheckPrintLiningOptions,
        type CheckSeamsOptions, type DrawSeamsOptions, type EdgePair, type EdgeReport, type FaultKind,
        type FindRepeatOptions, type FoundLayout, type LiningCause, type LiningReport,
        type LiningStripe, type RepeatCandidate, type RepeatEstimate, type RepeatReading,
        type SeamLayout, type SeamReport, type SeamRun, type SeamShift, type Shift, type StatedRepeat,
        type StatedSide, type Stretch, type UnmatchedShape, checkDrawnSeams, checkLining, checkSeams,
        describeSeams, drawLining, drawSeams, findRepeat, findUnmatched, holdAgainstField, pictureSeams,
        rollPicture,
      ./svg/index.js:
        type Attributes, DRAWING_LIMITS, type Drawing, type DrawingOptions, type PaintedBoxes,
        type SerialiseOptions, type SvgElement, type SvgNode, type SvgText, type SvgsonNode,
        childElements, fromSvgson, handedDown, paintedBox, parseTransform, parseTree, readDrawing,
        scopeIds, scopeName, serialise, svgElement, svgText, toSvgson, writeMatrix, writeNumber,
      ./units/index.js:
        type ExactAxis, type ExactCell, type Length, type LengthLimits, MM_PER_UNIT, type Neighbours,
        type PercentLimits, type PixelAxis, type PixelQuestion, type PixelSolution, type Resolution,
        type Unit, mm, pixelsPerMetre, readLength, readPercent, readResolution, solvePixels,"
    `);
  });

  it("of repetend/raster", () => {
    expect(surfaceOf("raster/")).toMatchInlineSnapshot(`
      "./band-plan.js:
        type BandPatch, type BandPlan, type BandTask, type TileBand, WIDEST_PIECE, planBands,
      ./crop.js:
        cropImage, dropAlpha, pasteImage,
      ./engine.js:
        type Engine, type RenderSize,
      ./indices.js:
        toIndices,
      ./linear.js:
        hasTranslucency, whyNotLinear,
      ./native.js:
        renderNative,
      ./native-pipeline.js:
        openNativePipeline,
      ./plane-passes.js:
        countPasses,
      ./planes.js:
        type InkPlanesOptions, type PlaneSource, type StreamPlanesOptions, inkPlanes, planeInks,
        planeSource, streamPlanes,
      ./print-bands.js:
        type RenderPrintOptions, joinParts, rasterisePrint, renderBands, renderParts, repeatColumns,
      ./rasterise.js:
        type RasteriseDrawing, type RasteriseSizing, rasterise, wasmRasteriser,
      ./rasterise-page.js:
        type RasterisePageOptions, rasterisePage,
      ./read-image.js:
        readImage,
      ./wasm.js:
        wasmEngine,"
    `);
  });

  it("of repetend/emit", () => {
    expect(surfaceOf("emit/")).toMatchInlineSnapshot(`
      "./bands/encoding.js:
        type EncodedRows, type Encoding, type PngEncoding, type TiffEncoding,
      ./bands/maker.js:
        type BandMaker, localMaker,
      ./bands/pool.js:
        BandPool, type BandPoolOptions,
      ./bands/work.js:
        type BandWork, type MadeBand, type MadeBands,
      ./files/atomic.js:
        type FileSink, type WrittenFile, codeOf, makeFolder, temporaryPrefix, writeAtomically,
      ./files/manifest.js:
        type Deviation, type ManifestFile, type PlannedFile,
      ./files/slug.js:
        slugOf, slugsOf,
      ./garment-files.js:
        type GarmentPlan, type GarmentPlanOptions, type WriteGarmentOptions, planGarment, writeGarment,
      ./png/encode.js:
        type EncodePngOptions, encodePng, joinPng, streamPng,
      ./png/format.js:
        PNG_LIMIT, type PngColour, type PngHeader,
      ./png/piece.js:
        type PngPiece, compressRows,
      ./profile/cmyk.js:
        CmykConverter,
      ./profile/icc.js:
        iccSpace,
      ./profile/lab.js:
        toLabPixels,
      ./separations/emit-separations.js:
        type EmitSeparationsOptions, type EmittedSeparations, emitSeparations, writeSeparations,
      ./separations/films.js:
        type SeparationOptions, type UnderBaseOptions, planSeparations,
      ./tiff/encode.js:
        type EncodeTiffOptions, encodeTiff, streamTiff,
      ./tiff/format.js:
        TIFF_LIMIT, type TiffColour, type TiffCompression, type TiffHeader, type TiffTexts, isBigTiff,
        usualStripRows,
      ./tiff/sink.js:
        TiffSink,
      ./tiff/strips.js:
        compressStrips,
      ./tile/emit-tile.js:
        type EmitTileOptions, type EmittedTile, type TileProgress, emitTile, estimateTile, writeTile,
      ./tile/plan.js:
        AS_DRAWN, type PlannedTileFile, type TilePlan, type TilePlanOptions, planTile,
      ./tile/write-shape.js:
        type TileEstimate,"
    `);
  });

  it("of repetend/board", () => {
    expect(surfaceOf("board/")).toMatchInlineSnapshot(`
      "./page/paper.js:
        type BoardPage, type PageFormat,
      ./sheets/colourway-board.js:
        colourwayBoard,
      ./sheets/line-sheet.js:
        lineSheet,
      ./sheets/spec-sheet.js:
        specSheet,
      ./types.js:
        type BoardGarment, type BoardPrint, type ColourwayBoardOptions, type LineCloth,
        type LineSheetOptions, type LineStyle, type SheetCoverage, type SheetFact, type SheetHead,
        type SheetSeams, type SpecSheetOptions,"
    `);
  });

  it("of repetend/batch", () => {
    expect(surfaceOf("batch/")).toMatchInlineSnapshot(`
      "./estimate-job.js:
        estimateJob,
      ./garments/garment-report.js:
        type GarmentReport, type PanelReport,
      ./job/board-job.js:
        type JobBoard, type JobHead, type JobLineSheet,
      ./job/did-you-mean.js:
        findNearest, suggest,
      ./job/garment-job.js:
        type JobCut, type JobGarment, type JobPanel, type JobPiece,
      ./job/job.js:
        type Job, type JobBand, type JobBorder, type JobCell, type JobEmit, type JobLength,
        type JobMotif, type JobPrint, type JobSeparations, type JobWindow,
      ./job/json-schema.js:
        type JsonSchema, jobJsonSchema,
      ./job/read-file.js:
        type ReadOptions, readBytes, readText,
      ./job/read-job.js:
        type LoadedJob, parseJob, readJob,
      ./job/toss-job.js:
        type JobBandToss, type JobToss, type JobTossMotif,
      ./make-job.js:
        type JobProgress, type MakeJobOptions, makeJob,
      ./manifest.js:
        type JobPlan, type Manifest, type PrintCoverage, type TileSeams,
      ./plan-job.js:
        MANIFEST_NAME, type PlanJobOptions, planJob,
      ./prints/build-print.js:
        buildPrint, inputsOf, readJobColourways, readMotif,
      ./prints/print-seams.js:
        type CheckedPrint, type PrintSeamsOptions, checkPrintPicture, checkPrintSeams,
      ./queue/band-queue.js:
        BandQueue, type BandQueueOptions,
      ./queue/serve-bands.js:
        type ServeBandsOptions, type ServedTask, serveBands,
      ./runs/left-behind.js:
        type LeftBehind,
      ./runs/strays.js:
        clearStrays,
      ./version.js:
        readVersion,"
    `);
  });

  it("of repetend/testing", () => {
    expect(surfaceOf("testing/")).toMatchInlineSnapshot(`
      "./all-over-prints.js:
        allOverPrints,
      ./border-prints.js:
        borderPrints,
      ./colourways.js:
        type ColourwaysOptions, colourways,
      ./lattice-vectors.js:
        type LatticeVectorsOptions, latticeVector, latticeVectors,
      ./layouts.js:
        type LayoutsOptions, layouts,
      ./matcher.js:
        type MatcherResult,
      ./matchers.js:
        type JudgedAtOnce, type RepetendMatcherFunctions, type RepetendMatchers, repetendMatchers,
      ./motifs.js:
        type MotifsOptions, motifs,
      ./palettes.js:
        type PalettesOptions, palettes,
      ./print-options.js:
        type AllOverPrintsOptions, type BorderPrintsOptions, type CommonPrintsOptions,
      ./prints.js:
        type PrintsOptions, prints,
      ./to-close-seams.js:
        type CloseSeamsOptions,
      ./to-repeat-every.js:
        type RepeatEveryOptions, type RepeatVector, type ShowCloth,
      ./windows.js:
        type WindowsOptions, windows,"
    `);
  });

  it("has no entry that is not listed here", () => {
    const { exports } = JSON.parse(
      readFileSync(fileURLToPath(new URL("../package.json", import.meta.url)), "utf8"),
    );
    const entries = Object.keys(exports).filter((entry) => !entry.endsWith(".json"));
    expect(entries).toEqual([".", "./raster", "./emit", "./board", "./batch", "./testing"]);
  });
});
