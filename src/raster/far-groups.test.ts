import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import { rasterise } from "./index.js";

const drawing = (body: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">${body}</svg>`;

const SIZE = { width: 100, height: 100 };

/** A square over the page that ends so far to the left and above of it, inside of groups inside of each other. */
const reaching = (far: number, groups: number) =>
  drawing(
    `${'<g opacity=".99">'.repeat(groups)}<path d="M${-far} ${-far}H100V100H${-far}Z"/>${"</g>".repeat(groups)}`,
  );

/** Where the renderer ended the whole process: groups five deep, turned. */
const TURNED =
  '<g opacity=".6" transform="translate(21 -14) rotate(72)"><g opacity=".6" transform="translate(-27 38) rotate(312)"><rect x="78" y="1" width="51" height="13"/></g><g opacity=".6" transform="translate(39 42) rotate(129)"><g opacity=".6" transform="translate(5 -11) rotate(37)"><g opacity=".6" transform="translate(-24 -32) rotate(145)"><rect x="-51" y="-105" width="50" height="37"/><rect x="126" y="-73" width="47" height="54"/></g></g></g></g>';

/** Rasterises in a process of its own, which may end. */
async function runApart(svg: string): Promise<{ readonly signal: string | null; readonly said: string }> {
  const { outputFiles } = await build({
    stdin: {
      contents: `import { rasterise } from "./index.js";
        rasterise(${JSON.stringify(svg)}, { width: 100, height: 100 }).then(({ width }) => console.log(width));`,
      resolveDir: fileURLToPath(new URL(".", import.meta.url)),
    },
    bundle: true,
    format: "esm",
    platform: "node",
    external: ["sharp", "@resvg/*"],
    write: false,
    logLevel: "silent",
  });
  const { signal, stdout } = spawnSync(process.execPath, ["--input-type=module", "-"], {
    cwd: fileURLToPath(new URL("../../", import.meta.url)),
    input: outputFiles[0]?.text ?? "",
    encoding: "utf8",
  });
  return { signal, said: stdout.trim() };
}

describe("groups inside each other that reach far out of a drawing", () => {
  it.each([
    [90, 2],
    [150, 2],
    [300, 3],
    [900, 4],
  ])("are painted whole: %d units, %d groups", async (far, groups) => {
    const { data } = await rasterise(reaching(far, groups), SIZE);
    const bare = Array.from({ length: data.length / 4 }, (_, k) => data[4 * k + 3] ?? 0).filter(
      (alpha) => alpha < 240,
    );
    expect(bare).toEqual([]);
  });

  it("leave the process alive where they are turned", async () => {
    expect(await runApart(drawing(TURNED))).toEqual({ signal: null, said: "100" });
  });

  it("are refused where very much more than the drawing would have to be rendered", async () => {
    const refused = rasterise(reaching(90_000, 2), SIZE);
    await expect(refused).rejects.toBeInstanceOf(RepetendError);
    await expect(refused).rejects.toMatchObject({ code: "E_RENDER" });
    await expect(rasterise(reaching(90_000, 1), SIZE)).resolves.toMatchObject(SIZE);
  });
});
