/**
 * Properties of the plan language that hold for any text: reading ends and never throws, every round
 * works the stitches that are there, and a plan written out reads back to the same meaning.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { hasErrors, type Plan } from '../../src/plan/plan.ts';
import { closely, runs, whole } from '../runs.ts';
import { planMeaning, samePlan } from './meaning.ts';
import { writePlan } from './write-plan.ts';

/** Seed fixed so that a failure can be repeated. */
const RUNS = { seed: 20_240, numRuns: runs(120) };

const FOLDER = join(import.meta.dirname, '../plans');
const CORPUS = readdirSync(FOLDER)
  .filter((f) => f.endsWith('.txt'))
  .sort()
  .map((f) => readFileSync(join(FOLDER, f), 'utf8').split(/^==>\n/m)[0]);
const CORPUS_PLANS = CORPUS.map((text) => parsePlan(text));

function consumed(plan: Plan, i: number): number {
  let sum = 0;
  for (const id of plan.rounds[i].works) sum += plan.kinds[id].consumes;
  return sum;
}

function produced(plan: Plan, i: number): number {
  let sum = 0;
  for (const id of plan.rounds[i].works) sum += plan.kinds[id].loops.length;
  return sum;
}

/** The first promise of `Plan` that is broken, of those that can be checked without knowing the text. */
function brokenPromise(plan: Plan): string | null {
  const names = plan.kinds.map((k) => k.name);
  if (new Set(names).size !== names.length) return 'a stitch kind is listed twice';
  let count = plan.castOn;
  for (let i = 0; i < plan.rounds.length; i++) {
    const round = plan.rounds[i];
    const whole =
      round.n === i + 1 &&
      round.before === count &&
      consumed(plan, i) === round.before &&
      produced(plan, i) === round.after;
    if (!whole) return `round ${i + 1} does not follow from the one before`;
    let last = -1;
    for (const m of round.markers) {
      if (m <= last || m > round.after) return `a marker of round ${i + 1} stands nowhere`;
      last = m;
    }
    count = round.after;
  }
  const lines = plan.text.split(/\r\n|\r|\n/);
  for (const d of plan.diagnostics) {
    const { line, column } = d.from;
    if (d.message === '' || line < 1 || line > lines.length) return `${d.code} stands nowhere`;
    if (column > (lines[line - 1]?.length ?? 0) + 1) return `${d.code} stands beyond its line`;
    if (d.to.column > (lines[d.to.line - 1]?.length ?? 0) + 1)
      return `${d.code} ends beyond its line`;
    if (d.to.line * 1e7 + d.to.column < line * 1e7 + column)
      return `${d.code} ends before it begins`;
  }
  return null;
}

function expectConsistent(plan: Plan): void {
  expect(brokenPromise(plan)).toBeNull();
}

/** A repeat of stitches, with the number of loops it takes and leaves. */
interface Piece {
  readonly text: string;
  readonly takes: number;
  readonly leaves: number;
}

const STITCHES: readonly Piece[] = [
  { text: 'k1', takes: 1, leaves: 1 },
  { text: 'p1', takes: 1, leaves: 1 },
  { text: 'k1 tbl', takes: 1, leaves: 1 },
  { text: 'sl1 wyif', takes: 1, leaves: 1 },
  { text: 'k2tog', takes: 2, leaves: 1 },
  { text: 'ssk', takes: 2, leaves: 1 },
  { text: 's2kp', takes: 3, leaves: 1 },
  { text: 'yo', takes: 0, leaves: 1 },
  { text: 'm1l', takes: 0, leaves: 1 },
  { text: 'kfb', takes: 1, leaves: 2 },
  { text: '2/2 LC', takes: 4, leaves: 4 },
  { text: 'T3B', takes: 3, leaves: 3 },
  { text: '(k1, yo, k1) in next st', takes: 1, leaves: 3 },
];

const pieceList = fc
  .array(fc.tuple(fc.constantFrom(...STITCHES), fc.integer({ min: 1, max: 3 })), {
    minLength: 1,
    maxLength: 5,
  })
  .filter((list) => list.some(([piece]) => piece.takes > 0));

interface MadeRound {
  readonly text: string;
  readonly after: number;
}

