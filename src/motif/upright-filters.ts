import { type Affine, compose, determinant, invert, scaling } from "../geometry/affine.js";
import {
  childElements,
  element,
  parseTransform,
  type SvgElement,
  scopeElements,
  writeMatrix,
  writeNumber,
} from "../svg/index.js";
import { elementBounds } from "./element-bounds.js";
import { CARRIED_STEPS, fitFilter } from "./fit-filter.js";
import type { Motif } from "./types.js";

/** How far a map may lean, as a share of its size, and still be upright: rounding, no turn. */
const LEAN = 1e-9;

/** Digits of a group that turns and of the one that turns back: together they must do nothing. */
const DIGITS = 9;

const isUpright = ({ a, b, c, d }: Affine): boolean =>
  a > 0 && d > 0 && Math.max(Math.abs(b), Math.abs(c)) <= LEAN * Math.max(a, d);

const linearOf = ({ a, b, c, d }: Affine): Affine => ({ a, b, c, d, e: 0, f: 0 });

const numbersOf = (text: string | undefined): readonly number[] =>
  (text ?? "")
    .split(/[\s,]+/)
    .filter((part) => part !== "")
    .map(Number);

/** Whether a step means another thing when it is turned: a shift, or a blur or growth of two sizes. */
function hasDirection({ name, attributes }: SvgElement): boolean {
  const { dx, dy, stdDeviation, radius } = attributes;
  const shift = name === "feDropShadow" ? [dx ?? 2, dy ?? 2] : [dx ?? 0, dy ?? 0];
  const isUneven = [stdDeviation, radius].some((text) => {
    const [one, other = one] = numbersOf(text);
    return one !== other;
  });
  return isUneven || shift.some((value) => Number(value) !== 0);
}

/** Whether a filter must be rewritten under a turn, and can be. */
function mustTurn(filter: SvgElement): boolean {
  const steps = childElements(filter);
  return steps.some(hasDirection) && steps.every(({ name }) => CARRIED_STEPS.has(name));
}

/** What is done to an element after its filter, so that it stays outside: Compositing 1, section 5. */
const AFTER_FILTER: ReadonlySet<string> = new Set(["transform", "clip-path", "mask", "opacity", "style"]);

/** The turn of a map without its size. */
function turnOf(map: Affine): Affine {
  return compose(scaling(1 / Math.sqrt(Math.abs(determinant(map)))), linearOf(map));
}

/**
 * A name for the turn of a map, for ids: two maps of one name need the same filters. Nothing where nothing is to be done.
 */
export function uprightKey(motif: Motif, map: Affine): string | undefined {
  if (!motif.effects.includes("filter") || determinant(map) === 0) return undefined;
  const { a, b, c, d } = turnOf(map);
  return `t${[a, b, c, d].map((value) => writeNumber(value, DIGITS).replace("-", "m").replace(".", "p")).join("_")}-`;
}

/**
 * The motif with filters that a renderer draws rightly under this map. Renderers shift along the page, whichever way an
 * element is turned or mirrored; so the filter is put on a group that stands upright, its shifts turned to suit, and what
 * it filters is turned inside of that group. In a viewer that turns shifts by itself the picture is the same.
 *
 * Noise, convolutions, displacement, light and tiles lie on the pixels of the page: filters with such steps stay.
 *
 * @param map - From the motif's units to the page.
 * @returns The motif itself where nothing is to be done.
 */
export function uprightFilters(motif: Motif, map: Affine): Motif {
  const key = uprightKey(motif, map);
  if (key === undefined) return motif;
  const filters = new Map(
    motif.defs.filter(({ name }) => name === "filter").map((one) => [one.attributes.id ?? "", one] as const),
  );
  const added: SvgElement[] = [];
  const visit = (one: SvgElement, around: Affine): SvgElement => {
    const { transform } = one.attributes;
    const here = transform === undefined ? around : compose(around, parseTransform(transform));
    const children = one.children.map((child) => (child.type === "element" ? visit(child, here) : child));
    const kept = { ...one, children };
    const filter = filters.get(/^url\(#(.+)\)$/.exec(one.attributes.filter ?? "")?.[1] ?? "");
    if (filter === undefined || determinant(here) === 0 || isUpright(here) || !mustTurn(filter)) return kept;
    const turned = turnFilter(filter, kept, one, turnOf(here), added.length + 1);
    added.push(turned.filter);
    return turned.element;
  };
  const body = motif.body.map((one) => visit(one, map));
  if (added.length === 0) return motif;
  const scope = `${key}${motif.scope}`;
  return {
    ...motif,
    scope,
    defs: scopeElements([...motif.defs, ...added], key),
    body: scopeElements(body, key),
    boxes: [], // groups are added: they are others
  };
}

/** A filter under a turn, and the element that uses it, its children done, around which groups turn and turn back. */
function turnFilter(
  filter: SvgElement,
  kept: SvgElement,
  user: SvgElement,
  turn: Affine,
  number: number,
): { readonly filter: SvgElement; readonly element: SvgElement } {
  const id = `${filter.attributes.id}-turned-${number}`;
  const entries = Object.entries(kept.attributes).filter(([name]) => name !== "filter");
  const outer = Object.fromEntries(entries.filter(([name]) => AFTER_FILTER.has(name)));
  const inner = Object.fromEntries(entries.filter(([name]) => !AFTER_FILTER.has(name)));
  const drawn = element("g", { transform: writeMatrix(turn, DIGITS) }, [{ ...kept, attributes: inner }]);
  const back = invert(turn) ?? turn;
  const upright = { filter: `url(#${id})`, transform: writeMatrix(back, DIGITS) };
  return {
    filter: fitFilter(filter, id, turn, user, elementBounds(user)),
    element: element("g", outer, [element("g", upright, [drawn])]),
  };
}
