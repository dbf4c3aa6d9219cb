/** Bundles a worker's program, `.ts` or `.js`, from one path to another. */
export declare function bundleWorker(from: string, to: string): Promise<void>;
