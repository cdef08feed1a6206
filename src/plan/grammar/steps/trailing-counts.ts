/**
 * Counts stated outside brackets: `- 120 sts`, `= 120`, or a bare `120 sts` at the end of a round.
 * Input: a cursor at the place. Output: true, the cursor behind the count and the count kept with it;
 * false where none stands there.
 */
import { isChat, wordTokens } from '../leftovers.ts';
import { sentenceInstructs } from '../prose.ts';
import { readStatedCount, type StatedCount, tellsCount } from './stated-counts.ts';
import type { StepCursor } from './step-cursor.ts';
import { wording } from './wording.ts';

/** "you now have", "which leaves", "total: 88": words that lead to a count. */
const WORDED = wording(
  '{ { back down|up? to|at | taking|using|eating off|away|out|up | losing|dropping | a loss of | you|now|only|there|total|altogether|they|brings|bringing|leaves|leaving|makes|making|gives|giving | down to | a total | in all | that brings | so you|there|that|each|every | count your|the|all | at|by the end of | sts|stitches are? decreased|increased to | that|this|which|it|all|one|you|we now? { obtain|obtains|get|gets|has|makes|leaves|gives|is|are|totals|means | takes|uses|eats away|off|out|up | loses|drops|costs|brings | gets rid of | will leave|give|make } } ~\\s | { { st|sts | stitch|stitches count? | total|check|tally|count } :|= ~\\d } | count : | tot }',
);

/** "s2kp over the last 3 sts", "k3tog them": the stitches that the step before works. */
const OVER_THEM = wording(
  '{ once more }? { over|across|on|with|of|through }? { the|these|those? last|remaining|final|rem|middle? # @sts? | them|these|those|it } { tog|together }? { on|from the? right|wrong|rs|ws side? }?',
  '(?=\\s*(?:[,.;)]|and\\b|then\\b|$))',
);

export function readOverThem(cursor: StepCursor, consumed: number | null): boolean {
  if (consumed === null || consumed < 2) return false;
  const { i } = cursor;
  const m = cursor.match(OVER_THEM);
  if (m && (m[1] === undefined || Number(m[1]) === consumed)) return true;
  return cursor.back(i, false);
}

export function readTrailingCount(cursor: StepCursor): boolean {
  const { text, i: at } = cursor;
  const c = text[at];
  // "k1 : 58" at the very end
  const dashed =
    (c === ':' && /^:\s*\d{1,5}\s*$/.test(text.slice(at, at + 12))) ||
    c === '-' ||
    c === '=' ||
    c === '~' ||
    c === '>';
  const bare = c >= '0' && c <= '9';
  WORDED.lastIndex = at;
  const worded = 'yntlmgcswaibodue'.includes(c) && WORDED.test(text);
  if (!dashed && !bare && !worded) return false;
  // "1 edge st" is worked.
  if (
    bare &&
    /^\d+\s+(?:edge|selv|border|corner|plain|inc\w*\.?\s+in)/.test(text.slice(at, at + 18))
  )
    return false;
  const rest = text.slice(at, at + 140);
  // "2 st. knit together": the full stop shortens its word.
  const stop = rest.search(
    /(?<!\bst(?=\.\s+(?:k|knit|p|purl|sl|slip|tog|together)\b))[.!](?:\s|$)|\n|;/,
  );
  const part = stop < 0 ? rest : rest.slice(0, stop);
  // "so you get 1 more each time"
  const body = part
    // "= -8": what the round loses
    .replace(/^=\s*-\s*(?=\d{1,3}(?:\s*(?:sts?|stitches))?\s*$)/, 'minus ')
    .replace(/^[-=~>\s]+|[,\s]+$/g, '')
    .replace(
      /(?<=\b(?:more|fewer|less|extra)\b.{0,20})\s(?:each|every)\s(?:time|row|round|rnd)\s*$/,
      '',
    );
  // "…; 88", "(…) x 4 88", "… to end 88" at the very end
  const alone =
    bare && /^\d{1,5}\s*\.?\s*$/.test(rest) && CLOSED.test(text.slice(Math.max(0, at - 12), at));
  if (!dashed && !alone && !tellsCount(body)) return false;
  const whole = readStatedCount(body);
  const apart = whole ? null : countBeforeChat(part);
  const count = whole ?? apart?.count;
  if (count) {
    const { stated } = cursor;
    cursor.i = at + (apart?.length ?? part.length);
    const other = stated?.round !== count.round;
    if (
      !other &&
      stated &&
      (differ(stated.total, count.total) || differ(stated.perSide, count.perSide))
    )
      cursor.say(
        'error',
        'counts-disagree',
        at,
        `${count.total ?? count.perSide} is told here, but ${stated.total ?? stated.perSide} before it`,
        'Tell one count for the round.',
      );
    cursor.stated = bothCounts(stated, count);
    return true;
  }
  if (dashed) {
    cursor.i = at + 1;
    return true;
  }
  return false;
}

/** What no number of stitches belongs to any more. */
const CLOSED =
  /(?:[;,.:)\]]|(?:\bx ?\d{1,2}|\b\d{1,2} ?x|\b(?:times|twice|round|around|end|all)))\s*$/;

/** What may part a count from what is only said beside it. */
const PARTS = /\s-\s|\s*[,(]\s*/g;

/** "56 sts - don't panic", "56 sts, well done you": the count in front of words that ask for nothing, and how long both are. */
function countBeforeChat(
  part: string,
): { readonly count: StatedCount; readonly length: number } | null {
  for (const { index, 0: mark } of part.matchAll(PARTS)) {
    if (index === 0) continue;
    const count = readStatedCount(part.slice(0, index).replace(/^[-=~>\s]+/, ''));
    const chat = part.slice(index + mark.length);
    if (!count || count.total === null || chat.includes('*')) continue;
    const words = wordTokens(chat);
    return words.length > 0 && isChat(words) && !sentenceInstructs(words)
      ? { count, length: part.length }
      : null;
  }
  return null;
}

/** Both are told, and not the same. */
function differ(a: number | null, b: number | null): boolean {
  return a !== null && b !== null && a !== b;
}

/** Two counts of one round: what the first leaves open the second tells. */
function bothCounts(first: StatedCount | null, next: StatedCount): StatedCount {
  if (!first) return next;
  if (first.round !== next.round && next.round !== undefined && first.round !== undefined)
    return { ...next, before: [...(first.before ?? []), first, ...(next.before ?? [])] };
  const { total, perSide, change } = first;
  const inTurn = first.inTurn ?? next.inTurn;
  const eachInTurn = first.eachInTurn ?? next.eachInTurn;
  return {
    ...(inTurn && { inTurn }),
    ...(eachInTurn && { eachInTurn }),
    total: total ?? next.total,
    perSide: perSide ?? next.perSide,
    change: change ?? next.change,
    ...((first.round ?? next.round) !== undefined && { round: first.round ?? next.round }),
  };
}

/** A count is stated right behind this place. */
export function countFollows(cursor: StepCursor): boolean {
  const rest = cursor.text.slice(cursor.i, cursor.i + 40);
  // "*k3, k2tog* 32 sts", and nothing behind it
  const last = cursor.i + rest.length >= cursor.text.length;
  if (last && /^[\s,;]*\d{1,5}\s*(?:sts?|stitches)[\s.]*$/.test(rest)) return true;
  return /^[\s,;.]*(?:[-=]\s*\d|\(\s*\d)/.test(rest);
}
