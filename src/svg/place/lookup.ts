import { findById } from "../xml/by-id.js";
import { refuse, type SourceElement } from "../xml/source.js";
import type { Reading } from "./place.js";

/** The definition that a property names; one that is missing or of another kind is refused. */
export function lookUpDefinition(
  id: string,
  kind: "clipPath" | "filter" | "marker" | "mask",
  user: SourceElement,
  reading: Reading,
): SourceElement {
  const target = findById(reading.source.ids, id);
  if (target?.svgName === kind) return target;
  const problem =
    target === undefined ? "a reference leads nowhere" : `a reference leads to <${target.name}>`;
  throw refuse("E_REF", problem, user, { value: `#${id}`, accepted: `the id of a ${kind}` });
}
