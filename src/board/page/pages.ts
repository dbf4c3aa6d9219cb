import type { SvgElement } from "../../svg/index.js";
import type { Part } from "../types.js";
import { CAPITALS, PAGE } from "./page.js";

/** Where pages after the first begin, below their running title, in mm. */
const FOLLOWING = PAGE.top + 14;

interface Page {
  readonly defs: SvgElement[];
  readonly body: SvgElement[];
}

/** What is left of the last page's width and height; y is where a heading's letters stand. */
export interface Rest {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly bottom: number;
}

const roomFrom = (free: number): Rest => ({
  x: PAGE.left,
  y: free + CAPITALS.small,
  width: PAGE.right - PAGE.left,
  bottom: PAGE.bottom,
});

/** The room on a page that is begun. */
export const FRESH: Rest = roomFrom(FOLLOWING);

/** Pages while they are filled: parts go onto the last one. */
export class Pages {
  readonly #pages: Page[] = [{ defs: [], body: [] }];
  #free: number = FOLLOWING;

  /** Puts parts onto the last page, in paint order. */
  add(...parts: readonly Part[]): void {
    const page = this.#pages.at(-1);
    for (const { defs, body } of parts) {
      page?.defs.push(...defs);
      page?.body.push(...body);
    }
  }

  /** Keeps a place on the last page, in paint order, for a part that is drawn later. */
  keepPlace(): (part: Part) => void {
    const page = this.#pages.at(-1);
    const [defs, body] = [page?.defs.length ?? 0, page?.body.length ?? 0];
    return (part) => {
      page?.defs.splice(defs, 0, ...part.defs);
      page?.body.splice(body, 0, ...part.body);
    };
  }

  /** The next part begins so far down. */
  goTo(free: number): void {
    this.#free = free;
  }

  /** Begins a page, and gives the room on it. */
  turn(): Rest {
    this.#pages.push({ defs: [], body: [] });
    this.#free = FOLLOWING;
    return this.rest();
  }

  rest(): Rest {
    return roomFrom(this.#free);
  }

  list(): readonly Page[] {
    return this.#pages;
  }
}
