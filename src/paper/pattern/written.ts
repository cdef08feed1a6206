/**
 * The written pattern as a technical editor would pass it: size, materials, gauge and swatch, needles,
 * abbreviations used and no others, notes, rounds with their counts, finishing.
 * In: a Plan and what is known of the finished piece. Out: sections for the page and one text for files,
 * which reads back into the same plan.
 */

import { planNeedles, wayOfPlan } from '../../draft/needle-plan.ts';
import type { NeedleWay } from '../../draft/needles.ts';
import { edgeWays } from '../../plan/edge-ways.ts';
import { type Plan, stitchesAtEnd } from '../../plan/plan.ts';
import { isUnworked } from '../../plan/stitches/stitch-kind.ts';
import { colourInWords } from '../../plan/write/colours.ts';
import { workedHeader } from '../../plan/write/header.ts';
import { counted } from '../../report/words/counts.ts';
import type { LengthUnit } from '../../report/words/length.ts';
import { inTerms, ownWords, type Terms } from '../../report/words/terms.ts';
import { liesFlat } from '../../report/words/verdict-words.ts';
import { yarnNeeded } from '../../report/words/yarn.ts';
import { leaning } from '../chart/chart-key.ts';
import { castOnLines, endingLines, growsFromCentre } from './cast-on-words.ts';
import { colourLines } from './colour-lines.ts';
import { markersUsed } from './landmarks.ts';
import { middleStitches } from './marked-middle.ts';
import type { MarkedSides } from './marked-sides.ts';
import { needleLines, needleNames } from './needle-words.ts';
import { type Ground, gaugeLines, patternGauges } from './pattern-gauges.ts';
import { lineText, type RoundLine, roundLines } from './round-lines.ts';
import { sidesToMark } from './sides-to-mark.ts';
import { blockTo, type FinishedSize, shapeName, sizeLines } from './size-words.ts';
import { countLines } from './stitch-counts.ts';
import { swatchLine } from './swatch-words.ts';
import { finishing, notes, notions, type Writing } from './technique-notes.ts';
import type { YarnUse } from './yarn-use.ts';

/** With the size and stand of the piece at rest, where it is known: nothing is promised of blocking without. */
export interface WrittenOptions extends Partial<FinishedSize> {
  readonly terms?: Terms;
  readonly units?: LengthUnit;
  readonly yarnUse?: YarnUse | null;
  /** Needles to write for. Default: whatever suits the plan. */
  readonly way?: NeedleWay | null;
  /** Width of a stitch of the ground, mm: lengths of needles follow from it. */
  readonly stitchMm?: number | null;
  /** What the sizes were found with: the gauge of a plan that states none, and the fabric of one that names none. */
  readonly ground?: Ground | null;
  readonly hand?: 'right' | 'left';
  /** Every round in a line of its own, as a pattern for several sizes tells it. */
  readonly everyRound?: boolean;
  /** One of several sizes in a pattern, which tells the size of each once. */
  readonly severalSizes?: boolean;
}

export interface Section {
  readonly heading: string;
  readonly lines: readonly string[];
}

export interface WrittenPattern {
  readonly title: string;
  readonly sections: readonly Section[];
  /** The whole as plain text in the plan language. */
  readonly text: string;
}

export function writePattern(plan: Plan, options: WrittenOptions = {}): WrittenPattern {
  const { terms = 'american', units = 'cm', hand = 'right', stitchMm = null } = options;
  const gauges = patternGauges(plan, options.ground ?? null);
  const lines = roundLines(plan, options.everyRound);
  const body = lines.map(lineText).join('\n');
  const marked = sidesToMark(plan);
  const { sides } = marked;
  const way = options.way ?? wayOfPlan(plan);
  const phases = stitchMm === null ? [] : planNeedles(plan, way, stitchMm, sides);
  const writing: Writing = {
    plan,
    terms,
    units,
    several: phases.length === 0 || phases.some(({ kind }) => kind !== 'circular'),
    stitchMm,
    hand,
    sides,
    ways: edgeWays(plan),
    body,
  };
  const title =
    plan.title || inTerms(titleOf(plan, options.shape ?? '', marked.unlike ? 1 : sides), terms);
  const size = {
    sizeMm: options.sizeMm ?? null,
    shape: options.shape ?? '',
    extents: options.extents,
    tube: options.tube,
    rimMm: options.rimMm,
    cut: options.cut,
    across: options.across,
    verdict: options.verdict ?? null,
  };
  const blocked = blockTo(size, units);
  const easeTo = blocked !== null && options.severalSizes ? 'the size told above' : blocked;
  // What stands up is not pinned out.
  const pinned = !size.verdict || liesFlat(size.verdict);
  const own = ownWords(plan);
  const said = (list: readonly string[]) =>
    list.map((line) => leaning(inTerms(line, terms, own), hand));
  const sections: Section[] = [
    { heading: 'Size', lines: sizeLines(size, units) },
    {
      heading: 'Materials',
      lines: materialLines(plan, options.yarnUse ?? null, { units, terms }, [
        needleSize(plan, needleNames(phases, units), terms),
        `Also: ${said(notions(writing, pinned)).join(', ')}`,
      ]),
    },
    { heading: 'Gauge', lines: gaugeLines(gauges, plan.worked, units) },
    { heading: 'Swatch', lines: swatchLine(gauges, plan.worked, units) },
    {
      heading: 'Needle plan',
      lines: phases.length > 0 ? needleLines(phases, plan, units, sides) : [],
    },
    { heading: 'Abbreviations', lines: abbreviationLines(plan, body) },
    { heading: 'Notes', lines: notes(writing) },
    { heading: 'Colours', lines: colourLines(plan) },
    { heading: 'Pattern', lines: patternLines(writing, lines, marked) },
    { heading: 'Stitch counts', lines: countLines(plan, lines) },
    { heading: 'Finishing', lines: finishing(writing, easeTo, pinned) },
  ]
    .filter((section) => section.lines.length > 0)
    .map(({ heading, lines: list }) => ({
      heading: inTerms(heading, terms),
      // What the designer wrote of her yarn and needles stays as it is.
      lines: heading === 'Materials' ? list : said(list),
    }));
  return { title, sections, text: patternText(plan, [`Title: ${title}`], sections) };
}

