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
export { type Box, boxAround, boxOverlap, growBox, mapBox } from "./box.js";
export { type CubicPath, type Subpath, transformPath } from "./cubic-path.js";
export {
  type FriezeCell,
  groupOperations,
  type PlaneCell,
  planeCell,
} from "./groups/operations.js";
export type { FriezeGroup, PlaneGroup } from "./groups/positions.js";
export { pathBounds } from "./path-bounds.js";
export { readPath } from "./read-path.js";
export { pathOfShape } from "./shape.js";
export { writePath } from "./write-path.js";
