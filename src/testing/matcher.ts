import { RepetendError } from "../errors.js";
import type { PixelImage, Rasterise } from "../image/index.js";

/** What a matcher answers, as `expect.extend` of vitest and Jest takes it. */
export interface MatcherResult {
  readonly pass: boolean;
  /** Why it failed; of a matcher that passed, why its `.not` fails. */
  readonly message: () => string;
}

/** What a matcher was handed, or a refusal: a test of the wrong kind of thing must not pass by `.not`. */
export function refuseSubject(matcher: string, received: unknown, accepted: string): RepetendError {
  return new RepetendError("E_USAGE", `${matcher} cannot judge this`, {
    where: `expect(…).${matcher}`,
    value: Array.isArray(received) ? "an array" : describeKind(received),
    accepted,
  });
}

function describeKind(received: unknown): string {
  if (!isRecord(received)) return String(received);
  return typeof received.kind === "string" ? `a value of kind "${received.kind}"` : "an object";
}

/** Anything with properties. */
export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null;

/** A picture in pixels, by its fields. */
export const isPixels = (value: unknown): value is PixelImage =>
  isRecord(value) && "data" in value && "stride" in value && "channels" in value;

/** One of our own values, by its `kind`. */
export const isKind = <K extends string>(
  value: unknown,
  ...kinds: readonly K[]
): value is { readonly kind: K } => isRecord(value) && kinds.some((kind) => kind === value.kind);

/** A number for a person, to so many digits after the point. */
export const write = (value: number, digits = 2): string => String(Number(value.toFixed(digits)));

/** A thing counted: "1 ink", "3 inks". */
export const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? "" : "s"}`;

/** A renderer in a matcher's options. */
export interface WithRasterise {
  /** The renderer: those of `repetend/raster`, or one of your own. */
  readonly rasterise: Rasterise;
}
