/** What a draft says of lengths is in the unit that was asked for. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import type { SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { measurePlan } from '../../src/flow/resting-fabric.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { smallSpecs } from './wishes-arbitrary.ts';

const WISHES: SpecInput = { sizeMm: 203.2, stitchMm: 100 / 22, roundMm: 100 / 30 };

describe('the words of a draft', () => {
  it('say what whole stitches come to in cm or in inches', () => {
    expect(draftPlan(WISHES).compromises.join()).toMatch(/comes to 20\.\d cm instead of 20\.3 cm/);
    const inches = draftPlan({ ...WISHES, sizeMm: 206, units: 'inch' }).compromises.join();
    expect(inches).toMatch(/comes to \d[⅛¼⅜½⅝¾⅞]? in instead of 8⅛ in/);
    expect(inches).not.toMatch(/\bmm\b|\bcm\b/);
  });

  it('say nothing where the difference cannot be read from a tape', () => {
    expect(draftPlan({ ...WISHES, sizeMm: 200.02, units: 'cm' }).compromises).toEqual([]);
  });

  it('refuse a size in the same unit', () => {
    const tiny = { ...WISHES, sizeMm: 12 };
    expect(() => draftPlan(tiny)).toThrow(/square of 1\.2 cm has only/);
    expect(() => draftPlan({ ...tiny, units: 'inch' })).toThrow(/square of ½ in has only/);
  });

  it('tell of every flat draft how many of its shaping rows are wrong-side ones, and why', () => {
    let told = 0;
    for (const asked of fc.sample(smallSpecs, { seed: 2, numRuns: 30 })) {
      const { text, compromises } = draftPlan({ ...asked, worked: 'flat' });
      const shaped = parsePlan(text).rounds.filter(({ before, after }) => before !== after);
      const wrong = shaped.filter(({ wrongSide }) => wrongSide).length;
      const [words, ...others] = compromises.filter((line) => line.includes('shaping rows'));
      expect(others).toEqual([]);
      if (wrong === 0) expect(words).toBeUndefined();
      else {
        expect(words).toMatch(
          new RegExp(
            `^${wrong} of its ${shaped.length} shaping rows .*(?:more often than|less flat)`,
          ),
        );
        told++;
      }
    }
    expect(told).toBeGreaterThan(5);
  });

  it('leave the plan itself as it is, but for the inches beside its gauge', () => {
    const inInches = draftPlan({ ...WISHES, units: 'inch' }).text;
    expect(inInches).toContain('= 10 cm (4 in)');
    expect(inInches.replace(' (4 in)', '')).toBe(draftPlan(WISHES).text);
  });
});

it('say why a panel is left out of garter or seed, what would let it lie, and of a pair each half once', () => {
  const panel = { stitches: 'p2 2/2RC p2', crossEvery: 4, place: 'middle', paired: true } as const;
  // Nothing with a panel can be measured, and nothing without one is off.
  const measures = {
    measure: () => null,
    relax: () => ({ rimMm: 640, flatnessError: 0, mendable: false }),
  };
  const left = (ground: 'garter' | 'stockinette') =>
    draftPlan(
      { sizeMm: 160, stitchMm: 5, roundMm: 2.5, ground, panels: [panel] },
      measures,
    ).compromises.filter((words) => words.includes('left out'));
  const mirrored = 'The mirror image of the panel "p2 2/2RC p2" was left out with it.';
  const out =
    'The panel "p2 2/2RC p2" was left out: a piece of this size would not lie flat with it';
  expect(left('stockinette')).toEqual([`${out}.`, mirrored]);
  expect(left('garter')).toEqual([
    `${out}, since its knit stitches are higher than the garter beside them. Reverse stockinette as the ground is as high as they are.`,
    mirrored,
  ]);
});

const stitchesOf = ({ rounds, kinds }: Plan) =>
  rounds.flatMap(({ works }) => Array.from(works, (id) => kinds[id].name)).join(' ');

describe('a panel that is too high for its ground', () => {
  const wish = {
    sizeMm: 120,
    stitchMm: 5,
    roundMm: 2.5,
    ground: 'garter',
    panels: [{ stitches: 'p1 2/2RC p1', crossEvery: 4, place: 'middle' }],
  } as const;
  /** Flat but for crossed pieces that `isOff` says of; `settles` is what the table says of those. */
  const drafted = (isOff: (text: string) => boolean, settles: boolean) =>
    draftPlan(wish, {
      measure: measurePlan,
      relax: (plan) => {
        const flatnessError = isOff(stitchesOf(plan)) ? 0.05 : 0;
        return { rimMm: 480, flatnessError, mendable: false };
      },
      settles: () => settles,
    });
  const isCrossed = (text: string) => text.includes('RC');

  it('is kept where its own weight lays the piece level', () => {
    const { text, compromises } = drafted(isCrossed, true);
    expect(text).toContain('2/2 RC');
    expect(compromises.join(' ')).not.toContain('left out');
  });

  it('is left out with what was measured where it does not, and where it would lie is told', () => {
    // Along the corners it stands beside the decreases.
    const inMiddle = (text: string) => isCrossed(text) && !text.includes('k2tog p 2/2 RC');
    const corner = 'Along the corners';
    const { text, compromises } = drafted(inMiddle, false);
    expect(text).not.toContain('RC');
    expect(compromises.join(' ')).toContain('as by a rim 5 % off; blocking evens out 3 %.');
    expect(compromises.join(' ')).toContain(corner);
    expect(drafted(isCrossed, false).compromises.join(' ')).not.toContain(corner);
  });
});
