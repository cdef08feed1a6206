/**
 * Seeded random numbers, so that every run of a solve is the same run.
 * Generator: mulberry32 (T. Ettinger, public domain): 32-bit state, good enough for kicks and tests.
 */

/** A function that returns numbers in [0, 1), the same sequence for the same seed. */
export function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
