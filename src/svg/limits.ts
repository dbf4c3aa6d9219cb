/** What a drawing may be at most. Every limit is held before the work that it bounds is begun. */
export const DRAWING_LIMITS = {
  /** UTF-8 bytes of the file, 10 MiB: a motif is drawn by hand or traced, and both stay far below. */
  bytes: 10_485_760,
  /** Elements inside each other, written or made by references; renderers give up near 1,000. */
  depth: 256,
  elements: 200_000,
  /** Attributes of one element. */
  attributes: 256,
  /** Commands of one path: self-crossings make a renderer's work grow with their square. */
  segments: 50_000,
  /** Elements after every reference is followed; renderers give up near a million. */
  instances: 500_000,
  /** No number reaches this: single precision, which renderers use, keeps a sixteenth of a unit there. */
  number: 1e6,
  /** Pixels of one embedded picture: 4096 x 4096. */
  pixels: 16_777_216,
  /** Steps of matching selectors, summed over all elements; what keeps a style sheet from taking minutes. */
  matches: 20_000_000,
  /** Characters that all uses of entities come to. */
  entities: 1_048_576,
  /** Characters of one style sheet or style attribute. */
  style: 1_048_576,
  /** Blocks of one style sheet, and cascade layers of all. */
  rules: 20_000,
  /** Custom properties that count in one place. */
  customProperties: 256,
  /** Characters of paths and pictures after every reference is followed. */
  written: 52_428_800,
  /** Characters of one value after `var()`: replacements can double at every step. */
  value: 10_000,
} as const;
