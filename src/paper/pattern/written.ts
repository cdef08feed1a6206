/**
 * The written pattern: size, materials, gauge, the abbreviations used and no others, notes on
 * technique, rounds with their counts, finishing.
 *
 * Input: a Plan and what is known of the finished piece. Output: sections for the page and one text for
 * files, which reads back into the same plan.
 */
import { fabricWords } from '../../draft/motif/plan-header.ts';
import type { Plan } from '../../plan/plan.ts';
import { counted } from '../../report/words/counts.ts';
import { statedGauge } from '../../report/words/gauge.ts';
import { bothUnits, type LengthUnit } from '../../report/words/length.ts';
import type { Terms } from '../../report/words/terms.ts';
import { massWords, yarnLengthWords } from '../../report/words/yarn.ts';
import { lineText, roundLines } from './round-lines.ts';
import { finishing, notes, type Writing } from './technique-notes.ts';
import type { YarnUse } from './yarn-use.ts';

export interface WrittenOptions {
  readonly terms?: Terms;
  readonly units?: LengthUnit;
  /** Finished side (disc: diameter), mm; null where it is not known. */
  readonly sizeMm?: number | null;
  /** What the size measures, e.g. `square`, `disc`. */
  readonly shape?: string;
  readonly yarnUse?: YarnUse | null;
  /** Needles the notes speak of. Default: whatever suits the plan. */
  readonly way?: Writing['way'];
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
  const terms = options.terms ?? 'american';
  const units = options.units ?? 'cm';
  const writing: Writing = { plan, terms, units, way: options.way ?? null };
  const title = plan.title || 'Pattern';
  const sections: Section[] = [
    { heading: 'Size', lines: sizeLines(options, units) },
    { heading: 'Materials', lines: materialLines(plan, options, units) },
    { heading: terms === 'american' ? 'Gauge' : 'Tension', lines: gaugeLines(plan, terms, units) },
    { heading: 'Abbreviations', lines: abbreviationLines(plan) },
    { heading: 'Notes', lines: notes(writing) },
    { heading: 'Pattern', lines: patternLines(plan, terms) },
    { heading: 'Finishing', lines: finishing(writing) },
  ].filter((section) => section.lines.length > 0);
  return { title, sections, text: textOf(plan, title, sections) };
}

function sizeLines(options: WrittenOptions, units: LengthUnit): string[] {
  if (!options.sizeMm) return [];
  const size = bothUnits(options.sizeMm, units);
  const shape = options.shape ?? '';
  if (shape === 'square') return [`${size} square, blocked`];
  if (shape === 'disc') return [`${size} across, blocked`];
  return [`${size} along each side, blocked`];
}

function materialLines(plan: Plan, options: WrittenOptions, units: LengthUnit): string[] {
  const lines: string[] = [];
  if (plan.yarn) lines.push(`Yarn: ${plan.yarn.text}`);
  const use = options.yarnUse;
  if (use) {
    const balls = use.balls === null ? '' : `: ${counted(use.balls, 'ball')}`;
    lines.push(
      `About ${yarnLengthWords(use.lengthM, units)} (${massWords(use.massG, units)}) with tails and allowance${balls}`,
    );
  }
  lines.push(`Needles: ${plan.needles?.text ?? 'the size that gives the gauge'}`);
  const notions: string[] = [];
  if (plan.worked === 'round') notions.push('stitch markers');
  if (plan.kinds.some((kind) => kind.crossing)) notions.push('cable needle');
  notions.push('tapestry needle');
  lines.push(`Also: ${notions.join(', ')}`);
  return lines;
}

function gaugeLines(plan: Plan, terms: Terms, units: LengthUnit): string[] {
  return plan.gauges.map((gauge) =>
    british(`${statedGauge(gauge, units, plan.worked)}${fabricWords(gauge.fabric)}`, terms),
  );
}

/** The words of the trade that differ. */
function british(text: string, terms: Terms): string {
  if (terms === 'american') return text;
  return text
    .replace(/reverse stockinette/g, 'reverse stocking stitch')
    .replace(/stockinette/g, 'stocking stitch')
    .replace(/\bBind off/g, 'Cast off')
    .replace(/\bbind off/g, 'cast off');
}

/** Words of the pattern itself that need explaining where they are used. */
const WORDS: readonly (readonly [RegExp, string, string])[] = [
  [/\bpm\b/, 'pm', 'place marker'],
  [/\bsm\b/, 'sm', 'slip marker'],
  [/\brep\b/, 'rep', 'repeat'],
  [/\bsts?\b/, 'st(s)', 'stitch(es)'],
  [/\(RS\)/, 'RS', 'right side'],
  [/\(WS\)/, 'WS', 'wrong side'],
];

function abbreviationLines(plan: Plan): string[] {
  const used = new Set(plan.rounds.flatMap((round) => Array.from(round.works)));
  const lines = plan.kinds
    .filter((_, id) => used.has(id))
    .map((kind) => ({ name: kind.name, words: kind.words }));
  const body = roundLines(plan).map(lineText).join('\n');
  for (const [found, name, words] of WORDS) if (found.test(body)) lines.push({ name, words });
  return lines
    .sort((a, b) => a.name.localeCompare(b.name, 'en'))
    .map(({ name, words }) => `${name}: ${words}`);
}

function patternLines(plan: Plan, terms: Terms): string[] {
  const round = plan.worked === 'round';
  const lines = [
    round ? `Cast on ${plan.castOn} sts. Join in the round.` : `Cast on ${plan.castOn} sts.`,
    ...roundLines(plan).map(lineText),
  ];
  if (plan.ending === 'drawn-up') lines.push('Cut the yarn and draw it through the remaining sts.');
  else if (plan.ending === 'bound-off') lines.push(british('Bind off all sts.', terms));
  return lines;
}

/** Plain text: header lines that the plan language knows, then the rest under its headings. */
function textOf(plan: Plan, title: string, sections: readonly Section[]): string {
  const { method, halfTurns } = plan.join;
  const parts: string[] = [`Title: ${title}`];
  if (plan.worked === 'flat')
    parts.push(
      plan.seam
        ? `Worked: flat, seam stitches ${plan.seam.begin} + ${plan.seam.end} (beginning + end of RS rows)`
        : 'Worked: flat, no seam',
    );
  else parts.push('Worked: in the round');
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
