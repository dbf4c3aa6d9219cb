/** Bundles one program, `.ts` or `.js`, from one path to another. */
export declare function bundleProgram(from: string, to: string): Promise<void>;
