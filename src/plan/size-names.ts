/** What the sizes of a plan are called: by its text, else by their numbers. None where it is for one size. */
import type { Plan } from './plan.ts';

export function sizeNames({ sizes }: Pick<Plan, 'sizes'>): string[] {
  return sizes ? sizes.castOns.map((_, k) => sizes.names[k] ?? `size ${k + 1}`) : [];
}
