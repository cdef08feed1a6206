/**
 * The plan text as the grammar walks it: tokens without line ends. In: places among the tokens. Out: cursors,
 * spans in the normalised text, and what stands behind a round's label.
 */
import type { Place, Source } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import type { RoundBody, RoundLabel } from './ast.ts';
import { readBody } from './body.ts';
import type { Recall } from './recall.ts';
import { TokenCursor } from './token-cursor.ts';

/** Most tokens that rules of cast-ons, set-ups and endings follow. Chosen: a pattern has some hundred; bounds the time. */
const MOST_FOLLOWED = 6_000;

/** Most tokens of a stretch that is kept to be recalled. Chosen: a long line has a hundred; bounds the memory. */
const MOST_RECALLED = 2_000;

export class Passage {
  readonly tokens: readonly Token[];
  readonly text: string;
  readonly #source: Source;
  readonly #abbreviations: Abbreviations;
  readonly #recall: Recall;
  readonly #budget = { left: MOST_FOLLOWED };

  constructor(
    tokens: readonly Token[],
    source: Source,
    abbreviations: Abbreviations,
    recall: Recall,
  ) {
    this.tokens = tokens;
    this.text = source.norm;
    this.#source = source;
    this.#abbreviations = abbreviations;
    this.#recall = recall;
  }

  cursor(from: number, end: number): TokenCursor {
    const c = new TokenCursor(this.tokens, this.text, from, end);
    c.budget = this.#budget;
    c.own = this.#abbreviations;
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
    const labelled = label
      ? `${label.numbers.length} ${label.repeat} ${label.colour} ${label.every} ${label.upTo !== undefined}`
      : '';
    return this.recalled(`body ${labelled}`, from, end, 0, () =>
      readBody(this.cursor(from, end), label, this.#abbreviations),
    );
  }

  /** `recalled` for rules that follow every word: the words they took are counted each time. */
  followed<T>(what: string, from: number, end: number, read: () => T): T {
    const budget = this.#budget;
    const { left } = budget;
    if (left < end - from) return read();
    const got = this.recalled(what, from, end, 0, () => {
      const value = read();
      return { value, took: left - budget.left };
    });
    if (budget.left === left) budget.left -= got.took;
    return got.value;
  }

  /**
   * What `read` makes of the tokens, read once for the same words. `what`: all that it depends on besides them and
   * `ahead` tokens behind; capitals and the places of full stops tell tokens apart, which only the text as typed holds.
   */
  recalled<T>(what: string, from: number, end: number, ahead: number, read: () => T): T {
    if (end <= from || end - from > MOST_RECALLED) return read();
    const { tokens, text } = this;
    const at = this.span(from, end);
    const to = tokens[Math.min(end + ahead, tokens.length) - 1].to;
    const { text: typed, map } = this.#source;
    const key = `${what}\n${text.slice(at.from, to)}\n${typed.slice(map[at.from], map[to])}`;
    return this.#recall.read(key, at, read);
  }
}
