/**
 * Undoes premultiplied alpha in place: each colour is the whole number nearest to `value * 255 / alpha`. Half red,
 * premultiplied 128,0,0,128, becomes 255,0,0,128; what is fully transparent becomes 0,0,0,0.
 *
 * @param pixels RGBA, 8 bits each, premultiplied.
 */
export function unpremultiply(pixels: Uint8Array): void {
  for (let at = 0; at < pixels.length; at += 4) {
    const alpha = pixels[at + 3] ?? 255;
    if (alpha === 255) continue;
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
