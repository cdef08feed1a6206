/**
 * The list of mistakes found in a plan text: each said once per place, with a bound on their number
 * so that a text which is no plan at all stays readable.
 */
import { endPositionAt, type Place, positionAt, type Source } from './lex/source.ts';
import type { Diagnostic, Severity } from './plan.ts';

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

/** A mistake at its place of the normalised text. */
export interface Remark extends Place {
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
  readonly hint: string;
}

/** A mistake, its place in the normalised text, and further lines that it stands on. */
interface Found {
  readonly from: number;
  readonly order: number;
  readonly diagnostic: Diagnostic;
  readonly also: number[];
}

/** Most lines that one message names. Chosen: more are not looked up. */
const MOST_LINES = 12;

function alsoOn(lines: readonly number[]): string {
  const named = lines.slice(0, MOST_LINES).join(', ');
  const more = lines.length - MOST_LINES;
  return `Also on line${lines.length > 1 ? 's' : ''} ${named}${more > 0 ? ` and ${more} more` : ''}.`;
}

export class DiagnosticList {
  readonly #source: Source;
  readonly #seen = new Set<string>();
  readonly #found: Found[] = [];

  constructor(source: Source) {
    this.#source = source;
  }

  /** What was found so far, to be gone on with apart from this. */
  copy(): DiagnosticList {
    const copy = new DiagnosticList(this.#source);
    copy.become(this);
    return copy;
  }

  /** Holds what another list holds, and nothing else. */
  become(other: DiagnosticList): void {
    const found = other.#found.map((f) => ({ ...f, also: [...f.also] }));
    const seen = [...other.#seen];
    this.#seen.clear();
    for (const key of seen) this.#seen.add(key);
    this.#found.splice(0, this.#found.length, ...found);
  }

  /** Place of the first error that `before` does not hold; null where there is none. */
  firstErrorSince(before: DiagnosticList): number | null {
    const old = new Set(before.#found.map((f) => f.diagnostic));
    const errors = this.#found.filter(
      (f) => f.diagnostic.severity === 'error' && !old.has(f.diagnostic),
    );
    return errors.length === 0 ? null : Math.min(...errors.map((f) => f.from));
  }

  /** So many are found that no more are kept. */
  get full(): boolean {
    return this.#found.length >= MOST;
  }

  error(code: string, at: Place, message: string, hint = ''): void {
    this.add({ severity: 'error', code, from: at.from, to: at.to, message, hint });
  }

  warn(code: string, at: Place, message: string, hint = ''): void {
    this.add({ severity: 'warning', code, from: at.from, to: at.to, message, hint });
  }

  note(code: string, at: Place, message: string, hint = ''): void {
    this.add({ severity: 'note', code, from: at.from, to: at.to, message, hint });
  }

  /** Reports a mistake at its place of `source.norm`, unless the same one was reported there before. */
  add({ severity, code, from, to, message, hint }: Remark): void {
    const key = `${code}@${from}-${to}`;
    if (this.#seen.has(key) || this.full) return;
    this.#seen.add(key);
    if (code === 'unknown-word' && this.#again(message, from)) return;
    const diagnostic = {
      ...{ code, severity, message: cut(message) },
      from: positionAt(this.#source, from),
      to: endPositionAt(this.#source, Math.max(to, from + 1)),
      hint: cut(hint),
    };
    this.#found.push({ from, order: this.#found.length, diagnostic, also: [] });
  }

  /** The same word unknown again: its lines are named where it was told first. */
  #again(message: string, from: number): boolean {
    const first = this.#found.find((f) => f.diagnostic.message === cut(message));
    if (!first) return false;
    const { line } = positionAt(this.#source, from);
    if (line === first.diagnostic.from.line) return false;
    first.also.push(line);
    return true;
  }

  /** As `add`, at places of the original text. */
  addAt({ severity, code, from, to, message, hint }: Diagnostic): void {
    const key = `${code}@${from.line}:${from.column}`;
    if (this.#seen.has(key) || this.full) return;
    this.#seen.add(key);
    const offset = (this.#source.lineStarts[from.line - 1] ?? 0) + from.column - 1;
    const place = this.#source.map.findIndex((m) => m >= offset);
    const diagnostic = { code, severity, message: cut(message), from, to, hint: cut(hint) };
    this.#found.push({ from: place, order: this.#found.length, diagnostic, also: [] });
  }

  /** In order of the text. */
  list(): Diagnostic[] {
    return [...this.#found]
      .sort((a, b) => a.from - b.from || a.order - b.order)
      .map(({ diagnostic, also }) =>
        also.length === 0
          ? diagnostic
          : { ...diagnostic, hint: `${diagnostic.hint} ${alsoOn(also)}`.trim() },
      );
  }
}
