/**
 * What stands behind a round's label: stitches, "as round 3", "repeat rounds 1 and 2 twice", or a bind-off. In: a
 * cursor over all of it. Out: the body with the remarks met while reading.
 */
import type { Place } from '../lex/source.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import { DECREASE_WORDS, INCREASE_WORDS, LEADS } from '../lexicon/words.ts';
import type { RoundBody, RoundLabel, Tail, WorkClause } from './ast.ts';
import { inColour } from './colours.ts';
import { strayInstructs } from './leftovers.ts';
import { readGoing, readLike } from './like-rounds.ts';
import { isUnit, unit } from './phrases.ts';
import { says, saysAny } from './rules.ts';
import { readEnding } from './statements/ending.ts';
import { readWork } from './statements/work.ts';
import type { DeclaredRepeats } from './steps/declared-repeats.ts';
import { cycleOf } from './steps/patterns.ts';
import { readSteps } from './steps/step-reader.ts';
import type { Step } from './steps/steps.ts';
import { emptyTail } from './tail/open-tail.ts';
import { readStated, readTailPart } from './tail.ts';
import type { TokenCursor } from './token-cursor.ts';
import { toldPlain } from './told-plain.ts';

/** Binding everything off; "bind off 3 sts, k to end" only begins a row. */
const BINDS_OFF =
  /^[\s"']*(?:loosely\s+)?(?:bind(?:ing)?[\s-]*off|cast[\s-]*off|b\/?o(?![a-z]))(?!\s*(?:first\s+|next\s+|the\s+)*\d+\s*(?:sts?|stitches)?\s*(?:,|;|at\s|then\s|and\s|[kp]))/;

export function readBody(
  c: TokenCursor,
  label: RoundLabel | null,
  abbreviations: Abbreviations,
): RoundBody {
  const from = c.from();
  const to = c.i < c.end ? c.tokens[c.end - 1].to : from;
  const text = c.text.slice(from, to);
  if (c.i < c.end && BINDS_OFF.test(text)) return bindOff(c);
  if (label) {
    const like = readLike(c, label);
    if (like)
      return 'colour' in like && label.colour
        ? { ...like, colour: like.colour ?? label.colour }
        : like;
    const several =
      readOneEach(c, label) ??
      readGoing(c, label) ??
      readShapedAgain(c, label) ??
      readClauses(c, label);
    if (several) return several;
  }
  if (!label) {
    c.skip(LEADS);
    if (says(c, 'after that|this ,?')) c.skip(LEADS);
  }
  const plain = readPlain(c, label);
  if (plain) return plain;
  const letter =
    label && /^[a-h]$/.test(c.word()) && c.peek(1) !== null && !c.mark('=', 1) ? c.word() : null;
  if (letter) c.i++;
  // "Row 2, b: knit"
  if (letter) c.eatMark(':');
  // "Round 5: with dark red, k40"
  const led = label ? c.attempt(() => ledBy(c)) : null;
  const rounds = forRounds(c, label === null || label.numbers.length === 0);
  const until = label?.every ? untilAtEnd(c) : null;
  const begin = c.i < c.end ? c.from() : from;
  const stop = c.end > c.i ? c.tokens[c.end - 1].to : begin;
  const read = readSteps(c.text.slice(begin, stop), begin, abbreviations);
  const colour =
    led ??
    read.colour ??
    (letter ? `colour ${letter.toUpperCase()}` : null) ??
    label?.colour ??
    null;
  const often = { ...(rounds === null ? null : { rounds }), ...(until && { until }) };
  const steps = onEverySide(read.steps, abbreviations.repeats.rounds);
  return { kind: 'steps', ...read, steps, colour, ...often };
}

const WORDED =
  /^(?:this|it|that|which|is|are|will|gets|all|the|simply|just|you|we|in|worked|and|plain|straight)$/;

/** "is a purl round", ": this one is knit (72 sts)", "all straight" */
function readPlain(c: TokenCursor, label: RoundLabel | null): RoundBody | null {
  if (!label || label.every) return null;
  const { i } = c;
  says(c, 'on|along each|every|all of? the? #? @side :');
  const it =
    /^(?:knit|purl|k|p)$/.test(c.word()) && /^(?:it|round|row|across|this)$/.test(c.word(1));
  const worded = it || WORDED.test(c.word());
  const told = worded ? plainBody(c) : null;
  if (!told) c.i = i;
  return told && { ...told, colour: label.colour };
}

function plainBody(c: TokenCursor): Extract<RoundBody, { kind: 'steps' }> | null {
  return c.attempt(() => {
    const start = c.i;
    const verb = toldPlain(c, false);
    if (verb === null) return null;
    const at = c.span(start);
    const tail = emptyTail();
    while (!c.done && (readStated(c, tail) || c.eatMark('.;,!')));
    if (!c.done) return null;
    const [steps] = cycleOf(verb, null, false, at);
    const { stated } = tail;
    return {
      kind: 'steps',
      steps,
      stated,
      unread: 0,
      failed: false,
      hasStitches: true,
      colour: null,
      unfinished: false,
      remarks: [],
    };
  });
}

/** "Work the instruction once on each of the 4 sides": a round's stitches so often, or as they stand where those fill it. */
function onEverySide(steps: readonly Step[], rounds: DeclaredRepeats['rounds']): readonly Step[] {
  const [first] = steps;
  if (rounds === null || !first || steps.some((s) => s.kind === 'group' && (s.eachSide || s.part)))
    return steps;
  const fixed = steps.every((s) => !('amount' in s) || 'times' in s.amount);
  // "Round 4: knit"
  if (!fixed && steps.length === 1) return steps;
  const place = { from: first.from, to: steps[steps.length - 1].to };
  const each = { kind: 'group', steps, otherTimes: null, ...place } as const;
  if (rounds === 'sides' || !fixed)
    return [
      {
        ...each,
        amount: { times: 1 },
        eachSide: true,
        ...(rounds === 'sides' ? fixed && { otherSteps: steps } : { sides: rounds }),
      },
    ];
  return [{ ...each, amount: { times: rounds }, eachSide: false, otherSteps: steps }];
}

function ledBy(c: TokenCursor): string | null {
  const colour = inColour(c);
  // "with dark red knit"
  const led = c.eatMark(',:') !== null || /^(?:k|p|knit|purl|work)$/.test(c.word());
  return colour !== null && led ? colour : null;
}

/** "…, knit to end, until there are 40 sts" behind the stitches of every row; cuts it off. */
function untilAtEnd(c: TokenCursor): Tail | null {
  const { i, end } = c;
  for (let at = i + 1; at < end; at++) {
    if (!/^(?:until|till)$/.test(c.tokens[at].text)) continue;
    if (!/^(?:,|\)|end|across|row|round|rnd)$/.test(c.tokens[at - 1].text)) continue;
    c.i = at;
    const tail = emptyTail();
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;!')));
    const { done } = c;
    c.i = i;
    if (!done || tail.untilStitches === null) continue;
    c.end = at;
    return tail;
  }
  return null;
}

