import { SaxesParser, type SaxesTagNS } from "saxes";
import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";
import { element, type SvgElement, type SvgNode, text } from "../tree.js";
import { type IdTable, refuseRepeatedIds } from "./by-id.js";
import { decodeDrawing } from "./bytes.js";
import { readDoctype } from "./entities.js";
import { placeOf, type SourceElement, type SourceNode, SVG_NAMESPACE, XLINK_NAMESPACE } from "./source.js";

/** A drawing read as XML: strict, within its limits, every element with its place. */
export interface Source {
  readonly root: SourceElement;
  readonly ids: IdTable;
}

interface OpenElement extends SourceElement {
  readonly children: SourceNode[];
}

/**
 * Reads text or bytes as XML and checks what can be checked without knowing SVG: encoding, document type,
 * well-formedness and limits.
 */
export function readSource(input: string | Uint8Array): Source {
  const drawing = decodeDrawing(input);
  refuseOtherText(drawing);
  return new Reader().read(drawing);
}

/**
 * Reads a drawing strictly into a plain tree, everything as written: names, ids, styles and references are raw, only
 * comments are left out. Use `readDrawing` for a drawing that is resolved and safe to render.
 *
 * @throws {@link RepetendError} `E_XML`, `E_NOT_SVG`, `E_ENCODING`, `E_DTD`, `E_EXTERNAL_REF` (for `xml-stylesheet`),
 * `E_DEPTH`, `E_LIMIT`, `E_ID`.
 */
export function parseTree(input: string | Uint8Array): SvgElement {
  const { root, ids } = readSource(input);
  refuseRepeatedIds(ids);
  return plainElement(root);
}

function plainElement(source: SourceElement): SvgElement {
  const children = source.children.map(
    (child): SvgNode => (child.kind === "text" ? text(child.value) : plainElement(child)),
  );
  return element(source.name, Object.fromEntries(source.written), children);
}

/** HTML is seldom well-formed XML; its own answer helps more than the first place where it is not. */
function refuseOtherText(drawing: string): void {
  const start = drawing.trimStart();
  if (!start.startsWith("<") || /^<(?:!doctype\s+html|html)\b/i.test(start)) {
    const what = start.startsWith("<") ? "an HTML page" : "not XML";
    throw new RepetendError("E_NOT_SVG", `the text is ${what}`, {
      value: start.slice(0, 40),
      accepted: "an SVG document",
    });
  }
}

/** Holds what is open while one text is read. */
class Reader {
  readonly #parser = new SaxesParser({ xmlns: true, position: true });
  readonly #open: OpenElement[] = [];
  readonly #ids = { first: new Map<string, SourceElement>(), second: new Map<string, SourceElement>() };
  #root: SourceElement | undefined;
  #count = 0;
  #start = { line: 1, column: 1 };

