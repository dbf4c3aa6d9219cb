export type { Drawing } from "./drawing.js";
export { DRAWING_LIMITS } from "./limits.js";
export { writeNumber } from "./number.js";
export { parseTree } from "./parse.js";
export { type DrawingOptions, readDrawing } from "./read-drawing.js";
export { scopeIds, scopeName } from "./scope.js";
export { type SerialiseOptions, serialise } from "./serialise.js";
export { parseTransform, writeMatrix } from "./transform.js";
export { element, type SvgElement, type SvgNode, type SvgText, text } from "./tree.js";
