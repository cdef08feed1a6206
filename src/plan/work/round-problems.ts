/**
 * What does not come out while one round is worked, in a knitter's words and in the order it was met.
 * Input: a step and what is wrong with it. Output: `Problem`s, which the caller reports or holds back.
 */

import type { Place } from '../lex/source.ts';
import type { Severity } from '../plan.ts';

export interface Problem extends Place {
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
  readonly hint: string;
}

export class RoundProblems {
  readonly all: Problem[] = [];

  error(at: Place, code: string, message: string, hint = ''): void {
    this.all.push({ severity: 'error', code, from: at.from, to: at.to, message, hint });
  }

  warn(at: Place, code: string, message: string, hint = ''): void {
    this.all.push({ severity: 'warning', code, from: at.from, to: at.to, message, hint });
  }

  get failed(): boolean {
    return hasError(this.all);
  }
}

export function hasError(problems: readonly Problem[]): boolean {
  return problems.some((p) => p.severity === 'error');
}

export function stitches(n: number): string {
  return n === 1 ? '1 stitch' : `${n} stitches`;
}
