import type { CssNode } from "css-tree";
import parse from "css-tree/parser";
import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";

/**
 * Reads a piece of CSS within its limits, values and custom properties as they are written.
 *
 * @throws RepetendError `E_STYLE` where it does not follow the grammar, `E_LIMIT`, `E_DEPTH`.
 */
export function parseCss(text: string, context: string, where: string): CssNode {
  refuseLongStyle(text, where);
  refuseDeepNesting(text, where);
  const fail = (cause: Error, from: number): RepetendError =>
    new RepetendError("E_STYLE", `a style cannot be read: ${cause.message}`, {
      where,
      value: text.slice(from, from + 40),
      cause,
    });
  try {
    return parse(text, {
      context,
      parseValue: false,
      parseCustomProperty: false,
      onParseError: (cause, instead: CssNode | null) => {
        // The parser also reports what it tries first and then reads another way; then it has nothing instead.
        if (instead?.type === "Raw") throw fail(cause, cause.offset);
      },
    });
  } catch (error) {
    // Outside of rules the parser throws by itself.
    throw error instanceof RepetendError || !(error instanceof Error) ? error : fail(error, 0);
  }
}

/** The parser makes about a kilobyte of every rule. */
function refuseLongStyle(text: string, where: string): void {
  const blocks = text.length > DRAWING_LIMITS.rules ? (text.match(/\{/g)?.length ?? 0) : 0;
  if (text.length <= DRAWING_LIMITS.style && blocks <= DRAWING_LIMITS.rules) return;
  throw new RepetendError("E_LIMIT", "a style is too long", {
    where,
    value: `${text.length} characters, ${blocks} blocks`,
    accepted: `at most ${DRAWING_LIMITS.style} characters, ${DRAWING_LIMITS.rules} blocks`,
  });
}

/** The parser calls itself for every bracket; brackets in strings count too, which does no harm. */
function refuseDeepNesting(text: string, where: string): void {
  let open = 0;
  for (let index = 0; index < text.length; index++) {
    const sign = text[index] ?? "";
    if ("([{".includes(sign)) open += 1;
    else if (")]}".includes(sign)) open = Math.max(0, open - 1);
    if (open <= DRAWING_LIMITS.depth) continue;
    throw new RepetendError("E_DEPTH", "a style nests brackets too deeply", {
      where,
      accepted: `at most ${DRAWING_LIMITS.depth} inside each other`,
    });
  }
}
