import { RepetendError } from "../../errors.js";
import { latticePoint } from "../../geometry/lattice.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { latticeOf, rectangleOf } from "../../repeat/index.js";
import type { Print } from "../../repeat/types.js";
import { mm } from "../../units/index.js";
import { findBand } from "../find-band.js";
import { sketchScale } from "../sketch/scale.js";
import { chooseShape } from "../sketch/select.js";
import type { Edge } from "../types.js";
import type { NestPiece } from "./nest.js";
import type { PieceOptions, YardageOptions } from "./options.js";
import { closeSweep, type Sweep } from "./sweep.js";

/** A piece that is ready to be laid; all lengths in mm, seams counted in. */
export interface PreparedPiece {
  readonly name: string;
  readonly nest: NestPiece;
  readonly cut: "along" | "across";
  /** By how much it is wider than the cloth or reaches beyond it, at each side. */
  readonly beyond: readonly { readonly selvedge: "top" | "bottom" | "either"; readonly by: number }[];
  readonly sweep: Sweep | undefined;
}

/** What all pieces of one cutting share. */
export interface Cutting {
  readonly options: YardageOptions;
  readonly clothWidth: number;
  readonly seam: number;
}

/** Turns one kind of piece into the rectangles to be laid. */
export function preparePieces(piece: PieceOptions, cutting: Cutting): readonly PreparedPiece[] {
  const { options, seam, clothWidth } = cutting;
  const { print } = options;
  const count = piece.count ?? 1;
  if (!Number.isInteger(count) || count < 1 || count > 1000)
    throw new RepetendError("E_NUMBER", "a piece is cut a whole number of times", {
      where: piece.name,
      value: String(count),
      accepted: "1 to 1000",
    });
  const size = readSize(piece, options);
  const onBand = piece.band !== undefined || piece.level !== undefined;
  const edge = piece.edge ?? "bottom";
  const cut = readCut(piece, print, onBand, edge);
  const repeat = repeatAlongHem(print, cut);
  const hem = size.width;
  if (piece.sweep !== undefined && repeat === undefined)
    throw new RepetendError(
      "E_LAYOUT",
      "a border does not repeat across the cloth, so nothing closes round",
      {
        where: piece.name,
        value: cut,
        accepted: 'cut: "along"',
      },
    );
  const sweep = piece.sweep && closeSweep(piece.name, hem * count, repeat ?? hem, piece.sweep);
  const width = sweep ? sweep.cloth / count : size.width;
  const [along, across] = cut === "along" ? [width, size.height] : [size.height, width];
  const level = onBand ? readRow(piece, print, edge, across) : undefined;
  const row = level === undefined ? undefined : { from: level - seam, to: level + across + seam };
  const tall = across + 2 * seam;
  const start = mm(piece.along ?? 0);
  const matched = piece.match ?? (onBand || sweep !== undefined);
  return Array.from({ length: count }, (_, k): PreparedPiece => {
    // Round a sweep each piece begins where the one before it ends.
    const shift = sweep && cut === "along" ? k * width : 0;
    const scale = sweep?.scale ?? 1;
    const scales = cut === "along" ? { along: scale, across: 1 } : { along: 1, across: scale };
    const phase = matched
      ? phaseOf(print, start + shift - seam, scales, tall, clothWidth, row !== undefined)
      : undefined;
    return {
      name: count === 1 ? piece.name : `${piece.name} ${k + 1}`,
      nest: { width: along + 2 * seam, height: tall, across: row && Math.max(0, row.from), phase },
      cut,
      beyond: beyondOf(row, tall, clothWidth),
      sweep: k === 0 ? sweep : undefined,
    };
  });
}

function readSize(
  piece: PieceOptions,
  options: YardageOptions,
): { readonly width: number; readonly height: number } {
  const facts = {
    where: piece.name,
    accepted: "width and height above 0, or a panel of a sketch with a scale",
  };
  if (piece.panel !== undefined) {
    if (options.sketch === undefined || options.scale === undefined)
      throw new RepetendError("E_SIZE", "a piece is a panel, but there is no sketch with a scale", facts);
    const { perUnit } = sketchScale(options.sketch, options.scale);
    const box = pathBounds(chooseShape(options.sketch, piece.panel).outline);
    const [width, height] = [(box?.width ?? 0) * perUnit, (box?.height ?? 0) * perUnit];
    return checkSize(
      {
        width: piece.width === undefined ? width : mm(piece.width),
        height: piece.height === undefined ? height : mm(piece.height),
      },
      piece,
    );
  }
  if (piece.width === undefined || piece.height === undefined)
    throw new RepetendError("E_SIZE", "a piece has no size", facts);
  return checkSize({ width: mm(piece.width), height: mm(piece.height) }, piece);
}

