/**
 * The colours that a square of a blanket wears, from its rim to its centre.
 * In: its plan and the yarns chosen for it. Out: bands, each a shade and its share of the depth; none where it wears one.
 */
import type { Plan } from '../../plan/plan.ts';
import { coloursOf } from '../../plan/write/colours.ts';
import type { BlanketSquare } from '../../report/blanket.ts';
import type { SquareColours } from '../project-file.ts';
import { planShades } from '../yarn-shades.ts';

type Band = NonNullable<BlanketSquare['bands']>[number];

export function squareBands(plan: Plan, colours: SquareColours | null): Band[] {
  const { rounds } = plan;
  const outward = rounds.length > 0 && rounds[rounds.length - 1].after > plan.castOn;
  const worn = plan.colours ? toldOf(plan, colours) : stripedOf(plan, colours);
  const bands: { hex: string; share: number }[] = [];
  for (const hex of outward ? worn.toReversed() : worn) {
    const last = bands.at(-1);
    if (last?.hex === hex) last.share += 1 / worn.length;
    else bands.push({ hex, share: 1 / worn.length });
  }
  return bands.length > 1 ? bands : [];
}

/** Shade of every round, by the colours that the text tells: chosen yarns in their order, else as the words say. */
function toldOf(plan: Plan, colours: SquareColours | null): string[] {
  const names = coloursOf(plan);
  const chosen = colours?.yarns.map(({ hex }, place) => [names[place], hex] as const) ?? [];
  const shades = planShades(plan, { named: Object.fromEntries(chosen) });
  return plan.rounds.flatMap(({ colour }) => shades.get(colour ?? names[0]) ?? []);
}

/** Two yarns chosen in stripes, as they are drawn and counted (`yarn-use.ts`). */
function stripedOf({ rounds }: Plan, colours: SquareColours | null): string[] {
  const [first, second] = colours?.yarns ?? [];
  const stripe = colours?.stripeRounds ?? 0;
  if (!first || !second || stripe <= 0) return [];
  return rounds.map(({ n }) => (Math.floor(n / stripe) % 2 === 1 ? second : first).hex);
}
