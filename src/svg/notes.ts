import type { Note } from "../errors.js";
import { placeOf, type SourceElement } from "./xml/source.js";

/** What may be dropped on reading, and what is said about it; the number of times follows. */
const SENTENCES = {
  N_ANIMATION: "animations were dropped, the drawing is read at rest",
  N_BACKGROUND: "backgrounds of the page were dropped, a print has a ground of its own",
  N_EVENT: "event attributes were dropped",
  N_FILTER: "filters were dropped: a job draws without them, in a program an option of the motif keeps them",
  N_FOREIGN: "foreign content (HTML, frames, media) was dropped",
  N_IMAGE: "embedded pictures are kept as they are; their colours are no inks",
  N_LINK: "links were dropped, what they surround is kept",
  N_MARKER: "references to markers that the drawing does not have were dropped",
  N_SCRIPT: "scripts were dropped",
  N_STYLE: "rules of style sheets that say nothing here were dropped",
  N_UNKNOWN: "elements that SVG does not have were dropped",
} as const;

/** The code of something dropped. */
export type LossCode = keyof typeof SENTENCES;

/** Counts what is dropped; one note a kind, so that a thousand scripts are one line. */
export class Losses {
  readonly #met = new Map<LossCode, { count: number; where: string }>();

  add(code: LossCode, at: SourceElement | string): void {
    const known = this.#met.get(code);
    if (known) known.count += 1;
    else this.#met.set(code, { count: 1, where: typeof at === "string" ? at : placeOf(at) });
  }

  /** In the order of the codes. */
  list(): readonly Note[] {
    return [...this.#met]
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([code, { count, where }]): Note => {
        const level = code === "N_IMAGE" || code === "N_LINK" || code === "N_STYLE" ? "info" : "warning";
        return { level, code, message: `${SENTENCES[code]} (${count})`, where };
      });
  }
}
