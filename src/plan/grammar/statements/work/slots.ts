/**
 * What one clause of prose has said so far: its verb, and one slot for each thing that can be said of it. Out:
 * slots that say nothing yet.
 */
import type { RoundsRef, Shaping } from '../../ast.ts';
import type { MarkersHung } from '../../markers-hung.ts';
import type { Fabric } from '../../steps/patterns.ts';
import { emptyTail, type OpenTail } from '../../tail/open-tail.ts';

export type Verb = 'knit' | 'purl' | 'work' | 'go-on' | 'repeat' | 'shape' | 'none';

export interface Slots {
  verb: Verb;
  rounds: number | null;
  /** Those are called the first ones. */
  first: boolean;
  mm: number | null;
  which: RoundsRef | null;
  name: string | null;
  fabric: Fabric | null;
  even: boolean;
  /** "into the backs of the sts" */
  twisted: boolean;
  shaping: Shaping | null;
  /** What is told is told of each side. */
  onEach: boolean;
  colour: string | null;
  /** Markers hung in the first round. */
  markers: MarkersHung | null;
  tail: OpenTail;
}

export function emptySlots(): Slots {
  return {
    verb: 'none',
    rounds: null,
    first: false,
    mm: null,
    which: null,
    name: null,
    fabric: null,
    even: false,
    twisted: false,
    shaping: null,
    onEach: false,
    colour: null,
    markers: null,
    tail: emptyTail(),
  };
}
