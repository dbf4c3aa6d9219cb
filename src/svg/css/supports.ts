import type { CssNode } from "css-tree";
import generate from "css-tree/generator";
import { RepetendError } from "../../errors.js";
import { readUrls } from "../references.js";
import { GEOMETRY, PROPERTIES, REFUSED_PROPERTIES } from "./properties.js";

/** What is known of a condition; `undefined` for one of which nobody here can tell. */
type Answer = boolean | undefined;

/**
 * Whether the condition of an `@supports` holds: CSS Conditional Rules 3, section 6. A declaration holds when its
 * property is known here, whatever its value. What cannot be told does not matter where the rest decides.
 *
 * @throws RepetendError `E_FEATURE` for a condition that cannot be told: guessing would change the picture.
 */
export function supportsHolds(prelude: CssNode | null, where: string): boolean {
  const text = prelude === null ? "" : generate(prelude);
  // Held against the rules whatever the answer is.
  readUrls(text, where);
  const conditions = prelude?.type === "AtrulePrelude" ? prelude.children.toArray() : [];
  const holds = conditions[0] === undefined ? undefined : answer(conditions[0]);
  if (holds !== undefined) return holds;
  throw new RepetendError("E_FEATURE", "@supports asks for what a drawing does not know", {
    where,
    value: text,
    accepted: "(property: value) with a property that drawings have, not, and, or",
  });
}

function answer(node: CssNode): Answer {
  if (node.type === "SupportsDeclaration") {
    const { declaration } = node;
    if (declaration.type !== "Declaration" || generate(declaration.value).trim() === "") return undefined;
    return isKnown(declaration.property) ? true : undefined;
  }
  if (node.type !== "Condition") return undefined;
  const parts = node.children.toArray();
  const words = parts.filter((part) => part.type === "Identifier").map((part) => part.name.toLowerCase());
  const answers = parts.filter((part) => part.type !== "Identifier").map(answer);
  const [word] = words;
  if (word === undefined) return answers.length === 1 ? answers[0] : undefined;
  if (word === "not") return words.length === 1 && answers.length === 1 ? negate(answers[0]) : undefined;
  if (words.some((other) => other !== word) || answers.length !== words.length + 1) return undefined;
  if (word === "and") return every(answers);
  return word === "or" ? negate(every(answers.map(negate))) : undefined;
}

const negate = (one: Answer): Answer => (one === undefined ? undefined : !one);

function every(answers: readonly Answer[]): Answer {
  if (answers.includes(false)) return false;
  return answers.includes(undefined) ? undefined : true;
}

function isKnown(property: string): boolean {
  if (property.startsWith("--")) return true;
  const name = property.toLowerCase();
  return [PROPERTIES, GEOMETRY, REFUSED_PROPERTIES].some((table) => Object.hasOwn(table, name));
}
