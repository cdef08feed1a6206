/**
 * The chart in words, a row a line, for screen readers and for those who would rather read than look.
 * In: a Plan and the choices of its chart. Out: plain text: how it reads, then every row from the first with
 * what to work in working order and the stitches it leaves, then every abbreviation once.
 */

import { isPickedUp } from '../../plan/picked-up.ts';
import { joinStitches, type Plan, type PlanRound, stitchesAtEnd } from '../../plan/plan.ts';
import { UNWORKED } from '../../plan/stitches/stitch-kind.ts';
import { colourLabel } from '../../plan/write/colours.ts';
import { foldSequence, smallestPeriod } from '../../plan/write/fold-stitches.ts';
import { inColour } from '../../plan/write/sentences.ts';
import { castOnWords, counted, times } from '../../report/words/counts.ts';
import { inTerms, ownWords } from '../../report/words/terms.ts';
import { colourLines } from '../pattern/colour-lines.ts';
import { type ChartOptions, chartTitle } from './chart.ts';
import { leaning } from './chart-key.ts';
import { layOutChart } from './chart-layout.ts';

export function chartText(plan: Plan, options: ChartOptions = {}): string {
  const { terms = 'american', hand = 'right' } = options;
  const { repeats } = layOutChart(plan, options.part ?? 'side');
  const flat = plan.worked === 'flat';
  const word = flat ? 'row' : 'round';
  const lines = [
    `${chartTitle(plan, options)}: the chart in words`,
    '',
    `${counted(plan.rounds.length, word)}, from the first at the bottom of the chart. ` +
      `Each line gives the stitches in the order in which they are worked${flat ? ', as they are worked on the side that faces you' : ''}.` +
      (repeats > 1
        ? ` What follows "repeat" and a number, up to the next full stop or semicolon, is worked so often in all in the ${word}; the outline of the chart holds what is worked ${times(repeats)}.`
        : ''),
    '',
    `${isPickedUp(plan) ? 'Pick up and knit' : 'Cast on'} ${castOnWords(plan.castOn, joinStitches(plan))}${inColour(plan.colours?.castOn)}.`,
    ...plan.rounds.map((round, i) => rowLine(plan, round, i + 1, repeats)),
  ];
  const ending = {
    'drawn-up': `Draw the yarn through ${stitchesAtEnd(plan) === 1 ? 'the last stitch' : 'the stitches that remain'}.`,
    'bound-off': `Bind off${inColour(plan.colours?.ending)}.`,
    live: 'The stitches stay on the needle.',
  }[plan.ending];
  const used = new Set(plan.rounds.flatMap((round) => Array.from(round.works)));
  const key = plan.kinds
    .filter(({ name }, id) => used.has(id) && !['k', 'p', UNWORKED].includes(name))
    .map(({ name, words }) => `${name}: ${words}.`);
  if (key.length > 0) key.unshift('', 'Abbreviations:');
  const colours = colourLines(plan).map((line) => `${line}.`);
  if (colours.length > 0) key.push('', 'Colours:', ...colours);
  return (
    leaning(inTerms([...lines, ending, ...key].join('\n'), terms, ownWords(plan)), hand) + '\n'
  );
}

function rowLine(plan: Plan, round: PlanRound, n: number, repeats: number): string {
  const names = Array.from(round.works, (id) => plan.kinds[id].name);
  if (round.shortRow) {
    const { turnedAt, style } = round.shortRow;
    const worked = spoken(names.filter((name) => name !== UNWORKED));
    const turn = style === 'wrap' ? ', wrap the next stitch and turn' : ', turn';
    return `${rowLabel(plan, round, n)}: ${worked}${turnedAt === null ? '' : turn}. ${counted(round.after, 'stitch', 'stitches')}.`;
  }
  const after = counted(round.after, 'stitch', 'stitches');
  const all = allAlike(names);
  if (all) return `${rowLabel(plan, round, n)}: ${all} all. ${after}.`;
  const { begin, end } = plan.seam ?? { begin: 0, end: 0 };
  const [first, last] = round.wrongSide ? [end, begin] : [begin, end];
  const inside = names.slice(first, names.length - last);
  const block = inside.slice(0, repeats > 1 ? smallestPeriod(inside) : inside.length);
  const often = inside.length / block.length;
  const repeated = often > 1 ? `repeat ${times(often)}: ${spoken(block)}` : spoken(inside);
  const parts = [
    ...(first > 0 ? [`${spoken(names.slice(0, first))} for the seam`] : []),
    repeated,
    ...(last > 0 ? [`${spoken(names.slice(names.length - last))} for the seam`] : []),
  ].filter((part) => part !== '');
  return `${rowLabel(plan, round, n)}: ${parts.join('; ')}. ${after}.`;
}

/** The one word that a plain row needs; null where its stitches differ. */
function allAlike([name, ...others]: readonly string[]): 'knit' | 'purl' | null {
  const word = { k: 'knit', p: 'purl' } as const;
  const plain = name === 'k' || name === 'p' ? word[name] : null;
  return others.every((other) => other === name) ? plain : null;
}

function rowLabel(plan: Plan, { wrongSide, colour }: PlanRound, n: number): string {
  const side = wrongSide ? ', wrong side' : plan.worked === 'flat' ? ', right side' : '';
  return `${plan.worked === 'flat' ? 'Row' : 'Round'} ${n}${side}${colourLabel(colour)}`;
}

/**
 * `knit 28, k2tog`, `9 times knit 2 and purl 2`: counts are said, names with figures in them stay. No brackets, which
 * are not read aloud: what is worked several times ends with the next comma.
 */
function spoken(names: readonly string[]): string {
  const word = { k: 'knit', p: 'purl' } as const;
  const words = (name: string, count: number) =>
    name === 'k' || name === 'p'
      ? `${word[name]} ${count}`
      : count === 1
        ? name
        : `${count} times ${name}`;
  return foldSequence(names, words).replace(
    /\[([^\]]*)\] (\d+) times/g,
    (_, inner: string, often: string) =>
      `${often} times ${inner.replace(/, (?![^(]*\))/g, ' and ')}`,
  );
}
