/**
 * Patterns that follow what is on the needle: "as set", "knit the knits", seed stitch. Input: the face
 * history of every loop (`needle.ts`). Output: the stitch that a rule asks for on top of each, and the
 * history after a round.
 */
import type { PatternRule, PatternStep } from '../grammar/steps/steps.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';
import {
  alternatesEverywhere,
  HISTORY_BITS,
  KNIT,
  type Needle,
  PURL,
  seeded,
  TWISTED_BIT,
  YARN_OVER_BIT,
} from './needle.ts';
import { ribbed } from './ribbing.ts';
import type { RoundSetting } from './round-context.ts';

/** The stitches that patterns ask for in one round. */
export class PatternStitches {
  readonly #needle: Needle;
  readonly #setting: RoundSetting;
  #alternates: boolean | null = null;
  #seeded: boolean | null = null;

  constructor(needle: Needle, setting: RoundSetting) {
    this.#needle = needle;
    this.#setting = setting;
  }

  /** Names of the stitches that a step asks for on top of the loops from `from` on; `misfit`: ribbing that does not go there. */
  namesFor(step: PatternStep, from: number, end: number): ((at: number) => string) | 'misfit' {
    const { rule } = step;
    if (rule !== 'rib' && rule !== 'twisted rib') return (at) => this.nameAt(rule, at, from);
    const rib = ribbed(step, from, end, this.#needle, this.#setting);
    if (rib === 'set') return (at) => this.nameAt('set', at);
    return typeof rib === 'string'
      ? rib
      : (at) => this.#named(rib[at - from] & 3, (rib[at - from] & TWISTED_BIT) !== 0);
  }

  #named(face: number, twisted: boolean): string {
    const knit = (face === KNIT) !== this.#setting.wrongSide;
    return twisted ? (knit ? 'ktbl' : 'ptbl') : knit ? 'k' : 'p';
  }

  /** Name of the stitch that `rule` asks for on top of loop `at`. */
  nameAt(rule: Exclude<PatternRule, 'rib' | 'twisted rib'>, at: number, from = 0): string {
    const h = this.#needle.faces[at] ?? 0;
    const newest = h & 3;
    const older = (h >> 2) & 3;
    const oldest = (h >> 4) & 3;
    const opposite = newest === KNIT ? PURL : KNIT;
    let face = newest === 0 ? KNIT : newest;
    let twisted = false;
    // Beside an edge stitch of a row it begins anew; in the round it goes on across the sides.
    const begin = this.#setting.inRound ? 0 : from;
    switch (rule) {
      case 'knits':
        break;
      case 'seed':
        // On top of a purl bump as it faces comes a knit, so each column alternates as it faces; smooth ground begins
        // with k1, p1.
        if (this.#smoothAt(at)) return (at - begin) % 2 === 0 ? 'k' : 'p';
        face = opposite;
        break;
      case 'k, yo tbl':
        return h & YARN_OVER_BIT ? 'ktbl' : 'k';
      case 'p, yo tbl':
        return h & YARN_OVER_BIT ? 'ptbl' : 'p';
      case 'garter':
        if (!this.#setting.inRound) return 'k';
        face = newest === 0 ? KNIT : opposite;
        break;
      case 'stockinette':
        face = KNIT;
        break;
      case 'reverse':
        face = PURL;
        break;
      case 'set': {
        this.#seeded ??= seeded(this.#needle);
        if (this.#seeded) return this.nameAt('seed', at, from);
        this.#alternates ??= alternatesEverywhere(this.#needle);
        const alternating = older !== 0 && newest !== older && newest === oldest;
        if (this.#alternates || alternating) face = opposite;
        else twisted = (h & TWISTED_BIT) !== 0;
        break;
      }
    }
    return this.#named(face, twisted);
  }

  /** No seed lies here: the loops on both sides face as this one does. */
  #smoothAt(at: number): boolean {
    const { faces } = this.#needle;
    const face = (i: number): number => (faces[i] ?? faces[at] ?? 0) & 3;
    return face(at - 1) === face(at) && face(at + 1) === face(at);
  }
}

/** Face history of the `count` loops that `works` leaves, in working order of that round. */
export function facesAfter(
  works: Int16Array,
  count: number,
  needle: Needle,
  wrongSide: boolean,
  list: StitchRegistry,
): Uint8Array {
  const { kinds, consumes } = list;
  const yarnOver = list.idOf('yo');
  const out = new Uint8Array(count);
  let used = 0;
  let made = 0;
  for (let i = 0; i < works.length; i++) {
    const id = works[i];
    const { loops } = kinds[id];
    for (let j = 0; j < loops.length; j++) {
      const loop = loops[j];
      const below = loop.parents.length > 0 ? needle.faces[used + loop.parents[0]] : 0;
      if (loop.origin === 'slipped') out[made] = below;
      else {
        const knit = loop.face > 0 !== wrongSide;
        const twisted = loop.twisted && consumes[id] === 1 && loops.length === 1;
        out[made] =
          (((below << 2) | (knit ? KNIT : PURL)) & HISTORY_BITS) |
          (twisted ? TWISTED_BIT : 0) |
          (id === yarnOver ? YARN_OVER_BIT : 0);
      }
      made++;
    }
    used += consumes[id];
  }
  return out;
}
