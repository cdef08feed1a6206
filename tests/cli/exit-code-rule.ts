/** No command ends with 0 on a piece that one would not knit as told; shared by the quick test and the long sweep. */
import { expect } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { knit } from '../../src/knit.ts';
import { projectOfPlan } from '../../src/paper/project-file.ts';
import type { Report } from '../../src/report/report.ts';
import { whole } from '../runs.ts';
import { memoryIo } from './memory-io.ts';

/**
 * What each command hands over, `null` where that is no piece to knit: counts, an answer, yarn, or a plan of its own making (`draft`
 * and `grade` have tests of their own).
 */
export const HANDED: Readonly<Record<string, readonly (readonly string[])[] | null>> = {
  check: null,
  cell: null,
  patch: null,
  join: null,
  relax: null,
  compare: null,
  draft: null,
  grade: null,
  write: [[], ['--json'], ['-o', 'out']],
  chart: [[], ['--text'], ['--part', 'whole', '-o', 'out'], ['--json']],
  needles: [[], ['--json']],
  schematic: [[], ['--json']],
  'test-knits': null,
  blanket: [
    ['--border-cm', '1'],
    ['--border-cm', '1', '--json'],
  ],
};

/** Written out again, so that it does not change unnoticed. */
const TO_KNIT = ['flat', 'flat after blocking', 'tube', 'twisted band'];

async function codeOf(args: readonly string[], text: string): Promise<number> {
  const project = { ...projectOfPlan(text, 'Piece'), blanket: LAID };
  const io = memoryIo({ p: args[0] === 'blanket' ? JSON.stringify(project) : text });
  return run([...args], io);
}

const LAID = { rows: [['plan-1']], targetMm: null, easeShare: 0.03 };

/** `take`: which of the ways to call a command; returns the verdict. */
export async function checkExitCodes(
  text: string,
  take: (ways: number) => number,
): Promise<string> {
  const { knitted } = knit(text, { advise: false });
  if (!knitted) throw new Error(`cannot be relaxed:\n${text}`);
  const { report } = knitted;
  for (const [name, ways] of Object.entries(HANDED)) {
    if (!ways || !applies(name, report)) continue;
    const args = [name, 'p', ...ways[take(ways.length)]];
    const about = `${args.join(' ')}: ${report.verdict}\n${text}`;
    const code = await codeOf(args, text);
    expect(code, about).not.toBe(2);
    expect(code === 0, about).toBe(isToKnit(report));
    if (report.relaxation.converged && code !== 0 && (whole || name === 'write'))
      expect(await codeOf([...args, '--accept-unflat'], text), `accepted: ${about}`).toBe(0);
  }
  return report.verdict;
}

function isToKnit({ verdict, relaxation }: Report): boolean {
  return relaxation.converged && TO_KNIT.includes(verdict);
}

/** Squares alone make a blanket, and a tube has no measures to block to. */
function applies(name: string, { corners, verdict }: Report): boolean {
  if (name === 'blanket') return corners === 4;
  return name !== 'schematic' || !['tube', 'twisted band'].includes(verdict);
}
