/**
 * The lines of a plan text as ranges of tokens; lines that only go on where a long one was broken are joined.
 * In: tokens with line ends. Out: tokens without them, and the lines.
 */
import type { Place } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import { isStitchWord } from './word-law.ts';

export interface Line extends Place {
  to: number;
  /** First token, and the one behind the last. */
  first: number;
  last: number;
  /** The line is a header or belongs to one. */
  taken: boolean;
}

/** A line at least so long may have been broken by a printer or mail program. Chosen. */
const LONG_LINE = 38;

export function splitLines(
  all: readonly Token[],
  text: string,
): { tokens: Token[]; lines: Line[] } {
  const tokens: Token[] = [];
  const lines: Line[] = [];
  let from = 0;
  let first = 0;
  const close = (to: number): void => {
    lines.push({ from, to, first, last: tokens.length, taken: false });
    from = to + 1;
    first = tokens.length;
  };
  for (const t of all) {
    if (t.kind === 'line') close(t.from);
    else tokens.push(t);
  }
  close(text.length);
  return { tokens, lines };
}

/** Joins lines that go on in the next. `starts`: an instruction begins at the cursor. */
export function joinLines(
  lines: readonly Line[],
  tokens: readonly Token[],
  starts: (line: Line) => boolean,
): Line[] {
  const out: Line[] = [];
  for (const line of lines) {
    const last = out[out.length - 1];
    if (last && goesOn(last, line, tokens) && (breaksOff(last, line, tokens) || !starts(line))) {
      last.to = line.to;
      last.last = line.last;
    } else out.push({ ...line });
  }
  return out;
}

const PREPOSITION = /^(?:on|in|at|until|till|with|from|to|of|for|by|between|before|after)$/;

/** "knitting every | alternate round plain": its last word belongs to the next, whatever that begins. */
function breaksOff({ first, last }: Line, line: Line, tokens: readonly Token[]): boolean {
  // "less on each side of every decrease | on every even round": a writer of capitals begins no sentence so.
  const begin = tokens[line.first];
  if (tokens[first].capital && !begin.capital && PREPOSITION.test(begin.text)) return true;
  return /^(?:the|a|an|every|each|of|your|these|those)$/.test(tokens[last - 1]?.text ?? '');
}

function goesOn(last: Line, line: Line, tokens: readonly Token[]): boolean {
  if (last.taken || line.taken || last.first === last.last || line.first === line.last)
    return false;
  const end = tokens[last.last - 1];
  const begin = tokens[line.first];
  if (end.kind === 'mark' && '.:;!?'.includes(end.text)) return false;
  const label = tokens[last.last - 2]?.text === ':';
  const open =
    end.text === ',' ||
    /^(?:and|the|of|to|until|every|each|with|on|in|then|or|a|for|k|p|next|last|from)$/.test(
      label ? '' : end.text,
    );
  const width = end.to - last.from;
  if (!open && width < LONG_LINE) return false;
  if (!open && isStitchWord(begin)) return false;
  if (begin.kind === 'word' || begin.kind === 'ordinal') return !begin.capital;
  if (begin.kind === 'number') {
    const next = tokens[line.first + 1];
    return !(next && next.kind === 'mark' && '.:)'.includes(next.text));
  }
  return begin.text === '(' && open;
}
