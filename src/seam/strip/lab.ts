/** sRGB decoding (IEC 61966-2-1) of the 256 levels, so that a pixel costs three look-ups. */
const LINEAR: Float64Array = Float64Array.from({ length: 256 }, (_, level) => {
  const value = level / 255;
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
});

const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

const companding = (value: number): number =>
  value > EPSILON ? Math.cbrt(value) : (KAPPA * value + 16) / 116;

/**
 * CIE Lab (D65) of an sRGB pixel, written to `into` at `at`: L 0 to 100, a, b. Formulas: CIE 15:2004, section 8.2.1;
 * matrix: CSS Color 4, section 10.2, sample code.
 */
export function writeLab(r: number, g: number, b: number, into: Float32Array, at: number): void {
  const [red, green, blue] = [LINEAR[r] as number, LINEAR[g] as number, LINEAR[b] as number];
  const x = companding((0.4123907993 * red + 0.3575843394 * green + 0.1804807884 * blue) / 0.9504559271);
  const y = companding(0.2126390059 * red + 0.7151686788 * green + 0.0721923154 * blue);
  const z = companding((0.0193308187 * red + 0.1191947798 * green + 0.9505321522 * blue) / 1.0890577508);
  into[at] = 116 * y - 16;
  into[at + 1] = 500 * (x - y);
  into[at + 2] = 200 * (y - z);
}

const POWER_25_7 = 25 ** 7;
const RADIANS = Math.PI / 180;

/**
 * The colour difference CIEDE2000 of two Lab colours that stand in one buffer. Sharma, Wu, Dalal, "The CIEDE2000
 * color-difference formula: implementation notes", Color Research and Application 30 (2005), equations 2 to 22.
 */
export function labDifference(lab: Float32Array, one: number, other: number): number {
  const [l1, a1, b1] = [lab[one] as number, lab[one + 1] as number, lab[one + 2] as number];
  const [l2, a2, b2] = [lab[other] as number, lab[other + 1] as number, lab[other + 2] as number];
  const meanChroma7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7;
  const stretch = 1.5 - 0.5 * Math.sqrt(meanChroma7 / (meanChroma7 + POWER_25_7));
  const [a1s, a2s] = [a1 * stretch, a2 * stretch];
  const [c1, c2] = [Math.hypot(a1s, b1), Math.hypot(a2s, b2)];
  const hue = (a: number, b: number) => {
    const angle = a === 0 && b === 0 ? 0 : Math.atan2(b, a) / RADIANS;
    return angle < 0 ? angle + 360 : angle;
  };
  const [h1, h2] = [hue(a1s, b1), hue(a2s, b2)];
  const apart = c1 * c2 === 0 ? 0 : h2 - h1 > 180 ? h2 - h1 - 360 : h2 - h1 < -180 ? h2 - h1 + 360 : h2 - h1;
  const [dl, dc] = [l2 - l1, c2 - c1];
  const dh = 2 * Math.sqrt(c1 * c2) * Math.sin((apart / 2) * RADIANS);
  const [l, c] = [(l1 + l2) / 2, (c1 + c2) / 2];
  const far = Math.abs(h1 - h2) > 180;
  const h = c1 * c2 === 0 ? h1 + h2 : far ? (h1 + h2 + (h1 + h2 < 360 ? 360 : -360)) / 2 : (h1 + h2) / 2;
  const t =
    1 -
    0.17 * Math.cos((h - 30) * RADIANS) +
    0.24 * Math.cos(2 * h * RADIANS) +
    0.32 * Math.cos((3 * h + 6) * RADIANS) -
    0.2 * Math.cos((4 * h - 63) * RADIANS);
  const sl = 1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2);
  const sc = 1 + 0.045 * c;
  const sh = 1 + 0.015 * c * t;
  const c7 = c ** 7;
  const turn = 30 * Math.exp(-(((h - 275) / 25) ** 2));
  const rt = -Math.sin(2 * turn * RADIANS) * 2 * Math.sqrt(c7 / (c7 + POWER_25_7));
  const [tl, tc, th] = [dl / sl, dc / sc, dh / sh];
  return Math.sqrt(Math.max(0, tl * tl + tc * tc + th * th + rt * tc * th));
}
