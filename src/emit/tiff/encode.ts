import { anObject, maybe } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { aSeries, aSink, aTiffColour, aTiffHeader } from "../checks.js";
import type { FileSink } from "../files/atomic.js";
import {
  type TiffColour,
  type TiffCompression,
  type TiffHeader,
  type TiffTexts,
  usualStripRows,
} from "./format.js";
import { checkTiffPixels } from "./rows.js";
import { TiffSink } from "./sink.js";
import { compressStrips } from "./strips.js";

/** Some rows of a picture, not copied. */
const takeRows = (image: PixelImage, from: number, height: number): PixelImage => ({
  ...image,
  height,
  data: image.data.subarray(from * image.stride),
});

/** Two pictures of one width, one below the other. */
function stackRows(above: PixelImage, below: PixelImage): PixelImage {
  const { width, channels } = above;
  const stride = width * channels;
  const height = above.height + below.height;
  const data = new Uint8Array(stride * height);
  for (let y = 0; y < height; y++) {
    const [from, row] = y < above.height ? [above, y] : [below, y - above.height];
    data.set(from.data.subarray(row * from.stride, row * from.stride + stride), y * stride);
  }
  return { width, height, channels, data, stride };
}

/** Cuts bands anew so that each but the last is of whole strips. */
async function* alignBands(
  header: TiffHeader,
  bands: AsyncIterable<PixelImage> | Iterable<PixelImage>,
): AsyncGenerator<PixelImage, void, undefined> {
  let rows = 0;
  let rest: PixelImage | undefined;
  for await (const band of bands) {
    anImage(band, "bands");
    rows += band.height;
    if (band.width !== header.width || rows > header.height) {
      throw new RepetendError("E_IMAGE", "the bands do not fit the picture", {
        value: `${band.width} x ${rows}`,
        accepted: `${header.width} x ${header.height}`,
      });
    }
    checkTiffPixels(band, header.colour);
    const all = rest === undefined ? band : stackRows(rest, band);
    const whole = rows === header.height ? all.height : all.height - (all.height % header.rowsPerStrip);
    if (whole > 0) yield takeRows(all, 0, whole);
    rest = whole < all.height ? takeRows(all, whole, all.height - whole) : undefined;
  }
  if (rows !== header.height) {
    throw new RepetendError("E_IMAGE", "the bands do not fill the picture", {
      value: `${rows} rows`,
      accepted: `${header.height} rows`,
    });
  }
}

/**
 * Writes a TIFF from bands of whole rows, top first, one compressed in the background while the next is fetched. The
 * same picture and header give the same bytes, wherever the bands are cut. It goes to a sink and is no stream of bytes,
 * since the place of the directory is known last and stands first.
 *
 * @param sink an empty file, for example that of {@link writeAtomically}.
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT, E_COLOUR for what a TIFF cannot hold; E_IMAGE for bands
 * that do not fit the header.
 *
 * @example
 * ```ts
 * import { streamTiff, writeAtomically } from "repetend/emit";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const band = { width: 2, height: 1, channels: 1, data: Uint8Array.of(0, 1), stride: 2 } as const;
 * const header = {
 *   width: 2,
 *   height: 2,
 *   colour: { kind: "palette", entries: ["#1b2a41", "#c8553d"] },
 *   compression: "lzw",
 *   rowsPerStrip: 2,
 *   dpi: { x: 254, y: 254 },
 * } as const;
 * const path = join(tmpdir(), "samphire.tif");
 * const file = await writeAtomically(path, (sink) => streamTiff(sink, header, [band, band]));
 * file.bytes; // 300
 * ```
 */
export async function streamTiff(
  sink: FileSink,
  header: TiffHeader,
  bands: AsyncIterable<PixelImage> | Iterable<PixelImage>,
): Promise<void> {
  aSink(sink, "sink");
  aTiffHeader(header, "header");
  aSeries(bands, "bands");
  const file = new TiffSink(sink);
  await file.start(header);
  let waiting: Promise<readonly Uint8Array[]> | undefined;
  for await (const band of alignBands(header, bands)) {
    const strips = compressStrips(band, header.colour, header);
    strips.catch(() => {}); // awaited below; a failure must not surface before that
    if (waiting !== undefined) await file.add(await waiting);
    waiting = strips;
  }
  if (waiting !== undefined) await file.add(await waiting);
  await file.end();
}

/** How {@link encodeTiff} stores a picture. */
export interface EncodeTiffOptions {
  /** Default: grey, RGB or RGBA after the picture's channels. */
  readonly colour?: TiffColour;
  /** Default "deflate". */
  readonly compression?: TiffCompression;
  /** Rows that are compressed together. Default: as many as fill 256 KiB. */
  readonly rowsPerStrip?: number;
  /** Dots per inch along each axis; default: the picture's own. */
  readonly dpi?: { readonly x: number; readonly y: number };
  /** Words to keep in the file. */
  readonly texts?: TiffTexts;
  /** A colour profile for the pixels, of their space. */
  readonly icc?: Uint8Array;
}

const COLOUR_OF_CHANNELS: Readonly<Record<PixelImage["channels"], TiffColour>> = {
  1: { kind: "grey", depth: 8 },
  3: { kind: "rgb" },
  4: { kind: "rgba" },
};

/** A sink that keeps what it gets, and the file that comes of it. */
function memorySink(): { readonly sink: FileSink; readonly bytes: () => Uint8Array } {
  const parts: Uint8Array[] = [];
  const patches: { readonly position: number; readonly bytes: Uint8Array }[] = [];
  return {
    sink: {
      write: async (part) => {
        parts.push(typeof part === "string" ? Buffer.from(part, "utf8") : part);
      },
      patch: async (position, bytes) => {
        patches.push({ position, bytes });
      },
    },
    bytes: () => {
      const whole = Buffer.concat(parts);
      for (const { position, bytes } of patches) whole.set(bytes, position);
      return whole;
    },
  };
}

/**
 * A whole picture as the bytes of a TIFF.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT, E_COLOUR or E_IMAGE as {@link streamTiff}.
 *
 * @example
 * ```ts
 * import { encodeTiff } from "repetend/emit";
 * import { readImage } from "repetend/raster";
 * const pixels = { width: 1, height: 1, channels: 3, data: Uint8Array.of(27, 42, 65), stride: 3 } as const;
 * const bytes = await encodeTiff(pixels, { dpi: { x: 300, y: 300 }, compression: "lzw" });
 * (await readImage(bytes)).data.join(); // "27,42,65"
 * ```
 */
export async function encodeTiff(image: PixelImage, options: EncodeTiffOptions = {}): Promise<Uint8Array> {
  anImage(image, "image");
  anObject(options, "options");
  const dpi = options.dpi ?? image.dpi;
  maybe(aTiffColour)(options.colour, "options.colour");
  const colour = options.colour ?? COLOUR_OF_CHANNELS[image.channels];
  const header: TiffHeader = {
    width: image.width,
    height: image.height,
    colour,
    compression: options.compression ?? "deflate",
    rowsPerStrip: options.rowsPerStrip ?? usualStripRows({ width: image.width, colour }),
    ...(dpi === undefined ? {} : { dpi }),
    ...(options.texts === undefined ? {} : { texts: options.texts }),
    ...(options.icc === undefined ? {} : { icc: options.icc }),
  };
  const { sink, bytes } = memorySink();
  await streamTiff(sink, header, [image]);
  return bytes();
}
