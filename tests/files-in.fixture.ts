import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** The files of a folder by name, with the SHA-256 of each. */
export const filesIn = (dir: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(dir)
      .sort()
      .map((name) => [
        name,
        createHash("sha256")
          .update(readFileSync(join(dir, name)))
          .digest("hex"),
      ]),
  );
