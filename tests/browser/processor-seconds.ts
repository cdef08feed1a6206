/** Processor seconds of a process and all it started, ended ones included (proc(5), clock ticks of 10 ms). */
import { readdirSync, readFileSync } from 'node:fs';

/** In: process number. Out: seconds, 0 where the system does not tell. */
export function processorSeconds(root: number): number {
  const spent = new Map<number, number>();
  const parents = new Map<number, number>();
  try {
    for (const name of readdirSync('/proc').filter((entry) => /^\d+$/.test(entry))) {
      try {
        const stat = readFileSync(`/proc/${name}/stat`, 'utf8');
        const fields = stat
          .slice(stat.lastIndexOf(')') + 2)
          .split(' ')
          .map(Number);
        parents.set(Number(name), fields[1]);
        spent.set(Number(name), fields.slice(11, 15).reduce((sum, ticks) => sum + ticks, 0) / 100);
      } catch {
        // Ended meanwhile.
      }
    }
  } catch {
    return 0;
  }
  const within = (pid: number): boolean =>
    pid === root || (pid > 1 && within(parents.get(pid) ?? 0));
  return [...spent].reduce((sum, [pid, seconds]) => sum + (within(pid) ? seconds : 0), 0);
}
