import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";

/** Custom properties by name, their own `var()` replaced. */
export type CustomProperties = ReadonlyMap<string, string>;

/**
 * Settles the custom properties of one element: its own, in which `var()` may name each other, over those it inherits.
 * A ring is refused; CSS would quietly drop all of it.
 */
export function settleCustomProperties(
  own: CustomProperties,
  inherited: CustomProperties,
  where: string,
): CustomProperties {
  if (own.size === 0) return inherited;
  if (own.size + inherited.size > DRAWING_LIMITS.customProperties) {
    throw new RepetendError("E_LIMIT", "too many custom properties count in one place", {
      where,
      value: String(own.size + inherited.size),
      accepted: `at most ${DRAWING_LIMITS.customProperties}`,
    });
  }
  const settled = new Map(inherited);
  for (const name of own.keys()) settled.delete(name);
  const settle = (name: string, trail: readonly string[]): string | undefined => {
    const value = settled.get(name) ?? own.get(name);
    if (value === undefined || settled.has(name)) return value;
    if (trail.includes(name)) {
      throw new RepetendError("E_CYCLE", "custom properties go round in a ring", {
        where,
        value: [...trail.slice(trail.indexOf(name)), name].join(" -> "),
      });
    }
    if (trail.length >= DRAWING_LIMITS.depth) {
      throw new RepetendError("E_DEPTH", "custom properties name each other too deeply", { where });
    }
    const ready = replaceVar(value, (other) => settle(other, [...trail, name]), where);
    if (ready !== undefined) settled.set(name, ready);
    return ready;
  };
  for (const [name, value] of own) {
    const word = value.toLowerCase();
    if (word === "inherit" || word === "unset") {
      const above = inherited.get(name);
      if (above !== undefined) settled.set(name, above);
    } else if (word !== "initial") settle(name, []);
  }
  return settled;
}

/**
 * Replaces every `var(--name, fallback)` in a value; `undefined` when one has neither a value nor a fallback, which
 * makes the declaration count as unset (CSS Variables 1, section 3).
 */
export function replaceVar(
  value: string,
  lookUp: (name: string) => string | undefined,
  where: string,
): string | undefined {
  let result = "";
  let rest = limit(value, where);
  for (;;) {
    const start = /(?<![\w-])var\(/i.exec(rest);
    if (start === null) return limit(result + rest, where);
    const end = closing(rest, start.index + start[0].length);
    const inside = rest.slice(start.index + start[0].length, end);
    const comma = inside.indexOf(",");
    const name = (comma < 0 ? inside : inside.slice(0, comma)).trim();
    const found =
      lookUp(name) ?? (comma < 0 ? undefined : replaceVar(inside.slice(comma + 1), lookUp, where));
    if (found === undefined) return undefined;
    result = limit(result + rest.slice(0, start.index) + found.trim(), where);
    rest = rest.slice(end + 1);
  }
}

/** Where the parenthesis that is open at `from` closes; the end of the text closes all. */
function closing(text: string, from: number): number {
  let open = 1;
  for (let index = from; index < text.length; index++) {
    if (text[index] === "(") open += 1;
    if (text[index] === ")") open -= 1;
    if (open === 0) return index;
  }
  return text.length;
}

function limit(value: string, where: string): string {
  if (value.length <= DRAWING_LIMITS.value) return value;
  throw new RepetendError("E_LIMIT", "a value grows too long when its var() are replaced", {
    where,
    value: String(value.length),
    accepted: `at most ${DRAWING_LIMITS.value} characters`,
  });
}
