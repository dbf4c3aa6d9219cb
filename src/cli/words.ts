import type { PlannedFile } from "../emit/index.js";
import type { Note } from "../errors.js";
import { describeSeams, type SeamReport } from "../seam/index.js";

const plain = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** A number of bytes for people: "12.3 MB". */
export function describeBytes(bytes: number): string {
  const units = ["B", "kB", "MB", "GB", "TB"];
  const step = Math.min(units.length - 1, Math.max(0, Math.floor(Math.log10(Math.max(1, bytes)) / 3)));
  return `${plain(bytes / 1000 ** step, 1)} ${units[step]}`;
}

/** A time for people: "40 s", "3 min 20 s", "2 h 5 min". */
export function describeTime(seconds: number): string {
  const whole = Math.max(1, Math.round(seconds));
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min`;
}

/** A short time for people: "0.42 s", "12.3 s". */
export const describeSeconds = (seconds: number): string => `${plain(seconds, seconds < 1 ? 2 : 1)} s`;

/** One file in one line: path, pixels, size on the cloth, bytes. */
export function describeFile(
  file: PlannedFile & { readonly bytes?: number; readonly uncompressed?: number },
): string {
  const pixels = file.width === undefined ? "" : `  ${file.width} x ${file.height} px`;
  const dpi = file.dpi === undefined ? "" : `  ${plain(file.dpi.x, 2)} x ${plain(file.dpi.y, 2)} dpi`;
  const size = `  ${plain(file.mm.width, 2)} x ${plain(file.mm.height, 2)} mm`;
  const bytes =
    file.bytes !== undefined
      ? `  ${describeBytes(file.bytes)}`
      : file.uncompressed === undefined
        ? ""
        : `  at most ${describeBytes(file.uncompressed)}`;
  return `${file.path}${pixels}${size}${dpi}${bytes}`;
}

/** One note in one line. */
export function describeNote(note: Note): string {
  const where = note.where === undefined ? "" : ` (${note.where})`;
  return `${note.level === "warning" ? "warning" : "note"}: ${note.message}${where}`;
}

/** What a seam report says: one line when all is closed, else one for each finding below it. */
export function describeReport(name: string, report: SeamReport): string {
  if (report.ok) return `${name}: closed\n`;
  const lines = describeSeams(report).split("\n");
  return [`${name}: open`, ...lines.map((line) => `  ${line}`), ""].join("\n");
}
