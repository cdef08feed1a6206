/**
 * Lessons about a whole piece: the twisted cast-on, and the rate of decreasing. In: the slider's value. Out: plan
 * texts for the sheet model, and one sentence a step whose figures come from what is shown.
 */
import { parsePlan } from '../../plan/parse.ts';
import { retimedText, SCHEDULES, threeRates } from '../state/retiming.ts';
import { fixed } from '../state/units.ts';
import type { Band, FindScene, Lesson, Scene } from './lesson.ts';

function bandOf(find: FindScene, scene: Scene): Band | null {
  const found = find(scene.shown);
  return found?.kind === 'fabric' ? found.knitted : null;
}

/** A narrow band, so that it can be seen how it turns. Chosen. */
function band(halfTurns: number, name: string): Scene {
  const join = halfTurns > 0 ? `Join: plain, twisted by ${halfTurns} half turns\n` : '';
  const text = `Title: Band
Gauge: 22 sts and 30 rounds to 10 cm in stockinette
${join}
Cast on 112 sts. Join in the round.
Rounds 1-10: knit.
Bind off all sts.
`;
  return { name, shown: { kind: 'fabric', text, band: true, advise: false } };
}

const STRAIGHT = 'Not twisted';
const turns = (value: number) => (value === 1 ? '1 full turn' : `${value} full turns`);
const twisted = (value: number) => band(2 * value, `Twisted by ${turns(value)}`);

function linkedWords(found: Band | null): string {
  if (!found || found.linked === null) return '';
  const times = Math.abs(Math.round(found.linked));
  if (times === 0) return 'its two edges are not linked';
  return `its two edges are linked ${times === 1 ? 'once' : `${times} times`}`;
}

export const TWIST_LESSON: Lesson = {
  id: 'twist',
  title: 'What does a twisted cast-on do?',
  slider: { name: 'Twisted by', min: 1, max: 3, step: 1, start: 1, words: turns },
  steps: [
    {
      sentence: (_value, find) => {
        const linked = linkedWords(bandOf(find, band(0, STRAIGHT)));
        return `Before joining, all stitches should hang on the same side of the needle; then the knitting is a plain ring${linked && `: ${linked}`}.`;
      },
      scenes: () => [band(0, STRAIGHT)],
    },
    {
      sentence: (value, find) => {
        const linked = linkedWords(bandOf(find, twisted(value)));
        return `If the cast-on winds round the needle before you join, every round is knitted on to that turn${linked && `: ${linked}`}.`;
      },
      scenes: (value) => [twisted(value), band(0, STRAIGHT)],
    },
    {
      sentence: () =>
        'Pulling, blocking or knitting on never changes how often the edges are linked, because yarn cannot pass through yarn: only ripping back to the cast-on does.',
      scenes: (value) => [twisted(value)],
    },
    {
      sentence: (_value, find) => {
        const half = bandOf(find, band(1, 'Half a turn'));
        const edges = half ? half.cells.boundaries : null;
        const words = edges === 1 ? ' has a single edge' : ' would be another thing';
        return `A band with half a turn${words}; between a cast-on and a needle, which stay two rings, only full turns can happen.`;
      },
      scenes: () => [band(1, 'Half a turn'), band(2, `Twisted by ${turns(1)}`)],
    },
  ],
};

const SQUARE = `Title: Square of the lesson
Gauge: 22 sts and 30 rounds to 10 cm in stockinette
Cast on 96 sts (24 each side). Join in the round.
Round 1: knit.
Round 2: *ssk, k to last 2 sts of side, k2tog; rep from * 3 times more.
Repeat rounds 1 and 2 until 16 sts remain.
Next round: *ssk, k2tog; rep from * to end.
Break yarn and draw through remaining sts.
`;
const EVERY_SECOND = 2;

const texts = new Map<number, string>();

/** The square with its decreases on the rounds of a schedule. */
function square(every: number): Scene {
  let text = texts.get(every);
  if (text === undefined) {
    text = retimedText(parsePlan(SQUARE), every)?.text ?? SQUARE;
    texts.set(every, text);
  }
  const words = SCHEDULES.find((rate) => rate.every === every)?.words ?? '';
  return {
    name: `Decreased ${words}`,
    shown: { kind: 'fabric', text, band: false, advise: every === EVERY_SECOND },
  };
}

function roundWords(found: Band | null): string {
  const report = found?.report;
  if (!report || !Number.isFinite(report.coneAngleDeg)) return '';
  return `the rounds make ${fixed(report.coneAngleDeg, 0)}° round the centre, where 360° lies flat`;
}

/** The schedules on both sides of the flat one, which the report of the slow square advises. */
function rates(find: FindScene): readonly number[] {
  const flat = bandOf(find, square(EVERY_SECOND))?.report?.advice.find((a) => a.every !== null);
  return threeRates(EVERY_SECOND, flat?.every ?? null).map((rate) => rate.every);
}

export const RATE_LESSON: Lesson = {
  id: 'rate',
  title: 'Why does it cup, lie flat or ruffle?',
  slider: {
    name: 'Decreased',
    min: 0,
    max: SCHEDULES.findIndex(({ every }) => every === 3),
    step: 1,
    start: SCHEDULES.findIndex(({ every }) => every === EVERY_SECOND),
    words: (value) => SCHEDULES[value]?.words ?? '',
  },
  steps: [
    {
      sentence: (_value, find) => {
        const words = roundWords(bandOf(find, square(EVERY_SECOND)));
        return `Eight stitches are lost on every 2nd round of this square${words && `: ${words}`}.`;
      },
      scenes: () => [square(EVERY_SECOND)],
    },
    {
      sentence: (value, find) => {
        const every = SCHEDULES[value]?.every ?? EVERY_SECOND;
        const words = roundWords(bandOf(find, square(every)));
        return `The same stitches lost on other rounds make rounds that are too short for their distance from the centre, just long enough, or too long${words && ` (${words})`}.`;
      },
      scenes: (value) => [square(SCHEDULES[value]?.every ?? EVERY_SECOND)],
    },
    {
      sentence: () =>
        'Side by side: the flattest of the usual schedules for this gauge stands in the middle, one that decreases more often on its left, one that decreases less often on its right.',
      scenes: (_value, find) => {
        const all = rates(find);
        return all.map(square);
      },
    },
  ],
};
