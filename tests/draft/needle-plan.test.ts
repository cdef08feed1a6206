import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { needleTable, planNeedles } from '../../src/draft/needle-plan.ts';
import { BUNCHING, divideNeedles, leastCordMm, type NeedleWay } from '../../src/draft/needles.ts';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { needleAdvice, needleLines, needleNames } from '../../src/paper/pattern/needle-words.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { jottedSquares } from '../paper/jotted-squares.ts';
import { runs } from '../runs.ts';

const SQUARE = parsePlan(draftPlan({ sizeMm: 200, stitchMm: 5, roundMm: 3.6 }).text);
const OUT = parsePlan(draftPlan({ sizeMm: 200, stitchMm: 5, roundMm: 3.6, direction: 'out' }).text);

/** Chosen by the plan, or so many double-pointed ones that hold the stitches. */
const DOUBLE_POINTED: readonly (NeedleWay | null)[] = [
  null,
  { kind: 'double-pointed', hold: 3 },
  { kind: 'double-pointed', hold: 4 },
];

describe('the needle plan', () => {
  it('goes from a circular needle to double-pointed ones for the close', () => {
    const phases = planNeedles(SQUARE, null, 5);
    expect(phases.map((p) => p.kind)).toEqual(['circular', 'double-pointed']);
    expect(phases[0].lengthMm).toBe(600);
    const lines = needleLines(phases, SQUARE, 'cm', 4);
    expect(lines[0]).toBe('Begin on a circular needle, 60 cm (24 in) long (160 sts).');
    expect(lines[1]).toMatch(
      /^Once round \d+ is worked, change to 4 double-pointed needles of .* \(\d+ sts, \d+ on each\)\.$/,
    );
  });

  it('tells the stitches of each needle as the table has them, also where sides do not divide over them', () => {
    const rounds = Array.from({ length: 24 }, (_, i) => 48 - 2 * i).map(
      (k) => `Next round: *ssk, k${k - 2}, k2tog; rep from * 5 times more.\nNext round: knit.`,
    );
    const hexagon = parsePlan(
      `Cast on 300 sts. Join in the round.\n${rounds.join('\n')}\nBind off.`,
    );
    expect(hexagon.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
    const phases = planNeedles(hexagon, null, 4, 6);
    const lines = needleLines(phases, hexagon, 'cm', 6);
    const change = phases.find((p) => p.kind === 'double-pointed');
    if (!change) throw new Error('it stays on the circular needle');
    const each = hexagon.rounds[change.from - 2].after / 3;
    expect(lines[phases.indexOf(change)]).toContain(`change to 3 double-pointed needles`);
    expect(lines[phases.indexOf(change)]).toContain(`sts, ${each} on each)`);
  });

  it('begins a centre on double-pointed needles and ends on a circular one', () => {
    expect(planNeedles(OUT, null, 5).map((p) => p.kind)).toEqual(['double-pointed', 'circular']);
  });

  it('takes one needle for a magic loop, as long as its one rule says, and one for flat work', () => {
    const [loop, ...none] = planNeedles(SQUARE, { kind: 'magic loop' }, 5);
    expect(none).toEqual([]);
    expect(loop.lengthMm).toBeGreaterThanOrEqual(leastCordMm(160 * 5));
    const flat = parsePlan(turnFlat(SQUARE).text);
    const phases = planNeedles(flat, null, 5);
    expect(phases.map((p) => p.kind)).toEqual(['flat']);
    expect(needleNames(phases, 'cm').join()).toContain('straight needles that hold 161 sts');
  });

  it('covers every round once, stretches no stitches and holds them all, for any size and gauge', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 60, max: 900 }),
        fc.integer({ min: 25, max: 90 }),
        fc.constantFrom('in' as const, 'out' as const),
        (sizeMm, tenths, direction) => {
          const stitchMm = tenths / 10;
          fc.pre(sizeMm / stitchMm > 6 && sizeMm / stitchMm < 120);
          const text = draftPlan({ sizeMm, stitchMm, roundMm: 0.7 * stitchMm, direction }).text;
          const plan = parsePlan(text);
          const counts = [plan.castOn, ...plan.rounds.map((round) => round.after)];
          let next = 0;
          const phases = planNeedles(plan, null, stitchMm);
          for (const phase of phases) {
            expect(phase.from).toBe(next);
            // None is bought for a round or two where its neighbours serve or it reaches on.
            if (phase.kind === 'circular' && phases.length > 1)
              expect(phase.to - phase.from).toBeGreaterThan(3);
            next = phase.to + 1;
            for (const count of counts.slice(phase.from, phase.to + 1)) {
              const fabricMm = count * stitchMm;
              if (phase.kind === 'circular') {
                expect(fabricMm).toBeGreaterThanOrEqual(phase.lengthMm);
                if (phase.lengthMm < 1500)
                  expect(fabricMm).toBeLessThanOrEqual(BUNCHING * phase.lengthMm * 1.34);
              } else {
                const each = Math.ceil(count / phase.hold) * stitchMm;
                expect(each).toBeLessThanOrEqual(BUNCHING * phase.lengthMm);
              }
            }
          }
          expect(next).toBe(counts.length);
        },
      ),
      { seed: 31, numRuns: runs(150) },
    );
  });
});

