import { join } from "node:path";
import { encodePng, makeFolder, writeAtomically } from "../emit/index.js";
import type { PixelImage } from "../image/index.js";
import {
  drawLining,
  drawSeams,
  type LiningReport,
  pictureSeams,
  rollPicture,
  type SeamLayout,
  type SeamReport,
} from "../seam/index.js";

/** What was checked of one file. */
export interface Checked {
  readonly image: PixelImage;
  readonly layout: SeamLayout;
  readonly report: SeamReport;
}

/** The files that may be written of one file that was checked. */
export const pathsOf = (folder: string, slug: string): readonly string[] =>
  [`${slug}--seams.svg`, `${slug}--seams.png`, `${slug}--lining.svg`].map((name) => join(folder, name));

/**
 * Writes the report of one file as pictures: the tile rolled by half with its faults marked, as SVG (which holds the rolled
 * tile) and as PNG.
 *
 * @returns the names of the files.
 * @throws `RepetendError` E_WRITE.
 */
export async function writeSeamPictures(
  folder: string,
  slug: string,
  { image, layout, report }: Checked,
): Promise<readonly string[]> {
  const rolled = await encodePng(rollPicture(image, layout));
  const href = `data:image/png;base64,${Buffer.from(rolled).toString("base64")}`;
  const svg = drawSeams(report, { layout, href });
  const png = await encodePng(pictureSeams(image, report, { layout }));
  const files = [`${slug}--seams.svg`, `${slug}--seams.png`];
  await makeFolder(folder);
  await writeAtomically(join(folder, `${slug}--seams.svg`), (sink) => sink.write(svg));
  await writeAtomically(join(folder, `${slug}--seams.png`), (sink) => sink.write(png));
  return files;
}

/**
 * Writes the lining map of one file.
 *
 * @returns its name.
 * @throws `RepetendError` E_WRITE.
 */
export async function writeLiningMap(
  folder: string,
  slug: string,
  image: PixelImage,
  lining: LiningReport,
): Promise<string> {
  const file = `${slug}--lining.svg`;
  const svg = drawLining(lining, image);
  await makeFolder(folder);
  await writeAtomically(join(folder, file), (sink) => sink.write(svg));
  return file;
}

/** What a lining report says, in one line. */
export function describeLining({ stripes }: LiningReport): string {
  if (stripes.length === 0) return "Lining: no stripes show from 3 m.";
  const [first] = stripes;
  const sets = stripes.length === 1 ? "one set of stripes shows" : `${stripes.length} sets of stripes show`;
  const strongest = first
    ? `${first.tone} at ${first.angle.toFixed(0)}°, every ${first.period.toFixed(1)} mm`
    : "";
  return `Lining: ${sets} from 3 m, the strongest ${strongest}.`;
}
