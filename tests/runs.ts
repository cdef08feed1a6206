/**
 * How many random cases a property tries: a part of them in `npm test`, all of them in `npm run soak`, which runs
 * these properties too. Fewer cases of the same seed are the first of them.
 */
const part = Number(process.env.LIEFLAT_PROPERTY_PART ?? 0.1);

/** True in `npm run soak`: what is alike is tried in full. */
export const whole = part >= 1;

export const runs = (all: number): number => Math.max(1, Math.ceil(all * part));
