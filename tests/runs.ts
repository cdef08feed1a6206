/**
 * How many random cases a property tries: a part of them in `npm test`, all of them in `npm run soak`, which runs
 * these properties too. Fewer cases of the same seed are the first of them.
 */
const part = Number(process.env.LIEFLAT_PROPERTY_PART ?? 0.05);

/** True in `npm run soak`: what is alike is tried in full. */
export const whole = part >= 1;

export const runs = (all: number): number => Math.max(1, Math.ceil(all * part));

/**
 * Of what is alike every fifth in `npm test` (`vite.config.ts` says so), beginning with the first or one of the next four;
 * all of it in the soak and where a file is run by itself, as after a change of what it holds.
 */
export function fifthOf<T>(all: readonly T[], first: number): readonly T[] {
  const part = process.env.LIEFLAT_ALIKE === 'fifth' && !whole;
  return part ? all.filter((_, i) => i % 5 === first % 5) : all;
}
