/**
 * The plan text as the grammar walks it: tokens without line ends. In: places among the tokens. Out: cursors,
 * spans in the normalised text, and what stands behind a round's label.
 */
import type { Place } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import type { RoundBody, RoundLabel } from './ast.ts';
import { readBody } from './body.ts';
import { TokenCursor } from './token-cursor.ts';

/** Most tokens that rules of cast-ons, set-ups and endings follow. Chosen: a pattern has some hundred; bounds the time. */
const MOST_FOLLOWED = 6_000;

export class Passage {
  readonly tokens: readonly Token[];
  readonly text: string;
  readonly #abbreviations: Abbreviations;
  readonly #budget = { left: MOST_FOLLOWED };

  constructor(tokens: readonly Token[], text: string, abbreviations: Abbreviations) {
    this.tokens = tokens;
    this.text = text;
    this.#abbreviations = abbreviations;
  }

  cursor(from: number, end: number): TokenCursor {
    const c = new TokenCursor(this.tokens, this.text, from, end);
    c.budget = this.#budget;
    return c;
  }

  span(from: number, end: number): Place {
    return { from: this.tokens[from].from, to: this.tokens[Math.max(from, end - 1)].to };
  }

  /** Place of the first of the marks at or behind `from`; `end` where none stands. */
  sentenceEnd(from: number, end: number, marks = '.;!'): number {
    let i = from;
    while (i < end && !(this.tokens[i].kind === 'mark' && marks.includes(this.tokens[i].text))) i++;
    return i;
  }

  /** Place behind the last full stop before `at`. */
  sentenceStart(at: number): number {
    let i = at;
    while (i > 0 && at - i < 60 && !'.;!'.includes(this.tokens[i - 1].text)) i--;
    return i;
  }

  body(label: RoundLabel | null, from: number, end: number): RoundBody {
    return readBody(this.cursor(from, end), label, this.#abbreviations);
  }
}
