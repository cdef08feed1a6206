/**
 * Whether words that look like a round's label are one: stitches follow them, or the round before them. In: the label,
 * the cursor behind it. Out: true where it labels a round.
 */
import type { RoundLabel } from '../../ast.ts';
import { isUnit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import { readStitch } from '../../steps/stitch-words.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { toldPlain } from '../../told-plain.ts';
import { readLabel } from './label.ts';
import { likeAnother } from './like-another.ts';

/** Without a colon, stitches must follow, or it is a sentence about rounds. */
export function labelHolds(label: RoundLabel, c: TokenCursor, end: number): boolean {
  if (label.marked) return true;
  // "On the 5th round work ssk, …", "On the 3rd round you work …"
  const { i } = c;
  if (c.phrase('you|we') || /^(?:work)$/.test(c.word())) {
    c.phrase('just|simply|then');
    const verb = c.phrase('work|knit|purl');
    const here = c.peek();
    const works =
      here &&
      (here.text === '*' ||
        (verb && /^(?:the|all|every|everything|to|across)$/.test(here.text)) ||
        here.text === '(' ||
        readStitch(c.slice(c.i, Math.min(end, c.i + 12)), 0));
    c.i = i;
    if (works && (label.numbers.length > 0 || label.rule !== null)) return true;
  }
  // "Rnd 4 on each needle ssk, k10, k2tog"
  if (says(c, 'on|in|at|along|over? each|every|all of? the|your? #? @side :|,?')) {
    const holds = labelHolds(label, c, end);
    c.i = i;
    return holds;
  }
  // "In the next round always knit 2 together"
  const { i: from } = c;
  if (c.phrase('always|continually|continuously|constantly|repeatedly')) {
    const holds = labelHolds(label, c, end);
    c.i = from;
    return holds;
  }
  // "Round 1 is a purl round."
  const told =
    (label.numbers.length > 0 || label.rule !== null) &&
    toldPlain(c, !/^(?:plain|straight)$/.test(c.word())) !== null;
  c.i = i;
  if (told) return true;
  const t = c.peek();
  if (!t || c.i >= end) return label.numbers.length > 0;
  if (t.kind === 'mark') return '*([{'.includes(t.text);
  if (likeAnother(c)) return true;
  if (/^(?:as|same|rep|repeat|dec|decrease|inc|increase|work)$/.test(c.word()))
    return c.peek(1) !== null;
  if (
    /^(?:[kp]|knit|purl)$/.test(c.word()) &&
    /^(?:the|all|every|across|to|until|and|together)$/.test(c.word(1))
  )
    return true;
  return readStitch(c.slice(c.i, Math.min(end, c.i + 12)), 0) !== null && t.text !== 'inc';
}

/** "in moss stitch: 1st round …": numbered rounds behind a colon, the cursor behind it. */
export function labelBehind(c: TokenCursor, end: number): boolean {
  const rule = /^(?:rs|ws|right|wrong|even|odd)$/.test(c.word());
  const every = /^(?:every|each)$/.test(c.word());
  const label = rule || every || isUnit(c) || c.peek()?.kind === 'ordinal' ? readLabel(c) : null;
  if (label === null || (label.numbers.length === 0 && label.rule === null && !label.every))
    return false;
  return labelHolds(label, c, end);
}

/** "Edging: 1st rd. P. 2nd rd. K.": a name over rounds that have numbers; the cursor stands behind it. */
export function leadsToLabel(c: TokenCursor, end: number): boolean {
  const short = c.word() === 'r' && c.isNumber(1);
  const label = short || isUnit(c) || c.peek()?.kind === 'ordinal' ? readLabel(c) : null;
  return label !== null && label.numbers.length > 0 && labelHolds(label, c, end);
}

/** "Round 1 purl, round 2 knit", "R4 = R2, R5 = R3": the second label numbers the next round. */
export function follows(label: RoundLabel, next: RoundLabel, short: boolean): boolean {
  const last = label.numbers[label.numbers.length - 1];
  return last !== undefined && (next.unit !== null || short) && next.numbers[0] === last + 1;
}
