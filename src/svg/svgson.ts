import { RepetendError } from "../errors.js";
import { aNode, anElement } from "./checks.js";
import { DRAWING_LIMITS } from "./limits.js";
import { element, type SvgElement, type SvgNode, text } from "./tree.js";

/** A node as the npm package svgson has it. */
export interface SvgsonNode {
  name: string;
  type: string;
  value: string;
  attributes: Record<string, string>;
  children: SvgsonNode[];
}

/**
 * The tree as svgson has it, ready for its `stringify`: values are plain, since `stringify` escapes them. Text is cut
 * into pieces inside of what looks like an entity and of every `]]>`, which `stringify` and `parse` would otherwise not bring back.
 *
 * @example
 * ```ts
 * import { fromSvgson, svgElement, toSvgson } from "repetend";
 * fromSvgson(toSvgson(svgElement("g", { id: "reeds" }))).attributes.id; // "reeds"
 * ```
 */
export function toSvgson(root: SvgElement): SvgsonNode {
  anElement(root, "root");
  return {
    name: root.name,
    type: "element",
    value: "",
    attributes: { ...root.attributes },
    children: root.children.flatMap((child) =>
      child.type === "element" ? [toSvgson(child)] : textPieces(child.value),
    ),
  };
}

function textPieces(value: string): readonly SvgsonNode[] {
  const pieces = value.split(/(?<=&)(?=[#a-z])|(?<=\]\])(?=>)/i);
  return pieces.map((piece) => ({ name: "", type: "text", value: piece, attributes: {}, children: [] }));
}

/**
 * The tree of an element as svgson's `parse` gives it: entities, which svgson leaves as written, are decoded, and text
 * that stands side by side is joined.
 *
 * @throws {@link RepetendError} `E_DTD` for an entity that XML does not define, `E_DEPTH` below 256 elements, `E_NOT_SVG`
 * for a node that is no element.
 */
export function fromSvgson(node: SvgsonNode): SvgElement {
  aNode(node, "node");
  if (node.type !== "element") {
    throw new RepetendError("E_NOT_SVG", "the node is no element", { value: String(node.type) });
  }
  return readNode(node, 1);
}

function readNode(node: SvgsonNode, depth: number): SvgElement {
  if (depth > DRAWING_LIMITS.depth) {
    throw new RepetendError("E_DEPTH", "the tree is nested too deeply", {
      value: node.name,
      accepted: `at most ${DRAWING_LIMITS.depth} elements inside each other`,
    });
  }
  aNode(node, `<${node.name}>`);
  const attributes = Object.entries(node.attributes).map(([name, value]) => [name, decode(String(value))]);
  const children: SvgNode[] = [];
  for (const child of node.children) {
    const last = children.at(-1);
    if (child.type === "element") children.push(readNode(child, depth + 1));
    else if (child.type === "text" && last?.type === "text") {
      children[children.length - 1] = text(last.value + decode(child.value));
    } else if (child.type === "text") children.push(text(decode(child.value)));
  }
  return element(node.name, Object.fromEntries(attributes), children);
}

const ENTITIES: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

/** An `&` that begins no entity comes from a CDATA section and stands for itself. */
function decode(value: string): string {
  return value.replace(/&(?:#(\d{1,7})|#x([0-9a-f]{1,6})|([a-z][\w.-]*));/gi, (whole, decimal, hex, name) => {
    if (name === undefined) return readCharacter(whole, Number.parseInt(decimal ?? hex, decimal ? 10 : 16));
    const known = Object.hasOwn(ENTITIES, name) ? ENTITIES[name] : undefined;
    if (known !== undefined) return known;
    throw new RepetendError("E_DTD", "an entity is not defined", {
      value: whole,
      accepted: "&lt; &gt; &amp; &quot; &apos; and character references",
    });
  });
}

function readCharacter(whole: string, code: number): string {
  const isCharacter = code <= 0x10ffff && !(code >= 0xd800 && code <= 0xdfff) && code !== 0;
  if (isCharacter) return String.fromCodePoint(code);
  throw new RepetendError("E_XML", "a character reference names no character", { value: whole });
}