/** Sentences that say when to change needles, or that there are too few stitches on one. */
const CHANGES = /change to|fewer than two|no longer reach/;

it('every needle holds the stitches that it is given, also where sides do not divide over them', () => {
  fc.assert(
    fc.property(
      jottedSquares,
      fc.constantFrom(...DOUBLE_POINTED),
      fc.integer({ min: 25, max: 90 }),
      ({ text, sides }, way, tenths) => {
        const plan = parsePlan(text);
        const stitchMm = tenths / 10;
        for (const { kind, hold, from, to, lengthMm } of planNeedles(plan, way, stitchMm, sides)) {
          if (kind !== 'double-pointed') continue;
          const table = divideNeedles(plan, { kind, hold: hold === 3 ? 3 : 4 }, sides);
          const filled = [table.castOn, ...table.rounds.map(({ counts }) => counts)];
          for (const shares of filled.slice(Math.max(0, from - 1), to + 1))
            expect(Math.max(...shares) * stitchMm).toBeLessThanOrEqual(
              BUNCHING * (lengthMm - 2 * 25) + 1e-9,
            );
        }
      },
    ),
    { seed: 41, numRuns: runs(300) },
  );
});

it('the command and the page mind what the notes of the pattern mind, of a centre no twist', () => {
  for (const plan of [SQUARE, OUT]) {
    const { sections } = writePattern(plan, { terms: 'british' });
    const notes = sections.find(({ heading }) => heading === 'Notes')?.lines ?? [];
    const advice = needleAdvice(plan, ['double-pointed']);
    for (const line of advice.filter((one) => /twist|ladders/.test(one)))
      expect(notes).toContain(line);
    expect(advice.some((line) => /twist/.test(line))).toBe(plan === SQUARE);
  }
});

it('what to do with the needles is said once, whatever the way and the plan', () => {
  const ways: (NeedleWay | null)[] = [
    null,
    { kind: 'double-pointed', hold: 4 },
    { kind: 'double-pointed', hold: 3 },
    { kind: 'magic loop' },
    { kind: 'one circular' },
  ];
  for (const plan of [
    SQUARE,
    OUT,
    parsePlan(
      'CO 4 sts. Join in the round.\nRound 1: kfb around.\nRound 2: knit.\nRound 3: kfb around.\nBind off.',
    ),
  ])
    for (const way of ways) {
      const lines = needleLines(planNeedles(plan, way, 5), plan, 'cm', 4);
      const advice = needleAdvice(plan, lines);
      // Ladders stand between needles: a tube on one circular needle has none.
      const several = lines.some((line) => /double-pointed|magic loop/.test(line));
      expect(advice.some((line) => /ladders/.test(line))).toBe(several);
      expect(advice.filter((line) => CHANGES.test(line))).toEqual([]);
      for (const told of ['fewer than two', 'Begin on']) {
        expect(lines.filter((line) => line.includes(told)).length).toBeLessThanOrEqual(1);
      }
      const rounds = lines.flatMap((line) => /^Once round (\d+) is/.exec(line)?.[1] ?? []);
      expect(new Set(rounds).size).toBe(rounds.length);
    }
  const four = parsePlan(
    'CO 4 sts. Join in the round.\nRound 1: kfb around.\nRound 2: knit.\nBind off.',
  );
  expect(needleLines(planNeedles(four, null, 5), four, 'cm', 4)[1]).toMatch(
    /^Until round 1 is worked/,
  );
});

it('tells of the same needles in words and in figures, and of every stitch that has to be moved', () => {
  fc.assert(
    fc.property(
      jottedSquares,
      fc.constantFrom<NeedleWay | null>(
        ...DOUBLE_POINTED,
        { kind: 'magic loop' },
        { kind: 'one circular' },
      ),
      fc.integer({ min: 25, max: 90 }),
      ({ text, sides }, way, tenths) => {
        const plan = parsePlan(text);
        const phases = planNeedles(plan, way, tenths / 10, sides);
        const lines = needleLines(phases, plan, 'cm', sides);
        const table = needleTable(plan, way, phases, sides);
        if (!table) throw new Error('a square in the round has needles');
        const all = [table.castOn, ...table.rounds.map(({ counts }) => counts)];
        for (const { kind, from, to, hold } of phases)
          for (const counts of all.slice(from, to + 1))
            expect(counts.length).toBe(kind === 'circular' ? 1 : hold);
        const shared = phases.filter(({ kind }) => kind !== 'circular');
        expect(table.straddles.every(({ round }) => shared.some((p) => p.from <= round))).toBe(
          true,
        );
        const moves = lines.filter((line) =>
          /would be worked across both|would straddle/.test(line),
        );
        expect(moves.length > 0).toBe(table.straddles.length > 0);
      },
    ),
    { seed: 43, numRuns: runs(300) },
  );
});
