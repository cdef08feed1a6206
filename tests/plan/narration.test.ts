/**
 * Numbers told in free words, held against a square of 80 stitches that loses 2 on each of 4 needles in every second round: 80, 72,
 * 72, 64, 64 … 16 after 16 rounds, 8 of which decrease (worked by hand). A right sentence changes nothing; a wrong number
 * is an error in its line.
 */
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';

const PLAN = `Cast on 80 stitches, 20 on each of four needles, and join in the round.<cast>
Round 1: purl.
Round 2: *ssk, k16, k2tog; repeat from * on each needle<tail>.<dec>
Round 3: purl.
Round 4: *ssk, k14, k2tog; repeat from * on each needle.
Repeat rounds 3 and 4, with 2 stitches fewer between the decreases each time, until 16 stitches remain.<rep>
Break the yarn, draw it through the 16 stitches and fasten off.
<fin>`;

const LINE: Readonly<Record<string, number>> = { cast: 1, tail: 3, dec: 3, rep: 6, fin: 8 };

const TOLD: readonly (readonly [place: string, right: string, wrong: readonly string[]])[] = [
  [
    'dec',
    " You've lost eight, so 72 now.",
    [" You've lost six, so 72 now.", " You've lost eight, so 74 now."],
  ],
  [
    'dec',
    ' So two gone from each needle, eight gone in all.',
    [
      ' So two gone from each needle, ten gone in all.',
      ' So three gone from each needle, eight gone in all.',
    ],
  ],
  [
    'dec',
    ' Of this kind 8 sts fall away, thus 72 sts are left over.',
    [' Of this kind 8 sts fall away, thus 70 sts are left over.'],
  ],
  ['dec', ' Per decrease rd there fall away 8 st.', [' Per decrease rd there fall away 6 st.']],
  [
    'dec',
    ' In each decrease round 8 stitches disappear, 2 of them on each needle.',
    [' In each decrease round 8 stitches disappear, 3 of them on each needle.'],
  ],
  [
    'dec',
    ' With every such round the ring shrinks by 8 stitches.',
    [' With every such round the ring shrinks by 12 stitches.'],
  ],
  ['dec', ' From 80 to 72 in one go.', [' From 82 to 72 in one go.', ' From 80 to 74 in one go.']],
  ['dec', ' What was 80 is now 72.', [' What was 80 is now 71.']],
  [
    'tail',
    '; eight have vanished, so the needles now carry 18 apiece',
    ['; eight have vanished, so the needles now carry 16 apiece'],
  ],
  [
    'tail',
    ' (you lose 2 per needle, 8 in the whole round)',
    [' (you lose 2 per needle, 9 in the whole round)'],
  ],
  [
    'rep',
    ' At this point only 4 stitches are left on each needle tip.',
    [' At this point only 3 stitches are left on each needle tip.'],
  ],
  ['rep', ' The last decrease round is the 16th.', [' The last decrease round is the 15th.']],
  ['rep', ' That was the eighth decrease round.', [' That was the seventh decrease round.']],
  [
    'rep',
    ' By then the needles are sticking out like a hedgehog and only 16 stitches hold the lot together.',
    [
      ' By then the needles are sticking out like a hedgehog and only 12 stitches hold the lot together.',
    ],
  ],
  // A phrase without a verb, by what its number counts.
  ['dec', ' Still 72 sts, nothing to fear.', [' Still 74 sts, nothing to fear.']],
  ['dec', ' (i.e. 18 + 18 + 18 + 18)', [' (i.e. 18 + 18 + 17 + 18)']],
  ['dec', ' 8 sts fewer, thus 72.', [' 6 sts fewer, thus 72.']],
  ['dec', ' Each of the 4 needles counts 18 sts.', [' Each of the 4 needles counts 16 sts.']],
  ['tail', ' (2 sts down per needle)', [' (3 sts down per needle)']],
  [
    'rep',
    ' In the 6th round 56 were left, in the 10th 40.',
    [' In the 6th round 56 were left, in the 10th 44.'],
  ],
  [
    'rep',
    ' Round 8 ends with 48 sts, round 12 with 32.',
    [' Round 8 ends with 48 sts, round 12 with 36.'],
  ],
  ['rep', ' (16 rounds in all)', [' (15 rounds in all)']],
  ['rep', ' So far 16 rounds, 8 of which decrease.', [' So far 16 rounds, 7 of which decrease.']],
  ['rep', ' (round 16)', [' (round 17)']],
  ['rep', ' Halfway there at 40 sts.', [' Halfway there at 42 sts.']],
  [
    'dec',
    ' (each needle now carries 18; the ring has 72)',
    [' (each needle now carries 18; the ring has 74)'],
  ],
  ['rep', ' Stitch check: 16, i.e. 4/4/4/4.', [' Stitch check: 16, i.e. 4/4/3/4.']],
  [
    'rep',
    ' Rounds 4, 6, 8 and 10 have each cost 8 sts.',
    [' Rounds 4, 6, 8 and 10 have each cost 6 sts.'],
  ],
  ['cast', ', so that 4 parts arise.', [', so that 5 parts arise.']],
  ['cast', ' That makes four lots of 20.', [' That makes four lots of 22.']],
  [
    'fin',
    'Thread the 16 sts and close up the heart of the square.',
    ['Thread the 12 sts and close up the heart of the square.'],
  ],
];

function read(place: string, told: string) {
  const text = PLAN.replace(`<${place}>`, () => told).replace(/<\w+>/g, '');
  const plan = parsePlan(text);
  const errors = plan.diagnostics.filter((d) => d.severity === 'error');
  return { counts: plan.rounds.map((r) => r.after), errors };
}

describe('numbers told in free words', () => {
  const meant = [80, 72, 72, 64, 64, 56, 56, 48, 48, 40, 40, 32, 32, 24, 24, 16];

  it.each(TOLD)('%s: follows "%s"', (place, right) => {
    const { counts, errors } = read(place, right);
    expect(errors).toEqual([]);
    expect(counts).toEqual(meant);
  });

  it.each(TOLD.flatMap(([place, , wrong]) => wrong.map((told) => [place, told] as const)))(
    '%s: finds "%s"',
    (place, told) => {
      expect(read(place, told).errors.map((d) => d.from.line)).toContain(LINE[place]);
    },
  );

  it.each([
    ' Yarn per square: 9 g.',
    ' It takes me about 40 minutes to get this far.',
    ' Mine measures 16 cm.',
  ])('leaves numbers of other things alone: "%s"', (told) => {
    expect(read('rep', told).errors).toEqual([]);
  });

  it.each([
    ' Now you get rid of two more on each needle.',
    ' Two more are to go from each needle.',
    ' Get down to 64.',
    ' The 16 become 8 in one last round.',
  ])('takes no order for a telling: "%s"', (told) => {
    expect(read('rep', told).errors.map((d) => d.from.line)).toContain(LINE.rep);
  });
});
