/**
 * The one lexer: normalised text → words, numbers, ordinals ("4th", "second") and marks with their places. In:
 * `Source`. Out: tokens in order of the text; spaces lie between them, a line's end is a token.
 */
import { regex } from '../lexicon/expression.ts';
import { DOTTED, DOTTED_INSIDE, NUMBERED_WORDS } from '../lexicon/words.ts';
import { ORDINALS } from './numbers.ts';
import type { Place, Source } from './source.ts';

export type TokenKind = 'word' | 'number' | 'ordinal' | 'mark' | 'line';

export interface Token extends Place {
  readonly kind: TokenKind;
  /** As in the normalised text: lower case, plain punctuation. */
  readonly text: string;
  /** Of numbers and ordinals; NaN otherwise. */
  readonly value: number;
  /** White space stands before it. */
  readonly spaced: boolean;
  /** It begins with a capital letter in what the designer typed. */
  readonly capital: boolean;
}

const TOKEN =
  /([ \t\r\f\v\u00a0]+)|(\n)|(\d+(?:\.\d+)?)|([a-z][a-z0-9]*(?:'[a-z]+)?)|([^\sa-z0-9])|(\S)/gy;
const ORDINAL_END = /(?:st|nd|rd|th)(?![a-z0-9])/y;
const NUMBERED = regex.plain`^(${NUMBERED_WORDS.join('|')})(\d{1,5})$`;

/** All tokens of the text. */
const LABEL_AHEAD = /\d{1,3}(?:st|nd|rd|th) (?:rounds?|rnds?|rds?|rows?)\b/y;

export function tokenize(source: Pick<Source, 'norm' | 'text' | 'map'>): Token[] {
  const { norm } = source;
  const out: Token[] = [];
  let spaced = false;
  const push = (kind: TokenKind, from: number, to: number, value = Number.NaN): void => {
    const first = source.text.charCodeAt(source.map[from]);
    const capital = first >= 65 && first <= 90;
    out.push({ kind, text: norm.slice(from, to), value, spaced, capital, from, to });
    spaced = false;
  };
  TOKEN.lastIndex = 0;
  for (let m = TOKEN.exec(norm); m; m = TOKEN.exec(norm)) {
    const from = m.index;
    const to = TOKEN.lastIndex;
    if (m[1] !== undefined) spaced = true;
    else if (m[2] !== undefined) push('line', from, to);
    else if (m[3] !== undefined) {
      ORDINAL_END.lastIndex = to;
      if (!m[3].includes('.') && ORDINAL_END.test(norm)) {
        push('ordinal', from, ORDINAL_END.lastIndex, Number(m[3]));
        TOKEN.lastIndex = ORDINAL_END.lastIndex;
      } else push('number', from, to, Number(m[3]));
    } else if (m[4] !== undefined) pushWord(m[4], from, to);
    else push('mark', from, to);
  }
  return out;

  function pushWord(word: string, from: number, to: number): void {
    const numbered = NUMBERED.exec(word);
    if (numbered) {
      push('word', from, from + numbered[1].length);
      push('number', from + numbered[1].length, to, Number(numbered[2]));
      return;
    }
    const ordinal = ORDINALS.get(word);
    if (ordinal !== undefined) {
      push('ordinal', from, to, ordinal);
      return;
    }
    push('word', from, to);
    // A full stop that only shortens the word belongs to it.
    if (norm[to] !== '.' || norm[to + 1] === '.') return;
    if (DOTTED.has(word) || (DOTTED_INSIDE.has(word) && !capitalAfter(to + 1))) {
      TOKEN.lastIndex = to + 1;
      const last = out[out.length - 1];
      out[out.length - 1] = { ...last, to: to + 1 };
    }
  }

  function capitalAfter(at: number): boolean {
    let i = at;
    while (norm[i] === ' ') i++;
    if (norm[i] === undefined || norm[i] === '\n') return true;
    // "= 12 st. 3rd round: knit"
    LABEL_AHEAD.lastIndex = i;
    if (LABEL_AHEAD.test(norm)) return true;
    const c = source.text.charCodeAt(source.map[i]);
    return (c >= 65 && c <= 90) || i === at;
  }
}
