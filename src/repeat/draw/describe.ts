import { aPrint } from "../checks.js";
import type { AllOver, Print } from "../types.js";
import { rectangleOf } from "./layers.js";

const number = (value: number): string => String(Number(value.toFixed(3)));

/** The layout in the trade's words, for example "half-drop" or "step 1/3 along columns". */
export function describeLayout(print: Print): string {
  aPrint(print, "print");
  if (print.kind === "border") return "border";
  const { layout } = print;
  switch (layout.kind) {
    case "straight":
    case "half-drop":
    case "brick":
      return layout.kind;
    case "stepped":
      return `step ${layout.step.p}/${layout.step.q} along ${layout.along}s`;
    case "satin":
      return `satin of ${layout.ends} ends, move ${layout.move}`;
  }
}

/** One sentence on how a print repeats, for descriptions and sheets. */
export function describeRepeat(print: Print): string {
  aPrint(print, "print");
  const { width, height } = rectangleOf(print);
  if (print.kind === "border") {
    return `Border: repeats every ${number(width)} mm along the cloth; ${number(height)} mm from selvedge to selvedge.`;
  }
  const cell = (one: AllOver) => `cell ${number(one.width)} x ${number(one.height)} mm`;
  const layout = describeLayout(print);
  const sentence = `${layout}: ${cell(print)}; the tile of ${number(width)} x ${number(height)} mm repeats by itself.`;
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
