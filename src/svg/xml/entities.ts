import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";

/** The label of SVG's own document type. Nothing is opened, and it defines nothing that is needed. */
const PUBLIC_SVG = /^PUBLIC\s+(["'])-\/\/W3C\/\/DTD SVG [\w. ]+\/\/EN\1(?:\s+(["'])[^"']*\2)?$/;

const DECLARATION = /^<!ENTITY\s+([A-Za-z_][\w.-]*)\s+(?:"([^"]*)"|'([^']*)')\s*>/;

/** White space and comments between declarations. */
const BETWEEN = /^(?:\s+|<!--[\s\S]*?-->)*/;

/**
 * Reads a document type. SVG's own is let through, and so are entities that stand for plain text, which some editors
 * use for the addresses of namespaces, if they stay small where they are used. Everything else is refused.
 *
 * @returns What each entity stands for.
 */
export function readDoctype(doctype: string, drawing: string, where: string): ReadonlyMap<string, string> {
  const open = doctype.indexOf("[");
  const head = (open < 0 ? doctype : doctype.slice(0, open)).trim();
  const refuse = (problem: string): RepetendError =>
    new RepetendError("E_DTD", problem, {
      where,
      value: doctype.trim(),
      accepted: "no DOCTYPE, or the plain one of SVG",
    });
  const label = /^svg(?:\s+([\s\S]*))?$/.exec(head);
  if (label === null) throw refuse("the document type is not that of SVG");
  if (label[1] !== undefined && !PUBLIC_SVG.test(label[1])) {
    throw refuse("the document type is outside the drawing");
  }
  const entities = new Map<string, string>();
  if (open < 0) return entities;
  let rest = doctype.slice(open + 1).replace(BETWEEN, "");
  for (let found = DECLARATION.exec(rest); found !== null; found = DECLARATION.exec(rest)) {
    const [whole, name = "", one, other] = found;
    const value = one ?? other ?? "";
    if (/[&%<]/.test(value)) throw refuse("an entity is made of others, or of markup");
    // XML 1.0, section 4.2: the first definition counts.
    if (!entities.has(name)) entities.set(name, value);
    rest = rest.slice(whole.length).replace(BETWEEN, "");
  }
  if (!/^\]\s*$/.test(rest)) throw refuse("the document type defines more than plain entities");
  if (expandedLength(entities, drawing) > DRAWING_LIMITS.entities) throw refuse("entities grow too large");
  return entities;
}

/** How many characters all uses of the entities come to. */
function expandedLength(entities: ReadonlyMap<string, string>, drawing: string): number {
  let length = 0;
  for (const [, name = ""] of drawing.matchAll(/&([A-Za-z_][\w.-]*);/g))
    length += entities.get(name)?.length ?? 0;
  return length;
}
