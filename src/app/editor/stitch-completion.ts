/** Completion of stitch words, each with its explanation, and of headers at a line's beginning. */
import type { Completion, CompletionContext, CompletionResult } from '@codemirror/autocomplete';
import { HEADING } from '../../plan/grammar/statements/header.ts';
import { LINE_STARTS, PHRASES } from '../../plan/lexicon/completions.ts';
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

export function completeStitches(context: CompletionContext): CompletionResult | null {
  const word = context.matchBefore(/[A-Za-z0-9/]+(?: [LR]P?C?)?$/);
  const line = context.state.doc.lineAt(context.pos);
  const start = word ? word.from : context.pos;
  const atLineStart = line.text.slice(0, start - line.from).trim() === '';
  if (!word && !context.explicit) return null;
  // A bare count or a single letter is a finished word far more often than a beginning.
  if (word && !context.explicit && (/^\d+$/.test(word.text) || word.text.length < 2)) return null;
  const inHeader = HEADING.test(line.text.toLowerCase());
  if (inHeader && !atLineStart) return null;
  return {
    from: start,
    options: atLineStart ? [...LINE_STARTS, ...PHRASES] : [...STITCHES, ...PHRASES],
    validFor: /^[\w/ ]*$/,
  };
}
