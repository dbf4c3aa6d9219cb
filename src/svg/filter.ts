import type { Place, Reading } from "./place.js";
import { refuse, type SourceElement } from "./source.js";

export function defineFilter(
  id: string,
  user: SourceElement,
  place: Place,
  reading: Reading,
): string | undefined {
  void place;
  void reading;
  throw refuse("E_FEATURE", "not carried over yet", user, { value: id });
}
