import { RepetendError } from "../../errors.js";
import { placeOf, type SourceElement } from "./source.js";

/** The elements of a drawing by their ids. */
export interface IdTable {
  readonly first: ReadonlyMap<string, SourceElement>;
  /** The second of those ids that stand more than once; no harm where nothing refers to them. */
  readonly second: ReadonlyMap<string, SourceElement>;
}

/**
 * The element that a reference means.
 *
 * @throws RepetendError `E_ID` when there are several.
 */
export function findById(ids: IdTable, id: string): SourceElement | undefined {
  const second = ids.second.get(id);
  if (second !== undefined) throw repeatedId(ids, id, second);
  return ids.first.get(id);
}

/** Refuses ids that stand more than once, for whoever will refer to them from outside. */
export function refuseRepeatedIds(ids: IdTable): void {
  for (const [id, second] of ids.second) throw repeatedId(ids, id, second);
}

function repeatedId(ids: IdTable, id: string, second: SourceElement): RepetendError {
  const first = ids.first.get(id) ?? second;
  return new RepetendError("E_ID", `an id stands twice, first at ${placeOf(first)}`, {
    where: placeOf(second),
    value: id,
    accepted: "ids that are unique in the drawing, of all that are referred to",
  });
}
