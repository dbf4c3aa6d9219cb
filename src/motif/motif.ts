import { aFlag, aText, maybe, partsOf } from "../checks.js";
import { type Box, boxOverlap } from "../geometry/index.js";
import {
  type Drawing,
  element,
  listBox,
  paintedBoxes,
  readDrawing,
  type SvgElement,
  writeNumber,
} from "../svg/index.js";
import { findEffects } from "./effects.js";
import { frameNotes } from "./frame-notes.js";
import { countInks } from "./inks.js";
import type { Motif } from "./types.js";

/** How a motif is made. */
export interface MotifOptions {
  /** Names it in refusals, reports and ids. Default: "motif". */
  readonly name?: string;
  /** Keep filters. They cannot be recoloured exactly and are slow. Default: false. */
  readonly filters?: boolean;
  /** Cut what leans out of the drawing's frame, as every viewer does. Default: true. */
  readonly clip?: boolean;
}

/**
 * Makes a motif from an SVG drawing: read strictly, everything that could surprise a renderer resolved or refused,
 * measured, its inks counted.
 *
 * @param svg - The drawing as text, or as bytes in UTF-8.
 * @throws {@link RepetendError} `E_ENCODING`, `E_NOT_SVG`, `E_XML`, `E_DTD`, `E_ID`, `E_DEPTH`, `E_LIMIT`,
 * `E_EXTERNAL_REF`, `E_REF`, `E_CYCLE`, `E_INSTANCES`, `E_STYLE`, `E_COLOUR`, `E_NUMBER`, `E_SIZE`, `E_UNIT`, `E_TEXT`,
 * `E_IMAGE`, `E_FEATURE`; each with the motif's name and the place in the text.
 * @example
 * ```ts
 * import { motif } from "repetend";
 * const seed = motif(
 *   `<svg xmlns="http://www.w3.org/2000/svg" width="8mm" height="8mm" viewBox="0 0 8 8">
 *     <style>.shell { fill: oklch(0.6 0.1 220) }</style>
 *     <circle class="shell" cx="4" cy="4" r="3"/>
 *   </svg>`,
 *   { name: "seed" },
 * );
 * seed.width; // 8
 * seed.inks.length; // 1
 * ```
 */
export function motif(svg: string | Uint8Array, options: MotifOptions = {}): Motif {
  partsOf<MotifOptions>({ name: maybe(aText), filters: maybe(aFlag), clip: maybe(aFlag) })(
    options,
    "options",
  );
  const name = options.name ?? "motif";
  const drawing = readDrawing(svg, { name, filters: options.filters ?? false });
  const { box: painted, boxes } = paintedBoxes(drawing.body, drawing.defs);
  const { scope, viewBox, width, height, removed } = drawing;
  const cut = options.clip !== false && painted !== undefined && leansOut(painted, viewBox);
  const { defs, body } = cut ? clipToFrame(drawing) : drawing;
  const shown = cut ? boxOverlap(painted, viewBox) : painted;
  const centre = { x: viewBox.x + viewBox.width / 2, y: viewBox.y + viewBox.height / 2, width: 0, height: 0 };
  return {
    kind: "motif",
    name,
    scope,
    viewBox,
    width,
    height,
    reach: shown ?? centre,
    defs,
    body,
    boxes: cut ? [...listBox(shown), ...boxes] : boxes,
    inks: countInks(body, defs),
    effects: findEffects([...defs, ...body]),
    removed: [...removed, ...frameNotes(painted, viewBox, cut)],
  };
}

/** Far below what any printer shows; rounding of the drawing's numbers must not call for a clip. */
const LEAN = 1e-6;

function leansOut(painted: Box, viewBox: Box): boolean {
  const slack = LEAN * Math.max(viewBox.width, viewBox.height);
  return (
    painted.x < viewBox.x - slack ||
    painted.y < viewBox.y - slack ||
    painted.x + painted.width > viewBox.x + viewBox.width + slack ||
    painted.y + painted.height > viewBox.y + viewBox.height + slack
  );
}

function clipToFrame({ scope, viewBox, defs, body }: Drawing): Pick<Motif, "defs" | "body"> {
  const id = `${scope}-frame`;
  const [x, y, width, height] = [viewBox.x, viewBox.y, viewBox.width, viewBox.height].map((value) =>
    writeNumber(value, 9),
  );
  const frame = element("rect", { x: x ?? "0", y: y ?? "0", width: width ?? "0", height: height ?? "0" });
  const clip: SvgElement = element("clipPath", { id }, [frame]);
  return { defs: [...defs, clip], body: [element("g", { "clip-path": `url(#${id})` }, body)] };
}
