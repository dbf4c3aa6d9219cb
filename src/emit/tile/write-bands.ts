import type { BandPlan } from "../../raster/index.js";
import type { EncodedRows } from "../bands/encoding.js";
import { type BandMaker, makeAllBands } from "../bands/maker.js";
import { BandStore } from "../bands/store.js";
import type { BandWork } from "../bands/work.js";
import type { FileSink, WrittenFile } from "../files/atomic.js";
import type { PngHeader } from "../png/format.js";
import { PngSink } from "../png/sink.js";
import type { TiffHeader } from "../tiff/format.js";
import { TiffSink } from "../tiff/sink.js";
import { writeTogether } from "./write-together.js";

/** What stands in a file beside its rows. */
export type PictureHeader =
  | { readonly format: "png"; readonly header: PngHeader }
  | { readonly format: "tiff"; readonly header: TiffHeader };

/** A file whose rows come from some work. */
export interface BandFile {
  readonly path: string;
  readonly picture: PictureHeader;
  /** The place of its rows' encoding in the work. */
  readonly encoding: number;
}

/** What goes with {@link writeBands}. */
export interface WriteBandsOptions {
  /** Of the work's print on its grid; it is the same in all colourways. */
  readonly plan: BandPlan;
  readonly maker: BandMaker;
  /** How many tiles stand one below the other in the files. Default 1. */
  readonly down?: number;
  readonly signal?: AbortSignal;
  /** Called with the rows of the tile that are drawn. */
  readonly onRows?: (done: number) => void;
}

/** Pixels that should be one ink each are mixed: the files take another way. */
class NotFlat extends Error {}

/** Writes a file's rows as they come. */
interface PictureSink {
  readonly start: () => Promise<void>;
  readonly add: (rows: EncodedRows) => Promise<void>;
  readonly end: () => Promise<void>;
}

function openPicture({ picture }: BandFile, sink: FileSink): PictureSink {
  if (picture.format === "tiff") {
    const tiff = new TiffSink(sink);
    return {
      start: () => tiff.start(picture.header),
      add: async (rows) => (rows.format === "tiff" ? tiff.add(rows.strips) : undefined),
      end: () => tiff.end(),
    };
  }
  const png = new PngSink(sink);
  return {
    start: () => png.start(picture.header),
    add: async (rows) => {
      for (const piece of rows.format === "png" ? rows.pieces : []) await png.add(piece);
    },
    end: () => png.end(),
  };
}

/**
 * Writes files side by side from the bands of one work, each band as soon as its turn has come.
 *
 * @returns what was written, in the order of the files; `undefined` for places in a palette of a print whose inks mix.
 * @throws `RepetendError` E_RENDER when the renderer fails, E_WRITE when a file cannot be written.
 */
export async function writeBands(
  work: BandWork,
  files: readonly BandFile[],
  { plan, maker, down = 1, signal, onRows }: WriteBandsOptions,
): Promise<readonly WrittenFile[] | undefined> {
  const { tasks } = plan;
  const order = tasks.flatMap((task) => task.bands.map((band) => band.y)).sort((one, other) => one - other);
  const store = new BandStore(files[0]?.path ?? ".");
  const write = async (sinks: readonly FileSink[]): Promise<void> => {
    const pictures = files.map((file, at) => openPicture(file, sinks[at] as FileSink));
    for (const picture of pictures) await picture.start();
    const add = async (y: number): Promise<void> => {
      const { rows } = await store.read(y);
      for (const [at, picture] of pictures.entries()) {
        signal?.throwIfAborted();
        await picture.add(rows[files[at]?.encoding ?? 0] as EncodedRows);
      }
    };
    let drawn = 0;
    let next = 0;
    for await (const made of makeAllBands(work, tasks.length, maker, signal)) {
      if (made === undefined) throw new NotFlat();
      for (const band of made) {
        await store.put(band);
        drawn += band.height;
      }
      for (let y = order[next]; y !== undefined && store.has(y); y = order[++next]) {
        await add(y);
        if (down === 1) store.drop(y);
      }
      onRows?.(drawn);
    }
    for (let time = 1; time < down; time++) {
      for (const y of order) await add(y);
    }
    for (const picture of pictures) await picture.end();
  };
  try {
    return await writeTogether(
      files.map(({ path }) => path),
      write,
    );
  } catch (error) {
    if (error instanceof NotFlat) return undefined;
    throw error;
  } finally {
    await store.close();
  }
}
