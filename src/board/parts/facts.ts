import { describeLayout, type PixelGrid, type Print, tileExtent } from "../../repeat/index.js";
import { writeDeviation, writeFigure, writeLength, writeSize } from "../page/figures.js";
import type { SpecSheetOptions } from "../types.js";

/** One fact of a print: what it is about, and one or more lines. */
export interface Fact {
  readonly label: string;
  readonly value: string;
}

/** What a mill must know of a print, in the trade's words, before any colour. */
export function listFacts(options: SpecSheetOptions): readonly Fact[] {
  const { print, grid } = options;
  return [...cloth(print), ...finish(options), ...(grid === undefined ? [] : pixels(print, grid))];
}

/** Whether the repeat is the tile itself: of a stepped print, cells make it. */
export function isItsTile(print: Print): boolean {
  if (print.kind === "border") return true;
  const { width, height } = tileExtent(print, "rectangle");
  return width === print.width && height === print.height;
}

function cloth(print: Print): readonly Fact[] {
  const layout = capitalise(describeLayout(print));
  const warp = print.grain === "x" ? "runs left to right, as drawn" : "runs top to bottom, as drawn";
  const grain = { label: "Warp", value: warp };
  if (print.kind === "border") {
    const bands = print.bands.map(
      ({ name, from, to }) => `${name} ${writeFigure(from / 10, 2)}\u2013${writeFigure(to / 10, 2)}`,
    );
    return [
      { label: "Layout", value: layout },
      { label: "Repeat", value: `${writeLength(print.repeat)} along the cloth` },
      { label: "Cloth width", value: `${writeLength(print.width)} from selvedge to selvedge` },
      ...(bands.length > 0 ? [{ label: "Bands, cm", value: bands.join(", ") }] : []),
      grain,
    ];
  }
  const { width, height } = tileExtent(print, "rectangle");
  return [
    { label: "Layout", value: layout },
    { label: "Repeat", value: writeSize(print.width, print.height) },
    ...(isItsTile(print) ? [] : [{ label: "Tile", value: `${writeSize(width, height)}, repeats by itself` }]),
    grain,
  ];
}

function finish({ print, scale = 1, shrinkage = {}, grid }: SpecSheetOptions): readonly Fact[] {
  const { warp = "0%", weft = "0%" } = shrinkage;
  const { width, height } = tileExtent(print, "rectangle");
  const larger = grid !== undefined && (grid.mm.width !== width || grid.mm.height !== height);
  return [
    ...(scale === 1 ? [] : [{ label: "Scale", value: `${writeFigure(scale * 100, 2)} %` }]),
    { label: "Shrinkage", value: `warp ${spaced(warp)}, weft ${spaced(weft)}` },
    ...(larger ? [{ label: "Printed size", value: writeSize(grid.mm.width, grid.mm.height) }] : []),
  ];
}

function pixels(print: Print, grid: PixelGrid): readonly Fact[] {
  const { tile, dpi, x, y, exactWhole } = grid;
  const [one, other] = [writeDeviation(x), writeDeviation(y)];
  const names = print.kind === "border" ? ["repeat", "cloth width"] : ["width", "height"];
  const off =
    one === "exact" && other === "exact" ? "none, exact" : `${names[0]} ${one}, ${names[1]} ${other}`;
  const near = [exactWhole.below, exactWhole.above].flatMap((at) =>
    at === undefined ? [] : [writeFigure(at.dpi, 2)],
  );
  const exact = off === "none, exact" || near.length === 0 ? "" : `; exact at ${near.join(" and ")} dpi`;
  return [
    { label: "Tile, pixels", value: `${tile.width} \u00d7 ${tile.height}` },
    { label: "Resolution", value: `${writeFigure(dpi.x, 3)} \u00d7 ${writeFigure(dpi.y, 3)} dpi` },
    { label: "Deviation", value: `${off}${exact}` },
  ];
}

const spaced = (percent: string): string => percent.replace(/\s*%/, " %").replace("-", "\u2212");

/** A print in a line: its layout, and the sizes that matter of it. */
export function describePrint(print: Print): string {
  const size =
    print.kind === "border"
      ? `${writeLength(print.repeat)} repeat, ${writeLength(print.width)} cloth`
      : writeSize(print.width, print.height);
  return capitalise(`${describeLayout(print)}, ${size}`);
}

/** A print in few words: its name, and the repeat that one sees. */
export function namePrint(print: Print): string {
  return print.kind === "border"
    ? `${print.name}, ${writeLength(print.repeat)} repeat`
    : `${print.name}, ${describeLayout(print)} ${writeSize(print.width, print.height)}`;
}

/** With a capital first. */
export function capitalise(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
