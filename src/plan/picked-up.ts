/** Whether a piece begins on an edge that is there, as a border does. In: a Plan, by its words. Out: yes or no. */
import type { Plan } from './plan.ts';

export function isPickedUp({ text, castOnAt }: Pick<Plan, 'text' | 'castOnAt'>): boolean {
  const line = text.split('\n')[castOnAt.line - 1] ?? '';
  return /^pick(?:ing)? up\b/i.test(line.slice(castOnAt.column - 1));
}