/** Binding off, and the first of its words that no rule follows and that could ask for something. */
function bindOff(c: TokenCursor): RoundBody {
  const start = c.i;
  const { unread } = readEnding(c);
  const lost = unread.find(({ first, end, core }) => {
    const before = c.tokens[first - 1];
    const behind = first > start && before.kind !== 'mark' && !/^(?:and|then)$/.test(before.text);
    return strayInstructs(c.tokens.slice(first, end), behind, core - first);
  });
  if (!lost) return { kind: 'bind-off' };
  const to = c.tokens[Math.max(lost.first, lost.end - 1)].to;
  return { kind: 'bind-off', lost: { from: c.tokens[lost.first].from, to } };
}

/** "…, for 4 rows" at the end; cuts it off. */
function forRounds(c: TokenCursor, bare: boolean): number | null {
  const { i, end } = c;
  let last = end;
  while (last > i && c.tokens[last - 1].text === '.') last--;
  for (let back = 3; back <= 7; back++) {
    c.i = last - back;
    if (c.i <= i) break;
    const rounds = c.attempt(() => {
      const comma = c.eatMark(',;:-') !== null;
      c.phrase('the? first|next|following');
      // "k2, p2 rib, 8 rounds"
      if (!c.phrase('for|during|over') && !(bare && comma)) return null;
      const n = c.number();
      if (n === null || !unit(c)) return null;
      says(c, 'in? all|total|altogether');
      return c.i === last ? n : null;
    });
    if (rounds !== null) {
      c.i = i;
      c.end = last - back;
      return rounds;
    }
  }
  return c.back(i, null);
}

const PLAIN_ROUND =
  '1|a|the|then|next|first|all|work* knit|k|purl|p|knitted|purled all|every|each|the|of|@sts|across|around|throughout*';
const GARTER = [
  'work|working|worked|knit? in? #? garter ridge|ridges|st|stitch?',
  'work|working|worked|knit? #? ridge|ridges',
];
const IN_TURN = 'in? alternately|alternating|alternate|turn|alternation|rotation';

