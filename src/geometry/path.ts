export type { CubicPath, Subpath } from "./cubic-path.js";
export { transformPath } from "./cubic-path.js";
export { pathBounds } from "./path-bounds.js";
export { readPath } from "./read-path.js";
export { pathOfShape } from "./shape.js";
export { writePath } from "./write-path.js";
