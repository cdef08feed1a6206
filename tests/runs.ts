/**
 * How many random cases a property tries: a part of them in `npm test`, all of them in `npm run soak`, which runs
 * these properties too. Fewer cases of the same seed are the first of them.
 */
const part = Number(process.env.LIEFLAT_PROPERTY_PART ?? 0.07);

/** True in `npm run soak`: what is alike is tried in full. */
export const whole = part >= 1;

export const runs = (all: number): number => Math.max(1, Math.ceil(all * part));

/** True but in `npm test`: the file is run by itself, or in the soak. */
export const closely = process.env.LIEFLAT_ALIKE !== 'eighth' || whole;

/**
 * Of what is alike every eighth in `npm test` (`vite.config.ts` says so), beginning with the first or one of the next seven;
 * all of it in the soak and where a file is run by itself, as after a change of what it holds.
 */
export function eighthOf<T>(all: readonly T[], first: number): readonly T[] {
  const part = process.env.LIEFLAT_ALIKE === 'eighth' && !whole;
  return part ? all.filter((_, i) => i % 8 === first % 8) : all;
}
