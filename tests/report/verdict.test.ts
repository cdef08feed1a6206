/** The verdict's rule on hand-made facts, and its promises over random plans (the long sweep is in soak). */
import { describe, expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { judge, stands, type VerdictFacts } from '../../src/report/verdict.ts';
import { DEFAULT_BANDS } from '../../src/report/verdict-bands.ts';
import { checkVerdict, checkVerdicts } from './verdict-rule.ts';

const facts = (
  slow: number,
  fast: number,
  posture: Partial<VerdictFacts['posture']> = {},
  more: Partial<VerdictFacts['angle']> = {},
): VerdictFacts => ({
  shape: 'disc',
  angle: {
    round: true,
    coneAngleRad: 2 * Math.PI * (1 + fast - slow),
    rimMm: 600,
    girthSpread: 0,
    surplus: fast - slow,
    slow,
    fast,
    slowAt: 0.25,
    fastAt: 0.75,
    ...more,
  },
  posture: { riseMm: 40, cupMm: 30, waveMm: 30, hills: 3, sideMm: 200, ...posture },
  laid: null,
  pressed: () => 0.05,
});
const word = (f: VerdictFacts) => judge(f, DEFAULT_BANDS).verdict;

describe('the verdict', () => {
  it('names what the rounds and the sheet say together', () => {
    expect(word(facts(0.1, 0))).toBe('cups');
    expect(word(facts(0, 0.1))).toBe('ruffles');
    expect(word(facts(0.1, 0.08))).toBe('cup inside, ruffled rim');
    const inside = { slowAt: 0.75, fastAt: 0.25 };
    expect(word(facts(0.1, 0.08, {}, inside))).toBe('ruffled inside, cupped rim');
    expect(word(facts(0.08, 0.08, { cupMm: 2 }, inside))).toBe('saddle');
    expect(word(facts(0.01, 0.01))).toBe('buckles');
    expect(word({ ...facts(0, 0), shape: 'tube' })).toBe('tube');
    expect(word({ ...facts(0, 0), shape: 'twisted band' })).toBe('twisted band');
  });

  it('stands before the piece lies on its table unless its weight may lay it flat', () => {
    const near = { ...facts(0.004, 0), pressed: () => 0.006 };
    expect(stands(near, DEFAULT_BANDS)).toBe(false);
    expect(stands({ ...near, pressed: () => 0.02 }, DEFAULT_BANDS)).toBe(true);
    expect(stands(facts(0.004, 0, { riseMm: 0.5 }), DEFAULT_BANDS)).toBe(true);
    // Whatever stands is the word of any way to lie.
    for (let k = 0; k < 60; k++) {
      const pressed = () => 0.0007 * k;
      const one = { ...facts(0.001 * k, 0.0003 * k, { riseMm: 1 + (k % 7) }), pressed };
      if (!stands(one, DEFAULT_BANDS)) continue;
      for (const riseMm of [0, 1, 3, 30])
        expect(word({ ...one, laid: { ...one.posture, riseMm } })).toBe(word(one));
    }
  });

  it('never calls a level piece cupped or ruffled', () => {
    expect(word(facts(0.1, 0, { riseMm: 0.5 }))).toBe('flat after blocking');
    expect(word(facts(0.02, 0, { riseMm: 0.5 }))).toBe('flat');
  });

  it('judges a ring with a hole by its own depth, not by a centre that it does not have', () => {
    const lines = ['Gauge: 22 sts and 30 rounds = 10 cm', 'Cast on 152 sts.'];
    lines.push('Round 1: increase 8 sts evenly.', 'Round 2: knit.', 'Bind off.');
    const report = knit(lines.join('\n'), { advise: false }).knitted?.report;
    // Two rounds, 7 mm: a flat ring round the same hole is hardly longer or shorter than that.
    expect(Math.abs(report?.surplusRimMm ?? Number.NaN)).toBeLessThan(25);
  });

  it('tells the half that cups and the half that ruffles', () => {
    const text = (outer: number, inner: number) => {
      let count = 80;
      const lines = ['Gauge: 20 sts and 28 rounds = 10 cm', 'Cast on 80 sts.'];
      for (let n = 1; count > 12; n++) {
        const every = count > 44 ? outer : inner;
        if (n % every === 0) count -= 8;
        lines.push(
          `Round ${n}: ${n % every === 0 ? 'decrease 8 sts evenly' : 'knit'}. (${count} sts)`,
        );
      }
      return `${lines.join('\n')}\nDraw the yarn through the remaining sts.\n`;
    };
    const verdict = (outer: number, inner: number) =>
      knit(text(outer, inner), { advise: false }).knitted?.report;
    expect(verdict(1, 3)?.verdict).toBe('cup inside, ruffled rim');
    expect(verdict(1, 3)?.reasons.join(' ')).toMatch(/Rounds .* too fast and rounds .* too slowly/);
    expect(['ruffled inside, cupped rim', 'saddle']).toContain(verdict(3, 1)?.verdict);
  });

  it('agrees with angle, rim and rise over random plans', () => {
    const tally = checkVerdicts(2026, 0, 20);
    expect(tally.size).toBeGreaterThan(3);
  });

  it('tells no height on the table of a piece that still tumbles there', () => {
    const text = `Gauge: 30.16 sts and 60.31 rounds = 10 cm
Cast on 24 sts.
Round 1: k3, k2tog, k3, k2tog, k2tog, k5, k2tog, k3, k2tog. (19 sts)
Round 2: k2, k2tog, k9, k2tog, k4. (17 sts)
Round 3: k3, k2tog, k8, k2tog, k2. (15 sts)
Round 4: k1, k2tog, k2, k2tog, k2, k2tog, k1, k2tog, k1. (11 sts)
Round 5: k2tog, k1, k2tog, k1, k2tog, k2tog, k1. (7 sts)
Draw the yarn through the remaining sts.
`;
    expect(checkVerdict(text)).toBe('cups');
    expect(knit(text, { advise: false }).knitted?.report.lying).toBeNull();
  });
});

it('a ring worked even is a tube, however its fabrics differ in width', () => {
  const text = [
    'Gauge: 22 sts and 28 rounds = 10 cm in stockinette',
    'Gauge: 16 sts and 36 rounds = 10 cm in garter',
    'Cast on 48 sts. Join in the round.',
    'Round 1: purl.',
    'Round 2: knit.',
    'Rounds 3-10: repeat rounds 1 and 2.',
    'Rounds 11-20: knit.',
    'Bind off.',
  ].join('\n');
  const report = knit(text, { advise: false }).knitted?.report;
  expect(report?.verdict).toBe('tube');
  expect(report?.surplusRimMm).toBe(0);
  expect(report?.reasons[0]).toMatch(/longest rounds are \d+ % longer/);
});

it.each([
  [6, 92, 'tube'],
  [12, 88, 'tube'],
  [6, 72, 'cups'],
])(
  'a ring of %i rounds that goes from 96 to %i stitches and stays open is told: %s',
  (rounds, left, word) => {
    const each = 96 / (96 - left);
    const text = [
      'Gauge: 22 sts and 30 rounds = 10 cm in stockinette',
      'Cast on 96 sts. Join in the round.',
      `Rounds 1-${rounds}: *k2, p2; rep from * to end.`,
      `Round ${rounds + 1}: *k${each - 2}, k2tog; rep from * to end. (${left} sts)`,
      'Bind off.',
    ].join('\n');
    expect(knit(text, { advise: false }).knitted?.report.verdict).toBe(word);
  },
);
