/**
 * Finds what XML 1.0, section 2.2 does not have: control characters, halves of surrogate pairs, U+FFFE and U+FFFF.
 * Put together from text, since the characters themselves have no place in a source file.
 */
export const FORBIDDEN_CHARACTERS: RegExp = new RegExp(
  [
    "[\\u0000-\\u0008\\u000b\\u000c\\u000e-\\u001f\\ufffe\\uffff]",
    "[\\ud800-\\udbff](?![\\udc00-\\udfff])",
    "(?<![\\ud800-\\udbff])[\\udc00-\\udfff]",
  ].join("|"),
);
