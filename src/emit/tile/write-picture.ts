import type { PixelImage } from "../../image/index.js";
import { dropAlpha } from "../../raster/index.js";
import type { FileSink } from "../files/atomic.js";
import { streamPng } from "../png/encode.js";
import { CmykConverter } from "../profile/cmyk.js";
import { toLabPixels } from "../profile/lab.js";
import { streamTiff } from "../tiff/encode.js";
import type { PictureHeader } from "./write-bands.js";

/** RGBA bands in the colours of a picture. */
async function* inColours(
  bands: AsyncIterable<PixelImage>,
  kind: string,
  profile: string | undefined,
): AsyncGenerator<PixelImage, void, undefined> {
  const converter = kind === "cmyk" && profile !== undefined ? await CmykConverter.open(profile) : undefined;
  for await (const band of bands) {
    if (kind === "rgba") yield band;
    else if (kind === "lab") yield toLabPixels(dropAlpha(band));
    else if (converter !== undefined) yield await converter.convert(dropAlpha(band));
    else yield dropAlpha(band);
  }
}

/** Writes a picture from RGBA bands, in this process. */
export async function writePicture(
  sink: FileSink,
  { format, header }: PictureHeader,
  bands: AsyncIterable<PixelImage>,
  profile: string | undefined,
): Promise<void> {
  const rows = inColours(bands, header.colour.kind, profile);
  if (format === "tiff") return streamTiff(sink, header, rows);
  for await (const part of streamPng(header, rows)) await sink.write(part);
}
