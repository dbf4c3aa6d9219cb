import { RepetendError } from "../errors.js";

const FRAGMENT = /^#([^\s#]+)$/;

/** The id that an `href` names. */
export function readHref(href: string, where: string): string {
  const id = FRAGMENT.exec(href.trim())?.[1];
  if (id === undefined) throw externalReference(href, where);
  return decodeId(id);
}

/** Percent signs in fragments stand for bytes; a fragment that does not decode is taken as written. */
function decodeId(id: string): string {
  try {
    return decodeURIComponent(id);
  } catch {
    return id;
  }
}

const URL_FUNCTION = /url\(\s*(?:"([^"]*)"|'([^']*)'|([^"'()\s]*))\s*\)/gi;

/** What every `url()` in a value names, ids only. */
export function readUrls(value: string, where: string): readonly string[] {
  const ids = [...value.matchAll(URL_FUNCTION)].map(([, one, two, three]) =>
    readHref(one ?? two ?? three ?? "", where),
  );
  // A url( that the pattern does not see is one that nobody should.
  const seen = value.match(/url\(/gi)?.length ?? 0;
  if (seen > ids.length) throw externalReference(value, where);
  return ids;
}

/** A value that is a reference and nothing else, or `undefined` for `none`. */
export function readSingleUrl(value: string, property: string, where: string): string | undefined {
  const trimmed = value.trim();
  if (/^(?:none|)$/i.test(trimmed)) return undefined;
  const ids = readUrls(trimmed, where);
  const [id] = ids;
  if (id === undefined || ids.length > 1 || trimmed.replace(URL_FUNCTION, "").trim() !== "") {
    throw new RepetendError("E_FEATURE", `${property} is more than a reference`, {
      where,
      value,
      accepted: "none or url(#id)",
    });
  }
  return id;
}

/** Refuses a value that refers to anything but an id of the same drawing. */
export function externalReference(value: string, where: string): RepetendError {
  return new RepetendError("E_EXTERNAL_REF", "a reference leaves the drawing", {
    where,
    value,
    accepted: "#id of the same drawing",
  });
}
