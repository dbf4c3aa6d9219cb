import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import { element, readDrawing, serialise } from "../svg/index.js";
import { rasterise } from "./index.js";
import { renderNative } from "./native.js";

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

/** Rasterises in a process of its own, which may end; says the width of each, or with which code it is refused. */
async function runApart(
  svgs: readonly string[],
): Promise<{ readonly signal: string | null; readonly said: readonly string[] }> {
  const { outputFiles } = await build({
    stdin: {
      contents: `import { rasterise } from "./index.js";
import { renderNative } from "./native.js";
        for (const svg of ${JSON.stringify(svgs)})
          console.log(await rasterise(svg, { width: 100, height: 100 }).then(({ width }) => width, ({ code }) => code));`,
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
  return { signal, said: stdout.trim().split("\n") };
}

/** Drawings of translucent shapes and groups, masks on masked things, and patterns, no farther off than this. */
function drawingsWithin(far: number): fc.Arbitrary<string> {
  const length = fc.integer({ min: 2, max: Math.max(30, far / 2) });
  const at = fc.integer({ min: -far, max: 50 + far });
  const opacity = fc.constantFrom("", 'opacity=".5"');
  const paint = fc.constantFrom("#ffffff", "#c8553d", "url(#p)");
  const use = fc.constantFrom("", 'mask="url(#m)"', 'mask="url(#n)"');
  const shape = (fill: fc.Arbitrary<string>, mask: fc.Arbitrary<string>) =>
    fc
      .tuple(at, at, length, length, opacity, fill, mask)
      .map(
        ([x, y, width, height, seen, ink, masked]) =>
          `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${ink}" ${seen} ${masked}/>`,
      );
  const group = (fill: fc.Arbitrary<string>, mask: fc.Arbitrary<string>) =>
    fc
      .tuple(
        fc.array(shape(fill, mask), { minLength: 1, maxLength: 3 }),
        opacity,
        mask,
        fc.integer({ min: -10, max: 10 }),
      )
      .map(
        ([shapes, seen, masked, turn]) =>
          `<g ${seen} ${masked} transform="rotate(${turn})">${shapes.join("")}</g>`,
      );
  const plain = fc.constant("#ffffff");
  const never = fc.constant("");
  const share = fc.constantFrom("", 'maskContentUnits="objectBoundingBox"');
  const region = `maskUnits="userSpaceOnUse" x="${-2 * far}" y="${-2 * far}" width="${4 * far + 100}" height="${4 * far + 100}"`;
  const shared = fc.tuple(fc.integer({ min: -far, max: far + 50 }), share).map(([x, units]) => {
    const size = units === "" ? 40 : 0.5;
    return `<mask id="s" ${region} ${units}><rect x="${units === "" ? x : x / 100}" width="${size}" height="${size}" fill="#ffffff" opacity=".5"/></mask>`;
  });
  const onMask = fc.constantFrom("", 'mask="url(#s)"');
  return fc
    .tuple(
      shared,
      fc.tuple(group(plain, never), onMask),
      group(plain, fc.constantFrom("", 'mask="url(#s)"', 'mask="url(#n)"')),
      group(plain, never),
      fc.array(group(paint, use), { minLength: 1, maxLength: 3 }),
    )
    .map(
      ([first, [second, masked], third, tile, groups]) =>
        `${first}<mask id="n" ${region} ${masked}>${second}</mask><mask id="m" ${region}>${third}</mask>` +
        `<pattern id="p" patternUnits="userSpaceOnUse" width="60" height="45">${tile}</pattern>${groups.join("")}`,
    );
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
    expect(await runApart([drawing(TURNED)])).toEqual({ signal: null, said: ["100"] });
  });

  it("are refused where very much more than the drawing would have to be rendered", async () => {
    const refused = rasterise(reaching(90_000, 2), SIZE);
    await expect(refused).rejects.toBeInstanceOf(RepetendError);
    await expect(refused).rejects.toMatchObject({ code: "E_RENDER" });
    await expect(rasterise(reaching(90_000, 1), SIZE)).resolves.toMatchObject(SIZE);
  });
});

describe("translucent shapes in masks and patterns", () => {
  it("leave the process alive, however far off they lie", async () => {
    const svgs = [60, 250, 1000].flatMap((far) =>
      fc.sample(drawingsWithin(far), { numRuns: 40, seed: 20_260 + far }).map(drawing),
    );
    const wide = '<rect x="-2e5" width="9e5" height="1" opacity=".5" transform="scale(5000)"/>';
    const { signal, said } = await runApart([...svgs, drawing(wide)]);
    expect(signal).toBeNull();
    expect(said).toHaveLength(svgs.length + 1);
    expect(said.filter((one) => one !== "100" && one !== "E_RENDER")).toEqual([]);
    expect(said.filter((one) => one === "100").length).toBeGreaterThan(svgs.length / 2);
    expect(said.at(-1)).toBe("E_RENDER");
  }, 60_000);

  it("are rendered as they are where they lie near: nothing is left out, and no more room is given", async () => {
    await fc.assert(
      fc.asyncProperty(drawingsWithin(20), async (inner) => {
        const { body, defs } = readDrawing(drawing(inner));
        const page = {
          xmlns: "http://www.w3.org/2000/svg",
          width: "100",
          height: "100",
          viewBox: "0 0 100 100",
        };
        const svg = element("svg", page, [element("defs", {}, defs), ...body]);
        const whole = await renderNative(serialise(svg), SIZE);
        const { data } = await rasterise(drawing(inner), SIZE);
        expect(Buffer.compare(data, whole.data)).toBe(0);
      }),
      { numRuns: 100 },
    );
  }, 60_000);

  it("hide what they are put on, and leave its box as it is, where none of them shows", async () => {
    const hidden =
      '<mask id="f" maskUnits="userSpaceOnUse" x="-900" y="-900" width="2000" height="2000"><rect x="500" width="9" height="9" fill="#ffffff" opacity=".5"/></mask>' +
      '<mask id="h" maskContentUnits="objectBoundingBox"><rect x=".5" width=".5" height="1" fill="#ffffff"/></mask>' +
      '<g mask="url(#h)"><path d="M0 0H100V100H0Z" mask="url(#f)"/><path d="M0 0H50V100H0Z"/></g>';
    const { data } = await rasterise(drawing(hidden), SIZE);
    expect(data.filter((value, k) => k % 4 === 3 && value > 0)).toHaveLength(0);
  });

  it("are painted whole where a curve's control points are far, and the curve is not", async () => {
    const inner = '<g opacity=".99"><path d="M0 0H100V100H0Z"/></g>';
    const { data } = await rasterise(
      drawing(`<g opacity=".99"><path d="M100 0Q-250 50 100 100Z"/>${inner}</g>`),
      SIZE,
    );
    expect(data.filter((value, k) => k % 4 === 3 && value < 240)).toHaveLength(0);
  });
});
