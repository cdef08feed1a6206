/**
 * What a label of a round names before its mark: numbers, a rule, a name; the shape that every way of naming gives.
 */
import type { Parity, RoundLabel } from '../../ast.ts';
import { unit } from '../../phrases.ts';
import type { StatedCount } from '../../steps/stated-counts.ts';
import type { TokenCursor } from '../../token-cursor.ts';

export type Unit = RoundLabel['unit'];

export interface Head {
  readonly numbers: readonly number[];
  readonly rule: Parity | null;
  readonly upTo?: number;
  readonly repeat: number;
  readonly name: string;
  readonly unit: Unit;
  /** A bare number such as `3.`, whose mark is part of it. */
  readonly bare?: boolean;
  readonly suffix?: readonly number[];
  readonly side?: 'RS' | 'WS';
  readonly every?: boolean;
  readonly means?: RoundLabel['means'];
  readonly stated?: StatedCount | null;
}

export function head(part: Partial<Head>): Head {
  return { numbers: [], rule: null, repeat: 1, name: '', unit: null, ...part };
}

export function unitHere(c: TokenCursor): Unit | undefined {
  if (c.word() === 'r' && c.isNumber(1)) {
    c.i++;
    return null;
  }
  return unit(c) ?? undefined;
}

export function parityOf(words: string): Parity {
  if (/\beven/.test(words)) return 'even';
  if (/\b(?:odd|uneven)/.test(words)) return 'odd';
  if (/\bws\b|wrong/.test(words)) return 'ws';
  if (/\brs\b|right/.test(words)) return 'rs';
  return 'other';
}
