import type { PixelImage } from "../../image/index.js";
import { cropImage, joinParts, repeatColumns, type TileBand } from "../../raster/index.js";
import { type Zlib, zlibApart } from "../deflate/zlib.js";
import { RowBuffers } from "../png/row-buffers.js";
import { CopyFinder } from "../png/run-copies.js";
import { CmykConverter } from "../profile/cmyk.js";
import {
  type EncodedRows,
  type Encoding,
  type EncodingTools,
  encodeRows,
  joinRows,
  type OpenConverter,
} from "./encoding.js";

/** How rows of a tile stand in files: plain data. */
export interface RowsWork {
  /** Of the tile, in pixels. */
  readonly width: number;
  /** Every band begins on a multiple of so many rows. */
  readonly strip: number;
  /** How many tiles stand side by side in the file. */
  readonly across: number;
  /** One for every way in which rows are stored. */
  readonly encodings: readonly Encoding[];
}

/** What the rows of all bands share. */
export interface RowsStore extends EncodingTools {
  readonly work: RowsWork;
  readonly finder: CopyFinder;
}

/** A band of the tile as it stands in the files. */
export interface StoredBand {
  readonly y: number;
  readonly height: number;
  /** In the order of the encodings. */
  readonly rows: readonly EncodedRows[];
}

/** Rows of so many pixels are stored at a time where a file is wider than the tile. */
const ROWS_PIXELS = 2 ** 22;

/** Opens each profile once, for as long as the work goes on. */
function converters(): OpenConverter {
  const opened = new Map<string, Promise<CmykConverter>>();
  return (profile) => {
    const known = opened.get(profile) ?? CmykConverter.open(profile);
    opened.set(profile, known);
    return known;
  };
}

/** Makes ready to store rows, compressed on threads of Node's unless it is said how. */
export function openStore(work: RowsWork, zlib: Zlib = zlibApart): RowsStore {
  return { work, zlib, finder: new CopyFinder(), open: converters(), buffers: new RowBuffers() };
}

/** The rows of a band that are stored at a time. */
export function* cutRows(
  { across, width, strip }: RowsWork,
  height: number,
): Generator<{ readonly y: number; readonly height: number }> {
  const fit = Math.floor(ROWS_PIXELS / (width * across));
  const rows = across === 1 ? height : Math.min(height, Math.max(strip, fit - (fit % strip)));
  for (let y = 0; y < height; y += rows) yield { y, height: Math.min(rows, height - y) };
}

/** Stores rows of the tile in every encoding. Nothing here holds them while they are compressed. */
function storeRows(store: RowsStore, tile: PixelImage): Promise<readonly EncodedRows[]> {
  const { across, encodings } = store.work;
  const rows = repeatColumns(tile, 0, tile.width * across);
  return Promise.all(encodings.map((encoding) => encodeRows(rows, encoding, store)));
}

/** Stores a rendered band, a few rows at a time. */
async function storeCuts(store: RowsStore, band: PixelImage): Promise<readonly EncodedRows[]> {
  const stored: (readonly EncodedRows[])[] = [];
  for (const { y, height } of cutRows(store.work, band.height)) {
    stored.push(await storeRows(store, cropImage(band, { x: 0, y, width: band.width, height })));
  }
  return store.work.encodings.map((_, at) => joinRows(stored.flatMap((some) => some[at] ?? [])));
}

/** A band of the tile from its rows. Apart from what makes them, that nothing here holds on to a picture. */
const bandOf = async ({ y, height }: TileBand, rows: Promise<StoredBand["rows"]>): Promise<StoredBand> => ({
  y,
  height,
  rows: await rows,
});

/** Stores the bands of rendered parts: the pictures are free as soon as their rows are packed. */
export function storeParts(
  store: RowsStore,
  bands: readonly TileBand[],
  parts: readonly PixelImage[],
): Promise<readonly StoredBand[]> {
  const storeBand = store.work.across === 1 ? storeRows : storeCuts;
  return Promise.all(bands.map((band) => bandOf(band, storeBand(store, joinParts(parts, band)))));
}
