import { aFlag, aText, maybe, partsOf } from "../checks.js";
import { nameInput, RepetendError } from "../errors.js";
import { compose, IDENTITY } from "../geometry/affine.js";
import { checkElements } from "./allow.js";
import { cascade } from "./css/cascade.js";
import { INITIAL_STYLE } from "./css/style.js";
import type { Drawing } from "./drawing.js";
import { readEffects } from "./effects/effects.js";
import { checkReferences } from "./graph.js";
import { group } from "./group.js";
import { DRAWING_LIMITS } from "./limits.js";
import { Losses } from "./notes.js";
import { childElements } from "./painted/elements.js";
import { checkInstances } from "./painted/instances.js";
import { pruneDefs } from "./painted/prune.js";
import { Defs, Ids } from "./place/defs.js";
import { digitsAt, moveInto, type Place, type Reading, styleOf } from "./place/place.js";
import { inPixels, readRootFrame } from "./place/root.js";
import { resolveElements } from "./resolve.js";
import { scopeName } from "./scope.js";
import { elementMap } from "./shapes/element-map.js";
import type { SvgElement } from "./tree.js";
import { writeMatrix } from "./values/transform.js";
import { refuseRepeatedIds } from "./xml/by-id.js";
import { decodeDrawing } from "./xml/bytes.js";
import { readSource } from "./xml/parse.js";
import { elementsIn, placeOf, type SourceElement } from "./xml/source.js";

/** How a drawing is read. */
export interface DrawingOptions {
  /** Names the drawing in refusals and in its ids. Default: no name. */
  readonly name?: string;
  /** The prefix of its ids. Default: made from the name and the drawing. */
  readonly scope?: string;
  /** Keep filters. They cannot be recoloured exactly and are slow. Default: false. */
  readonly filters?: boolean;
  /**
   * Keep ids and classes, as `data-repetend-id` and `data-repetend-class`, and named shapes that paint nothing. No id may stand
   * twice then. Default: false.
   */
  readonly names?: boolean;
}

const drawingOptions = partsOf<DrawingOptions>({
  name: maybe(aText),
  scope: maybe(aText),
  filters: maybe(aFlag),
  names: maybe(aFlag),
});

/**
 * Reads an SVG drawing in the secure static mode of SVG 2 and resolves it: see {@link Drawing}. Nothing outside of the
 * text is ever opened.
 *
 * @param input - Text, or bytes in UTF-8.
 * @throws {@link RepetendError} `E_ENCODING`, `E_NOT_SVG`, `E_XML`, `E_DTD`, `E_ID`, `E_DEPTH`, `E_LIMIT`,
 * `E_EXTERNAL_REF`, `E_REF`, `E_CYCLE`, `E_INSTANCES`, `E_STYLE`, `E_COLOUR`, `E_NUMBER`, `E_SIZE`, `E_UNIT`, `E_TEXT`,
 * `E_IMAGE`, `E_FEATURE`; each with the place in the text.
 */
export function readDrawing(input: string | Uint8Array, options: DrawingOptions = {}): Drawing {
  drawingOptions(options, "options");
  try {
    const text = decodeDrawing(input);
    return readText(text, options);
  } catch (error) {
    throw options.name === undefined ? error : nameInput(error, options.name);
  }
}

function readText(text: string, options: DrawingOptions): Drawing {
  const scope = options.scope ?? scopeName(options.name ?? "", text);
  const source = readSource(text);
  if (options.names) refuseRepeatedIds(source.ids);
  const losses = new Losses();
  checkElements(source, losses);
  const declared = cascade(source, losses);
  const weights = checkReferences(source, declared);
  const { root } = source;
  const style = styleOf(root, INITIAL_STYLE, { declared });
  const frame = readRootFrame(root, style);
  const reading: Reading = {
    source,
    declared,
    losses,
    filters: options.filters ?? false,
    names: options.names ?? false,
    extent: Math.max(frame.viewBox.width, frame.viewBox.height),
    pixels: inPixels(frame.width) / frame.viewBox.width,
    memory: { paths: new Map(), styles: new Map(), stops: new Map() },
    countCharacters: characterCounter(),
    ...instanceCounter(weights),
    mayMeasure: measureBudget(),
    paint: (elements, place) => resolveElements(elements, place, reading),
  };
  const defs = new Defs(new Ids(scope));
  const outside: Place = { style, viewport: frame.viewport, map: IDENTITY, defs, depth: 1, trail: [] };
  const map = compose(frame.map, elementMap(root, style, outside, reading));
  const place = moveInto(map, outside, root);
  const effects = readEffects(root, style, place, reading);
  const painted = effects === undefined ? [] : resolveElements(elementsIn(root), place, reading);
  const body = group(painted, { transform: writeMatrix(map, digitsAt(outside, reading)), ...effects });
  checkInstances(body, defs.elements);
  const { viewBox, width, height } = frame;
  return {
    scope,
    viewBox,
    width,
    height,
    body,
    defs: pruneDefs(body, defs.elements),
    removed: losses.list(),
  };
}

/** Counts elements as they are painted; references through `var()` and inheritance are seen here only. */
function instanceCounter(weights: ReadonlyMap<SourceElement, number>): Pick<Reading, "count" | "foresee"> {
  let count = 0;
  const hold = (total: number, element: SourceElement): void => {
    if (total <= DRAWING_LIMITS.instances) return;
    throw new RepetendError("E_INSTANCES", "references multiply to too many elements", {
      where: placeOf(element),
      accepted: `at most ${DRAWING_LIMITS.instances}`,
    });
  };
  return {
    count: (element) => {
      count += 1;
      hold(count, element);
    },
    foresee: (times, element) => hold(count + times * (weights.get(element) ?? 1), element),
  };
}

function characterCounter(): (characters: number, element: SourceElement) => void {
  let count = 0;
  return (characters, element) => {
    count += characters;
    if (count <= DRAWING_LIMITS.written) return;
    throw new RepetendError("E_INSTANCES", "references multiply to too many characters", {
      where: placeOf(element),
      accepted: `at most ${DRAWING_LIMITS.written}`,
    });
  };
}

/** Elements that are measured at most, over one drawing: nested viewports could ask for the same ones again and again. */
const MEASURED = 200_000;

function measureBudget(): (elements: readonly SvgElement[]) => boolean {
  const count = (element: SvgElement): number =>
    childElements(element).reduce((sum, child) => sum + count(child), 1);
  let left = MEASURED;
  return (elements) => {
    if (left > 0) left -= elements.reduce((sum, element) => sum + count(element), 0);
    return left > 0;
  };
}
