/**
 * One instruction in many wordings (`tests/plans/wordings`): a plan with `<<>>` where the instruction stands, then
 * below each `==>` one wording, the plainest first. All of them come to the same piece, without an error.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { PlanReader } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { eighthOf, whole } from '../runs.ts';
import { found } from './expectations.ts';

const FOLDER = join(import.meta.dirname, '../plans/wordings');

/** What a plan comes to, whatever its words; colours by the order in which they appear. */
function piece(plan: Plan): string[] {
  const colours: (string | undefined)[] = [];
  const colour = (name: string | undefined): string => {
    if (!colours.includes(name)) colours.push(name);
    return 'abcdefgh'[colours.indexOf(name)];
  };
  return [
    ...plan.diagnostics.filter((d) => d.severity === 'error').map((d) => d.message),
    `cast on ${plan.castOn}, ${plan.worked}, joined ${plan.join.method} with ${plan.join.halfTurns} half turns`,
    `${plan.ending}, gauge ${found(plan, 'gauge')}`,
    ...plan.rounds.map(
      (round, i) => `${i + 1} ${colour(round.colour)}: ${found(plan, `works ${i + 1}`)}`,
    ),
  ];
}

describe('wordings of one instruction', () => {
  for (const [k, file] of readdirSync(FOLDER).sort().entries()) {
    it(`reads every wording of ${file.replace('.txt', '')} alike`, () => {
      const [carrier, plain, ...others] = readFileSync(join(FOLDER, file), 'utf8')
        .split(/^==>\n/m)
        .map((part) => part.replace(/\n$/, ''));
      // As an editor reads them, one after the other: only the wording anew. A reader for each in the soak.
      const editing = new PlanReader();
      const reader = () => (whole ? new PlanReader() : editing);
      const read = (wording: string) =>
        piece(reader().read(`${carrier}\n`.replace('<<>>', () => wording)));
      const meant = read(plain);
      expect(meant.length).toBeGreaterThan(2);
      const misread = eighthOf(others, k).filter(
        (wording) => read(wording).join('\n') !== meant.join('\n'),
      );
      expect(misread.map((wording) => [wording, read(wording)])).toEqual([]);
    });
  }
});
