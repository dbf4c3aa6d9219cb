import { RepetendError } from "../../errors.js";
import type { RenderSize } from "../../raster/index.js";
import type { DrawnTask } from "./work.js";

/** What a worker is asked; it may be asked again before it has answered. */
export type WorkerTask = { readonly id: number } & WorkerErrand;

/**
 * What is to be done. What the tasks of some work share is sent with the first of them, as bytes: `RowsWork` where they are
 * drawn by the one that asks, which knows the print, and `BandWork` where a worker draws them itself.
 */
export type WorkerErrand =
  | ({ readonly kind: "drawn"; readonly key: number; readonly shared?: Uint8Array } & DrawnTask)
  | {
      readonly kind: "planes";
      readonly key: number;
      readonly shared?: Uint8Array;
      readonly task: number;
    }
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

/** What is sent of an error. */
export function failureOf(error: unknown): WorkerFailure {
  if (!(error instanceof RepetendError)) return { message: String(error) };
  const { message, code, problem, input, where, value, accepted } = error;
  return { message, refusal: { code, problem, input, where, value, accepted } };
}

/** The error that was sent: a refusal is the same `RepetendError` again. */
export function errorOf({ message, refusal }: WorkerFailure): Error {
  if (refusal === undefined) return new Error(message);
  const { code, problem, ...facts } = refusal;
  const known = Object.entries(facts).filter(([, value]) => value !== undefined);
  return new RepetendError(code, problem, Object.fromEntries(known));
}

/** A worker that grew too large ends with this code. */
export const EXIT_MEMORY = 77;
