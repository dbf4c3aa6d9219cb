const names = (text: string): ReadonlySet<string> => new Set(text.split(" "));

/** Basic shapes and paths. */
export const SHAPES: ReadonlySet<string> = names("path rect circle ellipse line polyline polygon");

/** Elements that `use` may bring in. */
export const GRAPHICS: ReadonlySet<string> = new Set([
  ...SHAPES,
  ...names("g a svg symbol use switch image text"),
]);

/** Elements that paint only where something refers to them. */
export const DEFINITIONS: ReadonlySet<string> = names(
  "defs symbol linearGradient radialGradient stop pattern clipPath mask marker filter style",
);

/** Elements that never change the picture. */
export const DESCRIPTIONS: ReadonlySet<string> = names("title desc metadata view cursor");

/** Text and fonts: text is refused where it would be painted. */
export const TEXTS: ReadonlySet<string> = names(
  "text tspan tref textPath altGlyph altGlyphDef altGlyphItem glyphRef font font-face font-face-src font-face-uri " +
    "font-face-format font-face-name glyph missing-glyph hkern vkern",
);

export const SCRIPTS: ReadonlySet<string> = names("script handler listener");

export const ANIMATIONS: ReadonlySet<string> = names(
  "animate animateColor animateMotion animateTransform set discard mpath",
);

/** What shows content of another kind. */
export const FOREIGN: ReadonlySet<string> = names("foreignObject iframe video audio canvas embed object");

/** Paint servers of drafts of SVG 2 that no renderer draws. */
export const UNDRAWN: ReadonlySet<string> = names(
  "meshgradient meshrow meshpatch mesh hatch hatchpath solidcolor color-profile",
);
