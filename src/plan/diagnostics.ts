/**
 * The list of mistakes found in a plan text: each said once per place, with a bound on their number
 * so that a text which is no plan at all stays readable.
 */

import { endPositionAt, positionAt, type Source } from './lex/source.ts';
import type { Diagnostic, Severity } from './plan.ts';

/** More would bury the first ones. Chosen. */
const MOST = 200;

export class DiagnosticList {
  readonly #source: Source;
  readonly #seen = new Set<string>();
  readonly #found: { from: number; order: number; diagnostic: Diagnostic }[] = [];

  constructor(source: Source) {
    this.#source = source;
  }

  /** Reports a mistake between two places of `source.norm`, unless the same one was reported there before. */
  add(
    severity: Severity,
    code: string,
    from: number,
    to: number,
    message: string,
    hint = '',
  ): void {
    const key = `${code}@${from}-${to}`;
    if (this.#seen.has(key) || this.#found.length >= MOST) return;
    this.#seen.add(key);
    this.#found.push({
      from,
      order: this.#found.length,
      diagnostic: {
        code,
        severity,
        message,
        from: positionAt(this.#source, from),
        to: endPositionAt(this.#source, Math.max(to, from + 1)),
        hint,
      },
    });
  }

  has(code: string): boolean {
    return this.#found.some((f) => f.diagnostic.code === code);
  }

  /** In order of the text. */
  list(): Diagnostic[] {
    return [...this.#found]
      .sort((a, b) => a.from - b.from || a.order - b.order)
      .map((f) => f.diagnostic);
  }
}
