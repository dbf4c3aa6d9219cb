import { expect, it } from "vitest";
import { RepetendError } from "./errors.js";
import { motif } from "./motif/index.js";

const draw = (body: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">${body}</svg>`;

it("keeps an error short, whatever was met", () => {
  const long = "x".repeat(100_000);
  for (const body of [
    `<text>${long}</text>`,
    `<use href="#${long}"/>`,
    `<g id="${long}"><use href="#${long}"/></g>`,
    `<rect transform="${long}"/>`,
  ]) {
    const refused = (): unknown => {
      try {
        return motif(draw(body), { name: "upload" });
      } catch (error) {
        return error;
      }
    };
    const error = refused();
    expect(error).toBeInstanceOf(RepetendError);
    const { message, ...facts } = { ...(error as RepetendError), message: (error as RepetendError).message };
    expect(message.length).toBeLessThan(3000);
    for (const fact of Object.values(facts)) expect(String(fact).length).toBeLessThanOrEqual(1000);
  }
});
