import { _compileUnsafe, type Options } from "css-select";
import type { CssNode, Selector } from "css-tree";
import generate from "css-tree/generator";
import walk from "css-tree/walker";
import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";
import { type SourceElement, type SourceNode, textIn } from "../xml/source.js";

type Adapter = NonNullable<Options<SourceNode, SourceElement>["adapter"]>;

/** How much a selector weighs: ids, then classes, attributes and pseudo-classes, then element names. */
export type Specificity = readonly [number, number, number];

/** One selector, ready to be tried on elements. */
export interface Matcher {
  readonly specificity: Specificity;
  readonly matches: (element: SourceElement) => boolean;
  /** What the element itself must carry, where the selector says so plainly: keeps most of them from being tried. */
  readonly needs: { readonly id?: string; readonly class?: string; readonly name?: string };
}

/** Is told of every step of matching, and stops it when there are too many. */
export type Spend = (steps: number) => void;

/**
 * Lets css-select walk our elements. It tries every way to match, so a short selector can take for ever; counting its
 * steps here is the one measure that holds for all selectors.
 */
function makeAdapter(spend: Spend): Adapter {
  return {
    isTag: (node): node is SourceElement => {
      spend(1);
      return node.kind === "element";
    },
    equals: (one, other) => {
      spend(1);
      return one === other;
    },
    getAttributeValue: (node, name) => {
      const value = node.attributes.get(name);
      spend(1 + (value?.length ?? 0) / 32);
      return value;
    },
    getChildren: (node) => {
      if (node.kind === "text") return [];
      spend(node.children.length);
      return [...node.children];
    },
    getName: (node) => {
      spend(1);
      return node.local;
    },
    getParent: (node) => {
      spend(1);
      return node.parent ?? null;
    },
    getSiblings: (node) =>
      node.kind === "element" && node.parent ? (node.parent.children as SourceNode[]) : [node],
    getText: (node) => {
      const value = node.kind === "text" ? node.value : textIn(node);
      spend(value.length);
      return value;
    },
    hasAttrib: (node, name) => {
      spend(1);
      return node.attributes.has(name);
    },
    removeSubsets: (nodes) => nodes,
  };
}

/** States that a drawing at rest is never in. */
const NEVER = new Set(
  "hover active focus focus-within focus-visible visited target link any-link checked disabled enabled".split(
    " ",
  ),
);

/**
 * Makes a selector ready; `undefined` for one that can match nothing in a drawing at rest (a pseudo-element, a state).
 *
 * @throws {@link RepetendError} `E_STYLE` for a selector that is not one.
 */
export function compileSelector(selector: Selector, where: string, spend: Spend): Matcher | undefined {
  const text = generate(selector);
  let impossible = false;
  let parts = 0;
  walk(selector, (node) => {
    if (node.type === "NestingSelector") throw badSelector(text, where, "E_FEATURE");
    if (node.type === "PseudoElementSelector") impossible = true;
    if (node.type === "Nth" && node.selector !== null) throw badSelector(text, where, "E_FEATURE");
    parts += 1;
    if (parts <= DRAWING_LIMITS.depth) return;
    throw new RepetendError("E_LIMIT", "a selector has too many parts", {
      where,
      value: text,
      accepted: `at most ${DRAWING_LIMITS.depth}`,
    });
  });
  // A state outside of :not() can never hold; inside, the library underneath knows that it does not.
  if (
    selector.children.toArray().some((node) => node.type === "PseudoClassSelector" && NEVER.has(node.name))
  ) {
    impossible = true;
  }
  if (impossible) return undefined;
  try {
    const pseudos = Object.fromEntries([...NEVER].map((name) => [name, () => false]));
    const adapter = makeAdapter(spend);
    const matches = _compileUnsafe<SourceNode, SourceElement>(text, { xmlMode: true, adapter, pseudos });
    return { specificity: specificityOf(selector), matches, needs: needsOf(selector) };
  } catch (cause) {
    throw badSelector(text, where, "E_STYLE", cause);
  }
}

function badSelector(
  text: string,
  where: string,
  code: "E_STYLE" | "E_FEATURE",
  cause?: unknown,
): RepetendError {
  return new RepetendError(code, "a selector cannot be read", {
    where,
    value: text,
    accepted: "selectors of CSS Selectors 4, not nested, without `of` in :nth-child()",
    ...(cause === undefined ? {} : { cause }),
  });
}

/** What the last compound of a selector asks of the element by name. */
function needsOf(selector: Selector): Matcher["needs"] {
  const needs: { id?: string; class?: string; name?: string } = {};
  for (const node of selector.children.toArray().reverse()) {
    if (node.type === "Combinator") break;
    if (node.type === "IdSelector") needs.id = decodeName(node.name);
    if (node.type === "ClassSelector") needs.class = decodeName(node.name);
    if (node.type === "TypeSelector" && node.name !== "*") needs.name = decodeName(node.name);
  }
  return needs;
}

/** CSS escapes in names: CSS Syntax 3, section 4.3.7. */
function decodeName(name: string): string {
  return name.replace(
    /\\(?:([0-9a-f]{1,6})\s?|(.))/gi,
    (_, code: string | undefined, sign: string | undefined) =>
      code === undefined ? (sign ?? "") : String.fromCodePoint(Math.min(0x10ffff, Number.parseInt(code, 16))),
  );
}

/** CSS Selectors 4, section 17. */
export function specificityOf(selector: Selector): Specificity {
  return selector.children.toArray().map(weigh).reduce(addWeights, [0, 0, 0]);
}

function weigh(node: CssNode): Specificity {
  switch (node.type) {
    case "IdSelector":
      return [1, 0, 0];
    case "ClassSelector":
    case "AttributeSelector":
      return [0, 1, 0];
    case "TypeSelector":
      return node.name.endsWith("*") ? [0, 0, 0] : [0, 0, 1];
    case "PseudoElementSelector":
      return [0, 0, 1];
    case "PseudoClassSelector":
      return weighPseudoClass(node);
    default:
      return [0, 0, 0];
  }
}

function weighPseudoClass(node: CssNode & { type: "PseudoClassSelector" }): Specificity {
  if (node.name === "where") return [0, 0, 0];
  const inner: Specificity[] = [];
  for (const argument of node.children?.toArray() ?? []) {
    const list = argument.type === "Nth" ? argument.selector : argument;
    if (list?.type !== "SelectorList") continue;
    for (const one of list.children.toArray()) if (one.type === "Selector") inner.push(specificityOf(one));
  }
  const heaviest = inner.reduce((most, one) => (compareWeights(one, most) > 0 ? one : most), [0, 0, 0]);
  return /^(?:is|not|has|matches|any)$/.test(node.name) ? heaviest : addWeights([0, 1, 0], heaviest);
}

function addWeights(one: Specificity, other: Specificity): Specificity {
  return [one[0] + other[0], one[1] + other[1], one[2] + other[2]];
}

/** Above 0 when the first weighs more. */
export function compareWeights(one: Specificity, other: Specificity): number {
  return one[0] - other[0] || one[1] - other[1] || one[2] - other[2];
}
