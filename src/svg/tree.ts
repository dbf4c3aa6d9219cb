/**
 * An element of a drawing. The node shape is the one that svgson uses, so that its users hand trees in and out;
 * `type` tells elements from text.
 */
export interface SvgElement {
  readonly type: "element";
  readonly name: string;
  readonly value: "";
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgNode[];
}

/** Character data of a drawing, entities decoded, white space kept. */
export interface SvgText {
  readonly type: "text";
  readonly name: "";
  readonly value: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgNode[];
}

/** A node of a drawing's tree. */
export type SvgNode = SvgElement | SvgText;

/** Makes an element; attributes are written in the order in which they are given. */
export function element(
  name: string,
  attributes: Readonly<Record<string, string>> = {},
  children: readonly SvgNode[] = [],
): SvgElement {
  return { type: "element", name, value: "", attributes, children };
}

/** Makes a piece of text. */
export function text(value: string): SvgText {
  return { type: "text", name: "", value, attributes: {}, children: [] };
}
