/** Completion of stitch words, each with its explanation, and of headers at a line's beginning. */
import type { Completion, CompletionContext, CompletionResult } from '@codemirror/autocomplete';
import type { StitchKind } from '../../plan/stitches/stitch-kind.ts';
import { EXPLAINED_STITCHES, stitchWords } from '../help/stitch-glossary.ts';

function stitchOption(kind: StitchKind): Completion {
  const words = kind.words || kind.name;
  return {
    label: kind.name,
    detail: words.length > 44 ? `${words.slice(0, 42)}…` : words,
    info: stitchWords(kind),
    type: kind.crossing ? 'class' : kind.loops.length === kind.consumes ? 'text' : 'keyword',
  };
}

const STITCHES: readonly Completion[] = EXPLAINED_STITCHES.map(stitchOption);

const PHRASES: readonly Completion[] = [
  { label: 'to end', detail: 'as many as are left in the round' },
  { label: 'to last 2 sts', detail: 'stop before the last stitches' },
  { label: 'to marker', detail: 'stop at the next marker' },
  { label: 'pm', detail: 'place marker' },
  { label: 'sm', detail: 'slip marker' },
  { label: 'repeat from * to end', detail: 'again and again from the star' },
  { label: 'work as set', detail: 'knit the knits and purl the purls' },
  { label: 'cast on', detail: 'stitches to begin with' },
  { label: 'bind off', detail: 'end with a finished edge' },
  { label: 'draw yarn through remaining sts', detail: 'end closed at the centre' },
];

const LINE_STARTS: readonly Completion[] = [
  { label: 'Title: ', detail: 'name of the piece' },
  { label: 'Yarn: ', detail: 'weight, grams and metres of a ball' },
  { label: 'Gauge: ', detail: 'stitches and rounds in 10 cm or 4 in' },
  { label: 'Needles: ', detail: 'size in mm' },
  { label: 'Worked: ', detail: 'in the round, or flat' },
  { label: 'Join: ', detail: 'plain, crossed or with an extra stitch' },
  { label: 'Round 1: ', detail: 'instructions of one round' },
  { label: 'Rounds 1-4: ', detail: 'the same instructions in several rounds' },
  { label: 'Abbreviation: ', detail: 'your own word for some stitches' },
];

export function completeStitches(context: CompletionContext): CompletionResult | null {
  const word = context.matchBefore(/[A-Za-z0-9/]+(?: [LR]P?C?)?$/);
  const line = context.state.doc.lineAt(context.pos);
  const start = word ? word.from : context.pos;
  const atLineStart = line.text.slice(0, start - line.from).trim() === '';
  if (!word && !context.explicit) return null;
  // A bare count or a single letter is a finished word far more often than a beginning.
  if (word && !context.explicit && (/^\d+$/.test(word.text) || word.text.length < 2)) return null;
  const inHeader = /^[ \t]*(?:title|yarn|gauge|needles?|worked|join)\s*:/i.test(line.text);
  if (inHeader && !atLineStart) return null;
  return {
    from: start,
    options: atLineStart ? [...LINE_STARTS, ...PHRASES] : [...STITCHES, ...PHRASES],
    validFor: /^[\w/ ]*$/,
  };
}
