/**
 * What does not come out while one round is worked, in a knitter's words and in the order it was met.
 * Input: a step and what is wrong with it. Output: remarks, which the caller reports or holds back.
 */
import type { Remark } from '../diagnostics.ts';
import type { Place } from '../lex/source.ts';

export class RoundProblems {
  readonly all: Remark[] = [];

  error({ from, to }: Place, code: string, message: string, hint = ''): void {
    this.all.push({ severity: 'error', code, from, to, message, hint });
  }

  warn({ from, to }: Place, code: string, message: string, hint = ''): void {
    this.all.push({ severity: 'warning', code, from, to, message, hint });
  }

  get failed(): boolean {
    return hasError(this.all);
  }
}

export function hasError(problems: readonly Remark[]): boolean {
  return problems.some((p) => p.severity === 'error');
}

export function stitches(n: number): string {
  return n === 1 ? '1 stitch' : `${n} stitches`;
}
