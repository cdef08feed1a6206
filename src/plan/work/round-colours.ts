/**
 * The colour that each round is worked in. In: colours taken up and stripes, as the text comes to them, with the rounds
 * worked before. Out: the colour of a round, where the text says so.
 */
import type { Stripe } from '../grammar/ast.ts';

export class RoundColours {
  #colour: string | null = null;
  #stripes: readonly Stripe[] = [];
  /** Rounds worked before the first stripe. */
  #since = 0;

  /** Rounds from here on are worked in this colour; null says nothing. */
  takeUp(colour: string | null): void {
    if (colour === null) return;
    this.#colour = colour;
    this.#stripes = [];
  }

  /** Rounds behind the first `since` go from stripe to stripe, over and over. */
  alternate(stripes: readonly Stripe[], since: number): void {
    const first = this.#colour ?? 'MC';
    const letter = /^colour ([A-E])$/.exec(first)?.[1];
    const next =
      letter === undefined ? 'CC' : `colour ${String.fromCharCode(letter.charCodeAt(0) + 1)}`;
    this.#stripes = stripes.map((s, i) => ({
      ...s,
      colour: s.colour ?? (i % 2 === 0 ? first : next),
    }));
    this.#since = since;
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
}
