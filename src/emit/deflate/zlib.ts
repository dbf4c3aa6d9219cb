import { promisify } from "node:util";
import { deflate, deflateSync, type ZlibOptions } from "node:zlib";

/** Makes a zlib stream (RFC 1950). */
export type Zlib = (bytes: Uint8Array, options: ZlibOptions) => Promise<Uint8Array>;

/** On one of Node's threads, so that the event loop stays free. */
export const zlibApart: Zlib = promisify<Uint8Array, ZlibOptions, Uint8Array>(deflate);

/** On this thread, which is for a process that does nothing else meanwhile. */
export const zlibHere: Zlib = async (bytes, options) => deflateSync(bytes, options);
