import {
  aNumber,
  anObject,
  aText,
  type Check,
  check,
  isBytes,
  isClamped,
  listOf,
  made,
  maybe,
  oneOf,
  partsOf,
} from "../checks.js";
import type { InkContact, InkContacts } from "./contacts.js";
import type { InkCoverage } from "./coverage.js";
import type { InkPlanes } from "./ink-planes.js";
import type { PixelImage } from "./pixels.js";

/** A count of pixels or bytes. */
export const aCount: Check = check(
  (value) => Number.isSafeInteger(value) && Number(value) >= 0,
  "a whole number, 0 or more",
  "E_IMAGE",
);

/** A count of pixels that is not 0. */
export const aSide: Check = check(
  (value) => Number.isSafeInteger(value) && Number(value) >= 1,
  "a whole number, 1 or more",
  "E_IMAGE",
);

const someBytes = check((value) => isBytes(value) || isClamped(value), "a Uint8Array", "E_IMAGE");

const aResolution = partsOf<{ readonly x: number; readonly y: number }>({ x: aNumber, y: aNumber });

export const anImage: Check = partsOf<PixelImage>({
  width: aCount,
  height: aCount,
  channels: check((value) => value === 1 || value === 3 || value === 4, "1, 3 or 4", "E_IMAGE"),
  data: someBytes,
  stride: aCount,
  dpi: maybe(aResolution),
});

export const inkPlanes: Check = made("ink planes, from planesOfImage() or inkPlanes()", "ink-planes");

/** All that some questions need of ink planes. */
export const inksOfPlanes: Check = partsOf<Pick<InkPlanes, "inks">>({ inks: listOf(aText) });

export const someCoverage: Check = listOf(partsOf<InkCoverage>({ ink: aText, share: aNumber }));

export const aScreenKind: Check = oneOf("ordered", "blue-noise");

export const inkContacts: Check = partsOf<InkContacts>({
  contacts: listOf(partsOf<InkContact>({ one: aText, other: aText, length: aNumber })),
  widths: anObject,
  perMm: maybe(aNumber),
});
