/**
 * Markers hung at stitches that are told by number, in the one wording of `lex/marker-words.ts`: "placing markers in sts 10,
 * 30", "place markers after sts 1 every 16", "placing a marker after every 24 sts". In: a cursor at the words. Out: the step
 * that hangs them, for openings, clauses and rounds alike; null and the cursor unmoved where it says something else.
 */
import { regex } from '../lexicon/expression.ts';
import type { MarkerStep } from './steps/steps.ts';
import type { TokenCursor } from './token-cursor.ts';

export type MarkersHung = Pick<MarkerStep, 'action' | 'at' | 'every'>;

/** At the numbers of their stitches: for `hungByNumber`. */
export const BY_NUMBER = String.raw`plac(?:e|ing)\s+markers\s+(in|after)\s+sts\s+(\d{1,5}(?:\s*,\s*\d{1,5})*)(?:\s+every\s+(\d{1,5}))?`;
const BY_NUMBER_HERE = regex.plain`^${BY_NUMBER}`;
/** Most tokens of them. Chosen: bounds the time. */
const LONGEST = 200;

export function hungByNumber([, how, told, every]: readonly string[]): MarkersHung {
  return {
    action: how === 'in' ? 'mark' : 'place',
    at: told.split(',').map(Number),
    ...(every && { every: Number(every) }),
  };
}

export function markersHung(c: TokenCursor): MarkersHung | null {
  return c.attempt(() => {
    const { i } = c;
    if (!c.phrase('place|placing')) return null;
    const told = BY_NUMBER_HERE.exec(c.slice(i, Math.min(c.end, i + LONGEST)));
    if (told) {
      const end = c.from(i) + told[0].length;
      while (!c.done && c.from() < end) c.i++;
      return hungByNumber(told);
    }
    if (!c.phrase('a|stitch? marker|markers')) return null;
    c.phrase('after');
    if (!c.phrase('every|each')) return null;
    const every = c.number() ?? c.ordinal();
    if (every === null || !c.phrase('st|sts|stitch|stitches')) return null;
    return { action: 'place', every };
  });
}

/** The stitches meant, counted from 1, of `count`: those told, and then so many apart. */
export function stitchesHung({ at, every }: MarkersHung, count: number): number[] {
  const out = [...(at ?? [])];
  if (!every) return out;
  for (let n = (out.at(-1) ?? 0) + every; n <= count; n += every) out.push(n);
  return out;
}

/** Sides of `count` stitches whose corners hold a marker each, all alike; null where they are not alike. */
export function evenlyHung(at: readonly number[], count: number): number | null {
  const [first, second] = at;
  if (at.length < 3 || at.length * (second - first) !== count) return null;
  return at.every((n, i) => n === first + i * (second - first)) ? at.length : null;
}
