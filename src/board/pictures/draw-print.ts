import { contrastRatio } from "../../colour/index.js";
import type { Box } from "../../geometry/box.js";
import { drawLayers, layersInWindow, type Print } from "../../repeat/index.js";
import { element, writeNumber } from "../../svg/index.js";
import { boxAttributes, TONES } from "../page/page.js";
import type { Part } from "../types.js";

/** Whether cloth is bare or so pale that one does not see on paper where it ends. */
export function isPale({ ground }: Print): boolean {
  return ground === undefined || contrastRatio(ground, TONES.paper) < 1.2;
}

/**
 * A window of a print, in mm of the print, in a box of the page: as vectors, cut at the box.
 *
 * @param framed whether a hairline shows where it ends. Default: when it is pale.
 */
export function drawPrint(
  print: Print,
  window: Box,
  box: Box,
  scope: string,
  framed: boolean = isPale(print),
): Part {
  const drawn = drawLayers(layersInWindow(print, window), { window, digits: 4, scope });
  const clip = `${scope}box`;
  const scale = writeNumber(box.width / window.width, 8);
  const place = `translate(${writeNumber(box.x, 4)} ${writeNumber(box.y, 4)}) scale(${scale})`;
  const frame = { ...boxAttributes(box), fill: "none", stroke: TONES.hair, "stroke-width": "0.15" };
  return {
    defs: [...drawn.defs, element("clipPath", { id: clip }, [element("rect", boxAttributes(box))])],
    body: [
      element("g", { "clip-path": `url(#${clip})` }, [element("g", { transform: place }, drawn.body)]),
      ...(framed ? [element("rect", frame)] : []),
    ],
    bottom: box.y + box.height,
  };
}
