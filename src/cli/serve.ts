import { type ServedTask, serveBands } from "../batch/index.js";
import { readBytesOption, readCount, readPositive } from "./arguments.js";
import { type Command, EXIT, type TextSink } from "./command.js";
import { describeBytes, describeSeconds } from "./words.js";

/** One task in one line: print, rows, time, bytes. */
function describeTask({ print, rows, seconds, bytes, refused }: ServedTask): string {
  if (refused !== undefined) return `${print}  refused: ${refused}`;
  const where = rows === undefined ? "" : `  rows ${rows[0]} to ${rows[1]}`;
  return `${print}${where}  ${describeSeconds(seconds)}  ${describeBytes(bytes)}`;
}

const countTasks = (count: number): string => `${count} ${count === 1 ? "task" : "tasks"}`;

/** A line a task for a log; on a terminal one line that is written over itself. */
function taskWriter(stdout: TextSink): {
  readonly show: (task: ServedTask) => void;
  readonly end: () => number;
} {
  let count = 0;
  const isTerminal = stdout.isTTY === true;
  return {
    show: (task) => {
      count++;
      const line = describeTask(task);
      if (!isTerminal) stdout.write(`${line}\n`);
      else {
        const cut = `${countTasks(count)}; last ${line}`.slice(0, Math.max(20, (stdout.columns || 80) - 1));
        stdout.write(`\r\x1b[K${cut}`);
      }
    },
    end: () => {
      if (isTerminal && count > 0) stdout.write("\r\x1b[K");
      return count;
    },
  };
}

/** `repetend serve`. */
export const serve: Command = {
  name: "serve",
  operands: "URL",
  summary: "Draw bands for other machines: those that run repetend make --queue URL",
  details:
    "URL is a Redis server that all machines reach: redis://host:6379, with a password redis://:password@host,\n" +
    "encrypted rediss://host. The packages bullmq and ioredis have to be installed. This machine needs no files of the\n" +
    "job. Ctrl-C ends it: what is under way goes back to the others.",
  options: {
    workers: { type: "string", value: "N", help: "how many processes draw (default: one a core)" },
    memory: { type: "string", value: "2GB", help: "for all processes together: bounds how many there are" },
    patience: {
      type: "string",
      value: "SECONDS",
      help: "a machine that was not heard of for so long loses its tasks to others (default: 10)",
    },
  },
  count: { least: 1, most: 1 },
  run: async (given, { stdout, stderr, signal }) => {
    const [url = ""] = given.files;
    const workers = readCount(given, "workers");
    const memory = readBytesOption(given, "memory");
    const patience = readPositive(given, "patience");
    const tasks = taskWriter(stdout);
    await serveBands(url, {
      ...(workers === undefined ? {} : { workers }),
      ...(memory === undefined ? {} : { memory }),
      ...(patience === undefined ? {} : { patience }),
      ...(signal === undefined ? {} : { signal }),
      onReady: ({ address, places }) =>
        stderr.write(`serving ${address}, ${countTasks(places)} at a time; Ctrl-C ends it\n`),
      onTask: tasks.show,
    });
    stderr.write(`ended after ${countTasks(tasks.end())}\n`);
    return EXIT.done;
  },
};
