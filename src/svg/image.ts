import type { Place, Reading } from "./place.js";
import { refuse, type SourceElement } from "./source.js";
import type { Style } from "./style.js";
import type { SvgElement } from "./tree.js";

export function resolveImage(
  source: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): readonly SvgElement[] {
  void style;
  void place;
  void reading;
  throw refuse("E_FEATURE", "pictures are not carried over yet", source);
}