/** A title for a plan that has none: what it is and which way it grows. */
function titleOf(plan: Plan, shape: string, sides: number): string {
  const name = shapeName(shape, sides);
  if (plan.worked === 'flat' && !plan.seam) return `${name}, worked flat`;
  const last = stitchesAtEnd(plan);
  const way = growsFromCentre(plan)
    ? 'from the centre out'
    : last < plan.castOn
      ? 'from the edge in'
      : 'in the round';
  return `${name}, ${way}${plan.worked === 'flat' ? ', worked flat' : ''}`;
}

function materialLines(
  plan: Plan,
  use: YarnUse | null,
  { units, terms }: { readonly units: LengthUnit; readonly terms: Terms },
  others: readonly string[],
): string[] {
  const lines: string[] = [];
  if (plan.yarn) lines.push(`Yarn: ${plan.yarn.text}`);
  if (use) {
    const { length, mass, colours } = yarnNeeded(use, units);
    const balls = (n: number | null) => (n === null ? '' : `: ${counted(n, 'ball')}`);
    lines.push(
      `Yarn needed: about ${length} (${mass}) with tails and allowance${balls(use.balls)}`,
      ...colours.map((one, i) => {
        const look = plan.colours?.words[one.colour];
        const name = `${colourInWords(one.colour)}${look ? ` (${look})` : ''}`;
        return `Of which ${inTerms(name, terms, ownWords(plan))}: about ${one.length} (${one.mass})${balls(use.colours[i].balls)}`;
      }),
    );
  }
  return [...lines, ...others];
}

function needleSize(plan: Plan, names: readonly string[], terms: Terms): string {
  // Her own line may be a sentence; here it goes on.
  const size =
    plan.needles?.text.replace(/[\s.]+$/, '') ?? inTerms('the size that gives the gauge', terms);
  return `Needles: ${size}${names.length > 0 ? `; ${names.join('; ')}` : ''}`;
}

/** Words of the pattern itself that need explaining where they are used. */
const WORDS: readonly (readonly [RegExp, string, string])[] = [
  [/\bpm\b/, 'pm', 'place marker'],
  [/\bsm\b/, 'sm', 'slip marker'],
  [/\brep\b/, 'rep', 'repeat'],
  [/\bsts?\b/, 'st(s)', 'stitch(es)'],
  [
    /w&t/,
    'w&t',
    'wrap and turn: yarn to the other side, slip the next stitch, yarn back round it, return the stitch, turn',
  ],
  [/\(RS\)/, 'RS', 'right side'],
  [/\(WS\)/, 'WS', 'wrong side'],
];

function abbreviationLines(plan: Plan, body: string): string[] {
  const used = new Set(plan.rounds.flatMap((round) => Array.from(round.works)));
  const lines = plan.kinds
    .filter((kind, id) => used.has(id) && !isUnworked(kind))
    .map((kind) => ({ name: kind.name, words: kind.words }));
  for (const [found, name, words] of WORDS) if (found.test(body)) lines.push({ name, words });
  return lines
    .sort((a, b) => a.name.localeCompare(b.name, 'en'))
    .map(({ name, words }) => `${name}: ${words}`);
}

function patternLines(
  { plan, ways }: Writing,
  lines: readonly RoundLine[],
  marked: MarkedSides,
): string[] {
  return [
    ...castOnLines(plan, ways),
    ...lines.map(lineText),
    ...endingLines(plan, markersLeft(plan, marked), ways),
  ];
}

/** Markers on the needles at the end: the start of a round always has one. */
function markersLeft(plan: Plan, { sides, rounds }: MarkedSides): number {
  const kept = rounds >= plan.rounds.length;
  const used = markersUsed(plan);
  if (used.stitches > 0) return used.sides + used.stitches;
  if (plan.worked === 'round') return kept ? sides : 1;
  if (middleStitches(plan)) return 1;
  return kept ? sides - 1 : 0;
}

/** Plain text: header lines that the plan language knows, then the rest under its headings. */
export function patternText(
  plan: Plan,
  head: readonly string[],
  sections: readonly Section[],
): string {
  const parts: string[] = [...head, workedHeader(plan.worked, plan.seam)];
  const { method, halfTurns } = plan.join;
  if (plan.worked === 'round' && (method !== 'plain' || halfTurns > 0))
    parts.push(
      `Join: ${method === 'extra' ? 'extra stitch' : method}${halfTurns > 0 ? `, twisted by ${counted(halfTurns, 'half turn')}` : ''}`,
    );
  for (const { heading, lines } of sections) {
    parts.push('');
    if (heading === 'Materials') parts.push(...lines);
    else if (lines.length === 1 && heading !== 'Pattern') parts.push(`${heading}: ${lines[0]}`);
    else
      parts.push(
        `${heading}:`,
        ...lines.map((line) => (heading === 'Pattern' ? line : `- ${line}`)),
      );
  }
  return parts.join('\n') + '\n';
}
