import { aFlag, aNumber, anObject, aText, type Check, listOf, maybe, partsOf } from "../checks.js";
import { aColourway } from "../colour/checks.js";
import type { Note } from "../errors.js";
import { aDressed } from "../garment/checks.js";
import { aPrint } from "../repeat/checks.js";
import type {
  BoardGarment,
  BoardPrint,
  ColourwayBoardOptions,
  LineCloth,
  LineSheetOptions,
  LineStyle,
  SheetCoverage,
  SheetFact,
  SheetHead,
  SheetSeams,
  SpecSheetOptions,
} from "./types.js";

const someColourways = listOf(aColourway);
const aHead = partsOf<SheetHead>({
  collection: maybe(aText),
  season: maybe(aText),
  date: maybe(aText),
  from: maybe(aText),
});
/** A format is told from others where pages are read; lengths too. */
const aPage: Check = (value, where) => {
  if (typeof value !== "string") anObject(value, where);
};

const aBoardPrint = partsOf<BoardPrint>({
  print: aPrint,
  colourways: maybe(someColourways),
  coverage: maybe(listOf(partsOf<SheetCoverage>({ ink: aText, share: aNumber }))),
});
const aBoardGarment = partsOf<BoardGarment>({ dressed: aDressed, colourways: maybe(someColourways) });

export const boardOptions: Check = partsOf<ColourwayBoardOptions>({
  prints: listOf(aBoardPrint),
  colourways: maybe(someColourways),
  garments: maybe(listOf(aBoardGarment)),
  title: maybe(aText),
  head: maybe(aHead),
  page: maybe(aPage),
});

const aStyle = partsOf<LineStyle>({
  name: aText,
  number: maybe(aText),
  dressed: aDressed,
  colourways: maybe(someColourways),
  front: maybe(aText),
  cloth: maybe(
    listOf(
      partsOf<LineCloth>({
        print: maybe(aText),
        length: aNumber,
        clothWidth: aNumber,
        spare: maybe(aNumber),
      }),
    ),
  ),
  facts: maybe(listOf(partsOf<SheetFact>({ name: aText, value: aText }))),
});

export const lineOptions: Check = partsOf<LineSheetOptions>({
  styles: listOf(aStyle),
  colourways: maybe(someColourways),
  prints: maybe(listOf(aPrint)),
  title: maybe(aText),
  head: maybe(aHead),
  page: maybe(aPage),
  perPage: maybe(aNumber),
});

const someSeams = listOf(
  partsOf<SheetSeams>({
    colourway: aText,
    report: partsOf<SheetSeams["report"]>({ ok: aFlag, edges: listOf(anObject) }),
  }),
);
const someCoverage = listOf(
  partsOf<SheetCoverage>({ ink: aText, share: aNumber, perRepeat: aNumber, perRunningMetre: aNumber }),
);

const someNotes = listOf(partsOf<Note>({ code: aText, message: aText, where: maybe(aText) }));

export const sheetOptions: Check = partsOf<SpecSheetOptions>({
  print: aPrint,
  grid: maybe(anObject),
  scale: maybe(aNumber),
  shrinkage: maybe(anObject),
  colourways: maybe(someColourways),
  coverage: maybe(someCoverage),
  seams: maybe(someSeams),
  notes: maybe(someNotes),
  findings: maybe(someNotes),
});
