import type { PlannedFile } from "../../emit/index.js";
import { RepetendError } from "../../errors.js";

const describe = ({ kind, colourway, garment, ink }: PlannedFile): string =>
  [kind, garment, ink, kind === "sheet" ? undefined : `in ${colourway}`]
    .filter((part) => part !== undefined)
    .join(" ");

/**
 * Refuses a job of which two files would have one name, since one would be written over the other: names of colourways and
 * garments are free, and one may be called as a page is.
 *
 * @throws `RepetendError` E_JOB with the name and both files.
 */
export function keepApart(input: string, files: readonly PlannedFile[]): void {
  const taken = new Map<string, PlannedFile>();
  for (const file of files) {
    const other = taken.get(file.path);
    if (other !== undefined)
      throw new RepetendError(
        "E_JOB",
        `two files would have one name: ${describe(other)}, ${describe(file)}`,
        {
          input,
          value: file.path,
          accepted: "another name for the colourway or the garment",
        },
      );
    taken.set(file.path, file);
  }
}
