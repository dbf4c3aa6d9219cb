import { aText, listOf } from "../../checks.js";

/** In bytes: a file's name is made of up to three such parts, and systems take 255. */
const LONGEST = 80;

/** As many letters from the first as have room. */
function cutToBytes(words: string): string {
  let [cut, bytes] = ["", 0];
  for (const letter of words) {
    bytes += Buffer.byteLength(letter, "utf8");
    if (bytes > LONGEST) break;
    cut += letter;
  }
  return cut;
}

/**
 * A name as part of a file name: lower case, marks dropped, everything but letters and digits one hyphen. The same on
 * every machine and in every locale; a name of nothing but signs becomes "unnamed".
 */
export function slugOf(name: string): string {
  aText(name, "name");
  const words = name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-");
  const slug = cutToBytes(words).replace(/^-|-$/g, "");
  return slug === "" ? "unnamed" : slug;
}

/** Slugs of names in order, all different: a second one that comes out the same gets "-2", and so on. */
export function slugsOf(names: readonly string[]): readonly string[] {
  listOf(aText)(names, "names");
  const taken = new Set<string>();
  return names.map((name) => {
    const slug = slugOf(name);
    let free = slug;
    for (let count = 2; taken.has(free); count++) free = `${slug}-${count}`;
    taken.add(free);
    return free;
  });
}
