export {
  type Affine,
  applyTo,
  compose,
  determinant,
  IDENTITY,
  invert,
  type Point,
  scaling,
  translation,
  turning,
} from "./affine.js";
export {
  type CurvePoint,
  cubicLength,
  curveAt,
  locateLength,
  type MeasuredCubic,
  type MeasuredCurve,
  measureCurve,
} from "./arc-length.js";
export { type Box, boxAround, boxHolds, boxOverlap, growBox, mapBox } from "./box.js";
export {
  derivativeOn,
  directionOn,
  partOfCubic,
  pointOn,
  reverseCubic,
  secondDerivativeOn,
  splitCubic,
} from "./cubic.js";
export {
  type Cubic,
  type CubicPath,
  cubicsOf,
  joinCubics,
  type Subpath,
  straightCubic,
  transformPath,
} from "./cubic-path.js";
export { decideFolds, type FoldDecision } from "./decide-folds.js";
export { flattenCubic, flattenPath, pathArea } from "./flatten.js";
export { type Fold, findFolds } from "./folds.js";
export { type FriezeCell, groupOperations, type PlaneCell, planeCell } from "./groups/operations.js";
export type { FriezeGroup, PlaneGroup } from "./groups/positions.js";
export type { Lattice, Step } from "./lattice.js";
export { type MappedPath, mapPath } from "./map-path.js";
export { type Nearest, nearestOnCubics } from "./nearest.js";
export { partOfCurve } from "./part-of-curve.js";
export { invertPatch, type Patch, type PatchEdges, type PatchGuide, patch } from "./patch.js";
export { pathBounds } from "./path-bounds.js";
export { readPath } from "./read-path.js";
export { pathOfShape } from "./shape.js";
export {
  composeSmooth,
  invertAt,
  localAffine,
  type MappedPoint,
  mapPoint,
  type SmoothMap,
  smoothAffine,
  stretchAt,
} from "./smooth-map.js";
export { writePath } from "./write-path.js";
