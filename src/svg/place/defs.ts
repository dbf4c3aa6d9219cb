import type { SvgElement } from "../tree.js";

/** Gives out ids: the scope and a number, in the order in which they are asked for. */
export class Ids {
  readonly #scope: string;
  #count = 0;

  constructor(scope: string) {
    this.#scope = scope;
  }

  next(): string {
    this.#count += 1;
    return `${this.#scope}-${this.#count}`;
  }
}

/** Collects definitions, each once; what is asked for again under the same key is shared. */
export class Defs {
  readonly ids: Ids;
  readonly elements: SvgElement[] = [];
  readonly #made = new Map<string, string | undefined>();

  constructor(ids: Ids) {
    this.ids = ids;
  }

  /**
   * The id of a definition. `make` is asked once a key; `undefined` from it says that there is nothing to define.
   */
  define(key: string, make: (id: string) => SvgElement | undefined): string | undefined {
    if (this.#made.has(key)) return this.#made.get(key);
    const made = make(this.ids.next());
    const id = made?.attributes.id;
    if (made !== undefined) this.elements.push(made);
    this.#made.set(key, id);
    return id;
  }
}