/** One round over `before` stitches: a repeat as often as it fits, and plain stitches. */
function makeRound(
  n: number,
  before: number,
  list: readonly (readonly [Piece, number])[],
  style: number,
): MadeRound {
  const words = list.flatMap(([piece, times]) => new Array<string>(times).fill(piece.text));
  const takes = list.reduce((sum, [piece, times]) => sum + piece.takes * times, 0);
  const leaves = list.reduce((sum, [piece, times]) => sum + piece.leaves * times, 0);
  const times = Math.floor(before / takes);
  const rest = before - times * takes;
  const after = times * leaves + rest;
  // A count that runs away, or an empty needle, would only test the limits.
  if (times === 0 || after > 300 || after < 2) return { text: `Round ${n}: knit`, after: before };
  const tail = rest > 0 ? `, k${rest}` : '';
  const body = words.join(', ');
  const forms = [
    `Round ${n}: [${body}] ${times} times${tail}`,
    `Rnd ${n} - *${body}; rep from * to ${rest > 0 ? `last ${rest} sts` : 'end'}${tail}`,
    `R${n}. (${body}) x ${times}${tail}. (${after} sts)`,
    `Round ${n}: ${times > 1 ? `*${body}; rep from * ${times - 1} more times` : body}${tail}`,
  ];
  return { text: forms[style % forms.length], after };
}

const madePlan = fc
  .tuple(
    fc.integer({ min: 4, max: 60 }),
    fc.array(fc.tuple(pieceList, fc.nat(3)), { minLength: 1, maxLength: 8 }),
    fc.constantFrom('Bind off.', 'Break yarn and draw through all sts.', ''),
    fc.boolean(),
  )
  .map(([castOn, rounds, ending, marked]) => {
    let count = castOn;
    const counts: number[] = [];
    const lines = rounds.map(([list, style], i) => {
      const round = makeRound(i + 1, count, list, style);
      count = round.after;
      counts.push(count);
      return round.text;
    });
    const start = `Cast on ${castOn} sts${marked ? ', place marker' : ''} and join.`;
    return { text: [start, ...lines, ending].join('\n'), counts };
  });

describe('reading a plan', () => {
  it('gets the counts of any plan made of repeats that fit', () => {
    fc.assert(
      fc.property(madePlan, ({ text, counts }) => {
        const plan = parsePlan(text);
        expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        expect(plan.rounds.map((r) => r.after)).toEqual(counts);
        expectConsistent(plan);
      }),
      RUNS,
    );
  });

  it('survives being written out', () => {
    fc.assert(
      fc.property(madePlan, ({ text }) => {
        const plan = parsePlan(text);
        const read = parsePlan(writePlan(plan));
        expect(hasErrors(read)).toBe(false);
        expect(planMeaning(read)).toEqual(planMeaning(plan));
      }),
      RUNS,
    );
  });

  it('is consistent for every plan of the corpus, mistakes included', () => {
    for (const plan of CORPUS_PLANS) expectConsistent(plan);
  });

  it.each([
    [
      'a number told twice and once not followed',
      'Cast on 24 sts.\nRounds 1(, 3 and 5: knit.Rounds 3-9: \nRounds 2, 4: purl.\nRound 6: (k1, k2tog) to end.\n',
    ],
    ['an empty first line that ends in two characters', '\r\nRnd 1: knit\nBO all sts\n'],
    [
      'a lone carriage return inside a table',
      'Cast on 8 sts.\nRnd 1: knit\nR\t4: *k1, yo, k3\r times (24 sts)\nRnd 5: knix k5\n',
    ],
  ])('ends and points into the text: %s', (_, text) => {
    expectConsistent(parsePlan(text));
  });

  it('never throws and stays consistent on plans with characters changed', () => {
    const mutated = fc
      .tuple(
        fc.constantFrom(...CORPUS),
        fc.array(
          fc.record({
            at: fc.nat(2000),
            remove: fc.nat(4),
            insert: fc.oneof(
              fc.constantFrom('(', ')', '[', '*', ' to end', ' 9', '9999999', 'k', ', ', '\n', 'm'),
              fc.constantFrom('rep from *', 'to last 2 sts', 'sm', 'pm', ' times', '–', '×', ' '),
              fc.string({ maxLength: 4, unit: 'binary' }),
            ),
          }),
          { minLength: 1, maxLength: 6 },
        ),
      )
      .map(([text, edits]) => {
        let out = text;
        for (const { at, remove, insert } of edits) {
          const place = out.length === 0 ? 0 : at % (out.length + 1);
          out = out.slice(0, place) + insert + out.slice(place + remove);
        }
        return out;
      });
    fc.assert(
      fc.property(mutated, (text) => {
        expectConsistent(parsePlan(text));
      }),
      { ...RUNS, numRuns: runs(500) },
    );
  });

  it('never throws on any text', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 400, unit: 'binary' }), (text) => {
        expectConsistent(parsePlan(text));
      }),
      { ...RUNS, numRuns: runs(500) },
    );
    const words = fc.array(
      fc.constantFrom(
        ...'Round 1: 2 k p k2tog ssk yo * ( ) [ ] , ; . - to end last sts before marker pm sm rep from times Repeat rounds until remain Cast on 40 each side as set knit purl bind off Work every 4th decrease round around leaving loosely even Then in this way fewer between markers \n'.split(
          ' ',
        ),
      ),
      { maxLength: 80 },
    );
    fc.assert(
      fc.property(words, (list) => {
        const text = `Cast on 40 sts\n${list.join(' ')}`;
        expectConsistent(parsePlan(text));
      }),
      { ...RUNS, numRuns: runs(500) },
    );
  });

  it('gives a plan with mistakes that can still be written out and means the same', () => {
    for (const plan of CORPUS_PLANS) {
      expect(samePlan(parsePlan(writePlan(plan)), plan), plan.text).toBe(true);
    }
  });
});

