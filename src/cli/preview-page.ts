import { Buffer } from "node:buffer";

/** One colourway of a preview. */
export interface PreviewPicture {
  readonly name: string;
  /** The tile as PNG. */
  readonly png: Uint8Array;
  /** In pixels. */
  readonly width: number;
  readonly height: number;
  /** What each ink becomes, `#rrggbb`. */
  readonly inks: readonly string[];
}

/** What a preview shows. */
export interface PreviewPage {
  readonly title: string;
  /** One sentence on the repeat. */
  readonly description: string;
  readonly repeats: { readonly x: boolean; readonly y: boolean };
  readonly pictures: readonly PreviewPicture[];
}

const escapeText = (text: string): string => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);

const STYLE = `
body { margin: 2rem; font: 1rem/1.5 system-ui, sans-serif; color: #222; background: #fff; }
h1 { font-size: 1.4rem; margin: 0; }
h2 { font-size: 1.1rem; margin: 2rem 0 .5rem; }
.cloth { box-shadow: 0 0 0 1px #bbb; }
.inks { display: flex; flex-wrap: wrap; gap: .5rem; margin: .5rem 0; padding: 0; list-style: none; font-size: .8rem; }
.inks i { display: inline-block; width: 1.2em; height: 1.2em; margin-right: .3em; vertical-align: -.2em; box-shadow: 0 0 0 1px #bbb; }
`;

function pictureSection(picture: PreviewPicture, repeats: PreviewPage["repeats"]): string {
  const { name, png, width, height, inks } = picture;
  const cloth = [
    `background-image:url(data:image/png;base64,${Buffer.from(png).toString("base64")})`,
    `background-size:${width}px ${height}px`,
    `background-repeat:${repeats.y ? "repeat" : "repeat-x"}`,
    `height:${height * (repeats.y ? 2 : 1)}px`,
  ].join(";");
  const swatches = inks.map(
    (ink) => `<li><i style="background:${escapeText(ink)}"></i>${escapeText(ink)}</li>`,
  );
  return (
    `<section>\n<h2>${escapeText(name)}</h2>\n` +
    `<div class="cloth" role="img" aria-label="${escapeText(name)}" style="${cloth}"></div>\n` +
    `<ul class="inks">${swatches.join("")}</ul>\n</section>\n`
  );
}

/** A page that lays the tile of every colourway side by side, complete in one file. */
export function writePreviewPage({ title, description, repeats, pictures }: PreviewPage): string {
  return (
    `<!doctype html>\n<html lang="en">\n<meta charset="utf-8">\n` +
    `<meta name="viewport" content="width=device-width">\n<title>${escapeText(title)}</title>\n` +
    `<style>${STYLE}</style>\n<h1>${escapeText(title)}</h1>\n<p>${escapeText(description)}</p>\n` +
    pictures.map((picture) => pictureSection(picture, repeats)).join("")
  );
}
