/**
 * The corpus: plans in the varied ways that patterns are written, each with what it must come to.
 * Files `tests/plans/*.txt`: plan text, a line `==>`, then expectations, one a line:
 *   counts: 120*2 112      stitches after every round (`*n`: n rounds in a row)
 *   ending: drawn-up       (default live)
 *   worked: flat           (default round)
 *   works 3: ssk, k*28, k2tog      stitches of round 3 in working order
 *   markers 2: 30 60       markers after round 2
 *   label 4: Round 2 (repeat)
 *   title / sides / castOn / join / seam / gauge / yarn / needles
 *   error code 4:10        a diagnostic with its place; those not listed must not occur
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan, PlanRound } from '../../src/plan/plan.ts';
import { samePlan } from '../../src/plan/write/meaning.ts';
import { writePlan } from '../../src/plan/write/write-plan.ts';

const FOLDER = join(import.meta.dirname, '../plans');

function spread(list: string): string[] {
  return list
    .trim()
    .split(/\s+/)
    .filter((item) => item !== '')
    .flatMap((item) => {
      const m = /^(.+)\*(\d+)$/.exec(item);
      return m ? new Array<string>(Number(m[2])).fill(m[1]) : [item];
    });
}

function works(plan: Plan, round: PlanRound | undefined): string {
  if (!round) return 'no such round';
  const out: string[] = [];
  for (let i = 0; i < round.works.length; ) {
    let j = i + 1;
    while (j < round.works.length && round.works[j] === round.works[i]) j++;
    const { name } = plan.kinds[round.works[i]];
    out.push(j - i > 1 ? `${name}*${j - i}` : name);
    i = j;
  }
  return out.join(', ');
}

function found(plan: Plan, key: string): string {
  const n = Number(/\d+$/.exec(key)?.[0]);
  const round = plan.rounds[n - 1];
  switch (key.replace(/ \d+$/, '')) {
    case 'works':
      return works(plan, round);
    case 'markers':
      return [...(round?.markers ?? [])].join(' ');
    case 'label':
      return round?.label ?? '';
    case 'title':
      return plan.title;
    case 'sides':
      return String(plan.sides);
    case 'castOn':
      return String(plan.castOn);
    case 'join':
      return `${plan.join.method} ${plan.join.halfTurns}`;
    case 'seam':
      return plan.seam ? `${plan.seam.begin} ${plan.seam.end}` : 'none';
    case 'gauge':
      return plan.gauges
        .map((g) => `${g.fabric ?? '-'} ${g.stitchMm.toFixed(3)} ${g.roundMm?.toFixed(3) ?? '-'}`)
        .join('; ');
    case 'yarn':
      return plan.yarn
        ? `${plan.yarn.weight ?? '-'} ${plan.yarn.tex?.toFixed(1) ?? '-'} ${plan.yarn.ballGrams?.toFixed(1) ?? '-'} ${plan.yarn.ballMetres?.toFixed(1) ?? '-'}`
        : 'none';
    case 'needles':
      return String(plan.needles?.mm ?? null);
    case 'kinds':
      return plan.kinds.map((k) => k.name).join('; ');
    default:
      throw new RangeError(`unknown expectation "${key}"`);
  }
}

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

      for (const text2 of [writePlan(plan), writePlan(withoutSteps(plan))]) {
        expect(samePlan(parsePlan(text2), plan), `written back:\n${text2}`).toBe(true);
      }
    });
  }
});

function withoutSteps(plan: Plan): Plan {
  return { ...plan, rounds: plan.rounds.map((r) => ({ ...r, steps: undefined })) };
}
