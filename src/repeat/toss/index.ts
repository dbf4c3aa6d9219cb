export { describeToss } from "./describe.js";
export type { TossBand, TossCell, TossLayout, TossMotif, TossOptions } from "./options.js";
export type { Tossed, TossedMotif, TossFacts } from "./result.js";
export { toss } from "./toss.js";
export type { TossTurn } from "./turns.js";
