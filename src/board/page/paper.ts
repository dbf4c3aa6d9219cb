import { RepetendError } from "../../errors.js";
import { type Length, mm } from "../../units/index.js";

/** Upright formats of ISO 216, in mm. */
const FORMATS = { A4: [210, 297], A3: [297, 420], A2: [420, 594], A1: [594, 841] } as const;

/** A format of ISO 216 and which way it lies. */
export type PageFormat = `${"A1" | "A2" | "A3" | "A4"} ${"landscape" | "portrait"}`;

/** A page by its format, or by its width and height: 140 mm to 5 m each. */
export type BoardPage = PageFormat | { readonly width: Length; readonly height: Length };

/** A page of any size: its type area, in mm, and its heights of capitals. */
export interface Paper {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Where what the page is about begins, below the head. */
  readonly body: number;
  /** 1 on A4, more on larger pages, which are seen from further away: distances and letters grow with it. */
  readonly unit: number;
  readonly capitals: {
    readonly title: number;
    readonly name: number;
    readonly body: number;
    readonly small: number;
  };
}

/** Smaller pages have no room for a head, larger ones are no pages. */
const SIDES = { least: 140, most: 5000 } as const;

/** Of the shorter side: 18 mm on A4. */
const MARGIN = 18 / 210;

/** From the top of the type area to what the page is about, and from its end to the foot's letters, in units. */
const HEAD = 27;
const FOOT = 6.5;

const isFormat = (page: string): page is PageFormat => /^A[1-4] (?:landscape|portrait)$/.test(page);

function readSides(page: BoardPage): { readonly width: number; readonly height: number } {
  if (typeof page !== "string") return { width: mm(page.width), height: mm(page.height) };
  if (!isFormat(page))
    throw new RepetendError("E_SIZE", "no page of this format is known", {
      where: "page",
      value: page,
      accepted: '"A1" to "A4" and "landscape" or "portrait", or a width and a height',
    });
  const [format = "A4", lies] = page.split(" ");
  const [short, long] = FORMATS[format as keyof typeof FORMATS];
  return lies === "landscape" ? { width: long, height: short } : { width: short, height: long };
}

/**
 * The type area of a page.
 *
 * @throws `RepetendError` E_SIZE for a format that is not known, and for sides out of range; E_UNIT for a length without
 * a known unit.
 */
export function readPaper(page: BoardPage): Paper {
  const { width, height } = readSides(page);
  for (const side of [width, height]) {
    if (side >= SIDES.least && side <= SIDES.most) continue;
    throw new RepetendError("E_SIZE", "no page of this size can be laid out", {
      where: "page",
      value: `${width} x ${height} mm`,
      accepted: `${SIDES.least} to ${SIDES.most} mm each way`,
    });
  }
  const unit = Math.min(4, Math.max(0.8, ((width * height) / (210 * 297)) ** 0.25));
  const margin = Math.min(width, height) * MARGIN;
  const [top, bottom] = [margin, height - margin];
  return {
    width,
    height,
    left: margin,
    right: width - margin,
    top,
    bottom: bottom - FOOT * unit,
    body: top + HEAD * unit,
    unit,
    capitals: { title: 6.2 * unit, name: 2.3 * unit, body: 1.75 * unit, small: 1.45 * unit },
  };
}
