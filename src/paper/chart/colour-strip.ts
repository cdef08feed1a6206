/**
 * The strip beside a chart's round numbers: in which colour each round is worked, by letter and by shade.
 * In: a Plan, shades chosen by the user. Out: for every colour its mark and shade and what the key says of it.
 */
import type { Plan } from '../../plan/plan.ts';
import { colourInWords, colourMarks, coloursOf } from '../../plan/write/colours.ts';
import { inTerms, ownWords, type Terms } from '../../report/words/terms.ts';
import { planShades, type ShadeChoice } from '../yarn-shades.ts';

export interface StripColour {
  readonly mark: string;
  /** `#rrggbb` */
  readonly shade: string;
  readonly words: string;
}

/** Advance of a capital and room beside it, as shares of the letters' size. */
const CAPITAL = 0.78;
const BESIDE = 0.7;

export class ColourStrip {
  private readonly colours: ReadonlyMap<string, StripColour>;
  /** The designer's names of them. */
  readonly own: readonly string[];

  constructor(
    private readonly plan: Plan,
    shades: ShadeChoice = {},
  ) {
    this.own = ownWords(plan);
    const names = coloursOf(plan);
    const marks = colourMarks(names);
    const known = planShades(plan, shades);
    const word = plan.worked === 'round' ? 'round' : 'row';
    this.colours = new Map(
      names.map((name): [string, StripColour] => {
        const look = plan.colours?.words[name];
        const words = `${word} worked in ${colourInWords(name)}${look ? ` (${look})` : ''}`;
        return [name, { mark: marks.get(name) ?? name, shade: known.get(name) ?? '#fff', words }];
      }),
    );
  }

  /** Width in letters' heights; 0 where rounds have no colours. */
  get width(): number {
    const longest = Math.max(0, ...[...this.colours.values()].map(({ mark }) => mark.length));
    return longest === 0 ? 0 : CAPITAL * longest + BESIDE;
  }

  /** Colour of a round of the plan, 1-based; null where there are none. */
  of(round: number): StripColour | null {
    return this.colours.get(this.plan.rounds[round - 1]?.colour ?? '') ?? null;
  }

  /** Colours of these rounds, in the order of the plan's. */
  among(rounds: readonly number[]): StripColour[] {
    const shown = new Set(rounds.map((round) => this.of(round)));
    return [...this.colours.values()].filter((colour) => shown.has(colour));
  }

  reading(terms: Terms): string {
    if (this.colours.size === 0) return '';
    const word = this.plan.worked === 'round' ? 'round' : 'row';
    return inTerms(`The letters beside the numbers give the colour of each ${word}.`, terms);
  }
}
