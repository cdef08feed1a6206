/**
 * Sentences that ask for rounds in prose: clauses (`work/clause.ts`), chains of them, and sequences that are
 * repeated as a whole. In: a cursor at the sentence. Out: the clauses, the cursor behind the last word
 * understood; null otherwise.
 */
import type { Place } from '../../lex/source.ts';
import { LEADS, REPEAT_VERBS } from '../../lexicon/words.ts';
import type { Tail, WorkClause } from '../ast.ts';
import { nameBeforeUnit, unit } from '../phrases.ts';
import { roundsRef } from '../round-refs.ts';
import { says } from '../rules.ts';
import { cycleOf } from '../steps/patterns.ts';
import { emptyTail, stopOf } from '../tail/open-tail.ts';
import { readTimesPart } from '../tail/times.ts';
import { readTailPart } from '../tail.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { clause, LONGEST } from './work/clause.ts';
import { SHAPED_NAME } from './work/finished-clause.ts';
import { emptySlots, type Verb } from './work/slots.ts';
import { overStitches, roundsTold } from './work/told-beside.ts';

/** Most clauses of one chain. Chosen. */
const MOST_CLAUSES = 40;

/** The clauses of a sentence that begins here. */
export function readWork(c: TokenCursor): WorkClause[] | null {
  return c.attempt(() => {
    const end = c.end;
    c.end = Math.min(end, c.i + LONGEST * 3);
    const out = chain(c);
    c.end = end;
    return out;
  });
}

/** "Border: [purl 1 round, knit 1 round] 3 times, purl 1 round": what stands behind such a heading, rounds that are counted. */
export function headsRounds(c: TokenCursor): boolean {
  const clauses = readWork(c);
  if (clauses === null || clauses.length < 2 || !(c.done || c.mark('.'))) return false;
  return clauses.every((k) => k.kind === 'sequence' || (k.kind === 'plain' && k.rounds !== null));
}

/** `knit 1 round, then purl 1 round`, with a tail that holds for all of them. */
function chain(c: TokenCursor): WorkClause[] | null {
  const start = c.i;
  const bracketed = sequence(c);
  const first = bracketed?.[0] ?? clause(c, 'none');
  if (!first) return null;
  const out = bracketed ?? [first];
  let carry = verbOf(first);
  /** Clauses that begin without a verb of their own. */
  let verbless = 0;
  while (out.length < MOST_CLAUSES) {
    const before = c.i;
    const next = c.attempt(() => {
      if (!connector(c)) return null;
      return (
        sequence(c)?.[0] ??
        clause(c, carry) ??
        (out[out.length - 1].kind === 'named' ? namedAlone(c) : null)
      );
    });
    if (!next) break;
    if (!/\b(?:rep|repeat|work)/.test(c.slice(before, c.i))) verbless++;
    out.push(next);
    carry = verbOf(next);
  }
  const joined = verbless === out.length - 1 ? oneRepeat(out, c.span(start)) : null;
  if (joined) return [joined];
  // "[Purl 1 round, knit 1 round] 3 times, purl 1 round": how often is told.
  if (bracketed) return out;
  const last = out[out.length - 1];
  const [begin] = out;
  const pair =
    (begin.kind === 'named' ||
      isSeveral(begin) ||
      (begin.kind === 'plain' && (begin.tail.follows || IN_TURN.test(c.slice(start, c.i))))) &&
    out.every((p) => p.kind === 'named' || p.kind === 'plain' || isSeveral(p));
  if (out.length > 1 && pair) {
    // "Work a decrease round and a plain round alternately until 8 sts remain"
    const { tail } = last;
    const once = isSeveral(last) && tail.times === 1;
    const bounded = tail.forRounds ?? tail.untilRounds ?? tail.times ?? tail.untilStitches;
    if (bounded !== null && !once) {
      const parts = [...out.slice(0, -1), { ...last, tail: { ...emptyTail(), times: 1 } }];
      return [{ kind: 'sequence', parts, tail, ...c.span(start) }];
    }
  }
  if (out.length > 1 && last.kind === 'plain' && out.some((p) => p.kind !== 'plain')) {
    const { tail } = last;
    if (tail.times !== null || tail.untilStitches !== null) {
      const parts = [...out.slice(0, -1), { ...last, tail: emptyTail() }];
      return [{ kind: 'sequence', parts, tail, ...c.span(start) }];
    }
  }
  return out;
}

/** "Repeat round 3, then round 4, until 8 sts remain": both of them, again and again; null where they are told otherwise. */
function oneRepeat(clauses: readonly WorkClause[], at: Place): WorkClause | null {
  if (clauses.length < 2) return null;
  const numbers: number[] = [];
  for (const [i, clause] of clauses.entries()) {
    if (clause.kind !== 'repeat' || clause.which.kind !== 'numbers' || !clause.repeats) return null;
    const { tail } = clause;
    if (i < clauses.length - 1 && (stopOf(tail) !== null || tail.every !== null || tail.follows))
      return null;
    numbers.push(...clause.which.numbers);
  }
  const last = clauses[clauses.length - 1];
  if (last.tail.untilStitches === null && last.tail.times === null) return null;
  const which = { kind: 'numbers', numbers } as const;
  return { kind: 'repeat', which, repeats: true, tail: last.tail, ...at };
}

/** "Work a plain round and a decrease round alternately until …" */
const IN_TURN = /\b(?:alternat\w+|in turn|by turns)\b/;

/** "2 decrease rounds": rounds of one name, one behind the other. */
function isSeveral(clause: WorkClause): boolean {
  return clause.kind === 'sequence' && clause.parts.every((p) => p.kind === 'named');
}

