/** The alpha bits of a pixel as a word, in the machine's own order of bytes. */
const OPAQUE: number = new Uint32Array(Uint8Array.of(0, 0, 0, 255).buffer)[0] ?? 0;

/**
 * Undoes premultiplied alpha in place: each colour is the whole number nearest to `value * 255 / alpha`. Half red,
 * premultiplied 128,0,0,128, becomes 255,0,0,128; what is fully transparent becomes 0,0,0,0.
 *
 * @param pixels RGBA, 8 bits each, premultiplied.
 */
export function unpremultiply(pixels: Uint8Array): void {
  const words =
    pixels.byteOffset % 4 === 0
      ? new Uint32Array(pixels.buffer, pixels.byteOffset, pixels.length >> 2)
      : new Uint32Array(pixels.slice().buffer);
  for (let pixel = 0; pixel < words.length; pixel++) {
    // Most pixels are opaque or bare, and looking at whole ones is several times as fast.
    const word = words[pixel] as number;
    if (word === 0 || (~word & OPAQUE) === 0) continue;
    const at = 4 * pixel;
    const alpha = pixels[at + 3] ?? 255;
    if (alpha === 0) {
      pixels.fill(0, at, at + 3);
      continue;
    }
    for (let channel = at; channel < at + 3; channel++) {
      const value = pixels[channel] ?? 0;
      pixels[channel] = Math.min(255, Math.floor((value * 510 + alpha) / (2 * alpha)));
    }
  }
}
