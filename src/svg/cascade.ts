import { RepetendError } from "../errors.js";
import { compareWeights, type Matcher, type Specificity, type Spend } from "./css-select.js";
import { type Declaration, readStyleAttribute, readStyleSheet, type StyleRule } from "./css-sheet.js";
import { DRAWING_LIMITS } from "./limits.js";
import type { Losses } from "./notes.js";
import type { Source } from "./parse.js";
import { GEOMETRY, PROPERTIES, REFUSED_PROPERTIES, STYLE_ONLY } from "./properties.js";
import { placeOf, refuse, type SourceElement, walk } from "./source.js";

/** The winning declarations of one element, by property, `var()` and `inherit` still in them. */
export type Declared = ReadonlyMap<string, string>;

/**
 * Settles which declarations win for every element: CSS Cascading 4, section 6. Presentation attributes come first and
 * weigh nothing, then rules by specificity and order, then `style=`, then what is `!important`.
 */
export function cascade(source: Source, losses: Losses): ReadonlyMap<SourceElement, Declared> {
  const budget = new Budget();
  const spend = (steps: number) => budget.spend(steps);
  const index = new RuleIndex(collectSheets(source, losses, spend), spend);
  const declared = new Map<SourceElement, Declared>();
  for (const element of walk(source.root)) {
    if (element.namespace === "") continue;
    declared.set(element, declare(element, index.matching(element), losses));
  }
  return declared;
}

interface OrderedRule extends StyleRule {
  readonly order: number;
}

/** What matching may cost, over all elements. */
class Budget {
  #left: number = DRAWING_LIMITS.matches;

  spend(steps: number): void {
    this.#left -= steps;
    if (this.#left >= 0) return;
    throw new RepetendError("E_LIMIT", "the style sheets ask for too much looking around", {
      accepted: `at most ${DRAWING_LIMITS.matches} steps of matching`,
    });
  }
}

function collectSheets(source: Source, losses: Losses, spend: Spend): readonly OrderedRule[] {
  const rules: StyleRule[] = [];
  for (const element of walk(source.root)) {
    if (element.svgName !== "style") continue;
    const sheet = readStyleSheet(element, spend);
    for (const rule of sheet.rules) rules.push(rule);
    for (const name of sheet.skipped) losses.add(name === "@keyframes" ? "N_ANIMATION" : "N_STYLE", element);
  }
  return rules.map((rule, order) => ({ ...rule, order }));
}

/** Finds the rules of an element without trying all of them. */
class RuleIndex {
  readonly #byNeed = new Map<string, OrderedRule[]>();
  readonly #spend: Spend;

  constructor(rules: readonly OrderedRule[], spend: Spend) {
    this.#spend = spend;
    for (const rule of rules) {
      const need = needOf(rule.matcher);
      const known = this.#byNeed.get(need);
      if (known === undefined) this.#byNeed.set(need, [rule]);
      else known.push(rule);
    }
  }

  /** In the order in which they win, the strongest last. */
  matching(element: SourceElement): readonly OrderedRule[] {
    if (this.#byNeed.size === 0) return [];
    const classes = element.attributes.get("class")?.split(/\s+/) ?? [];
    const id = element.attributes.get("id");
    const needs = new Set([
      "*",
      element.local,
      ...classes.map((one) => `.${one}`),
      id === undefined ? "" : `#${id}`,
    ]);
    const found: OrderedRule[] = [];
    for (const need of needs) {
      for (const rule of this.#byNeed.get(need) ?? []) {
        this.#spend(1);
        if (!rule.matcher.matches(element)) continue;
        this.#spend(rule.declarations.length);
        found.push(rule);
      }
    }
    const weight = (rule: OrderedRule): Specificity => rule.matcher.specificity;
    return found.sort((one, other) => compareWeights(weight(one), weight(other)) || one.order - other.order);
  }
}

function needOf({ needs }: Matcher): string {
  if (needs.id !== undefined) return `#${needs.id}`;
  if (needs.class !== undefined) return `.${needs.class}`;
  return needs.name ?? "*";
}

function declare(element: SourceElement, rules: readonly OrderedRule[], losses: Losses): Declared {
  const declared = new Map<string, string>();
  for (const [name, value] of element.attributes) {
    // What some editors write for what nobody set; no property has such a value, and every viewer leaves it out.
    if (value.trim() === "null") continue;
    const geometry = GEOMETRY[name]?.has(element.svgName) ?? false;
    const property = Object.hasOwn(PROPERTIES, name) && !STYLE_ONLY.has(name) && name !== "transform";
    if (geometry || property) declared.set(name, value);
  }
  const style = element.attributes.get("style");
  const own = style === undefined ? [] : readStyleAttribute(style, placeOf(element));
  const sheets = rules.flatMap((rule) => rule.declarations);
  for (const important of [false, true]) {
    for (const declaration of [...sheets, ...own]) {
      if (declaration.important === important) apply(declaration, element, declared, losses);
    }
  }
  return declared;
}

function apply(
  { property, value }: Declaration,
  element: SourceElement,
  declared: Map<string, string>,
  losses: Losses,
): void {
  if (property === "marker") {
    for (const end of ["marker-start", "marker-mid", "marker-end"]) declared.set(end, value);
  } else if (
    property.startsWith("--") ||
    Object.hasOwn(PROPERTIES, property) ||
    Object.hasOwn(GEOMETRY, property)
  ) {
    declared.set(property, value);
  } else if (Object.hasOwn(REFUSED_PROPERTIES, property)) {
    if (REFUSED_PROPERTIES[property]?.has(value.toLowerCase())) return;
    throw refuse("E_FEATURE", `the property ${property} is not carried over`, element, { value });
  } else if (/^(?:animation|transition)/.test(property)) losses.add("N_ANIMATION", element);
  else if (/^background/.test(property) && element.parent === undefined) losses.add("N_BACKGROUND", element);
}
