/**
 * The colour that each round is worked in. In: colours taken up and stripes, as the text comes to them, with the rounds
 * worked before. Out: the colour of a round, where the text says so.
 */
import type { Stripe } from '../grammar/ast.ts';
import type { Step } from '../grammar/steps/steps.ts';

interface Coloured {
  readonly steps: readonly Step[];
  readonly colour?: string;
}

export class RoundColours {
  #colour: string | null = null;
  #stripes: readonly Stripe[] = [];
  /** Rounds worked before the first stripe. */
  #since = 0;
  readonly #castOn: string | null;
  /** The colour in which what a round is worked from was first worked. */
  readonly #worked = new Map<readonly Step[], string | null>();

  /** `castOn`: colour of the cast-on, where the text says so. */
  constructor(castOn: string | null = null) {
    this.#castOn = castOn;
  }

  /** Rounds from here on are worked in this colour; null says nothing. */
  takeUp(colour: string | null, before: number): void {
    // "Change to B" where the stripes come to it
    if (colour === null || (this.#stripes.length > 0 && this.of(before).colour === colour)) return;
    this.#colour = colour;
    this.#stripes = [];
  }

  /** Rounds behind those worked go from stripe to stripe; none given: as they have. False where there have been none. */
  stripe(stripes: readonly Stripe[], worked: readonly { readonly colour?: string }[]): boolean {
    if (stripes.length === 0 && this.#stripes.length > 0) return true;
    const so = this.#established(worked);
    // "changing colour every 2 rounds", as they have
    if (stripes.every((s) => s.colour === null && s.rounds === so?.[0].rounds)) {
      if (!so) return false;
      this.#stripes = so;
      this.#since = worked.length;
      return true;
    }
    this.#alternate(stripes, worked.length);
    return true;
  }

  #alternate(stripes: readonly Stripe[], since: number): void {
    const first = this.#colour ?? this.#castOn ?? 'MC';
    const letter = /^colour ([A-G])$/.exec(first)?.[1];
    const next =
      letter === undefined ? 'CC' : `colour ${String.fromCharCode(letter.charCodeAt(0) + 1)}`;
    this.#stripes = stripes.map((s, i) => ({
      ...s,
      colour: s.colour ?? (i % 2 === 0 ? first : next),
    }));
    this.#since = since;
  }

  /** The colours since the last stripe of the same one, in turn; null where no stripes of equal height have been worked. */
  #established(worked: readonly { readonly colour?: string }[]): Stripe[] | null {
    const told = worked.map((r) => r.colour);
    const before = this.#castOn ?? beforeTold(told);
    const runs: { rounds: number; colour: string }[] = [];
    for (const colour of told) {
      const run = runs.at(-1);
      if (run?.colour === (colour ?? before)) run.rounds++;
      else runs.push({ rounds: 1, colour: colour ?? before });
    }
    const turn: Stripe[] = [];
    for (const run of runs.toReversed()) {
      if (turn.some((s) => s.colour === run.colour) || run.rounds !== runs.at(-1)?.rounds) break;
      turn.unshift(run);
    }
    return turn.length > 1 ? turn : null;
  }

  /** What a round says of its colour; `before`: rounds worked before it. */
  of(before: number): { readonly colour?: string } {
    const all = this.#stripes.reduce((sum, s) => sum + s.rounds, 0);
    let left = all > 0 ? (before - this.#since) % all : 0;
    const stripe = this.#stripes.find((s) => {
      left -= s.rounds;
      return left < 0;
    });
    const colour = stripe?.colour ?? this.#colour;
    return colour === null ? {} : { colour };
  }

  /** A round was worked from these steps in this colour. */
  note(steps: readonly Step[], { colour }: { readonly colour?: string }): void {
    if (!this.#worked.has(steps)) this.#worked.set(steps, colour ?? null);
  }

  /** Rounds repeated together: those that were worked in several colours keep them; stripes go on over all. */
  repeated<T extends Coloured>(defs: readonly T[]): readonly T[] {
    if (this.#stripes.length > 0) return defs;
    const colours = defs.map((d) => d.colour ?? this.#worked.get(d.steps) ?? this.#castOn);
    if (new Set(colours).size < 2) return defs;
    // Before the first colour that is told the yarn is the one cast on with.
    return defs.map((d, i) => ({ ...d, colour: colours[i] ?? beforeTold(colours) }));
  }

  /** The colour in hand, where the text says so; `rounds`: those worked. */
  after(rounds: number): string | null {
    if (this.#stripes.length > 0) return this.of(Math.max(0, rounds - 1)).colour ?? null;
    return this.#colour;
  }
}

/** The yarn that is worked with before any colour is told: what is told first is told as another. */
export function beforeTold(told: readonly (string | null | undefined)[]): string {
  const first = told.find((colour) => colour != null) ?? '';
  if (/^colour [2-9]$/.test(first)) return 'colour 1';
  return /^colour [B-H]$/.test(first) ? 'colour A' : 'MC';
}
