/**
 * What was read before, by the words it was read from: words that stand again are not read again, within a text or in
 * the next one, where only a line may have changed. In: a key of all that a reading depends on, and its place. Out:
 * the nodes as a fresh reading gives them; those from elsewhere are copies with their places moved.
 */
import type { Place } from '../lex/source.ts';

interface Known {
  readonly value: unknown;
  readonly at: Place;
}

export class Recall {
  /** Readings of this text and of the one before. */
  #now = new Map<string, Known>();
  #before = new Map<string, Known>();
  #setting = '';

  /** Another text begins. `setting`: what all its readings depend on, besides their words. */
  begin(setting: string): void {
    this.#before = setting === this.#setting ? this.#now : new Map();
    this.#now = new Map();
    this.#setting = setting;
  }

  /** The reading of `key` at a place of the normalised text. The key holds every word of the place. */
  read<T>(key: string, at: Place, read: () => T): T {
    const known = this.#now.get(key) ?? this.#before.get(key);
    if (!known) {
      const value = read();
      this.#now.set(key, { value, at });
      return value;
    }
    // Nodes are told apart by identity, so that no two places share one.
    const by = at.from - known.at.from;
    if (by === 0) {
      this.#now.set(key, known);
      return known.value as T;
    }
    const value = moved(known.value, known.at, by) as T;
    this.#now.set(key, { value, at });
    return value;
  }
}

/**
 * A copy of nodes whose places lie within `at`, moved. Nodes of elsewhere stay the same: the steps of an abbreviation are
 * shared by all that name it.
 */
function moved(value: unknown, at: Place, by: number): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) {
    const copies = value.map((v) => moved(v, at, by));
    const elsewhere = copies.every((v, i) => typeof v === 'object' && v === value[i]);
    return elsewhere && copies.length > 0 ? value : copies;
  }
  const node = value as Record<string, unknown>;
  const { from } = node;
  if (typeof from === 'number' && (from < at.from || from > at.to)) return value;
  const copy: Record<string, unknown> = { ...node };
  for (const key in copy) {
    const v = copy[key];
    if (typeof v === 'object') copy[key] = moved(v, at, by);
    else if (key === 'from' || key === 'to') copy[key] = (v as number) + by;
  }
  return copy;
}
