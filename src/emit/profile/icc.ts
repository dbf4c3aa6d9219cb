import { bytes as aProfilesBytes } from "../../checks.js";
import { RepetendError } from "../../errors.js";

/** The colour spaces of profiles that pictures are written with. */
export type IccSpace = "RGB" | "GRAY" | "CMYK" | "Lab";

/** A profile's header (ICC.1:2022, section 7.2) is 128 bytes, and the number of its tags stands behind it. */
const LEAST_BYTES = 132;

const signature = (bytes: Uint8Array, at: number): string =>
  String.fromCharCode(...bytes.subarray(at, at + 4));

const refuse = (problem: string, value: string, accepted: string): RepetendError =>
  new RepetendError("E_FORMAT", problem, { input: "icc", value, accepted });

/**
 * The data colour space of a colour profile, as its header states it: for example "CMYK". Reads the size (ICC.1:2022,
 * section 7.2.2), the space (7.2.6) and the signature "acsp" (7.2.9), and nothing behind the header.
 *
 * @throws `RepetendError` E_FORMAT for bytes that are no whole profile.
 *
 * @example
 * ```ts
 * import { iccSpace } from "repetend/emit";
 * const header = Buffer.alloc(132);
 * header.writeUInt32BE(132, 0);
 * header.write("CMYK", 16, "latin1");
 * header.write("acsp", 36, "latin1");
 * iccSpace(header); // "CMYK"
 * ```
 */
export function iccSpace(bytes: Uint8Array): string {
  aProfilesBytes(bytes, "bytes");
  const stated = bytes.length < 4 ? 0 : new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  if (bytes.length < LEAST_BYTES || signature(bytes, 36) !== "acsp") {
    throw refuse("this is no colour profile", `${bytes.length} bytes`, "the bytes of an ICC profile");
  }
  if (stated !== bytes.length) {
    throw refuse(
      "a colour profile is damaged",
      `${bytes.length} bytes`,
      `${stated} bytes, as it states itself`,
    );
  }
  return signature(bytes, 16).trimEnd();
}

/**
 * Refuses a profile that is not of the space of the pixels beside it.
 *
 * @throws `RepetendError` E_FORMAT.
 */
export function checkIcc(bytes: Uint8Array, space: IccSpace): void {
  const met = iccSpace(bytes);
  if (met !== space) throw refuse("a colour profile does not fit the pixels", met, `a profile for ${space}`);
}