/** "a plain round" behind "work a decrease round and": its verb is that of the clause before. */
function namedAlone(c: TokenCursor): WorkClause | null {
  return c.attempt(() => {
    const start = c.i;
    const n = says(c, 'the|a|an|another|#');
    if (n?.[0] != null && n[0] !== 1) return null;
    const plain = c.phrase('plain|even|knit|knitted|purl|purled') ? c.word(-1) : null;
    const name = plain ? '' : nameBeforeUnit(c);
    if (name === null || !unit(c)) return null;
    c.phrase('alternately|alternating|in');
    if (c.word(-1) === 'in') c.phrase('turn|alternation');
    const tail = emptyTail();
    while (readTailPart(c, tail) || overStitches(c, { tail }));
    if (plain) {
      const verb = /^k/.test(plain) ? 'knit' : /^pu/.test(plain) ? 'purl' : 'work';
      const at = c.span(start);
      const cycle = cycleOf(verb, null, verb === 'work', at);
      return {
        kind: 'plain',
        cycle,
        rounds: 1,
        lengthMm: null,
        last: null,
        colour: null,
        tail,
        ...at,
      };
    }
    return { kind: 'named' as const, name, repeats: true, tail, ...c.span(start) };
  });
}

function verbOf(clause: WorkClause): Verb {
  if (clause.kind === 'repeat') return 'repeat';
  if (clause.kind === 'shape') return 'shape';
  if (clause.kind === 'named' && SHAPED_NAME.test(clause.name)) return 'shape';
  if (clause.kind !== 'plain') return 'none';
  const step = clause.cycle[0]?.[0];
  return step?.kind === 'stitch' ? (step.name === 'p' ? 'purl' : 'knit') : 'work';
}

function connector(c: TokenCursor): boolean {
  const start = c.i;
  c.eatMark(',');
  c.eatMark(';');
  for (
    let n = 0;
    n < 4 && c.phrase('and|then|now|next|finally|afterwards|thereafter|followed');
    n++
  )
    c.phrase('by');
  // "…; from there every round down to 8"
  if (says(c, 'from|after there|here|that|then|this on|onwards?')) c.eatMark(',');
  c.eatMark('&+,/');
  return c.i > start;
}

/** `[knit 1 round, purl 1 round] 3 times`, `*knit 1 round, purl 1 round; rep from * twice` */
function sequence(c: TokenCursor): WorkClause[] | null {
  return c.attempt<WorkClause[]>(() => {
    const start = c.i;
    c.skip(LEADS);
    if (c.phrase('work|repeat|rep|knit')) c.eatMark(':');
    if (c.mark('([')) {
      const close = c.closing(LONGEST);
      if (close < 0) return null;
      const end = c.end;
      c.i++;
      c.end = close;
      const parts = inner(c);
      c.end = end;
      if (!parts || c.i !== close) return null;
      c.i++;
      return closed(c, parts, start);
    }
    if (!c.eatMark('*')) return null;
    const parts = inner(c, true);
    if (!parts) return null;
    c.eatMark(';,.');
    if (!c.eatMark('*') && !(c.phrase('rep|repeat') && c.phrase('from') && c.eatMark('*')))
      return null;
    c.takes(
      () => says(c, ';|,|.? rep|repeat|work|do the|what? is? from? between? * to|and? *?') !== null,
    );
    // "rep from * twice more": the first time is told here.
    const closedOff = closed(c, parts, start);
    if (!closedOff) return null;
    return closedOff.map((clause) => {
      const { times, more } = clause.tail;
      return more && times !== null
        ? { ...clause, tail: { ...clause.tail, times: times + 1, more: false } }
        : clause;
    });
  });
}

function inner(c: TokenCursor, starred = false): readonly WorkClause[] | null {
  const parts: WorkClause[] = [];
  for (;;) {
    const ref = c.attempt(() => {
      const start = c.i;
      const which = roundsRef(c);
      if (!which) return null;
      const tail = soOften(c);
      return { kind: 'repeat' as const, which, repeats: true, tail, ...c.span(start) };
    });
    const name = ref
      ? null
      : c.attempt(() => {
          const start = c.i;
          if (c.phrase('rep|repeat|work|do')) c.phrase('next');
          c.phrase('the|a|one');
          const found = nameBeforeUnit(c);
          if (!found || !unit(c)) return null;
          const tail = soOften(c);
          return { kind: 'named' as const, name: found, repeats: true, tail, ...c.span(start) };
        });
    const got = ref ? [ref] : name ? [name] : chain(c);
    if (!got) return null;
    parts.push(...got);
    if (!c.takes(() => connector(c) || (starred && c.eatMark('.') !== null)))
      return parts.length > 0 ? parts : null;
    if (c.done || c.mark('*') || c.isWord(REPEAT_VERBS)) return parts;
  }
}

/** "work Dec rnd 3 times, then Cable rnd once" */
function soOften(c: TokenCursor): Tail {
  const tail = emptyTail();
  return readTimesPart(c, tail) && tail.times !== null ? tail : { ...emptyTail(), times: 1 };
}

function closed(c: TokenCursor, parts: readonly WorkClause[], start: number): WorkClause[] | null {
  const tail = emptyTail();
  const beside = { ...emptySlots(), tail };
  while (readTailPart(c, tail) || roundsTold(c, beside) || c.eatMark(','));
  if (c.here(-1) === ',') c.i--;
  if (stopOf(tail) === null) return null;
  return [{ kind: 'sequence', parts, tail, ...c.span(start) }];
}
