/**
 * A place among the tokens, moving forward as the grammar reads. In: tokens and where to stop. Out: tokens
 * that match; the place stays where nothing does. Phrases are written as the words they hold:
 * `rep|repeat the? last` matches "rep last" and "repeat the last"; hyphens between words are passed over.
 */
import type { Place } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';

interface PhraseWord {
  readonly any: ReadonlySet<string>;
  readonly optional: boolean;
}

interface Phrase {
  readonly words: readonly PhraseWord[];
  /** What the phrase may begin with. */
  readonly first: ReadonlySet<string>;
}

const compiled = new Map<string, Phrase>();

function compile(phrase: string): Phrase {
  const words = phrase.split(' ').map((part) => {
    const optional = part.endsWith('?');
    return { any: new Set((optional ? part.slice(0, -1) : part).split('|')), optional };
  });
  const must = words.findIndex((w) => !w.optional);
  const begin = must < 0 ? words : words.slice(0, must + 1);
  const done = { words, first: new Set(begin.flatMap((w) => [...w.any])) };
  compiled.set(phrase, done);
  return done;
}

/** What "first" leads to where it names no round. */
const LED_TO = /^(?:we|you|i|knit|purl|k|p|work|repeat|rep|join|cast|bind|place|divide|continue)$/;
/** Most tokens that a rule looks back at. */
const LOOKED_BACK = 6;

export class TokenCursor {
  readonly tokens: readonly Token[];
  readonly text: string;
  i: number;
  end: number;
  /** Nothing before this token is looked at. */
  readonly #begin: number;
  /** Stitches by the names that the text gives them. */
  own: Abbreviations | null = null;
  /** Tokens that rules of whole sentences may still follow in this text (`rules.ts`). */
  budget: { left: number } = { left: Number.POSITIVE_INFINITY };

  constructor(tokens: readonly Token[], text: string, from: number, end: number) {
    this.tokens = tokens;
    this.text = text;
    this.i = from;
    this.#begin = from;
    this.end = end;
  }

  peek(ahead = 0): Token | null {
    const at = this.i + ahead;
    return at < this.end && at >= this.#begin ? this.tokens[at] : null;
  }

  get done(): boolean {
    return this.i >= this.end;
  }

  /** Tokens here that may be looked back at, so far as any rule looks. */
  get behind(): number {
    return Math.min(this.i - this.#begin, LOOKED_BACK);
  }

  /** Text of the token here; empty at the end. */
  here(ahead = 0): string {
    return this.peek(ahead)?.text ?? '';
  }

  isWord(set: ReadonlySet<string>, ahead = 0): boolean {
    const t = this.peek(ahead);
    return t !== null && t.kind === 'word' && set.has(t.text);
  }

  /** The word here; empty where none stands. */
  word(ahead = 0): string {
    const t = this.peek(ahead);
    return t && t.kind === 'word' ? t.text : '';
  }

  eatWord(set: ReadonlySet<string>): string | null {
    // "First purl a round": an ordinal that leads to a verb
    const t = this.peek();
    const leads =
      t?.kind === 'ordinal' &&
      set.has(t.text) &&
      LED_TO.test(this.word(1)) &&
      !/^(?:rounds?|rnds?|rows?)$/.test(this.word(2));
    if (!leads && !this.isWord(set)) return null;
    this.i++;
    return t?.text ?? null;
  }

  mark(chars: string, ahead = 0): boolean {
    const t = this.peek(ahead);
    return t !== null && t.kind === 'mark' && chars.includes(t.text);
  }

  eatMark(chars: string): string | null {
    if (!this.mark(chars)) return null;
    return this.tokens[this.i++].text;
  }

  /** A whole number or one with a fraction. */
  number(): number | null {
    const t = this.peek();
    if (t?.kind !== 'number') return null;
    this.i++;
    return t.value;
  }

  isNumber(ahead = 0): boolean {
    return this.peek(ahead)?.kind === 'number';
  }

  ordinal(): number | null {
    const t = this.peek();
    if (t?.kind !== 'ordinal') return null;
    this.i++;
    return t.value;
  }

  /** Passes the words of the phrase; the place stays where they do not stand here. */
  phrase(phrase: string): boolean {
    if (this.i >= this.end) return false;
    const here = this.tokens[this.i];
    if (here.kind !== 'word' && here.kind !== 'ordinal') return false;
    const { words, first } = compiled.get(phrase) ?? compile(phrase);
    if (!first.has(here.text)) return false;
    let i = this.i;
    let moved = false;
    for (const { any, optional } of words) {
      let at = i;
      if (moved && at < this.end && this.tokens[at].text === '-') at++;
      const t = at < this.end ? this.tokens[at] : null;
      if (t && (t.kind === 'word' || t.kind === 'ordinal') && any.has(t.text)) {
        i = at + 1;
        moved = true;
      } else if (!optional) return false;
    }
    if (!moved) return false;
    this.i = i;
    return true;
  }

  /** `c/o`, `b/o` */
  slashed(first: string, second: string): boolean {
    if (this.word() !== first || this.here(1) !== '/' || this.word(2) !== second) return false;
    this.i += 3;
    return true;
  }

  /** Passes up to six words of the set, with commas between them. */
  skip(set: ReadonlySet<string>): void {
    for (let n = 0; n < 6 && this.eatWord(set); n++) this.eatMark(',');
  }

  /** The first of the phrases that stands here. */
  anyPhrase(phrases: readonly string[]): boolean {
    return phrases.some((p) => this.phrase(p));
  }

  /** Back to a place, from which nothing was read. */
  back<T extends null | false>(to: number, nothing: T): T {
    this.i = to;
    return nothing;
  }

  /** Tries a reading; the place goes back where it gives null or false. */
  attempt<T>(read: () => T | null): T | null {
    const start = this.i;
    const got = read();
    if (got === null || got === false) {
      this.i = start;
      return null;
    }
    return got;
  }

  /** What would be read here; the place stays. */
  ahead<T>(read: () => T): T {
    const start = this.i;
    const got = read();
    this.i = start;
    return got;
  }

  /** Tries a reading that only tells whether it stands here; the place goes back where it does not. */
  takes(read: () => boolean | null): boolean {
    return this.attempt(read) === true;
  }

  /** Where the token at `index` begins in the text. */
  from(index = this.i): number {
    return index < this.tokens.length ? this.tokens[index].from : this.text.length;
  }

  /** From token `start` up to the last one read. */
  span(start: number): Place {
    const last = Math.max(start, this.i - 1);
    return { from: this.from(start), to: this.tokens[last]?.to ?? this.text.length };
  }

  /** Place among the tokens of the bracket that closes the one here; −1 if there is none. */
  closing(limit = 80): number {
    let depth = 0;
    for (let i = this.i; i < this.end && i - this.i < limit; i++) {
      const t = this.tokens[i];
      if (t.kind !== 'mark') continue;
      if ('([{'.includes(t.text)) depth++;
      else if (')]}'.includes(t.text) && --depth === 0) return i;
    }
    return -1;
  }

  /** Text between two tokens. */
  slice(start: number, end: number): string {
    if (start >= end) return '';
    return this.text.slice(this.tokens[start].from, this.tokens[end - 1].to);
  }
}
