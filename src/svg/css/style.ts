import type { Declared } from "./cascade.js";
import { PROPERTIES } from "./properties.js";
import { type CustomProperties, replaceVar, settleCustomProperties } from "./variables.js";

/** The values of one element in one place of the drawing: nothing of `var()`, `inherit` or `unset` is left. */
export interface Style {
  readonly inherited: ReadonlyMap<string, string>;
  readonly own: ReadonlyMap<string, string>;
  readonly custom: CustomProperties;
}

const NOTHING: ReadonlyMap<string, string> = new Map();

/** The style outside the root. */
export const INITIAL_STYLE: Style = { inherited: NOTHING, own: NOTHING, custom: NOTHING };

/** The value of a property; for geometry `undefined` where nothing is said. */
export function styleValue(style: Style, property: string): string {
  const { inherited, initial } = PROPERTIES[property] ?? { inherited: false, initial: "" };
  return (inherited ? style.inherited : style.own).get(property) ?? initial;
}

/** The style of an element from its winning declarations and its parent's style. */
export function computeStyle(declared: Declared, parent: Style, where: string): Style {
  if (declared.size === 0) return { ...parent, own: NOTHING };
  const customOwn = new Map([...declared].filter(([name]) => name.startsWith("--")));
  const custom = settleCustomProperties(customOwn, parent.custom, where);
  const inherited = new Map<string, string>();
  const own = new Map<string, string>();
  for (const [name, raw] of declared) {
    if (name.startsWith("--")) continue;
    const taken = PROPERTIES[name]?.inherited ?? false;
    const replaced = /var\(/i.test(raw) ? replaceVar(raw, (other) => custom.get(other), where) : raw;
    const value = (replaced ?? "unset").trim();
    const word = value.toLowerCase();
    const unset = word === "unset" || word === "revert" || word === "revert-layer" || word === "";
    if (word === "inherit" || (unset && taken)) {
      const above = styleValue(parent, name);
      if (taken) inherited.set(name, above);
      else if (above !== "") own.set(name, above);
    } else if (unset || word === "initial") {
      const initial = PROPERTIES[name]?.initial ?? "";
      if (taken) inherited.set(name, initial);
      else own.set(name, initial);
    } else (taken ? inherited : own).set(name, value);
  }
  // A colour that is its own current colour is the parent's.
  if (inherited.get("color")?.toLowerCase() === "currentcolor")
    inherited.set("color", styleValue(parent, "color"));
  if (inherited.size === 0) return { inherited: parent.inherited, own, custom };
  return { inherited: new Map([...parent.inherited, ...inherited]), own, custom };
}
