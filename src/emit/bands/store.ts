import { type FileHandle, rm } from "node:fs/promises";
import { deserialize, serialize } from "node:v8";
import { openTemporary, writeAll } from "../files/atomic.js";
import { countBytes } from "./encoding.js";
import type { MadeBand } from "./work.js";

/** 32 MiB. */
const IN_MEMORY = 2 ** 25;

/** Where a band waits. */
type Waiting =
  | { readonly kind: "memory"; readonly band: MadeBand }
  | { readonly kind: "file"; readonly from: number; readonly length: number };

const sizeOf = (band: MadeBand): number => band.rows.reduce((sum, rows) => sum + countBytes(rows), 0);

/** Bands that are done before their turn: the lower ones of a half-drop, and those of yardage. */
export class BandStore {
  readonly #beside: string;
  readonly #inMemory: number;
  readonly #waiting = new Map<number, Waiting>();
  #file: { readonly temporary: string; readonly handle: FileHandle } | undefined;
  #fileLength = 0;
  #bytes = 0;

  /**
   * @param beside the path of a file in whose folder a temporary may stand.
   * @param inMemory so many bytes wait in memory; what is more waits in the temporary.
   */
  constructor(beside: string, inMemory: number = IN_MEMORY) {
    this.#beside = beside;
    this.#inMemory = inMemory;
  }

  has(y: number): boolean {
    return this.#waiting.has(y);
  }

  async put(band: MadeBand): Promise<void> {
    const size = sizeOf(band);
    if (this.#bytes + size <= this.#inMemory) {
      this.#bytes += size;
      this.#waiting.set(band.y, { kind: "memory", band });
      return;
    }
    this.#file ??= await openTemporary(this.#beside);
    const bytes = serialize(band);
    await writeAll(this.#file.handle, bytes, this.#fileLength);
    this.#waiting.set(band.y, { kind: "file", from: this.#fileLength, length: bytes.length });
    this.#fileLength += bytes.length;
  }

  /** The band that starts at this row; it stays where it is. */
  async read(y: number): Promise<MadeBand> {
    const waiting = this.#waiting.get(y);
    if (waiting === undefined) throw new RangeError(`no band waits for row ${y}`);
    if (waiting.kind === "memory") return waiting.band;
    const bytes = Buffer.alloc(waiting.length);
    await this.#file?.handle.read(bytes, 0, waiting.length, waiting.from);
    return deserialize(bytes) as MadeBand;
  }

  /** Forgets the band that starts at this row. */
  drop(y: number): void {
    const waiting = this.#waiting.get(y);
    if (waiting?.kind === "memory") this.#bytes -= sizeOf(waiting.band);
    this.#waiting.delete(y);
  }

  async close(): Promise<void> {
    if (this.#file === undefined) return;
    await this.#file.handle.close();
    await rm(this.#file.temporary, { force: true });
  }
}
