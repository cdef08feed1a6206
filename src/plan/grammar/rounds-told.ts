/**
 * Sentences whose subject are rounds and that tell how those are worked: "every 5th round is purled", "the 5th and 10th rounds
 * are purl rounds", "each decrease round is followed by 2 plain rounds". In: a cursor at the sentence. Out: which rounds, and
 * what is told of them; null where it is no such sentence.
 */
import { regex } from '../lexicon/expression.ts';
import type { RoundsRef, Statement } from './ast.ts';
import { readChangeTold } from './change-told.ts';
import type { Passage } from './passage.ts';
import { unit } from './phrases.ts';
import { roundsRef } from './round-refs.ts';
import { says, saysAny } from './rules.ts';
import { readFabric } from './steps/patterns.ts';
import type { TokenCursor } from './token-cursor.ts';

export type WhichRounds =
  | { readonly kind: 'numbers'; readonly numbers: readonly number[] }
  /** Every so many; `nth`: of each of those. */
  | { readonly kind: 'every'; readonly of: number; readonly nth?: number }
  /** All but so many at one end. */
  | { readonly kind: 'all-but'; readonly first: number; readonly last: number }
  | { readonly kind: 'shaped'; readonly but: number };

export type HowWorked =
  | { readonly kind: 'knit' | 'purl' | 'fabric' }
  /** Behind each of them so many rounds of that kind; null for plain ones of either. */
  | { readonly kind: 'followed'; readonly rounds: number; readonly by: 'knit' | 'purl' | null };

export interface RoundsTold {
  readonly which: WhichRounds;
  /** Null where it is said that they are not worked, or worked in a way that only asks. */
  readonly how: HowWorked | null;
}

const LED =
  'note|notes|nb|remember|please|that|also|and|so|now|then|,|:|-|•|(|in|on|here|throughout*';
const ALL = 'all|every|each|the';
const BUT = 'but|except|bar|save|excepting|excluding|without';

/** "Every 5th round is purled" */
export function readRoundsTold(c: TokenCursor): RoundsTold | null {
  return c.attempt(() => {
    says(c, LED);
    const which = readWhich(c);
    if (!which) return null;
    const how = readHow(c);
    return how === undefined ? null : { which, how };
  });
}

function readWhich(c: TokenCursor): WhichRounds | null {
  return (
    c.attempt(() => {
      if (
        !says(c, `${ALL} second|other|alternate|alternating|2nd @unit`) &&
        !says(c, 'alternate @unit')
      )
        return null;
      return { kind: 'every', of: 2 } as const;
    }) ??
    c.attempt(() => {
      const of =
        says(c, 'each|every|all the? % @unit')?.[0] ?? says(c, '1|one @unit in|of every? #')?.[0];
      return of == null || of < 2 ? null : ({ kind: 'every', of } as const);
    }) ??
    c.attempt(() => {
      const of = says(c, '1|one in|of every? # @unit')?.[0];
      return of == null ? null : ({ kind: 'every', of } as const);
    }) ??
    c.attempt(() => {
      const n = says(c, 'the? % @unit of|in every|each # @unit?');
      if (n?.[0] == null || n[1] == null) return null;
      return { kind: 'every', of: n[1], nth: n[0] } as const;
    }) ??
    c.attempt(() => allBut(c)) ??
    c.attempt(() => shaped(c)) ??
    c.attempt(() => numbers(c))
  );
}

/** "All rounds but the last 2", "Other than the first, each round" */
function allBut(c: TokenCursor): WhichRounds | null {
  const end = 'first|last|final';
  const front = `${BUT}|other|apart|with* than|from|for|the|exception|of* the? ${end} #? @unit? ,? ${ALL} other? @unit`;
  const behind = `${ALL} other? @unit ${BUT}|other|apart* than|from|for? the? ${end} #? 1|one? @unit?`;
  const middle = `${ALL} ${BUT} the? ${end} #? @unit`;
  const { i } = c;
  const n = saysAny(c, [front, behind, middle]);
  if (!n) return null;
  const words = c.slice(i, c.i);
  const many = n[0] ?? 1;
  if (!regex.plain`\b(?:${BUT}|other than|apart from|exception)\b`.test(words)) return null;
  return /\bfirst\b/.test(words)
    ? { kind: 'all-but', first: many, last: 0 }
    : { kind: 'all-but', first: 0, last: many };
}

