/** What a CSS property is like: whether children take it over, and its value where nothing is said. */
export interface Property {
  readonly inherited: boolean;
  readonly initial: string;
}

const taken = (initial: string): Property => ({ inherited: true, initial });
const own = (initial: string): Property => ({ inherited: false, initial });

/**
 * The properties that change the picture: SVG 2, appendix Property Index, with what CSS Masking, Compositing and Filter
 * Effects add. All are also presentation attributes, except those of {@link STYLE_ONLY}.
 */
export const PROPERTIES: Readonly<Record<string, Property>> = {
  "clip-path": own("none"),
  "clip-rule": taken("nonzero"),
  color: taken("#000000"),
  "color-interpolation": taken("sRGB"),
  "color-interpolation-filters": taken("linearRGB"),
  display: own("inline"),
  fill: taken("#000000"),
  "fill-opacity": taken("1"),
  "fill-rule": taken("nonzero"),
  filter: own("none"),
  "flood-color": own("#000000"),
  "flood-opacity": own("1"),
  "image-rendering": taken("auto"),
  isolation: own("auto"),
  "lighting-color": own("#ffffff"),
  "marker-end": taken("none"),
  "marker-mid": taken("none"),
  "marker-start": taken("none"),
  mask: own("none"),
  "mask-type": own("luminance"),
  "mix-blend-mode": own("normal"),
  opacity: own("1"),
  overflow: own(""),
  "paint-order": taken("normal"),
  "shape-rendering": taken("auto"),
  "stop-color": own("#000000"),
  "stop-opacity": own("1"),
  stroke: taken("none"),
  "stroke-dasharray": taken("none"),
  "stroke-dashoffset": taken("0"),
  "stroke-linecap": taken("butt"),
  "stroke-linejoin": taken("miter"),
  "stroke-miterlimit": taken("4"),
  "stroke-opacity": taken("1"),
  "stroke-width": taken("1"),
  transform: own("none"),
  "transform-box": own("view-box"),
  "transform-origin": own(""),
  "vector-effect": own("none"),
  visibility: taken("visible"),
};

/** Properties that are no presentation attributes: they count in style sheets and `style=` only. */
export const STYLE_ONLY: ReadonlySet<string> = new Set(["isolation", "mix-blend-mode", "transform-box"]);

/** Geometry that style sheets may set, and the elements where the attribute is the same as the property: SVG 2. */
export const GEOMETRY: Readonly<Record<string, ReadonlySet<string>>> = {
  cx: new Set(["circle", "ellipse"]),
  cy: new Set(["circle", "ellipse"]),
  d: new Set(["path"]),
  height: new Set(["svg", "rect", "image", "use", "symbol"]),
  r: new Set(["circle"]),
  rx: new Set(["rect", "ellipse"]),
  ry: new Set(["rect", "ellipse"]),
  width: new Set(["svg", "rect", "image", "use", "symbol"]),
  x: new Set(["svg", "rect", "image", "use", "symbol"]),
  y: new Set(["svg", "rect", "image", "use", "symbol"]),
};

/** Properties that would change the picture and are not carried over: refused wherever they say more than nothing. */
export const REFUSED_PROPERTIES: Readonly<Record<string, ReadonlySet<string>>> = {
  all: new Set(),
  rotate: new Set(["none"]),
  scale: new Set(["none", "1"]),
  translate: new Set(["none", "0"]),
  "mask-image": new Set(["none"]),
  "mask-border": new Set(["none"]),
  "offset-path": new Set(["none"]),
  perspective: new Set(["none"]),
};
