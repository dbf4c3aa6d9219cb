import type { SvgElement } from "../svg/index.js";
import { CAPITALS, PAGE } from "./page.js";
import type { Part } from "./types.js";

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
    const width = PAGE.right - PAGE.left;
    return { x: PAGE.left, y: this.#free + CAPITALS.small, width, bottom: PAGE.bottom };
  }

  list(): readonly Page[] {
    return this.#pages;
  }
}
