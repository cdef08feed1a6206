/** What the reader says of short rows: what a turn leaves open, and where rows that turn back end. */
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { madeBy } from '../../src/plan/plan.ts';

function flat(...rows: string[]) {
  const list = rows.map((row, i) => `Row ${i + 1}: ${row}`).join('\n');
  return parsePlan(`Worked: flat\nCast on 20 sts\n${list}\nBind off.\n`);
}

function inRound(...rounds: string[]) {
  const list = rounds.map((round, i) => `Round ${i + 1}: ${round}`).join('\n');
  return parsePlan(`Cast on 20 sts and join in the round\n${list}\nBind off.\n`);
}

const codes = (plan: ReturnType<typeof parsePlan>) =>
  plan.diagnostics.map((d) => d.code).filter((code) => code !== 'ending-missing');
const worked = (plan: ReturnType<typeof parsePlan>) => plan.rounds.map((r) => madeBy(plan, r));

describe('gaps at the turns of short rows', () => {
  it('are closed by wraps that are picked up, and nothing is said', () => {
    expect(
      codes(
        flat('k15, w&t', 'purl', 'knit, picking up the wraps and knitting them with their sts'),
      ),
    ).toEqual([]);
  });

  it('show a bar where wraps are not picked up', () => {
    expect(codes(flat('k15, w&t', 'purl', 'knit'))).toEqual(['wraps-not-picked-up']);
  });

  it('show a hole where a row is turned plainly', () => {
    expect(codes(flat('k15, turn', 'purl', 'knit'))).toEqual(['turn-leaves-hole']);
  });

  it('are closed by a double or a slipped stitch after the turn', () => {
    expect(codes(flat('k15, turn', 'DS, p to end', 'knit'))).toEqual([]);
    expect(codes(flat('k15, turn', 'sl1, p14', 'knit'))).toEqual([]);
  });

  it('stay open where no whole row follows', () => {
    const text = 'Worked: flat\nCast on 20 sts\nRow 1: knit\nRow 2: p12, turn\nRow 3: sl1, k11\n';
    expect(codes(parsePlan(text))).toContain('short-rows-not-closed');
  });

  it('cannot stand on a twisted join', () => {
    const text =
      'Join: plain, twisted by 1 half turn\nCast on 20 sts and join in the round\nRound 1: knit\nRound 2: k8, turn\nRound 3: p8, turn\nRound 4: knit\nBind off.\n';
    expect(codes(parsePlan(text))).toContain('short-rows-twisted');
  });
});

describe('rows that turn back in the round', () => {
  it('end where the round begins', () => {
    expect(worked(inRound('knit', 'k8, w&t', 'p to end', 'knit'))).toEqual([20, 8, 8, 20]);
  });

  it('pass the beginning of the round where they are told to', () => {
    expect(worked(inRound('knit', 'k8, w&t', 'p14, w&t', 'k to end', 'knit'))).toEqual([
      20, 8, 14, 6, 20,
    ]);
  });
});

describe('short rows repeated', () => {
  it('work the same stitches again', () => {
    const plan = flat('knit', 'purl', 'k12, w&t', 'p12', 'Repeat rows 3 and 4 twice more');
    expect(worked(parsePlan(plan.text.replace(/Row 5: /, '')))).toEqual([
      20, 20, 12, 12, 12, 12, 12, 12,
    ]);
  });
});

describe('wraps worked on the way', () => {
  it('count as the one stitch that they lie round', () => {
    const plan = flat(
      'k12, w&t',
      'p4, w&t',
      'k to wrapped st, pick up wrap and knit it together with the st, k2, w&t',
      'p to wrapped st, pick up wrap and purl it together with the st, p2, w&t',
      'knit to end, picking up the wrap and knitting it with its st',
      'purl, picking up the wrap',
    );
    // 4 to the wrap, the wrapped one, 2 more; back over those 7, the other wrapped one, 2 more; 5 are left on the right.
    expect(worked(plan)).toEqual([12, 4, 7, 10, 15, 20]);
    expect(codes(plan)).toEqual([]);
  });

  it('are the same however they are told', () => {
    const told = flat(
      'k12, wrap the next stitch and turn',
      'p to end',
      'knit to wrapped stitch, knit wrap with stitch, k3, w&t',
      'purl',
      'knit',
    );
    expect(worked(told)).toEqual([12, 12, 16, 16, 20]);
  });
});

describe('a wrap told in full', () => {
  it('is a turn, not a slipped stitch', () => {
    const plan = flat(
      'k12, bring yarn to front, slip next stitch, bring yarn to back, return slipped st to left needle, turn',
      'p to end',
      'knit, picking up the wrap',
    );
    expect(worked(plan)).toEqual([12, 12, 20]);
    expect(codes(plan)).toEqual([]);
  });
});
