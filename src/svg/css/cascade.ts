import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";
import type { Losses } from "../notes.js";
import type { Source } from "../xml/parse.js";
import { placeOf, refuse, type SourceElement, walk } from "../xml/source.js";
import { outermostLayer, rankLayers } from "./layers.js";
import { GEOMETRY, PROPERTIES, REFUSED_PROPERTIES, STYLE_ONLY } from "./properties.js";
import { compareWeights, type Matcher, type Specificity, type Spend } from "./select.js";
import { type Declaration, readStyleAttribute, readStyleSheet, type StyleRule } from "./sheet.js";

/** The winning declarations of one element, by property, `var()` and `inherit` still in them. */
export type Declared = ReadonlyMap<string, string>;

/**
 * Settles which declarations win for every element: CSS Cascading and Inheritance 5, section 6. Presentation attributes
 * come first and weigh nothing, then rules by layer, specificity and order, then `style=`, then what is `!important`, of
 * which the layers count in reverse.
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
  /** How strong its layer is. */
  readonly rank: number;
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
  const layers = outermostLayer();
  for (const element of walk(source.root)) {
    if (element.svgName !== "style") continue;
    const sheet = readStyleSheet(element, layers, spend);
    for (const rule of sheet.rules) rules.push(rule);
    for (const name of sheet.skipped) losses.add(name === "@keyframes" ? "N_ANIMATION" : "N_STYLE", element);
  }
  const ranks = rankLayers(layers);
  return rules.map((rule, order) => ({ ...rule, order, rank: ranks.get(rule.layer) ?? 0 }));
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

  /** By layer, the strongest last, and within each in the order in which they win. */
  matching(element: SourceElement): readonly (readonly OrderedRule[])[] {
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
    found.sort(
      (one, other) =>
        one.rank - other.rank || compareWeights(weight(one), weight(other)) || one.order - other.order,
    );
    return splitByLayer(found);
  }
}

function splitByLayer(rules: readonly OrderedRule[]): readonly (readonly OrderedRule[])[] {
  const layers: OrderedRule[][] = [];
  for (const rule of rules) {
    const last = layers.at(-1);
    if (last?.[0]?.rank === rule.rank) last.push(rule);
    else layers.push([rule]);
  }
  return layers;
}

function needOf({ needs }: Matcher): string {
  if (needs.id !== undefined) return `#${needs.id}`;
  if (needs.class !== undefined) return `.${needs.class}`;
  return needs.name ?? "*";
}

function declare(
  element: SourceElement,
  rules: readonly (readonly OrderedRule[])[],
  losses: Losses,
): Declared {
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
  const layers = rules.map((layer) => layer.flatMap((rule) => rule.declarations));
  for (const layer of [...layers, own]) applyLayer(layer, false, element, declared, losses);
  for (const layer of [...layers.reverse(), own]) applyLayer(layer, true, element, declared, losses);
  return declared;
}

/** Lets one layer win over what is declared so far; where it says `revert-layer` that stays as it is. */
function applyLayer(
  layer: readonly Declaration[],
  important: boolean,
  element: SourceElement,
  declared: Map<string, string>,
  losses: Losses,
): void {
  const won = new Map<string, string>();
  for (const declaration of layer) {
    if (declaration.important === important) apply(declaration, element, won, losses);
  }
  for (const [property, value] of won) {
    if (value.toLowerCase() !== "revert-layer") declared.set(property, value);
    else if (important) {
      throw refuse("E_FEATURE", `${property} goes back to the layer before, as !important`, element, {
        value,
        accepted: "revert-layer without !important",
      });
    }
  }
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