  read(drawing: string): Source {
    const parser = this.#parser;
    parser.on("error", (error) => {
      throw readXmlError(error);
    });
    parser.on("doctype", (doctype) => this.#readDoctype(doctype, drawing));
    parser.on("processinginstruction", ({ target, body }) => {
      if (target !== "xml-stylesheet") return;
      throw new RepetendError("E_EXTERNAL_REF", "the drawing asks for a style sheet outside itself", {
        where: this.#place(),
        value: body,
        accepted: "a <style> element",
      });
    });
    parser.on("opentagstart", (tag) => this.#beginElement(tag.name));
    parser.on("opentag", (tag) => this.#openElement(tag));
    parser.on("closetag", () => this.#open.pop());
    parser.on("text", (value) => this.#addText(value));
    parser.on("cdata", (value) => this.#addText(value));
    parser.write(drawing).close();
    if (this.#root === undefined) throw new RepetendError("E_XML", "the text holds no element");
    return { root: this.#root, ids: this.#ids };
  }

  #place(): string {
    return `${this.#parser.line}:${this.#parser.column}`;
  }

  #readDoctype(doctype: string, drawing: string): void {
    if (/^\s*html\b/i.test(doctype)) {
      throw new RepetendError("E_NOT_SVG", "the text is an HTML page", { accepted: "an SVG document" });
    }
    for (const [name, value] of readDoctype(doctype, drawing, this.#place())) {
      this.#parser.ENTITIES[name] = value;
    }
  }

  #beginElement(name: string): void {
    const { line, column } = this.#parser;
    // The parser has read the name and the character after it.
    this.#start = { line, column: Math.max(1, column - name.length - 1) };
    if (this.#open.length >= DRAWING_LIMITS.depth) {
      throw new RepetendError("E_DEPTH", "the drawing is nested too deeply", {
        where: `${this.#start.line}:${this.#start.column}`,
        accepted: `at most ${DRAWING_LIMITS.depth} elements inside each other`,
      });
    }
    this.#count += 1;
    if (this.#count > DRAWING_LIMITS.elements) {
      throw new RepetendError("E_LIMIT", "the drawing has too many elements", {
        where: `${this.#start.line}:${this.#start.column}`,
        accepted: `at most ${DRAWING_LIMITS.elements}`,
      });
    }
  }

  #openElement(tag: SaxesTagNS): void {
    const all = Object.values(tag.attributes);
    const parent = this.#open.at(-1);
    const attributes = new Map<string, string>();
    for (const { uri, local, value } of all) {
      if (uri === XLINK_NAMESPACE && local === "href" && !attributes.has("href"))
        attributes.set("href", value);
      if (uri === "") attributes.set(local, value);
    }
    const made: OpenElement = {
      kind: "element",
      name: tag.name,
      local: tag.local,
      svgName: tag.uri === SVG_NAMESPACE ? tag.local : "",
      namespace: tag.uri,
      attributes,
      written: all.map(({ name, value }) => [name, value]),
      parent,
      children: [],
      ...this.#start,
    };
    if (all.length > DRAWING_LIMITS.attributes) {
      throw new RepetendError("E_LIMIT", "an element has too many attributes", {
        where: placeOf(made),
        value: String(all.length),
        accepted: `at most ${DRAWING_LIMITS.attributes}`,
      });
    }
    if (parent === undefined) this.#checkRoot(made);
    else parent.children.push(made);
    this.#root ??= made;
    this.#rememberId(made);
    this.#open.push(made);
  }

  #checkRoot(root: SourceElement): void {
    if (root.svgName === "svg") return;
    const lost = root.local === "svg" && root.namespace === "";
    throw new RepetendError(
      "E_NOT_SVG",
      lost ? "the root lacks SVG's namespace" : `the root is <${root.name}>`,
      { where: placeOf(root), accepted: `<svg xmlns="${SVG_NAMESPACE}">` },
    );
  }

  #rememberId(made: SourceElement): void {
    const id = made.attributes.get("id");
    if (id === undefined || id === "") return;
    const { first, second } = this.#ids;
    if (!first.has(id)) first.set(id, made);
    else if (!second.has(id)) second.set(id, made);
  }

  #addText(value: string): void {
    const children = this.#open.at(-1)?.children;
    const last = children?.at(-1);
    // Text and CDATA side by side are one piece of text.
    if (last?.kind === "text") children?.splice(-1, 1, { kind: "text", value: last.value + value });
    else children?.push({ kind: "text", value });
  }
}

function readXmlError(error: Error): RepetendError {
  const [, line, column, problem] = /^(?:.*?:)??(\d+):(\d+): ([\s\S]*?)\.?$/.exec(error.message) ?? [];
  const where = line === undefined ? {} : { where: `${line}:${column}` };
  if (problem === "undefined entity") {
    return new RepetendError("E_DTD", "an entity is not defined", {
      ...where,
      accepted: "&lt; &gt; &amp; &quot; &apos; and character references",
      cause: error,
    });
  }
  return new RepetendError("E_XML", problem ?? error.message, { ...where, cause: error });
}
