/**
 * The stitch kinds that one plan uses, numbered in order of first use, with their counts at hand for
 * the inner loops.
 */
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import type { StitchKind } from './stitch-kind.ts';

export class StitchRegistry {
  readonly kinds: StitchKind[] = [];
  /** Loops that kind `id` works. */
  readonly consumes: number[] = [];
  /** Loops that kind `id` leaves. */
  readonly makes: number[] = [];
  readonly #ids = new Map<string, number>();
  readonly #abbreviations: Abbreviations;

  constructor(abbreviations: Abbreviations) {
    this.#abbreviations = abbreviations;
  }

  /** Id of a canonical name; unknown names are worked as knit, which the reader has reported. */
  idOf(name: string): number {
    const known = this.#ids.get(name);
    if (known !== undefined) return known;
    const kind = this.#abbreviations.kindNamed(name);
    if (!kind) return name === 'k' ? -1 : this.idOf('k');
    const id = this.kinds.length;
    this.kinds.push(kind);
    this.consumes.push(kind.consumes);
    this.makes.push(kind.loops.length);
    this.#ids.set(name, id);
    return id;
  }
}
