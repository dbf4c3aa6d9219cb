export { clearStrays, type FileSink, makeFolder, type WrittenFile, writeAtomically } from "./atomic.js";
export { type EncodePngOptions, encodePng, joinPng, streamPng } from "./png.js";
export { PNG_LIMIT, type PngColour, type PngHeader } from "./png-format.js";
export { compressRows, type PngPiece } from "./png-piece.js";
