import { type ErrorCode, RepetendError } from "../../errors.js";

export const SVG_NAMESPACE = "http://www.w3.org/2000/svg";
export const XLINK_NAMESPACE = "http://www.w3.org/1999/xlink";
export const XML_NAMESPACE = "http://www.w3.org/XML/1998/namespace";
export const XHTML_NAMESPACE = "http://www.w3.org/1999/xhtml";

/** An element as it stands in the file, with its place; names by resolved namespace. */
export interface SourceElement {
  readonly kind: "element";
  /** As written, prefix and all. */
  readonly name: string;
  /** The local name when the element is SVG's, `""` for every other namespace. */
  readonly svgName: string;
  readonly local: string;
  readonly namespace: string;
  /** Attributes of no namespace by name; `href` stands for `xlink:href` where only that is given. */
  readonly attributes: ReadonlyMap<string, string>;
  /** All attributes as written. */
  readonly written: readonly (readonly [string, string])[];
  readonly parent: SourceElement | undefined;
  readonly children: readonly SourceNode[];
  /** Both from 1. */
  readonly line: number;
  readonly column: number;
}

/** Character data as it stands in the file, entities decoded. */
export interface SourceText {
  readonly kind: "text";
  readonly value: string;
}

export type SourceNode = SourceElement | SourceText;

/** Where an element stands, as `line:column`. */
export function placeOf(element: SourceElement): string {
  return `${element.line}:${element.column}`;
}

/** A refusal that names the element it met. */
export function refuse(
  code: ErrorCode,
  problem: string,
  element: SourceElement,
  facts: { readonly value?: string; readonly accepted?: string; readonly cause?: unknown } = {},
): RepetendError {
  return new RepetendError(code, `${problem} (in <${element.name}>)`, { where: placeOf(element), ...facts });
}

/** The children that are elements. */
export function elementsIn(element: SourceElement): readonly SourceElement[] {
  return element.children.filter((child) => child.kind === "element");
}

/** All text inside, entities decoded. */
export function textIn(element: SourceElement): string {
  return element.children.map((child) => (child.kind === "text" ? child.value : textIn(child))).join("");
}

/** An element and everything inside it, in document order; walks without recursion. */
export function* walk(root: SourceElement): Generator<SourceElement> {
  const waiting: SourceElement[] = [root];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    yield next;
    for (let index = next.children.length - 1; index >= 0; index--) {
      const child = next.children[index];
      if (child?.kind === "element") waiting.push(child);
    }
  }
}
