/** What an attribute of a filter's primitive may be. */
export type FilterValue = "number" | "numbers" | "word" | "input";

const REGION = { x: "number", y: "number", width: "number", height: "number", result: "word" } as const;
const LIGHT = { in: "input", surfaceScale: "number", kernelUnitLength: "numbers" } as const;
const TRANSFER = {
  type: "word",
  tableValues: "numbers",
  slope: "number",
  intercept: "number",
  amplitude: "number",
  exponent: "number",
  offset: "number",
} as const;

/** The primitives that are kept, and what they may say: Filter Effects 1, section 9. `feImage` is left out. */
export const FILTER_PRIMITIVES: Readonly<Record<string, Readonly<Record<string, FilterValue>>>> = {
  feBlend: { ...REGION, in: "input", in2: "input", mode: "word" },
  feColorMatrix: { ...REGION, in: "input", type: "word", values: "numbers" },
  feComponentTransfer: { ...REGION, in: "input" },
  feComposite: {
    ...REGION,
    in: "input",
    in2: "input",
    operator: "word",
    k1: "number",
    k2: "number",
    k3: "number",
    k4: "number",
  },
  feConvolveMatrix: {
    ...REGION,
    in: "input",
    order: "numbers",
    kernelMatrix: "numbers",
    divisor: "number",
    bias: "number",
    targetX: "number",
    targetY: "number",
    edgeMode: "word",
    preserveAlpha: "word",
  },
  feDiffuseLighting: { ...REGION, ...LIGHT, diffuseConstant: "number" },
  feDisplacementMap: {
    ...REGION,
    in: "input",
    in2: "input",
    scale: "number",
    xChannelSelector: "word",
    yChannelSelector: "word",
  },
  feDropShadow: { ...REGION, in: "input", dx: "number", dy: "number", stdDeviation: "numbers" },
  feFlood: REGION,
  feGaussianBlur: { ...REGION, in: "input", stdDeviation: "numbers", edgeMode: "word" },
  feMerge: REGION,
  feMorphology: { ...REGION, in: "input", operator: "word", radius: "numbers" },
  feOffset: { ...REGION, in: "input", dx: "number", dy: "number" },
  feSpecularLighting: { ...REGION, ...LIGHT, specularConstant: "number", specularExponent: "number" },
  feTile: { ...REGION, in: "input" },
  feTurbulence: {
    ...REGION,
    baseFrequency: "numbers",
    numOctaves: "number",
    seed: "number",
    stitchTiles: "word",
    type: "word",
  },
};

/** What stands inside of primitives. */
export const FILTER_PARTS: Readonly<Record<string, Readonly<Record<string, FilterValue>>>> = {
  feDistantLight: { azimuth: "number", elevation: "number" },
  feFuncA: TRANSFER,
  feFuncB: TRANSFER,
  feFuncG: TRANSFER,
  feFuncR: TRANSFER,
  feMergeNode: { in: "input" },
  fePointLight: { x: "number", y: "number", z: "number" },
  feSpotLight: {
    x: "number",
    y: "number",
    z: "number",
    pointsAtX: "number",
    pointsAtY: "number",
    pointsAtZ: "number",
    specularExponent: "number",
    limitingConeAngle: "number",
  },
};

/** Colours that primitives carry, each with its opacity. */
export const FILTER_COLOURS: Readonly<Record<string, readonly string[]>> = {
  feDiffuseLighting: ["lighting-color"],
  feDropShadow: ["flood-color", "flood-opacity"],
  feFlood: ["flood-color", "flood-opacity"],
  feSpecularLighting: ["lighting-color"],
};
