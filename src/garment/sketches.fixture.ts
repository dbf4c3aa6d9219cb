import { motif } from "../motif/index.js";
import type { Motif } from "../motif/types.js";
import { halfDrop } from "../repeat/build/all-over.js";
import { border } from "../repeat/build/border.js";
import { place } from "../repeat/build/place.js";
import type { AllOver, Border } from "../repeat/types.js";
import { readSketch } from "./sketch/read-sketch.js";
import type { Sketch } from "./types.js";

const draw = (name: string, inner: string): Motif =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${inner}</svg>`,
    { name },
  );

/** A hook without any symmetry, a reed with a stroke and a seed with a gradient. */
export const HOOK: Motif = draw("hook", '<path d="M3 3H17V8H8V17H3Z" fill="#1b2a41"/>');
export const REED: Motif = draw(
  "reed",
  '<path d="M10 19C8 12 9 6 13 1" fill="none" stroke="#3e6b4f" stroke-width="2"/><ellipse cx="12" cy="5" rx="2" ry="4" fill="#c8553d"/>',
);
export const SEED: Motif = draw(
  "seed",
  '<defs><linearGradient id="g"><stop offset="0" stop-color="#c8553d"/><stop offset="1" stop-color="#e3c16f"/></linearGradient></defs>' +
    '<circle cx="10" cy="10" r="8" fill="url(#g)"/>',
);

/** 58 in wide, 12 in repeat (common practice for border cloth), with a dark hem band. */
export function shoreBorder(name: string = "Shore"): Border {
  return border({
    name,
    repeat: "12in",
    width: "58in",
    ground: "#d7e3e0",
    bands: [
      {
        name: "reeds",
        from: "40in",
        to: "52in",
        period: "4in",
        motifs: [place(REED, { at: ["2in", "6in"], width: "7in" })],
      },
      {
        name: "hem",
        from: "52in",
        to: "58in",
        period: "6in",
        ground: "#7a8b5f",
        motifs: [place(HOOK, { at: ["3in", "3in"], width: "4in" })],
      },
    ],
  });
}

/** A companion all-over. */
export function hookHalfDrop(): AllOver {
  return halfDrop({
    name: "Hooks",
    width: "8cm",
    height: "8cm",
    ground: "#f2ead8",
    motifs: [place(HOOK, { at: ["4cm", "4cm"], width: "5cm" })],
  });
}

/** A wrap dress on a page of 20 x 25 cm, two user units a mm, everything inside a moved group. */
export function wrapDress(): Sketch {
  return readSketch(WRAP_DRESS, { name: "Wrap dress" });
}

export const WRAP_DRESS = `<svg xmlns="http://www.w3.org/2000/svg" width="20cm" height="25cm" viewBox="0 0 400 500">
<style>.panel{fill:#ffffff;stroke:#222222;stroke-width:1.5} .stitch{fill:none;stroke:#222222;stroke-width:.7;stroke-dasharray:3 2}</style>
<rect width="400" height="500" fill="#faf7f2"/>
<g transform="translate(20 10)">
<line id="length-line" x1="5" y1="50" x2="5" y2="460" stroke="#cc0000" stroke-width="0.2"/>
<g id="skirt"><path id="skirt-front" class="panel" d="M100 180C140 195 200 195 240 180C255 260 290 370 310 440C230 475 110 475 30 440C50 370 85 260 100 180Z"/>
<path class="stitch" d="M34 430C112 465 228 465 306 430"/></g>
<path id="bodice" class="panel" d="M110 60L150 50Q170 70 190 50L230 60L240 180C200 195 140 195 100 180Z"/>
<path id="sleeve-left" class="panel sleeve" d="M110 60L102 150L50 170L30 150Z"/>
<path id="sleeve-right" class="panel sleeve" d="M230 60L238 150L290 170L310 150Z"/>
<path id="pocket" d="M150 100H190V130H150Z" fill="#e8d9b5"/>
<path d="M200 185C215 280 230 380 235 465L310 440C290 370 255 260 240 180Z" style="fill:#8090a0;fill-opacity:.35;mix-blend-mode:multiply"/>
</g></svg>`;
