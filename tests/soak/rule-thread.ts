/** The thread of `in-worker.ts`: applies a rule to each case it is sent and answers with the processor time and memory. */
import { parentPort } from 'node:worker_threads';
import { RULES, type RuleName } from './rules.ts';

parentPort?.on('message', async ({ rule, one }: { rule: RuleName; one: never }) => {
  const before = process.cpuUsage();
  let trouble: string | null = null;
  try {
    await RULES[rule](one);
  } catch (error) {
    trouble = error instanceof Error ? (error.stack ?? error.message) : String(error);
  }
  const { user, system } = process.cpuUsage(before);
  parentPort?.postMessage({
    ms: (user + system) / 1000,
    memoryMb: process.memoryUsage.rss() / 1e6,
    trouble,
  });
});

parentPort?.postMessage({ ms: 0, trouble: null });