/** "each decrease round", "all but the last decrease round" */
function shaped(c: TokenCursor): WhichRounds | null {
  const but = says(
    c,
    `${ALL} ${BUT} the? last dec|decrease|decreasing|inc|increase|increasing|shaping @unit`,
  );
  if (but) return { kind: 'shaped', but: 1 };
  if (!says(c, `${ALL} dec|decrease|decreasing|inc|increase|increasing|shaping @unit`)) return null;
  return { kind: 'shaped', but: 0 };
}

/** "rounds 5 and 10", "the 5th and 10th rounds" */
function numbers(c: TokenCursor): WhichRounds | null {
  const n =
    says(c, 'the? % ,|and|& the? % ,|and|&? the? %? ,|and|&? the? %? @unit') ??
    says(c, 'only? @unit # ,|and|&? #? ,|and|&? #? ,|and|&? #?');
  const list = n?.filter((x) => x !== null);
  return list?.length ? { kind: 'numbers', numbers: list } : null;
}

const BEING = 'is|are|should|must|will|shall|get|gets|have|has|need|needs';
const MERELY =
  'be|being|been|to|all|both|each|always|only|just|simply|then|now|again|also|worked|done|made|in|a|an|of|as*';
const OF = 'knit|knitted|purl|purled|plain|even|garter';

/** What is told of them; undefined where nothing is that could be. */
function readHow(c: TokenCursor): HowWorked | null | undefined {
  if (!c.eatMark(':,') && !says(c, `${BEING} ${MERELY}`)) return undefined;
  if (c.phrase('not|never|left|omitted|skipped|undone')) return null;
  const followed = says(c, `followed by #|a|an ${OF} @unit`);
  const word = c.word(followed ? -2 : 0);
  const sort = /^knit/.test(word) ? 'knit' : /^purl/.test(word) ? 'purl' : null;
  if (followed)
    return ends(c) ? { kind: 'followed', rounds: followed[0] ?? 1, by: sort } : undefined;
  if (c.phrase('purled|purl|knitted|knit')) {
    if (!unit(c)) c.phrase('one|ones');
    return ends(c) && sort ? { kind: sort } : undefined;
  }
  return readFabric(c) && ends(c) ? { kind: 'fabric' } : undefined;
}

function ends(c: TokenCursor): boolean {
  says(c, 'throughout|again|too|as|well|here|all|round|over|only|from|now|on*');
  return (
    c.done ||
    c.mark('.;!)') ||
    (c.mark(',') && /^(?:so|which|because|as|since|for)$/.test(c.word(1)))
  );
}

/** Prose with what it tells of rounds; where that is no more than an order, it asks. */
export function tellRounds(statements: readonly Statement[], passage: Passage): Statement[] {
  const { tokens } = passage;
  let at = 0;
  return statements.map((s) => {
    while (at < tokens.length && tokens[at].from < s.from) at++;
    if (!(s.kind === 'prose' || s.kind === 'going') || s.instructs || at >= tokens.length) return s;
    let end = at;
    while (end < tokens.length && tokens[end].to <= s.to) end++;
    const c = passage.cursor(at, Math.min(end, at + LONGEST));
    const change = s.kind === 'prose' ? readChangeTold(c) : null;
    if (change && s.kind === 'prose') return { ...s, change };
    const told = readRoundsTold(c);
    if (told?.how === null) return { ...s, instructs: true };
    const names = s.kind === 'prose' ? lastNamed(c) : null;
    return { ...s, ...(told && { told }), ...(names && { names }) } as Statement;
  });
}

/** "Now you know rounds 3 to 5 by heart", "these 3 rounds set the shaping": several rounds, named last. */
function lastNamed(c: TokenCursor): RoundsRef | null {
  let found: RoundsRef | null = null;
  for (; !c.done; c.i++) {
    const which = namedHere(c);
    if (which) found = which;
  }
  return found;
}

const MANY =
  'the|these|those|both|last|previous|following|your|are|is|make|form|that|this|now* # @unit|lines';

function namedHere(c: TokenCursor): RoundsRef | null {
  const which = c.ahead(() => roundsRef(c));
  const several =
    (which?.kind === 'numbers' && which.numbers.length > 1) ||
    (which?.kind === 'last' && which.count > 1);
  if (several) return which;
  const named = /^(?:these|those|last|previous|your)$/.test(c.word());
  const n = named ? c.ahead(() => says(c, MANY)?.[0]) : null;
  return n != null && n > 1 ? { kind: 'last', count: n } : null;
}

/** Most tokens of such a sentence. Chosen: bounds the time. */
const LONGEST = 40;
