/**
 * Orders that are told for some other time than behind what stands before them: "halfway, purl 1 round", "now and then
 * decrease 8". In: statements in order of the text. Out: the same, where such an order is a sentence that was not followed;
 * one behind so many rounds is held against those that are there.
 */
import type { Place } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import { LEADS } from '../lexicon/words.ts';
import { type Adverbial, frontAdverbials, frontOf as frontIn } from './adverbials.ts';
import type { Statement, WorkClause } from './ast.ts';
import { leavesOut } from './limits.ts';
import { moodOf } from './mood.ts';
import type { Passage } from './passage.ts';
import { emptyTail } from './tail/open-tail.ts';

export function placeInTime(statements: readonly Statement[], passage: Passage): Statement[] {
  const out: Statement[] = [];
  const { tokens } = passage;
  /** The tokens that the statement at work and the instruction before it begin with. */
  let at = 0;
  let before = 0;
  for (const [i, s] of statements.entries()) {
    while (at < tokens.length && tokens[at].from < s.from) at++;
    if (s.kind === 'end') {
      // "After round 5, cut the yarn"
      const from = frontOf(passage, at, before);
      const end = passage.sentenceEnd(at, Math.min(tokens.length, at + LONGEST_FRONT));
      const place = { from: tokens[from].from, to: s.to };
      const behind = adverbialsOf(tokens.slice(from, end), at - from).flatMap(({ when }) =>
        when.kind === 'after' ? [when.rounds] : [],
      );
      if (behind.length > 0) dropFront(out, place.from);
      out.push(...behind.map((n) => behindRounds(n, place)), s);
    } else if (s.kind === 'work' || (s.kind === 'round' && s.label === null)) {
      const from = frontOf(passage, at, before);
      const end = passage.sentenceEnd(at, Math.min(tokens.length, at + LONGEST_FRONT));
      const found = adverbialsOf(tokens.slice(from, end), at - from);
      const elsewhere = found.some((a) => isElsewhere(a, statements, i, tokens[from].from));
      const place = { from: tokens[from].from, to: s.to };
      if (found.length > 0) dropFront(out, place.from);
      const joined = s.kind === 'work' && joinsOther(s.clauses, passage, at);
      const hangs = hangsOn(tokens.slice(from, end), at - from);
      if (
        elsewhere ||
        joined ||
        hangs ||
        (s.kind === 'work' && toldBelow(s.clauses, statements, i))
      )
        out.push({ kind: 'prose', heading: false, instructs: true, ...place });
      else {
        for (const { when } of found)
          if (when.kind === 'after') out.push(behindRounds(when.rounds, place));
        out.push(s);
      }
    } else
      out.push(ordersInHeading(s, passage, at, statements[i + 1]) ? { ...s, instructs: true } : s);
    if (s.kind !== 'prose') before = at;
  }
  return out;
}

/** Those right in front of the order that begins at token `order`, or at its beginning. */
function adverbialsOf(tokens: readonly Token[], order: number): readonly Adverbial[] {
  const { found, next } = frontIn(tokens);
  return next < order ? [] : found;
}

/** Words of the sentence that begins at `from` are told of with its order. */
function dropFront(out: Statement[], from: number): void {
  while (out.at(-1)?.kind === 'prose' && (out.at(-1)?.from ?? 0) >= from) out.pop();
}

