/**
 * Reporter: after the tests, the slowest files with their processor seconds and their budget. Files over it are named,
 * never failed: speed is measured by `npm run bench`. A browser's own processor time is not counted.
 */
import { relative } from 'node:path';
import type { Reporter, TestModule } from 'vitest/node';

/** Processor seconds a file may take. Chosen: all files in under three minutes on two cores. */
const BUDGET_S = 3;
/** Files that have reason for more; each says why. */
const LARGER_S: Readonly<Record<string, number>> = {};
const LINES = 12;

interface Timed {
  readonly name: string;
  readonly spent: number;
  readonly passed: number;
  readonly budget: number;
}

export default class FileBudget implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    if (modules.length < 2) return;
    const files = modules.map(timed).sort((a, b) => b.spent - a.spent);
    const over = files.filter(({ spent, budget }) => spent > budget).length;
    const all = files.reduce((sum, { spent }) => sum + spent, 0);
    const lines = files
      .slice(0, Math.max(LINES, over))
      .map(
        ({ name, spent, passed, budget }) =>
          `${spent.toFixed(1).padStart(8)} ${passed.toFixed(1).padStart(8)} ${String(budget).padStart(7)}  ${spent > budget ? 'over  ' : '      '}${name}`,
      );
    console.log(
      `\nSeconds by file: ${files.length} files, ${all.toFixed(0)} processor seconds, ${over} over budget\n` +
        `   spent   passed  budget\n${lines.join('\n')}\n`,
    );
  }
}

function timed(module: TestModule): Timed {
  const { duration, collectDuration } = module.diagnostic();
  const name = relative(module.project.config.root, module.moduleId);
  const passed = (duration + collectDuration) / 1000;
  const spent = module.meta().processorSeconds ?? passed;
  return { name, spent, passed, budget: LARGER_S[name] ?? BUDGET_S };
}
