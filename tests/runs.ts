/**
 * How many random cases a property tries: a part of them in `npm test`, all of them in `npm run soak`, which runs
 * these properties too. Fewer cases of the same seed are the first of them.
 */
const part = Number(process.env.LIEFLAT_PROPERTY_PART ?? 0.1);

/** True in `npm run soak`: what is alike is tried in full. */
export const whole = part >= 1;

export const runs = (all: number): number => Math.max(1, Math.ceil(all * part));

/**
 * Of what is alike every third in `npm test` (`--mode built`), beginning with the first or one of the next two; all of it in
 * the soak and where a file is run by itself, as after a change of what it holds.
 */
export function thirdOf<T>(all: readonly T[], first: number): readonly T[] {
  const every = import.meta.env?.MODE !== 'built' || whole;
  return every ? all : all.filter((_, i) => i % 3 === first % 3);
}
