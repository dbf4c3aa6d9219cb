import { RepetendError } from "../errors.js";
import { readStep } from "../repeat/index.js";
import type { SeamLayout, StatedRepeat, StatedSide } from "../seam/index.js";
import { readLength } from "../units/index.js";
import type { CommandArguments } from "./command.js";

/** The layouts that have a name of their own. */
export const LAYOUTS: readonly ["straight", "half-drop", "brick", "border"] = [
  "straight",
  "half-drop",
  "brick",
  "border",
];

/**
 * The layout that was asked for.
 *
 * @throws {@link RepetendError} E_USAGE for one that is not known, E_LAYOUT for a step that is none.
 */
export function readLayout({ values }: CommandArguments): SeamLayout | undefined {
  const text = values.layout;
  if (text === undefined) return undefined;
  const known = LAYOUTS.find((layout) => layout === text);
  if (known !== undefined) return known;
  const [, along, step] = /^(column|row):(\d+\/\d+)$/.exec(text) ?? [];
  if (step !== undefined && (along === "column" || along === "row")) {
    return { kind: "stepped", along, step: readStep(step) };
  }
  throw new RepetendError("E_USAGE", "there is no such layout", {
    input: "--layout",
    value: text,
    accepted: `${LAYOUTS.join(", ")}, or a step as column:1/3 or row:1/3`,
  });
}

/** A side as people write it: a length with its unit, mm without, or pixels. */
function readSide(text: string): StatedSide {
  const px = /^(\d*\.?\d+)\s*px$/.exec(text)?.[1];
  if (px === undefined) {
    const isNumber = /^\d*\.?\d+$/.test(text);
    return readLength(isNumber ? Number(text) : text, { where: "--repeat", above: 0 });
  }
  if (Number(px) > 0) return { px: Number(px) };
  throw new RepetendError("E_NUMBER", "a repeat in pixels is more than 0", {
    where: "--repeat",
    value: text,
    accepted: "pixels, above 0",
  });
}

/**
 * The repeat that the files are said to hold.
 *
 * @throws {@link RepetendError} E_USAGE for more or fewer than one or two sides, E_UNIT, E_SIZE, E_NUMBER for a side.
 */
export function readRepeat({ values }: CommandArguments): StatedRepeat | undefined {
  const text = values.repeat;
  if (text === undefined) return undefined;
  const sides = text.split(",");
  const [width = "", height = ""] = sides.map((side) => side.trim());
  if (sides.length > 2 || (width === "" && height === ""))
    throw new RepetendError("E_USAGE", "a repeat is a width and a height", {
      input: "--repeat",
      value: text,
      accepted: "64cm,48cm or 1024px,768px; one of the two may be left out, as in ,48cm",
    });
  return {
    ...(width === "" ? {} : { width: readSide(width) }),
    ...(height === "" ? {} : { height: readSide(height) }),
  };
}
