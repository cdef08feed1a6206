/**
 * A sentence that tells how the work goes on, while it is read: what its phrases fill.
 */
import type { Going } from '../../ast.ts';
import type { OpenTail } from '../../tail/open-tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';

/** A sentence while it is read. */
export interface OpenGoing {
  asks: boolean;
  /** It begins with "decrease", "knit": whoever says in what way as before asks to go on. */
  readonly imperative: boolean;
  stop: Going['stop'];
  which: Going['which'];
  readonly tail: OpenTail;
  /** Plain rounds of a pair: "a decrease round and a plain one". */
  plainRounds: number;
  shapedRound: boolean;
  /** A place before or after the shaping was told: what is fewer stands there. */
  beside: boolean;
}

export type Phrase = (c: TokenCursor, s: OpenGoing) => boolean;

/** Words that call a round one that shapes. */
export const SHAPING = 'dec|decrease|decreasing|inc|increase|increasing|shaping|shaped';