describe('texts made to be slow', () => {
  // A reading that grows faster than the text takes minutes, beyond any limit of the test.
  // A quarter of each here: it would still take minutes if reading grew as the square.
  const part = whole ? 1 : 4;
  const cases: Record<string, string> = {
    'open brackets': `Cast on 20\nRound 1: ${'('.repeat(100_000 / part)}`,
    'nested repeats': `Cast on 20\nRound 1: ${'['.repeat(29)}k1${'] 999999 times'.repeat(29)}`,
    'nested repeats of nothing': `Cast on 20\nRound 1: ${'['.repeat(29)}pm${'] 999999 times'.repeat(29)}`,
    spaces: `Cast on 20\nRound 1: k${' '.repeat(400_000 / part)}x`,
    'dashes and spaces': `Cast on 20\nRound 1: k${'- '.repeat(200_000 / part)}x`,
    asterisks: `Cast on 20\nRound 1: ${'*k1 '.repeat(100_000 / part)}`,
    digits: `Cast on 20\nRound 1: ${'1 '.repeat(200_000 / part)}`,
    'the word and': `Cast on 20\nRound 1: ${'and '.repeat(100_000 / part)}`,
    hyphens: `Cast on 20\nRound 1: ${'-a'.repeat(200_000 / part)}`,
    'open lines': `Cast on 5\n${'k1,\n'.repeat(19_000 / part)}`,
    'numbered rounds': `Cast on 1\n${Array.from({ length: 19_000 / part }, (_, i) => `Round ${i + 1}: k1`).join('\n')}`,
    'endless repeat': 'Cast on 4\nRound 1: k\nRepeat round 1 9999999 times',
    'huge range': 'Cast on 1\nRounds 1-999999: k',
    abbreviations: `${Array.from({ length: 26 }, (_, i) => `Abbreviation: q${i} = ${i ? `[q${i - 1}, q${i - 1}]` : '[k1, k1]'}`).join('\n')}\nCast on 4\nRound 1: q25`,
    'semicolons behind work': `Cast on 40 sts.\n${'k1, *k2, yo; work 2 rounds and '.repeat(12_000 / part)}`,
    'needles without a mark between': `Cast on 20\nRound 1: ${'needle 1: k4 '.repeat(16_000 / part)}`,
    'rounds joined by and': `Cast on 40 sts.\n${'work 2 rounds and '.repeat(6000 / part)}`,
    'rounds joined by and within a round': `Cast on 40 sts.\nRound 1: ${'work 2 rounds and '.repeat(6000 / part)}`,
    'one long header': `Gauge: ${'1 '.repeat(200_000 / part)}`,
  };
  // Every fourth of them in `npm test`.
  for (const [name, text] of Object.entries(cases).filter((_, i) => closely || i % 4 === 0)) {
    it(`reads ${name} in time`, () => {
      expectConsistent(parsePlan(text));
    }, 60_000);
  }

  it('says that a text beyond the limits is too long', () => {
    for (const text of ['k'.repeat(1_000_001), '\n'.repeat(20_001)]) {
      expect(parsePlan(text).diagnostics.map((d) => d.code)).toContain('text-too-long');
    }
  });
});
