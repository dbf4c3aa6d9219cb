import { type Box, pathBounds, readPath } from "../geometry/index.js";
import { parseTree, type SvgElement } from "../svg/index.js";

/** A line of words as it stands on a page. */
export interface Written {
  readonly words: string;
  readonly box: Box;
}

/** A page that was read, or is. */
export const rootOf = (page: string | SvgElement): SvgElement =>
  typeof page === "string" ? parseTree(page) : page;

/** Every line of words of a page, and the box that its strokes' middles lie in. */
export function wordsOf(page: string | SvgElement): readonly Written[] {
  const written: Written[] = [];
  const walk = (one: SvgElement): void => {
    for (const child of one.children) {
      if (child.type !== "element") continue;
      const [title] = child.children.flatMap((inner) =>
        inner.type === "element" && inner.name === "title" ? inner.children : [],
      );
      const box = pathBounds(readPath(child.attributes.d ?? ""));
      if (child.name === "path" && title?.type === "text" && box) written.push({ words: title.value, box });
      if (child.name !== "defs") walk(child);
    }
  };
  walk(rootOf(page));
  return written;
}

/** The words of all pages, in order. */
export const allWords = (pages: readonly (string | SvgElement)[]): readonly string[] =>
  pages.flatMap(wordsOf).map(({ words }) => words);