function checkSize<S extends { readonly width: number; readonly height: number }>(
  size: S,
  piece: PieceOptions,
): S {
  if (size.width > 0 && size.height > 0) return size;
  throw new RepetendError("E_SIZE", "a piece is more than 0 wide and tall", {
    where: piece.name,
    value: `${size.width} x ${size.height} mm`,
  });
}

function readCut(piece: PieceOptions, print: Print, onBand: boolean, edge: Edge): "along" | "across" {
  const byEdge = edge === "top" || edge === "bottom" ? "along" : "across";
  const wanted = onBand ? byEdge : print.kind === "border" ? "along" : "across";
  if (onBand && piece.cut !== undefined && piece.cut !== byEdge)
    throw new RepetendError("E_LAYOUT", `a piece whose ${edge} edge lies on a band is cut ${byEdge}`, {
      where: piece.name,
      value: piece.cut,
    });
  return piece.cut ?? wanted;
}

/** The repeat that a hem meets, in mm; `undefined` across a border. */
function repeatAlongHem(print: Print, cut: "along" | "across"): number | undefined {
  const { width, height } = rectangleOf(print);
  if (print.kind === "border") return cut === "along" ? width : undefined;
  // A hem along the warp meets the artwork's own grain axis.
  return (print.grain === "x") === (cut === "along") ? width : height;
}

/** Where the finished piece begins across the cloth, in mm from the print's top. */
function readRow(piece: PieceOptions, print: Print, edge: Edge, across: number): number {
  const band = piece.band === undefined ? undefined : findBand(print, piece.band, piece.name);
  const gap = mm(piece.gap ?? 0);
  const given = piece.level === undefined ? 0 : mm(piece.level);
  return edge === "top" ? (band?.from ?? given) - gap : (band?.to ?? given) + gap - across;
}

/** Where matched pieces may begin; `scales` is what a sweep changes the print by. */
function phaseOf(
  print: Print,
  start: number,
  scales: { readonly along: number; readonly across: number },
  tall: number,
  clothWidth: number,
  inRow: boolean,
): NestPiece["phase"] {
  if (print.kind === "border") {
    return { starts: [{ x: start, y: undefined }], step: scales.along * print.repeat };
  }
  const lattice = latticeOf(print);
  const { width, height } = rectangleOf(print);
  const warp = print.grain;
  const step = warp === "y" ? height : width;
  const columns = Math.ceil(clothWidth / lattice.width) + 1;
  const rows = Math.ceil(clothWidth / lattice.height) + 1;
  const starts: { readonly x: number; readonly y: number | undefined }[] = [];
  for (let column = 0; column <= (warp === "y" ? columns : Math.ceil(step / lattice.width)); column += 1)
    for (let row = 0; row <= (warp === "y" ? Math.ceil(step / lattice.height) : rows); row += 1) {
      const point = latticePoint(lattice, column, row);
      const [along, drawn] = warp === "y" ? [point.y, point.x] : [point.x, point.y];
      const across = scales.across * drawn;
      if (across + tall <= clothWidth + 1e-6 || across === 0)
        starts.push({ x: scales.along * along + start, y: inRow ? undefined : across });
    }
  return { starts, step: scales.along * step };
}

function beyondOf(
  row: { readonly from: number; readonly to: number } | undefined,
  tall: number,
  clothWidth: number,
): PreparedPiece["beyond"] {
  const over =
    row === undefined
      ? [{ selvedge: "either" as const, by: tall - clothWidth }]
      : [
          { selvedge: "top" as const, by: -row.from },
          { selvedge: "bottom" as const, by: row.to - clothWidth },
        ];
  return over.filter(({ by }) => by > 0.01);
}
