/**
 * Lessons at the level of yarn: the join, the gap between needles, the cable. In: the slider's value. Out: what
 * the yarn model is asked to show, and one sentence a step. Why and what helps is common practice of the trade;
 * what it does is measured in the pictures.
 */
import { halfStitches } from '../../report/words/counts.ts';
import type { CloseUp, CloseUpJoin } from '../../worker/yarn-messages.ts';
import { fineLengthText } from '../state/units.ts';
import type { FindScene, Lesson, Scene, Shown } from './lesson.ts';

/** The yarn of all lessons: 22 stitches to 10 cm, with the usual yarn for that in a stitch. */
const KNITTING = { stitchMm: 100 / 22, loopMm: null } as const;

const mm = fineLengthText;

function join(method: CloseUpJoin, slackMm: number, name: string): Scene {
  return { name, shown: { kind: 'yarn', asked: { place: 'join', method, slackMm, ...KNITTING } } };
}

function closeUpOf(find: FindScene, scene: Scene): CloseUp | null {
  const found = find(scene.shown);
  return found?.kind === 'yarn' ? found.closeUp : null;
}

const PLAIN = 'Joined plainly';

export const JOIN_LESSON: Lesson = {
  id: 'join',
  title: 'Why does the join gap?',
  slider: {
    name: 'Slack left in the strand',
    min: 0,
    max: 12,
    step: 1,
    start: 5,
    words: mm,
  },
  steps: [
    {
      sentence: () =>
        'Work in the round is a spiral: the last stitch of a round ends one round above its first, and one strand, here in another colour, bridges the step.',
      scenes: () => [join('plain', 0, `${PLAIN}, no slack`)],
    },
    {
      sentence: () =>
        'The stitches beside that strand have nothing to pull against yet, so whatever slack is left in it stays there: compare the opening with the ordinary gap.',
      scenes: (slack) => [join('plain', slack, PLAIN), join('plain', 0, `${PLAIN}, no slack`)],
    },
    {
      sentence: () =>
        'In the second picture the first and the last cast-on stitch have changed places before round 1; the slack is the same.',
      scenes: (slack) => [join('plain', slack, PLAIN), join('crossed', slack, 'Ends crossed')],
    },
    {
      sentence: () =>
        'In the second picture one stitch more was cast on and worked together with the first; the slack is the same.',
      scenes: (slack) => [
        join('plain', slack, PLAIN),
        join('extra', slack, 'Extra stitch worked together'),
      ],
    },
  ],
};

type Tugged = 0 | 1 | 2;

function gap(slackMm: number, tugged: Tugged, name: string): Scene {
  const tugMm = tugged ? TUG_MM : 0;
  return {
    name,
    shown: { kind: 'yarn', asked: { place: 'needles', slackMm, tugged, tugMm, ...KNITTING } },
  };
}

/** Yarn that a tug takes out of a stitch, mm. Chosen: a visible tug that leaves a stitch. */
const TUG_MM = 1;
const UNTUGGED = 'As it is knitted';

export const LADDER_LESSON: Lesson = {
  id: 'ladder',
  title: 'Why does a ladder form?',
  slider: {
    name: 'Slack in every round',
    min: 0,
    max: 6,
    step: 1,
    start: 3,
    words: mm,
  },
  steps: [
    {
      sentence: () =>
        'Where two needles meet, one strand runs from the last stitch of the old needle to the first of the new one; knitted evenly it is like any other.',
      scenes: () => [gap(0, 0, 'No slack')],
    },
    {
      sentence: () =>
        'The needles stand at an angle, so the strand is drawn out a little in every round, always at the same place: the longer strands stand over one another like rungs.',
      scenes: (slack) => [gap(slack, 0, UNTUGGED), gap(0, 0, 'No slack')],
    },
    {
      sentence: () =>
        'In the second picture the first stitch of the new needle is tugged tight in every round: compare the openings.',
      scenes: (slack) => [gap(slack, 0, UNTUGGED), gap(slack, 1, 'First stitch tugged')],
    },
    {
      sentence: () =>
        'In the second picture it is the second stitch of the new needle that is tugged instead, as many teach: compare again.',
      scenes: (slack) => [gap(slack, 0, UNTUGGED), gap(slack, 2, 'Second stitch tugged')],
    },
  ],
};

function cable(everyRounds: number, name = `Crossed every ${everyRounds} rounds`): Scene {
  const shown: Shown = {
    kind: 'yarn',
    asked: {
      place: 'cable',
      over: 2,
      under: 2,
      lean: 1,
      everyRounds,
      besides: [-1, -1],
      ...KNITTING,
    },
  };
  return { name, shown };
}

/** The longest repeat that comes to rest in some seconds. Chosen. */
const SELDOM_ROUNDS = 8;

export const CABLE_LESSON: Lesson = {
  id: 'cable',
  title: 'Why does a cable pull in?',
  slider: {
    name: 'Crossed every',
    min: 3,
    max: SELDOM_ROUNDS,
    step: 1,
    start: 4,
    words: (value) => `${value} rounds`,
  },
  steps: [
    {
      sentence: () =>
        'At a crossing two stitches pass over two: their yarn goes a longer, slanting way but has only so much length, so it draws its neighbours together.',
      scenes: () => [cable(SELDOM_ROUNDS)],
    },
    {
      sentence: () =>
        'The more often it crosses, the fewer rounds lie between to give way, and the narrower the panel.',
      scenes: (value) => [cable(value), cable(SELDOM_ROUNDS)],
    },
    {
      sentence: (value, find) => {
        const lost = closeUpOf(find, cable(value))?.width;
        if (!lost) return 'What a crossing takes must be cast on in addition to keep the width.';
        const more = (lost.uncrossedMm - lost.crossedMm) / (lost.uncrossedMm / lost.stitches);
        return `To keep the width of plain fabric, cast on about ${halfStitches(more)} more for each such panel, and decrease as much away with it.`;
      },
      scenes: (value) => [cable(value)],
    },
  ],
};
