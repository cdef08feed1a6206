/**
 * The corpus: plans in the varied ways that patterns are written, each with what it must come to.
 * Files `tests/plans/*.txt`: plan text, a line `==>`, then expectations, one a line:
 *   counts: 120*2 112      stitches after every round (`*n`: n rounds in a row)
 *   ending: drawn-up       (default live)
 *   worked: flat           (default round)
 *   works 3: ssk, k*28, k2tog      stitches of round 3 in working order
 *   markers 2: 30 60       markers after round 2
 *   label 4: Round 2 (repeat)
 *   title / sides / castOn / join / seam / gauge / yarn / needles / colours (of every round)
 *   error code 4:10        a diagnostic with its place; those not listed must not occur
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { found, spread } from './expectations.ts';
import { samePlan } from './meaning.ts';
import { writePlan } from './write-plan.ts';

const FOLDER = join(import.meta.dirname, '../plans');

describe('corpus of plans', () => {
  const files = readdirSync(FOLDER)
    .filter((f) => f.endsWith('.txt'))
    .sort();

  it('holds at least 80 plans', () => {
    expect(files.length).toBeGreaterThanOrEqual(80);
  });

  for (const file of files) {
    it(`reads ${file} as meant`, () => {
      const [text, expected] = readFileSync(join(FOLDER, file), 'utf8').split(/^==>\n/m);
      const plan = parsePlan(text);
      const diagnostics: string[] = [];
      let ending = 'live';
      let worked = 'round';
      let counts: string[] | null = null;
      for (const line of expected.split('\n')) {
        if (line.trim() === '') continue;
        if (/^(?:error|warning|note) /.test(line)) {
          diagnostics.push(line.trim());
          continue;
        }
        const m = /^([a-zA-Z]+(?: \d+)?):\s*(.*)$/.exec(line);
        if (!m) throw new RangeError(`cannot read the expectation "${line}"`);
        if (m[1] === 'ending') ending = m[2];
        else if (m[1] === 'worked') worked = m[2];
        else if (m[1] === 'counts') counts = spread(m[2]);
        else expect(`${m[1]}: ${found(plan, m[1])}`).toBe(`${m[1]}: ${m[2]}`);
      }
      expect(
        plan.diagnostics.map((d) => `${d.severity} ${d.code} ${d.from.line}:${d.from.column}`),
      ).toEqual(diagnostics);
      if (counts) expect(plan.rounds.map((r) => String(r.after))).toEqual(counts);
      expect(plan.ending).toBe(ending);
      expect(plan.worked).toBe(worked);

      const again = writePlan(plan);
      expect(samePlan(parsePlan(again), plan), `written back:\n${again}`).toBe(true);
    });
  }
});
