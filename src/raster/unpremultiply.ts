/** The alpha bits of a pixel as a word, in the machine's own order of bytes. */
const OPAQUE: number = new Int32Array(Uint8Array.of(0, 0, 0, 255).buffer)[0] ?? 0;

/**
 * Undoes premultiplied alpha in place: each colour is the whole number nearest to `value * 255 / alpha`. Half red,
 * premultiplied 128,0,0,128, becomes 255,0,0,128; what is fully transparent becomes 0,0,0,0.
 *
 * @param pixels RGBA, 8 bits each, premultiplied.
 */
export function unpremultiply(pixels: Uint8Array): void {
  const words =
    pixels.byteOffset % 4 === 0
      ? new Int32Array(pixels.buffer, pixels.byteOffset, pixels.length >> 2)
      : new Int32Array(pixels.slice().buffer);
  const fours = words.length & ~3;
  // Most pixels are opaque or bare, and so are most of their neighbours: four at once are told in a third of the time.
  for (let at = 0; at < fours; at += 4) {
    const one = words[at] as number;
    const two = words[at + 1] as number;
    const three = words[at + 2] as number;
    const four = words[at + 3] as number;
    if ((one & two & three & four & OPAQUE) === OPAQUE || (one | two | three | four) === 0) continue;
    for (let pixel = at; pixel < at + 4; pixel++) undo(pixels, words, pixel);
  }
  for (let pixel = fours; pixel < words.length; pixel++) undo(pixels, words, pixel);
}

function undo(pixels: Uint8Array, words: Int32Array, pixel: number): void {
  const word = words[pixel] as number;
  if (word === 0 || (word & OPAQUE) === OPAQUE) return;
  const at = 4 * pixel;
  const alpha = pixels[at + 3] as number;
  if (alpha === 0) {
    pixels.fill(0, at, at + 3);
    return;
  }
  for (let channel = at; channel < at + 3; channel++) {
    const value = pixels[channel] as number;
    pixels[channel] = Math.min(255, Math.floor((value * 510 + alpha) / (2 * alpha)));
  }
}