/** "When it curls, purl 1 round", "never knit it": the order that begins at token `order` hangs on what can't be known, or is none. */
function hangsOn(tokens: readonly Token[], order: number): boolean {
  const first = tokens.findIndex(
    (t) => t.text === 'should' || !(LEADS.has(t.text) || t.kind === 'mark' || t.text === 'but'),
  );
  if (first < 0) return false;
  const said = tokens
    .slice(first)
    .map((t) => t.text)
    .join(' ');
  if (first < order && /^(?:do not|don't|never|no need to)\b/.test(said)) return true;
  if (
    first < order &&
    leavesOut(
      tokens
        .slice(first, order)
        .map((t) => t.text)
        .join(' '),
    )
  )
    return true;
  if (!CONDITION.test(said)) return false;
  const comma = tokens.findIndex((t, i) => i > first && t.text === ',');
  const condition = tokens.slice(first, comma < 0 ? Math.max(order, first + 1) : comma);
  return (
    comma > 0 &&
    !condition.some((t) => t.kind === 'number' || t.kind === 'ordinal' || KNOWN.test(t.text))
  );
}

const CONDITION =
  /^(?:when|whenever|once|if|unless|should|provided|supposing|assuming|in case|as soon as|as long as|only (?:if|when))\b/;
/** What is known to be so where it is told. */
const KNOWN =
  /^(?:done|finished|complete|completed|reach|reached|ready|worked|joined|over|end|ends|marker|remain|remains|left|back|there|all|both|facing|come|comes|get|arrive|turned|knitted|gauge|past|beginning|start|again)$/;

/** "# Purl one round", with no rounds below that say how: no heading, but all that is told. */
function ordersInHeading(
  s: Statement,
  { tokens }: Passage,
  at: number,
  below: Statement | undefined,
): s is Extract<Statement, { kind: 'prose' }> {
  if (s.kind !== 'prose' || !s.heading || s.instructs || tokens[at]?.text !== '#') return false;
  if (below?.kind === 'round' && below.label !== null) return false;
  let end = at;
  while (end < tokens.length && tokens[end].to <= s.to) end++;
  const said = tokens.slice(at, end).filter((t) => t.text !== '#');
  const counted = said.some(
    (t, i) =>
      (t.kind === 'number' || t.text === 'a') &&
      /^(?:rounds?|rnds?|rows?)$/.test(said[i + 1]?.text ?? ''),
  );
  return counted && moodOf(said) === 'asks';
}

/** "Knit 10 rounds, and now and then purl one": a clause behind the first is for some other time. */
function joinsOther(clauses: readonly WorkClause[], { tokens }: Passage, at: number): boolean {
  let i = at;
  return clauses.slice(1).some((_, k) => {
    while (i < tokens.length && tokens[i].from < clauses[k].to) i++;
    return frontAdverbials(tokens.slice(i, i + LONGEST_FRONT)).some((a) => a.when.kind !== 'end');
  });
}

/** Where the sentence of the order at token `at` begins, or its clause where the one `before` it stands in the same sentence. */
function frontOf(passage: Passage, at: number, before: number): number {
  const { tokens } = passage;
  const from = passage.sentenceStart(at);
  if (before < from) return from;
  let i = at;
  while (i - 1 > before && !PARTS.test(tokens[i - 1].text)) i--;
  return i;
}

const PARTS = /^(?:[,;:.!?]|and|then)$/;

/** "Work the first 2 rounds with double yarn": rounds that are worked already, or told below. */
function toldBelow(
  [clause]: readonly WorkClause[],
  statements: readonly Statement[],
  i: number,
): boolean {
  if (clause.kind !== 'plain' || !clause.first) return false;
  const before = statements.slice(0, i).findLast(isWorkOrHeading);
  const next = statements.slice(i + 1).find((s) => s.kind === 'work' || s.kind === 'round');
  return (
    before?.kind === 'work' ||
    before?.kind === 'round' ||
    (next?.kind === 'round' && next.label?.numbers[0] === 1)
  );
}

/** Most tokens that say when something is done. Chosen: bounds the time. */
const LONGEST_FRONT = 30;

/** The order at index `i`, whose sentence begins at `from`, does not stand where its words place it. */
function isElsewhere(
  { when }: Adverbial,
  statements: readonly Statement[],
  i: number,
  from: number,
): boolean {
  switch (when.kind) {
    case 'after':
      return false;
    case 'end':
      return statements.slice(i + 1).find((s) => s.kind !== 'prose')?.kind !== 'end';
    case 'start': {
      const before = statements.slice(0, i).findLast((s) => s.from < from && isWorkOrHeading(s));
      return before?.kind === 'work' || before?.kind === 'round';
    }
    default:
      return true;
  }
}

function isWorkOrHeading(s: Statement): boolean {
  return s.kind === 'work' || s.kind === 'round' || (s.kind === 'prose' && s.heading);
}

function behindRounds(rounds: number, { from }: Place): Statement {
  const tail = { ...emptyTail(), untilRounds: rounds };
  const going = { asks: false, stop: 'told', which: null, tail } as const;
  return { kind: 'going', going, instructs: false, from, to: from + 1 };
}
