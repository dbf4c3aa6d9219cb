import type { Box } from "../../geometry/box.js";
import type { Print } from "../../repeat/types.js";
import { drawWords, shortenWords } from "../../repeat/words/words.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";

/** A rectangle on the cloth with its name. */
export interface DrawnPiece extends Box {
  readonly name: string;
}

const DIGITS = 3;

/**
 * A picture of how pieces lie on the cloth: cloth length along x, cloth width along y, a border's bands and every repeat
 * marked (`startsAt` is where in the print the cloth is cut off), each piece with its cutting line, its seam line and its
 * name, in letters that need no font. 1 to 10, in mm.
 */
export function drawCutting(
  print: Print,
  clothWidth: number,
  startsAt: number,
  length: number,
  seam: number,
  pieces: readonly DrawnPiece[],
): string {
  const write = (value: number): string => writeNumber(value, DIGITS);
  const box = (
    one: Box,
    attributes: Readonly<Record<string, string>>,
    children: readonly SvgElement[] = [],
  ) =>
    element(
      "rect",
      {
        x: write(one.x),
        y: write(one.y),
        width: write(Math.max(0, one.width)),
        height: write(Math.max(0, one.height)),
        ...attributes,
      },
      children,
    );
  const cloth: Box = { x: 0, y: 0, width: length, height: clothWidth };
  const line = { fill: "none", stroke: "#1b2a41", "stroke-width": "3" };
  const bands =
    print.kind === "border"
      ? print.bands.map((band) =>
          box(
            { ...cloth, y: band.from, height: band.to - band.from },
            { fill: band.ground ?? "none", stroke: "#9aa5ad", "stroke-width": "1" },
          ),
        )
      : [];
  const step = print.kind === "border" ? print.repeat : print.grain === "y" ? print.height : print.width;
  const first = Math.ceil(startsAt / step);
  const count = Math.min(10_000, Math.max(0, Math.floor((startsAt + length) / step) - first + 1));
  const repeats = Array.from({ length: count }, (_, k) => {
    const x = write((first + k) * step - startsAt);
    return element("line", {
      x1: x,
      y1: "0",
      x2: x,
      y2: write(clothWidth),
      stroke: "#9aa5ad",
      "stroke-width": "1",
      "stroke-dasharray": "12 8",
    });
  });
  const drawn = pieces.flatMap((piece) => {
    const inner = {
      x: piece.x + seam,
      y: piece.y + seam,
      width: piece.width - 2 * seam,
      height: piece.height - 2 * seam,
    };
    const capital = Math.max(10, Math.min(42, piece.width / 10, piece.height / 4));
    const name = shortenWords(piece.name, inner.width * 0.9, capital);
    const middle = { x: piece.x + piece.width / 2, y: piece.y + (piece.height + capital) / 2 };
    return [
      box(piece, { fill: "#ffffff", "fill-opacity": "0.75", stroke: "#1b2a41", "stroke-width": "2" }, [
        element("title", {}, [text(piece.name)]),
      ]),
      ...(seam > 0
        ? [box(inner, { fill: "none", stroke: "#1b2a41", "stroke-width": "1", "stroke-dasharray": "6 4" })]
        : []),
      ...(name === "" ? [] : [drawWords(name, { ...middle, capital, ink: "#1b2a41", align: "middle" })]),
    ];
  });
  const margin = 10;
  const [width, height] = [length + 2 * margin, clothWidth + 2 * margin];
  return serialise(
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: `${write(width / 10)}mm`,
        height: `${write(height / 10)}mm`,
        viewBox: [-margin, -margin, width, height].map(write).join(" "),
      },
      [
        element("title", {}, [text(`Cutting of ${print.name}`)]),
        element("desc", {}, [
          text("Cloth length from left to right. A marker made by a pattern cutter decides."),
        ]),
        box(cloth, { fill: print.ground ?? "#ffffff" }),
        ...bands,
        ...repeats,
        box(cloth, line),
        ...drawn,
      ],
    ),
  );
}
