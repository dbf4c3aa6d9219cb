import { type Check, made } from "../checks.js";

export const aMotif: Check = made("a motif, from motif()", "motif");
