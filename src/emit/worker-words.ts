import type { RepetendError } from "../errors.js";
import type { RenderSize } from "../raster/index.js";

/** What a worker is asked; it may be asked again before it has answered. */
export type WorkerTask = { readonly id: number } & WorkerErrand;

/** What is to be done. */
export type WorkerErrand =
  /** The work itself is sent once, ahead of its first task. */
  | { readonly kind: "bands"; readonly key: number; readonly work?: Uint8Array; readonly task: number }
  | { readonly kind: "render"; readonly svg: string; readonly size: RenderSize };

/** What a worker answers to the task of this id; `resident` is its memory in bytes. */
export type WorkerAnswer = { readonly id: number } & (
  | { readonly kind: "done"; readonly result: unknown; readonly resident: number }
  | { readonly kind: "failed"; readonly error: WorkerFailure }
);

/** An error that went through a pipe. */
export interface WorkerFailure {
  readonly message: string;
  /** Of a refusal: what it is made from. */
  readonly refusal?: Pick<RepetendError, "code" | "problem" | "input" | "where" | "value" | "accepted">;
}

/** A worker that grew too large ends with this code. */
export const EXIT_MEMORY = 77;
