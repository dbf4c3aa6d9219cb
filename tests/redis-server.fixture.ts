import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { Redis } from "ioredis";

/** Whether Debian's server is installed. */
export const hasRedis: boolean = spawnSync("redis-server", ["--version"]).status === 0;

/** A server of its own, with nothing in it. */
export interface RedisServer {
  readonly url: string;
  /** Looks into it. */
  readonly redis: Redis;
  readonly close: () => Promise<void>;
}

/** A port that nobody listens on. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === "string") throw new Error("there is no port");
  return address.port;
}

const gone = (child: ChildProcess): Promise<unknown> =>
  new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) resolve(undefined);
    else child.once("exit", resolve);
  });

/** Starts a server in a temporary folder. */
export async function startRedis(): Promise<RedisServer> {
  const dir = mkdtempSync(join(tmpdir(), "repetend-redis-"));
  const port = await freePort();
  const words = ["--port", String(port), "--bind", "127.0.0.1", "--save", "", "--dir", dir];
  const child = spawn("redis-server", words, { stdio: "ignore" });
  const url = `redis://127.0.0.1:${port}`;
  const redis = new Redis(url, { retryStrategy: () => 20, maxRetriesPerRequest: null });
  redis.on("error", () => {});
  await redis.ping();
  return {
    url,
    redis,
    close: async () => {
      redis.disconnect();
      child.kill();
      await gone(child);
      await wait(0);
      rmSync(dir, { recursive: true, force: true });
    },
  };
}
