import { type Affine, translation } from "../geometry/affine.js";
import { findById } from "./by-id.js";
import { readDrawingLength, type Viewport } from "./length.js";
import type { Reading } from "./place.js";
import { readHref } from "./references.js";
import { placeOf, refuse, type SourceElement } from "./source.js";
import { type Style, styleValue } from "./style.js";

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

/** A length of a `use`; `undefined` where it says none. */
export function useLength(
  use: SourceElement,
  style: Style,
  viewport: Viewport,
  name: "x" | "y" | "width" | "height",
): number | undefined {
  const text = styleValue(style, name);
  const whole = name === "x" || name === "width" ? viewport.width : viewport.height;
  return text === "" || text === "auto" ? undefined : readDrawingLength(text, whole, placeOf(use));
}

/** How far a `use` moves what it brings in. */
export function useShift(use: SourceElement, style: Style, viewport: Viewport): Affine {
  const length = (name: "x" | "y") => useLength(use, style, viewport, name) ?? 0;
  return translation(length("x"), length("y"));
}
