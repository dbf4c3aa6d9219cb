import { aNumber, maybe, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { anElement } from "../checks.js";
import type { SvgElement } from "../tree.js";
import { FORBIDDEN_CHARACTERS } from "./characters.js";

/** How a tree is written. */
export interface SerialiseOptions {
  /** Spaces per level for people to read; 0 writes no white space of its own. Default: 0. */
  readonly indent?: number;
}

const NAME = /^[\p{L}_][\p{L}\p{M}\p{N}_.·-]*(?::[\p{L}_][\p{L}\p{M}\p{N}_.·-]*)?$/u;

const escapeText = (text: string): string => text.replace(/[&<>\r]/g, (sign) => ESCAPES[sign] ?? sign);

/** Line ends and tabs in attributes would come back as spaces. */
const escapeAttribute = (text: string): string =>
  text.replace(/[&<>"\r\n\t]/g, (sign) => ESCAPES[sign] ?? sign);

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\r": "&#13;",
  "\n": "&#10;",
  "\t": "&#9;",
};

/**
 * Writes a tree as XML text. Attributes keep their order; text and values are escaped, so that reading the text
 * strictly gives the same tree.
 *
 * @throws {@link RepetendError} `E_XML` for names and characters that XML does not have.
 * @example
 * ```ts
 * import { serialise, svgElement, svgText } from "repetend";
 * serialise(svgElement("title", { lang: "en" }, [svgText("Reeds & herons")]));
 * // <title lang="en">Reeds &amp; herons</title>
 * ```
 */
export function serialise(root: SvgElement, options: SerialiseOptions = {}): string {
  anElement(root, "root");
  partsOf<SerialiseOptions>({ indent: maybe(aNumber) })(options, "options");
  return writeElement(root, "", options.indent ?? 0, new Set());
}

/** What needs neither a check nor an escape, in text and in attributes: nearly all that is ever written. */
const PLAIN = /^[ !#-%'-;=?-~]*$/;

/** `names` are those that were checked before in this tree. */
function writeElement(node: SvgElement, margin: string, indent: number, names: Set<string>): string {
  checkName(node.name, names);
  let written = `<${node.name}`;
  for (const name in node.attributes) {
    if (!Object.hasOwn(node.attributes, name)) continue;
    checkName(name, names);
    const value = node.attributes[name] ?? "";
    written += ` ${name}="${PLAIN.test(value) ? value : escapeAttribute(checkCharacters(value))}"`;
  }
  if (node.children.length === 0) return `${written}/>`;
  written += ">";
  // White space beside text would become part of it.
  const apart = indent > 0 && node.children.every((child) => child.type === "element");
  const inner = margin + " ".repeat(indent);
  for (const child of node.children) {
    if (apart) written += `\n${inner}`;
    if (child.type === "element") written += writeElement(child, inner, indent, names);
    else written += PLAIN.test(child.value) ? child.value : escapeText(checkCharacters(child.value));
  }
  if (apart) written += `\n${margin}`;
  return `${written}</${node.name}>`;
}

function checkName(name: string, names: Set<string>): void {
  if (names.has(name)) return;
  if (!NAME.test(name)) throw new RepetendError("E_XML", "a name cannot be written as XML", { value: name });
  names.add(name);
}

function checkCharacters(value: string): string {
  if (FORBIDDEN_CHARACTERS.test(value)) {
    throw new RepetendError("E_XML", "a character cannot be written as XML", { value });
  }
  return value;
}
