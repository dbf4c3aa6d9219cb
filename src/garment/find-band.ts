import { RepetendError } from "../errors.js";
import type { Band, Print } from "../repeat/types.js";

/**
 * The band of a border that has a name. Stripes may share one; what is placed by it must not depend on which comes first.
 *
 * @throws {@link RepetendError} `E_BAND` where the print has no such band, or several.
 */
export function findBand(print: Print, band: string, where: string): Band {
  const bands = print.kind === "border" ? print.bands : [];
  const [found, other] = bands.filter(({ name }) => name === band);
  if (found !== undefined && other === undefined) return found;
  const problem =
    found === undefined ? "the print has no such band" : "several bands of the print have this name";
  const known = [...new Set(bands.map(({ name }) => name))].join(", ");
  const accepted = found === undefined ? known || "a border print" : "names that stand once, or a level";
  throw new RepetendError("E_BAND", problem, { where, value: band, accepted });
}
