/** A number as people write it: no more digits than given, and a true minus. */
export function writeFigure(value: number, digits: number): string {
  return String(Number(value.toFixed(digits))).replace("-", "\u2212");
}

/** A number with all its digits, for columns. */
export function writeFixed(value: number, digits: number): string {
  const fixed = value.toFixed(digits);
  return /^-0(?:\.0*)?$/.test(fixed) ? fixed.slice(1) : fixed.replace("-", "\u2212");
}

/** A length in mm, as centimetres. */
export function writeLength(length: number): string {
  return `${writeFigure(length / 10, 2)} cm`;
}

/** Two lengths in mm, as centimetres. */
export function writeSize(width: number, height: number): string {
  return `${writeFigure(width / 10, 2)} \u00d7 ${writeFigure(height / 10, 2)} cm`;
}

/** A share of 1 as per cent, to two digits after the point. */
export function writePercent(share: number): string {
  return `${writeFixed(share * 100, 2)} %`;
}

/** How far a length is off, in micrometres, and over a metre. */
export function writeDeviation({
  microns,
  micronsPerMetre,
}: {
  microns: number;
  micronsPerMetre: number;
}): string {
  if (Math.abs(micronsPerMetre) < 0.05) return "exact";
  const sign = microns > 0 ? "+" : "";
  return `${sign}${writeFigure(microns, 1)} \u00b5m (${sign}${writeFigure(micronsPerMetre, 1)} a metre)`;
}
