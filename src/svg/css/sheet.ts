import type { Atrule, CssNode, Selector, StyleSheet } from "css-tree";
import generate from "css-tree/generator";
import walk from "css-tree/walker";
import { RepetendError } from "../../errors.js";
import { readUrls } from "../references.js";
import { placeOf, type SourceElement, textIn } from "../xml/source.js";
import { type Layer, layerNamed, layerOfNoName } from "./layers.js";
import { mediaHolds } from "./media.js";
import { parseCss } from "./parse.js";
import { compileSelector, type Matcher, type Spend } from "./select.js";
import { supportsHolds } from "./supports.js";

/** One `property: value`, the value as written, comments removed. */
export interface Declaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
  /** `line:column`, for refusals. */
  readonly where: string;
}

/** One selector with its declarations; a list of selectors gives several. */
export interface StyleRule {
  readonly matcher: Matcher;
  readonly declarations: readonly Declaration[];
  readonly layer: Layer;
}

/** What a sheet holds besides rules that is left out. */
export interface StyleSheetRules {
  readonly rules: readonly StyleRule[];
  /** Names of at-rules that say nothing about a picture at rest. */
  readonly skipped: readonly string[];
}

/** At-rules without which the picture at rest is the same (text is refused, so fonts do not matter). */
const HARMLESS = new Set([
  "charset",
  "font-face",
  "font-feature-values",
  "keyframes",
  "page",
  "counter-style",
]);

/** What reading a sheet collects. */
interface Collecting {
  readonly where: string;
  readonly spend: Spend;
  readonly rules: StyleRule[];
  readonly skipped: string[];
}

/** Reads a `<style>` element; its layers are added to those of the sheets before. */
export function readStyleSheet(style: SourceElement, layers: Layer, spend: Spend): StyleSheetRules {
  const type = style.attributes.get("type")?.trim().toLowerCase() ?? "";
  const where = placeOf(style);
  if (type !== "" && type !== "text/css") return { rules: [], skipped: [`style of type ${type}`] };
  const sheet = parseCss(textIn(style), "stylesheet", where);
  if (sheet.type !== "StyleSheet") return { rules: [], skipped: [] };
  // References are refused before media queries are asked: what is not used now may be another day.
  refuseImports(sheet, where);
  if (!mediaHolds(style.attributes.get("media") ?? "", where)) return { rules: [], skipped: [] };
  const collecting: Collecting = { where, spend, rules: [], skipped: [] };
  collectRules(sheet.children.toArray(), layers, collecting);
  return collecting;
}

/** Reads a `style` attribute. */
export function readStyleAttribute(text: string, where: string): readonly Declaration[] {
  const list = parseCss(text, "declarationList", where);
  return list.type === "DeclarationList" ? readDeclarations(list.children.toArray(), where) : [];
}

function refuseImports(sheet: StyleSheet, where: string): void {
  for (const node of sheet.children.toArray()) {
    if (node.type !== "Atrule" || node.name.toLowerCase() !== "import") continue;
    throw new RepetendError("E_EXTERNAL_REF", "a style sheet imports another", {
      where,
      value: generate(node),
    });
  }
}

function collectRules(nodes: readonly CssNode[], layer: Layer, collecting: Collecting): void {
  const { where, spend, rules } = collecting;
  for (const node of nodes) {
    if (node.type === "Rule") {
      if (node.prelude.type !== "SelectorList") throw badStyle("a selector cannot be read", node, where);
      const declarations = readDeclarations(node.block.children.toArray(), where);
      for (const selector of node.prelude.children.toArray() as Selector[]) {
        const matcher = compileSelector(selector, where, spend);
        if (matcher !== undefined) rules.push({ matcher, declarations, layer });
      }
    }
    if (node.type === "Atrule") collectAtRule(node, layer, collecting);
  }
}

function collectAtRule(node: Atrule, layer: Layer, collecting: Collecting): void {
  const { where, skipped } = collecting;
  const name = node.name.toLowerCase().replace(/^-[a-z]+-/, "");
  const prelude = node.prelude === null ? "" : generate(node.prelude);
  const inside = node.block?.children.toArray();
  if (name === "media" && inside !== undefined) {
    if (mediaHolds(prelude, where)) collectRules(inside, layer, collecting);
  } else if (name === "supports" && inside !== undefined) {
    if (supportsHolds(node.prelude, where)) collectRules(inside, layer, collecting);
  } else if (name === "layer") {
    const layers = layersOf(node, layer, where);
    if (inside !== undefined) collectRules(inside, layers[0] ?? layerOfNoName(layer, where), collecting);
  } else if (HARMLESS.has(name)) {
    refuseExternalUrls(generate(node), where);
    skipped.push(`@${name}`);
  } else if (name !== "namespace" || !/^(["']|url\()/.test(prelude)) {
    throw new RepetendError("E_FEATURE", "a style sheet uses a rule that is not carried over", {
      where,
      value: `@${node.name}`,
      accepted: "@media, @supports, @layer and plain rules",
    });
  }
}

/** The layers that an `@layer` names: any number in a statement, one or none before a block. */
function layersOf(node: Atrule, within: Layer, where: string): readonly Layer[] {
  const names: string[] = [];
  if (node.prelude !== null) {
    walk(node.prelude, (one) => {
      if (one.type === "Layer") names.push(one.name);
    });
  }
  const wrong = node.block === null ? names.length === 0 : names.length > 1;
  if (wrong || node.prelude?.type === "Raw") throw badStyle("an @layer cannot be read", node, where);
  return names.map((one) => layerNamed(one, within, where));
}

/** Fonts are dropped, but one that is fetched from elsewhere is still a reference that leaves the drawing. */
function refuseExternalUrls(text: string, where: string): void {
  readUrls(text.replace(/url\(\s*["']?data:[^)]*\)/gi, ""), where);
}

function readDeclarations(nodes: readonly CssNode[], where: string): readonly Declaration[] {
  return nodes.flatMap((node): Declaration[] => {
    if (node.type !== "Declaration") {
      if (node.type === "Raw" && /^[\s;]*$/.test(node.value)) return [];
      throw badStyle("a style has nested rules, or something that is no declaration", node, where);
    }
    const property = node.property.startsWith("--") ? node.property : node.property.toLowerCase();
    const value = generate(node.value)
      .replace(/\/\*[\s\S]*?\*\//g, " ")
      .trim();
    // Held against the rules even where nothing matches the selector.
    readUrls(value, where);
    return [{ property, value, important: node.important !== false, where }];
  });
}

function badStyle(problem: string, node: CssNode, where: string): RepetendError {
  return new RepetendError("E_STYLE", problem, { where, value: generate(node) });
}
