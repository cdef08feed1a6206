/**
 * Texts with some of their stretches read as others, and where each character stood. In: a text, replacements. Out: the text that
 * is read on, with its places; readings one after another keep the places of the first.
 */
import type { Replacement } from './numbers.ts';

export interface Replaced {
  readonly text: string;
  /** Where each character stood; null where none moved. */
  readonly places: Int32Array | null;
}

/**
 * What `re` finds, each read as what `as` makes of it, null for what stays; of each the group `lead`, at its beginning,
 * stays as it is.
 */
export function readAs(
  text: string,
  re: RegExp,
  as: string | ((m: RegExpExecArray) => string | null),
  lead = 0,
): Replacement[] {
  return [...text.matchAll(re)].flatMap((m) => {
    const said = typeof as === 'string' ? as : as(m);
    const from = m.index + (lead > 0 ? m[lead].length : 0);
    return said === null ? [] : [{ from, to: m.index + m[0].length, text: said }];
  });
}

/** In order and without overlaps; of two that begin alike the longer holds. */
export function inOrder(all: Replacement[]): Replacement[] {
  all.sort((a, b) => a.from - b.from || b.to - a.to);
  let end = 0;
  return all.filter((r) => {
    if (r.from < end) return false;
    end = r.to;
    return true;
  });
}

/** `words`: in order. */
export function replaced(text: string, words: readonly Replacement[]): Replaced {
  if (words.length === 0) return { text, places: null };
  const parts: string[] = [];
  const longer = words.reduce((n, r) => n + r.text.length, 0);
  const places = new Int32Array(text.length + longer + 1);
  let to = 0;
  let from = 0;
  const keep = (end: number): void => {
    parts.push(text.slice(from, end));
    for (; from < end; from++) places[to++] = from;
  };
  for (const word of words) {
    keep(word.from);
    parts.push(word.text);
    const { length } = word.text;
    const last = Math.max(word.from, word.to - 1);
    for (let k = 0; k < length; k++)
      places[to++] = k + 1 === length ? last : Math.min(word.from + k, last);
    from = word.to;
  }
  keep(text.length);
  places[to] = text.length;
  return { text: parts.join(''), places };
}

/** One reading after another, each of what the one before left. */
export function readInTurn(
  text: string,
  readings: readonly ((text: string) => Replacement[])[],
): Replaced {
  let now: Replaced = { text, places: null };
  for (const reading of readings) {
    const before = now.places;
    const next = replaced(now.text, inOrder(reading(now.text)));
    const places = next.places && before ? next.places.map((at) => before[at]) : next.places;
    now = { text: next.text, places: places ?? before };
  }
  return now;
}
