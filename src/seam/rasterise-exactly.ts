import { RepetendError } from "../errors.js";
import { anImage } from "../image/checks.js";
import type { PixelImage, Rasterise, RasteriseSize } from "../image/index.js";

/**
 * Rasterises by a renderer that was handed in, and holds it to its contract: a canvas on a screen of twice the density,
 * say, gives twice the pixels, and all places would be told wrongly.
 *
 * @throws `RepetendError` E_IMAGE, E_ARGUMENT when it gives no picture, E_RENDER when it is of another size.
 */
export async function rasteriseExactly(
  rasterise: Rasterise,
  svg: string,
  { width, height }: RasteriseSize,
): Promise<PixelImage> {
  const image = await rasterise(svg, { width, height });
  anImage(image, "rasterise()");
  if (image.width === width && image.height === height) return image;
  throw new RepetendError("E_RENDER", "the renderer gave back another size", {
    where: "rasterise()",
    value: `${image.width} x ${image.height} px`,
    accepted: `${width} x ${height} px, as it was asked`,
  });
}
