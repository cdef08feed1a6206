import fc from 'fast-check';
import { expect, it } from 'vitest';
import { redraft } from '../../src/draft/rework/redraft.ts';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { flatterPlan } from '../../src/draft/search/flatter-plan.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { edgesOf, edgeWays } from '../../src/plan/edge-ways.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';

const castOns = fc.constantFrom(
  '',
  'a tubular cast-on',
  'a provisional cast-on',
  'an i-cord cast-on',
  'a pinhole cast-on',
  'a German twisted cast-on',
  'an Estonian braided cast-on',
);
const bindOffs = fc.constantFrom(
  '',
  'purlwise',
  'knitwise',
  'with a sewn bind-off',
  'with an i-cord bind-off',
  'with a very stretchy bind-off',
);

it('a pattern casts on and binds off as the designer does, round or flat, and reads back so', () => {
  fc.assert(
    fc.property(
      castOns,
      bindOffs,
      fc.integer({ min: 1, max: 4 }),
      fc.boolean(),
      (castOn, bindOff, rounds, turned) => {
        const text = [
          `Cast on 24 sts${castOn && ` with ${castOn}`}. Join in the round.`,
          ...Array.from({ length: rounds }, (_, i) => `Round ${i + 1}: knit.`),
          `Bind off all sts${bindOff && ` ${bindOff}`}.`,
        ].join('\n');
        const round = parsePlan(text);
        expect(round.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        const plan = turned ? parsePlan(turnFlat(round).text) : round;
        const ways = edgeWays(plan);
        const written = writePattern(plan).text;
        const ring = castOn.includes('pinhole');
        expect(written).toContain(
          `with ${castOn === '' || (turned && ring) ? 'a long-tail cast-on' : castOn}`,
        );
        // Purled off on the wrong side is knitted off.
        const other = turned && rounds % 2 === 1 && /wise/.test(bindOff);
        const faced = other ? (bindOff === 'purlwise' ? 'knitwise' : 'purlwise') : bindOff;
        if (bindOff)
          expect(written, text).toMatch(new RegExp(`Bind off all sts (?:loosely )?${faced}`));
        else expect(written).toContain('Bind off all sts loosely');
        const again = parsePlan(written);
        expect(
          again.diagnostics.filter((d) => d.severity !== 'note'),
          written,
        ).toEqual([]);
        expect([again.castOn, again.ending, again.rounds.length]).toEqual([
          plan.castOn,
          'bound-off',
          rounds,
        ]);
        expect(edgeWays(again).bindOff).toBe(ways.bindOff);
      },
    ),
    { seed: 3, numRuns: runs(200) },
  );
});

const UNMEASURED = { measure: () => null, relax: () => null };
/** Every timing is taken for a flat one: what is looked at is how it is written. */
const FLAT = {
  measure: () => ({
    stitchMm: [],
    courseMm: [],
    turningRad: [],
    coneAngleRad: 2 * Math.PI,
    flatnessError: 0,
  }),
  atRest: () => 0,
};
const NUMBERS = {
  corners: 4,
  flatRate: 5,
  spreadRate: 4,
  widths: { stitches: [24, 48], widthMm: [120, 240], roundMm: 3.6, corners: 4 },
};

it('a plan timed anew or at another size begins and ends as the designer’s does', () => {
  const begins = fc.constantFrom(
    'Cast on 48 sts.',
    'Cast on 48 sts with a tubular cast-on.',
    'Cast on 48 sts using a German twisted cast-on.',
    'Pick up and knit 48 sts round the edge.',
  );
  fc.assert(
    fc.property(begins, bindOffs, fc.integer({ min: 1, max: 3 }), (begin, bindOff, every) => {
      const shaped = (n: number) => `*ssk, k${n}, k2tog, k1; rep from * 3 times more.`;
      const rounds = [7, 5, 3].flatMap((n) => [shaped(n), ...Array(every - 1).fill('knit.')]);
      const text = [
        `Gauge: 20 sts and 28 rounds = 10 cm`,
        `${begin} Join in the round.`,
        ...rounds.map((round, i) => `Round ${i + 1}: ${round}`),
        `Bind off all sts${bindOff && ` ${bindOff}`}.`,
      ].join('\n');
      const plan = parsePlan(text);
      expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
      const larger = { sizeMm: 90, stitchMm: 5, roundMm: 100 / 28, corners: 4 };
      const advised = flatterPlan(plan, NUMBERS, FLAT);
      expect(advised).not.toBeNull();
      for (const written of [
        redraft(plan, every + 1).text,
        gradePlan(plan, larger, UNMEASURED).text,
        ...(advised ? [advised.plan.text] : []),
      ]) {
        const again = parsePlan(written);
        expect(
          again.diagnostics.filter((d) => d.severity !== 'note'),
          written,
        ).toEqual([]);
        expect(edgesOf(again), written).toEqual(edgesOf(plan));
      }
    }),
    { seed: 5, numRuns: runs(100) },
  );
});

it('takes no needle for a way to cast on, and no stitch for one to bind off', () => {
  for (const text of [
    'With a long circular cast on 96 sts. Join.\nRound 1: knit.\nBind off all sts.',
    'CO 96 sts. Join.\nRound 1: *sl1 knitwise, k1; rep from * to end.\nBind off.',
    'CO 9 sts. Work flat.\nRow 1: bind off 3 sts, sl1 knitwise, k5.\nBind off.',
  ])
    expect(edgeWays({ text }), text).toEqual({ castOn: null, bindOff: null });
});

it('says of a centre what the designer’s own cast-on leaves', () => {
  const centre = (castOn: string) =>
    writePattern(
      parsePlan(
        `Cast on 8 sts${castOn}. Join in the round.\nRound 1: *k1, yo; rep from * to end.\nRound 2: knit.\nBind off.`,
      ),
      { stitchMm: 5 },
    ).text;
  expect(centre('')).toMatch(/Closed-center cast-on: .*\n- An ordinary edge of 8 sts would leave/);
  expect(centre(' with a pinhole cast-on')).not.toMatch(/Closed-center|hole of about/);
  expect(centre(' with a crochet cast-on')).toContain(
    'A crochet cast-on of 8 sts leaves a hole of about 1.3 cm',
  );
});
