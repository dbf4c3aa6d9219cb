/**
 * General positions in fractional coordinates, one line a group: International Tables for Crystallography, vol. A
 * (the 17 plane groups; hexagonal axes at 120 degrees for the last five) and vol. E (the 7 frieze groups, translation
 * along x). Every plane group and every frieze group is its own mirror image as a set of kinds, so the lists hold with
 * y pointing down too.
 */
export const PLANE_POSITIONS = {
  p1: "x,y",
  p2: "x,y -x,-y",
  pm: "x,y -x,y",
  pg: "x,y -x,y+1/2",
  cm: "x,y -x,y x+1/2,y+1/2 -x+1/2,y+1/2",
  p2mm: "x,y -x,-y -x,y x,-y",
  p2mg: "x,y -x,-y -x+1/2,y x+1/2,-y",
  p2gg: "x,y -x,-y -x+1/2,y+1/2 x+1/2,-y+1/2",
  c2mm: "x,y -x,-y -x,y x,-y x+1/2,y+1/2 -x+1/2,-y+1/2 -x+1/2,y+1/2 x+1/2,-y+1/2",
  p4: "x,y -x,-y -y,x y,-x",
  p4mm: "x,y -x,-y -y,x y,-x -x,y x,-y y,x -y,-x",
  p4gm: "x,y -x,-y -y,x y,-x -x+1/2,y+1/2 x+1/2,-y+1/2 y+1/2,x+1/2 -y+1/2,-x+1/2",
  p3: "x,y -y,x-y -x+y,-x",
  p3m1: "x,y -y,x-y -x+y,-x -y,-x -x+y,y x,x-y",
  p31m: "x,y -y,x-y -x+y,-x y,x x-y,-y -x,-x+y",
  p6: "x,y -y,x-y -x+y,-x -x,-y y,-x+y x-y,x",
  p6mm: "x,y -y,x-y -x+y,-x -x,-y y,-x+y x-y,x -y,-x -x+y,y x,x-y y,x x-y,-y -x,-x+y",
} as const;

/** See {@link PLANE_POSITIONS}. */
export const FRIEZE_POSITIONS = {
  p1: "x,y",
  p211: "x,y -x,-y",
  p1m1: "x,y -x,y",
  p11m: "x,y x,-y",
  p11g: "x,y x+1/2,-y",
  p2mm: "x,y -x,-y -x,y x,-y",
  p2mg: "x,y -x,-y -x+1/2,y x+1/2,-y",
} as const;

/** One of the 17 plane groups, by its full symbol. */
export type PlaneGroup = keyof typeof PLANE_POSITIONS;

/** One of the 7 frieze groups, by its full symbol. */
export type FriezeGroup = keyof typeof FRIEZE_POSITIONS;

/** What a group asks of its cell. */
export type CellSystem = "oblique" | "rectangular" | "square" | "hexagonal";

/** The crystal system of each plane group: International Tables, vol. A, table of the two-dimensional systems. */
export const PLANE_SYSTEMS: Readonly<Record<PlaneGroup, CellSystem>> = {
  p1: "oblique",
  p2: "oblique",
  pm: "rectangular",
  pg: "rectangular",
  cm: "rectangular",
  p2mm: "rectangular",
  p2mg: "rectangular",
  p2gg: "rectangular",
  c2mm: "rectangular",
  p4: "square",
  p4mm: "square",
  p4gm: "square",
  p3: "hexagonal",
  p3m1: "hexagonal",
  p31m: "hexagonal",
  p6: "hexagonal",
  p6mm: "hexagonal",
};
