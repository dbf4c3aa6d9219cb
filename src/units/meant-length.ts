const NAMES: readonly (readonly [RegExp, string])[] = [
  [/^(?:mm|millimet(?:re|er)s?)$/, "mm"],
  [/^(?:cm|centimet(?:re|er)s?)$/, "cm"],
  [/^(?:m|met(?:re|er)s?)$/, "m"],
  [/^(?:in|inch|inches|"|\u2033|\u201d|'')$/, "in"],
  [/^(?:yd|yds|yards?)$/, "yd"],
];

/** A decimal comma in place of the point, a unit that is written out or in capitals; not a comma between thousands. */
const WRITTEN = /^([+-]?\d{1,9}(?:[.,]\d{1,9})?)\s*([a-z"'\u2033\u201d]{1,12})\.?$/;

/**
 * The length that a text was most likely meant to be, as this package writes it: `9,5 Inches` is `9.5in`. `undefined`
 * where nobody can tell, as for a number without a unit.
 */
export function meantLength(text: string): string | undefined {
  const [, digits, written = ""] = WRITTEN.exec(text.slice(0, 64).trim().toLowerCase()) ?? [];
  const [, unit] = NAMES.find(([name]) => name.test(written)) ?? [];
  return digits === undefined || unit === undefined || /,\d{3}$/.test(digits)
    ? undefined
    : `${digits.replace(",", ".")}${unit}`;
}
