import { contrastRatio } from "../colour/index.js";
import type { Box } from "../geometry/box.js";
import { drawLayers, layersInWindow, type Print } from "../repeat/index.js";
import { element, writeNumber } from "../svg/index.js";
import { boxAttributes, TONES } from "./page.js";
import type { Part } from "./types.js";

/** A window of a print, in mm of the print, in a box of the page: as vectors, cut at the box. */
export function drawPrint(print: Print, window: Box, box: Box, scope: string): Part {
  const drawn = drawLayers(layersInWindow(print, window), { window, digits: 4, scope });
  const clip = `${scope}box`;
  const scale = writeNumber(box.width / window.width, 8);
  const place = `translate(${writeNumber(box.x, 4)} ${writeNumber(box.y, 4)}) scale(${scale})`;
  const pale = print.ground === undefined || contrastRatio(print.ground, TONES.paper) < 1.2;
  // Bare or pale cloth ends somewhere too.
  const frame = { ...boxAttributes(box), fill: "none", stroke: TONES.hair, "stroke-width": "0.15" };
  return {
    defs: [...drawn.defs, element("clipPath", { id: clip }, [element("rect", boxAttributes(box))])],
    body: [
      element("g", { "clip-path": `url(#${clip})` }, [element("g", { transform: place }, drawn.body)]),
      ...(pale ? [element("rect", frame)] : []),
    ],
    bottom: box.y + box.height,
  };
}
