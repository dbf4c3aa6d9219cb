import { type Affine, translation } from "../../geometry/affine.js";
import type { Style } from "../css/style.js";
import { readHref } from "../references.js";
import { boxLength } from "../values/box-length.js";
import type { Viewport } from "../values/length.js";
import { findById } from "../xml/by-id.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";
import type { Reading } from "./place.js";

/** What a `use` brings in; `undefined` for one that names nothing. */
export interface Used {
  readonly id: string;
  readonly target: SourceElement;
}

/** Looks up what a `use` brings in. */
export function lookUpUsed(use: SourceElement, reading: Pick<Reading, "source">): Used | undefined {
  const href = use.attributes.get("href");
  if (href === undefined) return undefined;
  const id = readHref(href, placeOf(use));
  const target = findById(reading.source.ids, id);
  if (target !== undefined) return { id, target };
  throw refuse("E_REF", "a use refers to what the drawing does not have", use, { value: `#${id}` });
}

/** How far a `use` moves what it brings in. */
export function useShift(use: SourceElement, style: Style, viewport: Viewport): Affine {
  const length = (name: "x" | "y") => boxLength(use, style, viewport, name) ?? 0;
  return translation(length("x"), length("y"));
}
