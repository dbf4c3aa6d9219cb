import { RepetendError } from "../errors.js";

/** A number that an option gives, held to its limits, both inclusive. */
export function readNumber(
  where: string,
  value: number,
  {
    atLeast,
    atMost,
    whole = false,
  }: { readonly atLeast: number; readonly atMost: number; readonly whole?: boolean },
): number {
  if (value >= atLeast && value <= atMost && (!whole || Number.isInteger(value))) return value;
  throw new RepetendError("E_NUMBER", "an option of the arbitraries is out of range", {
    where,
    value: String(value),
    accepted: `${whole ? "a whole number" : "a number"} from ${atLeast} to ${atMost}`,
  });
}

/** A list that an option gives, which must hold something to draw from. */
export function readChoices<T>(where: string, choices: readonly T[]): readonly T[] {
  if (choices.length > 0) return choices;
  throw new RepetendError("E_NUMBER", "an option of the arbitraries leaves nothing to draw from", {
    where,
    value: "[]",
    accepted: "one or more",
  });
}
