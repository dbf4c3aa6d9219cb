import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import { aModule } from "./checks.js";
import {
  checkRenderSize,
  type Engine,
  engineOptions,
  type RenderSize,
  renderError,
  takeOutput,
} from "./engine.js";

/** The package, where it is installed. */
async function loadPackage(): Promise<typeof import("@resvg/resvg-wasm")> {
  try {
    return await import("@resvg/resvg-wasm");
  } catch (cause) {
    throw new RepetendError("E_RENDER", "the package of the WebAssembly renderer is not installed", {
      accepted: "npm install @resvg/resvg-wasm",
      cause,
    });
  }
}

/** The package starts its module once in a process; a second start says so, and the first one serves. */
async function startOnce(start: () => Promise<void>): Promise<void> {
  try {
    await start();
  } catch (error) {
    if (!(error instanceof Error && error.message.startsWith("Already initialized"))) throw error;
  }
}

/**
 * The WebAssembly engine behind the same contract as the native one, and equal to it pixel for pixel.
 *
 * @param wasmModule the bytes of `index_bg.wasm` from the optional peer `@resvg/resvg-wasm`.
 * @throws `RepetendError` E_RENDER when the peer is missing or the bytes are no such module; E_ARGUMENT for a value of a
 * wrong kind.
 */
export async function wasmEngine(wasmModule: Uint8Array): Promise<Engine> {
  aModule(wasmModule, "wasmModule");
  try {
    const { initWasm, Resvg } = await loadPackage();
    await startOnce(() => initWasm(Uint8Array.from(wasmModule)));
    return async (svg: string, size: RenderSize): Promise<PixelImage> => {
      checkRenderSize(size);
      try {
        const parsed = new Resvg(svg, engineOptions(size));
        const rendered = parsed.render();
        try {
          return takeOutput(
            { width: rendered.width, height: rendered.height, pixels: rendered.pixels },
            size,
          );
        } finally {
          rendered.free();
          parsed.free();
        }
      } catch (error) {
        throw renderError(error);
      }
    };
  } catch (error) {
    throw renderError(error);
  }
}
