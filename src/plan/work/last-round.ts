/**
 * What a round is like: of knit or purl stitches, on the right or the wrong side, shaped or plain, odd or even. In: rounds
 * as worked, with what they were worked from. Out: whether they are as the text says.
 */
import type { EndRound } from '../grammar/ast.ts';
import type { PlanRound } from '../plan.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';

/** Of plain stitches, one sort alone contradicts the other; sides only count in rows. */
export function isLike(
  round: PlanRound,
  said: 'knit' | 'purl' | 'RS' | 'WS',
  inRound: boolean,
  list: StitchRegistry,
): boolean {
  if (said === 'RS' || said === 'WS') return inRound || round.wrongSide === (said === 'WS');
  return !allOf(round, said === 'knit' ? 'p' : 'k', list);
}

/** The last round is as the text wants it. */
export function endsWith(
  rounds: readonly PlanRound[],
  history: readonly RoundDef[],
  end: EndRound,
  list: StitchRegistry,
): boolean {
  const last = rounds[rounds.length - 1];
  if (!last || !('like' in end)) return true;
  if (end.like === 'RS' || end.like === 'WS') return last.wrongSide === (end.like === 'WS');
  if (end.like === 'shaped') return last.after !== last.before;
  if (end.like === 'plain') return last.after === last.before;
  if (end.like === 'even' || end.like === 'odd')
    return lastNumber(history) % 2 === (end.like === 'even' ? 0 : 1);
  return allOf(last, end.like === 'knit' ? 'k' : 'p', list);
}

/** Number that the last round has, counted on from the last one that the text numbers. */
function lastNumber(history: readonly RoundDef[]): number {
  for (let i = history.length - 1; i >= 0; i--) {
    const n = /^\D*(\d+)(?! ?\(repeat)\D*$/.exec(history[i].label);
    if (n) return Number(n[1]) + history.length - 1 - i;
  }
  return history.length;
}

/** The round works nothing but stitches of this name. */
function allOf(round: PlanRound, name: string, list: StitchRegistry): boolean {
  const id = list.idOf(name);
  return round.works.every((w) => w === id);
}
