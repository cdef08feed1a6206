/**
 * Stitches of a short row in notation with counts and repeats: `[k2tog, k4] 8 times, k3, w&t`. In: a round of a Plan. Out:
 * text in the plan language without its final stop.
 */
import type { Plan, PlanRound } from '../plan.ts';
import { isUnworked } from '../stitches/stitch-kind.ts';
import { foldSequence } from './fold-stitches.ts';
import { countWords } from './sentences.ts';

/** One kind of stitch worked `times` times: `k5`, `k3 tbl`, `sl2 wyif`, `ssk 3 times`, `2/2 LC`. */
export function stitchWords(name: string, times: number): string {
  if (name === 'k' || name === 'p') return `${name}${times}`;
  if (name === 'ktbl' || name === 'ptbl') return `${name[0]}${times} tbl`;
  if (name.startsWith('sl1')) {
    const knitwise = name.startsWith('sl1k') ? ' knitwise' : '';
    const yarn = /wy(?:ib|if)/.exec(name)?.[0];
    return `sl${times}${knitwise}${yarn ? ` ${yarn}` : ''}`;
  }
  if (name === 'bo1') return `bind off ${countWords(times)}`;
  if (name === 'co1') return `cast on ${countWords(times)}`;
  if (name === 'drop1') return times === 1 ? 'drop 1 st' : `[drop 1 st] ${times} times`;
  if (name.endsWith('in 1 st')) return times === 1 ? name : `[${name}] ${times} times`;
  return times === 1 ? name : `${name} ${times} times`;
}

/** A short row: the stitches between those left, and the turn. */
export function shortRowWords(round: PlanRound, plan: Plan): string {
  const kinds = Array.from(round.works, (id) => plan.kinds[id]).filter((kind) => !isUnworked(kind));
  const words = foldSequence(
    kinds.map((kind) => kind.name),
    stitchWords,
  );
  const turns = { wrap: 'w&t', double: 'turn and make double st', plain: 'turn' };
  const { turnedAt, style } = round.shortRow ?? {};
  return turnedAt === null || !style ? words : `${words}, ${turns[style]}`;
}
