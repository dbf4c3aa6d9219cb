import { aFlag, aNumber, aText, type Check, check, listOf, made, maybe, oneOf, partsOf } from "../checks.js";
import { aColourway } from "../colour/checks.js";
import { aPrint } from "../repeat/checks.js";
import type { PieceOptions, YardageOptions } from "./cloth/options.js";
import type { DrapeOptions, DressOptions, PanelOptions } from "./options.js";
import type { PanelChoice, ScaleOptions } from "./types.js";

export const aSketch: Check = made("a sketch, from readSketch()", "sketch");

export const aDressed: Check = made("a dressed sketch, from dress()", "dressed");

const isFill = partsOf<Extract<PanelChoice, object>>({ fill: aText });

const either =
  (isFirst: (value: unknown) => boolean, other: Check): Check =>
  (value, where) => {
    if (!isFirst(value)) other(value, where);
  };

const isText = (value: unknown): boolean => typeof value === "string";

const aChoice = either(isText, isFill);

const EDGES = ["top", "right", "bottom", "left"] as const;
const anEdge = oneOf(...EDGES);

/** Two numbers or lengths. */
const aPair = check((value) => Array.isArray(value) && value.length === 2, "a list of two");

const aSpot: Check = (value, where) => {
  aPair(value, where);
  listOf(aNumber)(value, where);
};

export const scaleOptions: Check = (value, where) => {
  partsOf<{ readonly across?: unknown }>({ across: maybe(oneOf("height", "width")) })(value, where);
  const isByPanel = "of" in (value as ScaleOptions);
  const parts: Readonly<Record<string, Check>> = isByPanel ? { of: aChoice } : { from: aSpot, to: aSpot };
  partsOf<Record<string, unknown>>(parts)(value, where);
};

const drapeOptions = partsOf<DrapeOptions>({
  hold: maybe(oneOf("top", "bottom", "both")),
  fullness: maybe(aNumber),
  corners: maybe(listOf(aSpot)),
  guides: maybe(listOf(aText)),
});

const aNeighbour: Check = (value, where) => {
  const isPlain = typeof value === "object" && value !== null && "panel" in value;
  if (!isPlain) return aChoice(value, where);
  partsOf<{ readonly panel: unknown; readonly from: unknown; readonly to: unknown }>({
    panel: aChoice,
    from: anEdge,
    to: anEdge,
  })(value, where);
};

const panelOptions = partsOf<PanelOptions>({
  panel: aChoice,
  print: maybe(aPrint),
  colourways: maybe(listOf(aColourway)),
  band: maybe(aText),
  edge: maybe(anEdge),
  meets: maybe(oneOf("top", "bottom")),
  pin: maybe(partsOf<{ readonly print: unknown; readonly at: unknown }>({ print: aPair, at: aSpot })),
  centre: maybe(aText),
  grain: maybe(either(Number.isFinite, anEdge)),
  mirrors: maybe(aChoice),
  mirrored: maybe(oneOf("artwork", "placement")),
  continues: maybe(aNeighbour),
  drape: maybe(either((value) => typeof value === "boolean", drapeOptions)),
});

export const dressOptions: Check = partsOf<DressOptions>({
  scale: scaleOptions,
  panels: listOf(panelOptions),
  garmentInks: maybe(listOf(aText)),
});

const pieceOptions = partsOf<PieceOptions>({
  name: aText,
  panel: maybe(aChoice),
  count: maybe(aNumber),
  band: maybe(aText),
  edge: maybe(anEdge),
  cut: maybe(oneOf("along", "across")),
  match: maybe(aFlag),
  sweep: maybe(oneOf("gather", "scale")),
});

export const yardageOptions: Check = partsOf<YardageOptions>({
  print: aPrint,
  pieces: listOf(pieceOptions),
  sketch: maybe(aSketch),
  scale: maybe(scaleOptions),
});
