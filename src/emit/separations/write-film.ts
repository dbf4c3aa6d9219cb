import { mapRuns, type PixelImage, type PlaneBand, weighMixes } from "../../image/index.js";
import { type WrittenFile, writeAtomically } from "../files/atomic.js";
import { joinPng } from "../png/encode.js";
import { compressRows, type PngPiece } from "../png/piece.js";
import { CopyFinder } from "../png/run-copies.js";
import { writeRunPiece } from "../png/run-piece.js";
import { findTokens } from "../png/run-tokens.js";
import { streamTiff } from "../tiff/encode.js";
import { type TiffCompression, usualStripRows } from "../tiff/format.js";

/** A film as it is written: a grey picture. */
export interface FilmPicture {
  readonly path: string;
  readonly width: number;
  readonly height: number;
  readonly dpi?: { readonly x: number; readonly y: number };
  /** Bits a pixel. */
  readonly depth: 1 | 8;
  /** The level that full ink has in the file: the highest, or 0. */
  readonly full: "high" | "black";
  readonly format: "png" | "tiff";
  /** Of a TIFF. */
  readonly compression: TiffCompression;
  readonly texts: { readonly title: string; readonly repeat: string; readonly separation: string };
}

/** What a film shows of the ink planes. */
export interface FilmRows {
  readonly bands: readonly PlaneBand[];
  /** A band of it: full ink is 255. */
  readonly rows: (band: PlaneBand) => PixelImage;
  /** The places of the inks that it is the plain sum of, if it is one. */
  readonly plain: readonly number[] | undefined;
}

/** Levels as they stand in the file: four bytes a level, of which the first counts. */
function levelTable(full: "high" | "black"): Uint8Array {
  const table = new Uint8Array(4 * 256);
  for (let level = 0; level < 256; level++) table[4 * level] = full === "high" ? level : 255 - level;
  return table;
}

/** A band that is the sum of some inks' planes, compressed straight from its runs. */
function writePlainPiece(
  band: PlaneBand,
  places: readonly number[],
  levels: Uint8Array,
  finder: CopyFinder,
): PngPiece {
  const runs = { rows: band.rows, ends: band.ends, values: band.mixes };
  const weights = mapRuns(runs, band.height, weighMixes(band.table, places));
  return writeRunPiece(findTokens(weights, band, 1, 256, finder), levels);
}

/**
 * Writes a film, band by band.
 *
 * @throws `RepetendError` E_WRITE when it cannot be written; the signal's reason when that stops it.
 */
export function writeFilm(
  picture: FilmPicture,
  { bands, rows, plain }: FilmRows,
  signal?: AbortSignal,
): Promise<WrittenFile> {
  const { width, height, dpi, depth, full, texts } = picture;
  const colour = { kind: "grey", depth } as const;
  const size = { width, height, colour, ...(dpi === undefined ? {} : { dpi }) };
  const shown = (band: PlaneBand): PixelImage => {
    const levels = rows(band);
    return full === "high" ? levels : { ...levels, data: levels.data.map((level) => 255 - level) };
  };
  function* pictures(): Generator<PixelImage, void, undefined> {
    for (const band of bands) {
      signal?.throwIfAborted();
      yield shown(band);
    }
  }
  async function* pieces(): AsyncGenerator<PngPiece, void, undefined> {
    const [finder, levels] = [new CopyFinder(), levelTable(full)];
    for (const band of bands) {
      signal?.throwIfAborted();
      yield depth === 8 && plain !== undefined
        ? writePlainPiece(band, plain, levels, finder)
        : await compressRows(shown(band), colour);
    }
  }
  return writeAtomically(picture.path, async (sink) => {
    if (picture.format === "tiff") {
      const { compression } = picture;
      const description = `${texts.repeat}; separation ${texts.separation}`;
      const said = { texts: { documentName: texts.title, description } };
      await streamTiff(
        sink,
        { ...size, ...said, compression, rowsPerStrip: usualStripRows(size) },
        pictures(),
      );
      return;
    }
    const said = { Title: texts.title, Repeat: texts.repeat, Separation: texts.separation };
    for await (const part of joinPng({ ...size, texts: said }, pieces())) await sink.write(part);
  });
}
