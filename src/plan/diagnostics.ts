/**
 * The list of mistakes found in a plan text: each said once per place, with a bound on their number
 * so that a text which is no plan at all stays readable.
 */

import { endPositionAt, positionAt, type Source } from './lex/source.ts';
import type { Diagnostic, Severity, TextPosition } from './plan.ts';

/** More would bury the first ones. Chosen. */
const MOST = 200;

/** Longest word of a message; a longer one is no word that anybody reads. Chosen. */
const LONGEST_WORD = 40;

function cut(message: string): string {
  return message.replace(
    /\S{41,}/g,
    (word) => `${word.slice(0, LONGEST_WORD - 1)}…${/"$/.test(word) ? '"' : ''}`,
  );
}

export class DiagnosticList {
  readonly #source: Source;
  readonly #seen = new Set<string>();
  readonly #found: { from: number; order: number; diagnostic: Diagnostic }[] = [];

  constructor(source: Source) {
    this.#source = source;
  }

  /** Reports a mistake between two places of `source.norm`, unless the same one was reported there before. */
  /** So many are found that no more are kept. */
  get full(): boolean {
    return this.#found.length >= MOST;
  }

  add(
    severity: Severity,
    code: string,
    from: number,
    to: number,
    message: string,
    hint = '',
  ): void {
    const key = `${code}@${from}-${to}`;
    if (this.#seen.has(key) || this.full) return;
    this.#seen.add(key);
    if (code === 'unknown-word' && this.#again(message, from)) return;
    this.#found.push({
      from,
      order: this.#found.length,
      diagnostic: {
        code,
        severity,
        message: cut(message),
        from: positionAt(this.#source, from),
        to: endPositionAt(this.#source, Math.max(to, from + 1)),
        hint: cut(hint),
      },
    });
  }

  /** The same word unknown again: its lines are named where it was told first. */
  #again(message: string, from: number): boolean {
    const first = this.#found.find((f) => f.diagnostic.message === cut(message));
    if (!first) return false;
    const { line } = positionAt(this.#source, from);
    if (line === first.diagnostic.from.line) return false;
    const { hint } = first.diagnostic;
    const more = / Also on lines? ([\d, ]+)\.$/.exec(hint);
    const lines = more ? `${more[1]}, ${line}` : String(line);
    const base = more ? hint.slice(0, more.index) : hint;
    const also = `${base} Also on line${more ? 's' : ''} ${lines}.`;
    first.diagnostic = { ...first.diagnostic, hint: also.trim() };
    return true;
  }

  /** As `add`, at places of the original text. */
  addAt(
    severity: Severity,
    code: string,
    from: TextPosition,
    to: TextPosition,
    message: string,
    hint: string,
  ): void {
    const key = `${code}@${from.line}:${from.column}`;
    if (this.#seen.has(key) || this.#found.length >= MOST) return;
    this.#seen.add(key);
    const offset = (this.#source.lineStarts[from.line - 1] ?? 0) + from.column - 1;
    const place = this.#source.map.findIndex((m) => m >= offset);
    const diagnostic = { code, severity, message: cut(message), from, to, hint: cut(hint) };
    this.#found.push({ from: place, order: this.#found.length, diagnostic });
  }

  /** In order of the text. */
  list(): Diagnostic[] {
    return [...this.#found]
      .sort((a, b) => a.from - b.from || a.order - b.order)
      .map((f) => f.diagnostic);
  }
}
