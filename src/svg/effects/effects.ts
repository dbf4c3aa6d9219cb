import { type Style, styleValue } from "../css/style.js";
import type { Place, Reading } from "../place/place.js";
import { readSingleUrl } from "../references.js";
import { readOpacity } from "../values/colour-value.js";
import { writeNumber } from "../values/number.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";
import { defineClip } from "./clip.js";
import { defineFilter } from "./filter.js";
import { defineMask } from "./mask.js";

const BLEND_MODES = new Set(
  (
    "normal multiply screen overlay darken lighten color-dodge color-burn hard-light soft-light difference exclusion " +
    "hue saturation color luminosity"
  ).split(" "),
);

/**
 * What is done to an element as a whole, as attributes: clip, mask, filter, opacity, blending. `undefined` when nothing
 * of the element is left to see.
 */
export function readEffects(
  element: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): Readonly<Record<string, string>> | undefined {
  const written: Record<string, string> = {};
  const opacity = readOpacity(styleValue(style, "opacity"), "opacity", element);
  if (opacity === 0) return undefined;
  const reference = (property: string) =>
    readSingleUrl(styleValue(style, property), property, placeOf(element));
  const clip = reference("clip-path");
  if (clip !== undefined) {
    const id = defineClip(clip, element, place, reading);
    if (id === undefined) return undefined;
    written["clip-path"] = `url(#${id})`;
  }
  const mask = reference("mask");
  if (mask !== undefined) {
    const id = defineMask(mask, element, place, reading);
    if (id === undefined) return undefined;
    written.mask = `url(#${id})`;
  }
  const filter = readFilter(element, style, place, reading);
  if (filter !== undefined) written.filter = `url(#${filter})`;
  if (opacity < 1) written.opacity = writeNumber(opacity, 4);
  const blending = readBlending(element, style);
  if (blending !== "") written.style = blending;
  return written;
}

function readFilter(
  element: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
): string | undefined {
  const value = styleValue(style, "filter");
  if (value === "" || value.toLowerCase() === "none") return undefined;
  if (!reading.filters) {
    reading.losses.add("N_FILTER", element);
    return undefined;
  }
  const id = readSingleUrl(value, "filter", placeOf(element));
  return id === undefined ? undefined : defineFilter(id, element, place, reading);
}

/** Blend modes are no presentation attributes, so they stay the one thing that is written in `style=`. */
function readBlending(element: SourceElement, style: Style): string {
  const mode = styleValue(style, "mix-blend-mode").toLowerCase();
  if (!BLEND_MODES.has(mode)) {
    throw refuse("E_FEATURE", "a blend mode is not known", element, {
      value: mode,
      accepted: [...BLEND_MODES].join(", "),
    });
  }
  const isolated = styleValue(style, "isolation").toLowerCase() === "isolate";
  const parts = [mode === "normal" ? "" : `mix-blend-mode:${mode}`, isolated ? "isolation:isolate" : ""];
  return parts.filter((part) => part !== "").join(";");
}
