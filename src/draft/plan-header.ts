/**
 * Header lines of plan text: those of an existing plan as written, and the `Worked:` line.
 */
import type { Plan } from '../plan/plan.ts';
import type { Seam } from './seam-rows.ts';

const FIELDS = /^\s*(title|yarn|gauge|tension|needles?|worked|join|abbreviations?)\s*:/i;

/** Header lines of the plan, as the designer wrote them, less the fields named in `drop`. */
export function headerOf(plan: Plan, drop: readonly string[] = []): string[] {
  return plan.text
    .split(/\r?\n/)
    .filter((line) => {
      const field = FIELDS.exec(line);
      return field !== null && !drop.includes(field[1].toLowerCase());
    })
    .map((line) => line.trim());
}

/** `Worked: flat, seam stitches 1 + 1 (beginning + end of RS rows)`. */
export function workedHeader(worked: 'round' | 'flat', seam: Seam | null): string {
  if (worked === 'round') return 'Worked: in the round';
  if (!seam || seam.begin + seam.end === 0) return 'Worked: flat, no seam';
  return `Worked: flat, seam stitches ${seam.begin} + ${seam.end} (beginning + end of RS rows)`;
}
