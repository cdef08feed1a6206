import { describe, expect, it } from 'vitest';
import { edgesLinked } from '../../src/app/lessons/edges-linked.ts';
import type { Found, Shown } from '../../src/app/lessons/lesson.ts';
import { sceneKey, usesSlider } from '../../src/app/lessons/lesson.ts';
import { compared } from '../../src/app/lessons/lesson-figures.ts';
import { LESSON_LIST, lessonOf } from '../../src/app/lessons/lesson-list.ts';
import { lessonFragment, lessonOfFragment } from '../../src/app/lessons/lesson-state.ts';
import { canRelax, prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { startShapes } from '../../src/relax/starts/starts.ts';

const nothing = () => null;

/** Every value that a slider can stand at. */
function values({ min, max, step }: { min: number; max: number; step: number }): number[] {
  return Array.from({ length: Math.round((max - min) / step) + 1 }, (_, k) => min + k * step);
}

describe('the lessons', () => {
  it('ask only for plans without mistakes, at every value of their sliders', () => {
    const texts = new Set<string>();
    for (const lesson of LESSON_LIST) {
      for (const value of values(lesson.slider)) {
        for (const step of lesson.steps) {
          for (const { shown } of step.scenes(value, nothing)) {
            if (shown.kind === 'fabric') texts.add(shown.text);
          }
        }
      }
    }
    expect(texts.size).toBeGreaterThan(8);
    for (const text of texts) {
      const plan = parsePlan(text);
      expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      expect(canRelax(plan)).toBe(true);
    }
  });

  it('have a slider in the steps that it moves, and in some of each', () => {
    for (const lesson of LESSON_LIST) {
      const moved = lesson.steps.map((step) => usesSlider(lesson, step));
      expect([lesson.id, moved.includes(true)]).toEqual([lesson.id, true]);
      // The sentences stand on paper too, where nothing moves.
      for (const step of lesson.steps)
        expect(step.sentence(lesson.slider.start, nothing, 'cm')).not.toMatch(/\bslider\b/);
    }
  });

  it('name no figure of what they show before it has been worked out', () => {
    for (const lesson of LESSON_LIST) {
      for (const step of lesson.steps) {
        const words = step.sentence(lesson.slider.start, nothing, 'cm');
        expect(words).toMatch(/^[A-Z].*[^.]\.$/);
        // What a plan says (2nd round, round 1) is not measured; lengths, shares and angles are.
        expect(words).not.toMatch(/\d\s?(?:mm|cm|%)|(?<!, )linked (?:once|\d)/);
      }
    }
  });

  it('tell which of two openings is the narrower one, and by what their figures come to', () => {
    const opening = (diameterMm: number) =>
      ({ kind: 'yarn', closeUp: { opening: { diameterMm } } }) as unknown as Found;
    expect(compared(opening(2.6), opening(1.3), 'cm')).toMatch(/second picture is 50 % narrower/);
    expect(compared(opening(1.2), opening(1.5), 'cm')).toMatch(/second picture is 25 % wider/);
    expect(compared(opening(1.2), opening(0.01), 'cm')).toMatch(/second picture no opening/);
    expect(compared(opening(1.2), opening(1.2), 'cm')).toBe('Both pictures have the same opening.');
    expect(compared(opening(0.01), opening(1.2), 'cm')).toBe('');
  });

  it('say of a piece what its report says', () => {
    const [step] = lessonOf('rate').steps;
    const [scene] = step.scenes(0, nothing);
    const { shown } = scene;
    if (shown.kind !== 'fabric') throw new Error('the lesson shows a piece');
    const knitted = relax(prepare(parsePlan(shown.text)), { advise: false });
    const found: Found = {
      kind: 'fabric',
      knitted: {
        ...knitted,
        metric: knitted.measured.metric,
        positions: knitted.sheet.positions,
        linked: null,
      },
    };
    const find = (asked: Shown) => (sceneKey(asked) === sceneKey(shown) ? found : null);
    expect(step.sentence(0, find, 'cm')).toContain(
      `${knitted.report.coneAngleDeg.toFixed(0)}° round the centre`,
    );
  });

  it('open from a link at the step and value that it was made at', () => {
    for (const lesson of LESSON_LIST) {
      const state = { lesson, step: lesson.steps.length - 1, value: lesson.slider.max };
      expect(lessonOfFragment(lessonFragment(state))).toEqual(state);
    }
    expect(lessonOfFragment('#lesson=join')?.step).toBe(0);
    expect(lessonOfFragment('#lesson=join.99.9999')).toEqual({
      lesson: lessonOf('join'),
      step: lessonOf('join').steps.length - 1,
      value: lessonOf('join').slider.max,
    });
    for (const wrong of ['#lesson=', '#lesson=nothing.1.1', '#lesson=join.1.1<b>', '#plan=t.x']) {
      expect(lessonOfFragment(wrong)).toBeNull();
    }
  });
});

describe('the edges of a band', () => {
  it('are linked once for every full turn of the cast-on, whatever its size', () => {
    for (const [castOn, rounds, halfTurns] of [
      [60, 6, 0],
      [60, 6, 2],
      [96, 12, 4],
      [140, 9, 6],
    ]) {
      const join = halfTurns ? `Join: plain, twisted by ${halfTurns} half turns\n` : '';
      const text = `${join}Gauge: 20 sts and 28 rounds to 10 cm\nCast on ${castOn} sts. Join in the round.\nRounds 1-${rounds}: knit.\nBind off.\n`;
      const { graph, measured } = prepare(parsePlan(text));
      const [{ positions }] = startShapes(measured.metric);
      const linked = edgesLinked(graph, positions) ?? Number.NaN;
      expect(Math.abs(linked)).toBeCloseTo(halfTurns / 2, 6);
    }
  });

  it('are one edge for an odd number of half turns: nothing to be linked with', () => {
    const text =
      'Join: plain, twisted by 1 half turn\nGauge: 20 sts and 28 rounds to 10 cm\nCast on 60 sts. Join in the round.\nRounds 1-6: knit.\nBind off.\n';
    const { graph, cells, measured } = prepare(parsePlan(text));
    const [{ positions }] = startShapes(measured.metric);
    expect(edgesLinked(graph, positions)).toBeNull();
    expect(cells.boundaries).toBe(1);
  });
});
