/**
 * What a chart's symbol stands for, in words: what to work where the right side faces and where the wrong
 * side does. In: the stitch as the right side shows it and the rows that use it. Out: `k: knit on RS, purl
 * on WS`. Charts show the right side throughout (common practice).
 */
import { otherSideName } from '../../draft/rework/facing.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { inTerms, type Terms } from '../../report/words/terms.ts';

export type Hand = 'right' | 'left';

export interface KeyChoices {
  readonly worked: 'round' | 'flat';
  readonly terms: Terms;
  readonly hand: Hand;
}

/** The rows in which a symbol stands. */
export interface UsedOn {
  readonly rightSide: boolean;
  readonly wrongSide: boolean;
}

export const NO_STITCH_WORDS = 'no stitch';
export const NOT_WORKED_WORDS = 'not worked in this row, or no stitch';

export function keyWords(name: string, used: UsedOn, choices: KeyChoices): string {
  return leaning(inTerms(words(name, used, choices.worked), choices.terms), choices.hand);
}

function words(name: string, used: UsedOn, worked: 'round' | 'flat'): string {
  if (name.startsWith('~')) return `${name.slice(1)}, worked from the wrong side`;
  const kind = stitchKind(name);
  if (!kind) return name;
  if (worked === 'round') return `${name}: ${kind.words}`;
  const back = otherSideName(name);
  const backKind = back === null ? null : stitchKind(back);
  if (name === 'k' || name === 'p') return `${name}: ${kind.words} on RS, ${backKind?.words} on WS`;
  if (!backKind || !used.wrongSide) return `${name}: ${kind.words} (on RS)`;
  const onBack = `on WS work ${back}, ${backKind.words}`;
  return used.rightSide ? `${name}: on RS ${kind.words}; ${onBack}` : `${name}: ${onBack}`;
}

/** Worked from left to right every lean is the other way. */
export function leaning(text: string, hand: Hand): string {
  if (hand === 'right') return text;
  return text.replace(/\bleans (left|right)\b/g, (_, side) =>
    side === 'left' ? 'leans right' : 'leans left',
  );
}

/** Lines of at most `most` letters, broken between words. */
export function wrapped(text: string, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > most) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}
