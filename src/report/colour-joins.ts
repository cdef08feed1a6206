/**
 * Where a colour is joined: for the first time, or again since it was cut. In: a Plan whose rounds have colours. Out:
 * joins in order; each leaves two ends to weave in.
 */
import type { Plan } from '../plan/plan.ts';

/** Rounds that a colour may rest and still be carried up the wrong side. Chosen: longer floats catch (common practice: a few). */
export const CARRIED_ROUNDS = 8;

export interface ColourJoin {
  readonly colour: string;
  /** Round, 1-based; 0 is the cast-on, one beyond the last round the bind-off. */
  readonly round: number;
  /** It was cut before this: rested for too long, or flat work has left it at the other edge. */
  readonly again: boolean;
}

export function colourJoins({
  colours,
  rounds,
  worked,
  ending,
}: Pick<Plan, 'colours' | 'rounds' | 'worked' | 'ending'>): ColourJoin[] {
  if (!colours) return [];
  const order = [colours.castOn, ...rounds.map(({ colour }) => colour ?? colours.castOn)];
  if (ending === 'bound-off') order.push(colours.ending);
  const joins: ColourJoin[] = [];
  const usedIn = new Map<string, number>();
  order.forEach((colour, round) => {
    const last = usedIn.get(colour);
    const rested = last === undefined ? 0 : round - last - 1;
    const cut = rested > CARRIED_ROUNDS || (worked === 'flat' && rested % 2 === 1);
    if (last === undefined || cut) joins.push({ colour, round, again: last !== undefined });
    usedIn.set(colour, round);
  });
  return joins;
}
