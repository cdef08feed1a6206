/**
 * The law of the reader: what could instruct and was not followed is an error. A word of a right plan is
 * garbled or taken out; either an error covers the place, or the loops are the same. Stitches that are taken
 * out of a round whose rest goes "to end" leave another right round: a small share may stay unnoticed.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import {
  garble,
  isNoticed,
  isRight,
  isTold,
  MODIFIERS,
  modify,
  planTexts,
} from './garbled-plans.ts';

/** Read when one is drawn: reading all of them takes longer than trying a part. */
const rightPlan = fc.constantFrom(...planTexts()).filter(isRight);
/** Seed fixed so that a failure can be repeated. */
const RUNS = { seed: 8, numRuns: runs(300) };
const MODIFIED = { seed: 8, numRuns: runs(100) };

const garbling = fc.tuple(
  rightPlan,
  fc.record({
    word: fc.double({ min: 0, max: 0.999, noNaN: true }),
    letter: fc.double({ min: 0, max: 0.999, noNaN: true }),
    how: fc.constantFrom('swap', 'drop', 'double', 'delete', 'nonsense' as const),
  }),
);

describe('the law of the reader', () => {
  it('notices garbled and missing words of right plans', () => {
    const missed: string[] = [];
    fc.assert(
      fc.property(garbling, ([text, how]) => {
        const garbled = garble(text, how);
        if (garbled && !isNoticed(text, garbled)) {
          missed.push(
            `${garbled.was} -> ${garbled.is}: ${garbled.text.split('\n')[garbled.line - 1]}`,
          );
        }
      }),
      RUNS,
    );
    // One of a tenth of the cases says nothing of the share; all of them do.
    const most = Math.max(1, 0.025 * RUNS.numRuns);
    expect(missed.length, missed.join('\n')).toBeLessThanOrEqual(most);
  });

  it('tells of words that change what an instruction says', () => {
    const missed: string[] = [];
    const share = fc.double({ min: 0, max: 0.999, noNaN: true });
    fc.assert(
      fc.property(rightPlan, share, fc.constantFrom(...MODIFIERS), (text, round, words) => {
        const changed = modify(text, round, words);
        if (changed && !isTold(changed))
          missed.push(`${words}: ${changed.text.split('\n')[changed.line - 1]}`);
      }),
      MODIFIED,
    );
    expect(missed.length, missed.join('\n')).toBeLessThanOrEqual(0.02 * MODIFIED.numRuns);
  });

  it.each([
    'Round 2: frobnicate the widget',
    'Round 2: purl the moon into every blue.',
    'Repeat ruonds 1 and 2 until 8 sts remain.',
    'Contineu to dec 8 sts every other round until 8 sts remain.',
    'Knti 4 rounds.',
    'Repeat the last rounds until it looks right.',
  ])('makes an error of "%s" on its line', (sentence) => {
    const plan = parsePlan(`Cast on 40 sts and join.\nRound 1: knit\n${sentence}\nBind off.`);
    expect(
      plan.diagnostics.filter((d) => d.severity === 'error').map((d) => d.from.line),
    ).toContain(3);
  });

  it.each([
    'This is my favourite part, and it goes quickly.',
    'Change to longer needles when the stitches crowd.',
    'Crown',
    'You will see the corners form.',
  ])('leaves "%s" alone', (sentence) => {
    const plan = parsePlan(`Cast on 40 sts and join.\nRound 1: knit\n${sentence}\nBind off.`);
    expect(plan.diagnostics).toEqual([]);
  });
});