/** "5-7: purl, knit, purl": a plain round each; "1-6: knit, purl alternately". */
function readOneEach(c: TokenCursor, label: RoundLabel): RoundBody | null {
  const many = Math.max(label.numbers.length, label.repeat);
  if (many < 2) return null;
  return c.attempt<RoundBody>(() => {
    const found: WorkClause[] = [];
    let turns = says(c, IN_TURN) !== null;
    // "work in garter st (purl 1 rnd, knit 1 rnd)", "garter stitch: purl, knit = 2 ridges"
    const garter = c.takes(() => saysAny(c, GARTER) !== null && c.eatMark('(:,-') !== null);
    turns ||= garter;
    const open = garter && c.mark('(', -1);
    for (;;) {
      const start = c.i;
      if (!says(c, PLAIN_ROUND)) return null;
      const at = c.span(start);
      const purl = c.tokens.slice(start, c.i).some((t) => /^p/.test(t.text));
      c.phrase('1') || c.phrase('a|one');
      if (c.isNumber()) {
        if (c.here() !== '1' || !isUnit(c, 1)) return null;
        c.i++;
      }
      unit(c);
      found.push(plainRound(purl ? 'purl' : 'knit', at));
      if (found.length > many) return null;
      const more = c.attempt(() => {
        const mark = c.eatMark(',;/&+');
        if (!says(c, 'and|then|next|finally*') && !mark) return null;
        c.eatMark(',');
        const at = c.here() === '1' ? 1 : 0;
        return /^(?:a|the|then|next|first|all|work|k|knit|knitted|p|purl|purled)$/.test(c.here(at));
      });
      if (!more) break;
    }
    turns ||= says(c, IN_TURN) !== null;
    if (open && !c.eatMark(')')) return null;
    if (garter && new Set(found.map((k) => k.kind === 'plain' && verbOf(k))).size < 2) return null;
    const tail = emptyTail();
    if (garter) {
      if (many % found.length > 0) return null;
      const ridges = says(
        c,
        '=|(|-|,|ie|makes|making|giving|gives* # garter? ridge|ridges )?',
      )?.[0];
      if (ridges != null && 2 * ridges !== many) return null;
    }
    says(c, '( # of? each )') ?? says(c, ',|-* # of? each') ?? says(c, ',|-* again|each');
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;')));
    if (!c.done || tail.times !== null || tail.untilStitches !== null) return null;
    if (turns ? found.length < 2 : found.length !== many) return null;
    const clauses = Array.from({ length: many }, (_, i) => found[i % found.length]);
    return { kind: 'clauses', clauses, stated: tail.stated };
  });
}

function verbOf({ cycle }: Extract<WorkClause, { kind: 'plain' }>): string | null {
  const [[step]] = cycle;
  return step?.kind === 'stitch' ? step.name : null;
}

function plainRound(verb: 'knit' | 'purl', at: Place): WorkClause {
  const cycle = cycleOf(verb, null, false, at);
  const none = { lengthMm: null, last: null, colour: null };
  return { kind: 'plain', cycle, rounds: 1, ...none, tail: emptyTail(), ...at };
}

const AGAIN =
  'again|too|also|here|once|more|another|time|in|the|same|way|places|manner|like|just|exactly|as|before|above|usual|set|established|previously|last|previous|earlier*';

/** "Round 9: decrease as before": the shaping so far, once more. */
function readShapedAgain(c: TokenCursor, label: RoundLabel): RoundBody | null {
  if (label.numbers.length > 1 || label.repeat > 1 || label.rule) return null;
  return c.attempt<RoundBody>(() => {
    const start = c.i;
    says(c, 'work|make|do|repeat|rep the|all? same?');
    const decrease = c.isWord(DECREASE_WORDS);
    if (!decrease && !c.isWord(INCREASE_WORDS)) return null;
    c.i++;
    const { i } = c;
    if (isUnit(c) || !says(c, AGAIN)) return null;
    if (!/\b(?:again|too|also|before|same|above|usual|set|more|previously)\b/.test(c.slice(i, c.i)))
      return null;
    const at = c.span(start);
    const tail = emptyTail();
    while (!c.done && (readStated(c, tail) || c.eatMark('.;,!')));
    if (!c.done) return null;
    const shaping = { decrease, count: null, where: null, stitch: null };
    const once = { ...emptyTail(), times: 1, atOnce: true };
    return {
      kind: 'clauses',
      clauses: [{ kind: 'shape', shaping, tail: once, ...at }],
      stated: tail.stated,
    };
  });
}

/** Clauses that ask for several rounds; one round's stitches are read as such. */
function readClauses(c: TokenCursor, label: RoundLabel): RoundBody | null {
  return c.attempt<RoundBody>(() => {
    const clauses = readWork(c);
    if (!clauses) return null;
    const tail = emptyTail();
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;')));
    if (!c.done) return null;
    const [first] = clauses;
    const many = Math.max(label.numbers.length, label.repeat);
    if (
      clauses.length === 1 &&
      first.kind === 'shape' &&
      (first.shaping === null ||
        first.shaping.where === 'evenly' ||
        first.shaping.where === null ||
        label.rule !== null) &&
      first.tail.every === null &&
      first.tail.untilStitches === null
    ) {
      return null;
    }
    if (clauses.every((k) => k.kind === 'plain')) {
      let total = 0;
      for (const k of clauses) {
        if (k.kind !== 'plain' || k.rounds === null) return null;
        total += k.rounds;
      }
      if (total !== many && (clauses.length > 1 || many <= 1)) return null;
    }
    return { kind: 'clauses', clauses, stated: tail.stated };
  });
}
