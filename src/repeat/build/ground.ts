import { readColour } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";

/**
 * The ink of a ground: `#rrggbb`, or `undefined` for bare cloth ("none").
 * A ground is printed solid, so a transparent colour is refused.
 */
export function readGround(ground: string | undefined, where: string): string | undefined {
  if (ground === undefined || ground.trim() === "none") return undefined;
  const colour = readColour(ground, where);
  if (colour.alpha !== 1) {
    throw new RepetendError("E_COLOUR", "a ground is printed solid", {
      where,
      value: ground,
      accepted: "an opaque colour, or none for bare cloth",
    });
  }
  return colour.hex;
}
