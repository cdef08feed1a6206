/**
 * What begins at a place of a line: the kinds of instructions, each with what its first words said. In: such a beginning.
 * Out: what may stand beside it.
 */
import type { Going, RoundLabel, Told } from './ast.ts';

export type Start = { readonly at: number; readonly next: number } & (
  | { readonly kind: 'cast-on' | 'set-up' | 'end' }
  | { readonly kind: 'round'; readonly label: RoundLabel }
  | Told
);

/** How far the text has come: what an instruction may be depends on it. */
export interface Progress {
  castOn: boolean;
  worked: boolean;
  ended: boolean;
}

/** It asks to go on, says where to stop, or how the runs between the shaping grow shorter, which no label says. */
export function tells({ asks, stop, tail }: Going): boolean {
  return asks || stop !== null || tail.fewer !== null;
}

export function plainOnly(start: Extract<Start, { kind: 'work' }>): boolean {
  return start.clauses[0].kind === 'plain';
}

/** Shaping or a repeat that lasts: it cannot be a part of one round's stitches. */
export function goesOnLong(start: Extract<Start, { kind: 'work' }>): boolean {
  const [first] = start.clauses;
  if (first.kind !== 'shape') return false;
  const { tail } = first;
  return tail.every !== null || tail.untilStitches !== null || tail.times !== null;
}
