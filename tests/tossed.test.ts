import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { buildPrint, readJob } from "../src/batch/index.js";
import { checkLining, type Placement, recolourMotif, tile } from "../src/index.js";
import { rasterise } from "../src/raster/index.js";

const job = fileURLToPath(new URL("../examples/saltmarsh/tossed.job.json", import.meta.url));

/** Pixels to a mm. */
const SCALE = 4;

/** A motif in one flat ink, which tells whose pixel it is. */
function stain({ motif: drawing, map, ...rest }: Placement, index: number): Placement {
  const ink = `#00${(index + 1).toString(16).padStart(4, "0")}`;
  const inks = Object.fromEntries(drawing.inks.map((one) => [one.ink, ink]));
  const stained = { ...recolourMotif(drawing, inks), scope: `${drawing.scope}-${index}` };
  return { ...rest, map, motif: stained };
}

describe("the tossed Saltmarsh print", async () => {
  const print = await buildPrint(await readJob(job));
  if (print.kind !== "all-over") throw new Error("an all-over print was asked for");

  it("keeps its gap in the pixels of the renderer, across the seams of its tile", async () => {
    const stained = { ...print, ground: "#ffffff", motifs: print.motifs.map(stain) };
    const hard = tile(stained).svg.replace("<svg ", '<svg shape-rendering="crispEdges" ');
    const { width, height, data, channels } = await rasterise(hard, { dpi: SCALE * 25.4 });
    const whose = new Int32Array(width * height);
    for (let k = 0; k < whose.length; k += 1) {
      const [red = 0, green = 0, blue = 0] = data.subarray(channels * k, channels * k + 3);
      whose[k] = red === 0 ? 256 * green + blue : 0;
    }
    expect(new Set(whose).size).toBe(print.motifs.length + 1);
    // The middles of painted pixels lie inside of what is painted; a renderer's hairlines may be a pixel off.
    const reach = Math.floor(4.5 * SCALE - 1);
    const around = Array.from({ length: (2 * reach + 1) ** 2 }, (_, k) => {
      return [(k % (2 * reach + 1)) - reach, Math.floor(k / (2 * reach + 1)) - reach] as const;
    }).filter(([x, y]) => x * x + y * y <= reach * reach && (y > 0 || (y === 0 && x > 0)));
    let clashes = 0;
    for (let y = 0; y < height; y += 1) {
      for (let x = 0; x < width; x += 1) {
        const own = whose[y * width + x] ?? 0;
        if (own === 0) continue;
        const isInner = [1, width - 1, width, width * (height - 1)].every(
          (step) => whose[(y * width + x + step) % whose.length] === own,
        );
        if (isInner) continue;
        for (const [dx, dy] of around) {
          const other = whose[((y + dy) % height) * width + ((x + dx + width) % width)] ?? 0;
          if (other !== 0 && other !== own) clashes += 1;
        }
      }
    }
    expect(clashes).toBe(0);
  });

  it("shows no stripes at a distance", async () => {
    expect((await checkLining(print, { rasterise })).stripes).toEqual([]);
  });
});
