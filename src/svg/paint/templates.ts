import { RepetendError } from "../../errors.js";
import type { Reading } from "../place/place.js";
import { readHref } from "../references.js";
import { findById } from "../xml/by-id.js";
import { placeOf, refuse, type SourceElement } from "../xml/source.js";

/** A paint server and those it takes attributes and content from, nearest first. */
export function templatesOf(server: SourceElement, kind: RegExp, reading: Reading): readonly SourceElement[] {
  const chain: SourceElement[] = [];
  for (let next: SourceElement | undefined = server; next !== undefined; ) {
    if (chain.includes(next)) {
      throw new RepetendError("E_CYCLE", "templates go round in a ring", { where: placeOf(next) });
    }
    chain.push(next);
    const href = next.attributes.get("href");
    if (href === undefined) break;
    const id = readHref(href, placeOf(next));
    const template: SourceElement | undefined = findById(reading.source.ids, id);
    if (template === undefined || !kind.test(template.svgName)) {
      throw refuse("E_REF", "a template is missing or of another kind", next, { value: `#${id}` });
    }
    next = template;
  }
  return chain;
}
