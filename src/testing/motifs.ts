import fc from "fast-check";
import { type Motif, motif } from "../motif/index.js";
import { readChoices, readNumber } from "./bounds.js";
import { motifsOptions } from "./checks.js";
import { withRecipe, writeCall } from "./recipe.js";
import { type DrawShape, HOLED_SHAPES, SHAPES } from "./shapes.js";
import { someOf } from "./some-of.js";

/** What {@link motifs} draws from. */
export interface MotifsOptions {
  /** The inks to paint with; the first is the simplest. At least one. Default: four of the package's own. */
  readonly inks?: readonly string[];
  /** The largest number of shapes in one motif, 1 to 20, inclusive. Default 3. */
  readonly maxShapes?: number;
  /** Some shapes are outlined instead of filled, or both. Default true. */
  readonly strokes?: boolean;
  /** Some shapes have holes. Default true. */
  readonly holes?: boolean;
  /** Some shapes let through what lies below, 30 to 90 % of their own ink. Default false. */
  readonly translucent?: boolean;
}

/** The inks that motifs are painted with where none are named. */
export const MOTIF_INKS: readonly string[] = ["#1b2a41", "#c8553d", "#3e6b4f", "#e0a458"];

/** The side of every motif's frame: 20 user units, drawn at 20 mm. */
const FRAME = 20;

/** Shapes are at least this large, in units, less their stroke: what is smaller than a stroke is a blot. */
const LEAST_SIDE = 6;

interface Paint {
  readonly by: "fill" | "stroke" | "both";
  readonly ink: string;
  readonly outline: string;
  readonly thickness: number;
}

function writePaint({ by, ink, outline, thickness }: Paint): string {
  const stroke = (line: string) =>
    `stroke="${line}" stroke-width="${thickness}" stroke-linejoin="round" stroke-linecap="round"`;
  switch (by) {
    case "fill":
      return `fill="${ink}"`;
    case "stroke":
      return `fill="none" ${stroke(ink)}`;
    case "both":
      return `fill="${ink}" ${stroke(outline)}`;
  }
}

interface DrawnShape {
  readonly name: string;
  readonly svg: string;
}

function shapesFrom(options: MotifsOptions): fc.Arbitrary<DrawnShape> {
  const inks = readChoices("inks", options.inks ?? MOTIF_INKS);
  const ink = fc.constantFrom(...inks);
  const holed = options.holes === false ? [] : Object.entries(HOLED_SHAPES);
  const known: readonly (readonly [string, DrawShape])[] = [...Object.entries(SHAPES), ...holed];
  const painted =
    options.strokes === false
      ? fc.constant("fill" as const)
      : fc.constantFrom("fill" as const, "stroke" as const, "both" as const);
  return fc
    .record({
      shape: fc.constantFrom(...known),
      by: painted,
      ink,
      outline: ink,
      thickness: fc.integer({ min: 1, max: 3 }),
      smaller: fc.nat(FRAME - LEAST_SIDE),
      left: fc.nat(FRAME - LEAST_SIDE),
      top: fc.nat(FRAME - LEAST_SIDE),
      tenths:
        options.translucent === true ? fc.integer({ min: 3, max: 10 }).map((n) => 13 - n) : fc.constant(10),
    })
    .map(({ shape: [name, draw], smaller, left, top, tenths, ...paint }) => {
      const inset = paint.by === "fill" ? 0 : paint.thickness / 2;
      const frame = {
        x: Math.min(left, smaller) + inset,
        y: Math.min(top, smaller) + inset,
        side: FRAME - smaller - 2 * inset,
      };
      const rule = name in HOLED_SHAPES ? ' fill-rule="evenodd"' : "";
      const opacity = tenths === 10 ? "" : ` opacity="${tenths / 10}"`;
      return { name, svg: `${draw(frame)} ${writePaint(paint)}${rule}${opacity}/>` };
    });
}

/**
 * Small motifs of 20 mm: filled, outlined and holed shapes, symmetrical and not, in a few inks. Shrinks to one square
 * that fills its frame, in the first ink. A counterexample is printed as the code that makes it.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range; for inks what `motif` throws.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { motifs } from "repetend/testing";
 * fc.assert(fc.property(motifs({ maxShapes: 1 }), (motif) => motif.width === 20 && motif.inks.length <= 2));
 * ```
 */
export function motifs(options: MotifsOptions = {}): fc.Arbitrary<Motif> {
  motifsOptions(options, "options");
  const most = readNumber("maxShapes", options.maxShapes ?? 3, { atLeast: 1, atMost: 20, whole: true });
  return someOf(shapesFrom(options), { min: 1, max: most }).map((shapes) => {
    const svg =
      `<svg xmlns="http://www.w3.org/2000/svg" width="${FRAME}mm" height="${FRAME}mm" viewBox="0 0 ${FRAME} ${FRAME}">` +
      `${shapes.map((shape) => shape.svg).join("")}</svg>`;
    const name = shapes.map((shape) => shape.name).join("-");
    return withRecipe(motif(svg, { name }), () => writeCall("motif", svg, { name }));
  });
}
