/** Text that the drafter writes reads back into the very stitches it was written from. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { stitchKind } from '../../src/plan/stitches/table.ts';
import { type DraftRound, planText } from '../../src/plan/write/plan-text.ts';
import { runs } from '../runs.ts';

const STITCHES = ['k', 'p', 'ssk', 'k2tog', 'yo', 'kfb', 'ktbl', '2/2 LC', '1/1 RPC', 'sl1 wyib'];

/** Rounds that work what is there, `sides` times the same; flat rows alternate. */
function roundsOf(
  choices: readonly (readonly string[])[],
  sides: number,
  perSide: number,
  flat: boolean,
): DraftRound[] {
  let count = perSide;
  return choices.map((wanted, i) => {
    const names: string[] = [];
    let left = count;
    count = 0;
    for (let k = 0; left > 0; k++) {
      const name = wanted[k % wanted.length];
      const kind = stitchKind(k < 40 ? name : 'k');
      const fits = kind && kind.consumes <= left ? kind : stitchKind('k');
      if (!fits) break;
      names.push(fits.name);
      left -= fits.consumes;
      count += fits.loops.length;
    }
    const round = Array.from({ length: sides }, () => names).flat();
    return { names: round, wrongSide: flat && i % 2 === 1, after: count * sides };
  });
}

describe('the text of a draft', () => {
  it('reads back into its stitches', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.constantFrom(...STITCHES), { minLength: 1, maxLength: 6 }), {
          minLength: 1,
          maxLength: 8,
        }),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 4, max: 24 }),
        fc.boolean(),
        fc.constantFrom<'drawn-up' | 'bound-off' | 'live'>('drawn-up', 'bound-off', 'live'),
        (choices, sides, perSide, flat, ending) => {
          const rounds = roundsOf(choices, sides, perSide, flat);
          const worked = flat ? 'flat' : 'round';
          const header = [flat ? 'Worked: flat, no seam' : 'Worked: in the round'];
          const text = planText({ header, castOn: sides * perSide, worked, rounds, ending });
          const plan = parsePlan(text);
          const read = plan.rounds.map((r) => Array.from(r.works, (id) => plan.kinds[id].name));
          expect(read, text).toEqual(rounds.map((r) => r.names));
          expect(plan.rounds.map((r) => r.after)).toEqual(rounds.map((r) => r.after));
          expect([plan.ending, plan.worked]).toEqual([ending, worked]);
        },
      ),
      { seed: 4_711, numRuns: runs(150) },
    );
  });
});
