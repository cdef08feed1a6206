/**
 * Rounds announced before they are told: "Work the following 2 rows 6 times:", "2-row repeat:". In: a cursor at the
 * announcement; then the statements with where such stand. Out: how many rounds, how often; a repeat behind them.
 */

import { FABRIC_WORDS } from '../lexicon/words.ts';
import type { RoundLabel, Statement, Tail } from './ast.ts';
import { afterBullets } from './line-fronts.ts';
import type { Line } from './lines.ts';
import type { Passage } from './passage.ts';
import { isUnit } from './phrases.ts';
import { says, saysAny } from './rules.ts';
import type { StartFinder } from './starts.ts';
import { emptyTail, stopOf } from './tail/open-tail.ts';
import { readFor, readTimesPart } from './tail/times.ts';
import { readUntil } from './tail/until.ts';
import type { TokenCursor } from './token-cursor.ts';

export interface Announced {
  /** Null where the text does not say how many. */
  readonly rounds: number | null;
  /** How often or how long they are worked; null where that is not told. */
  readonly tail: Tail | null;
}

const LEAD =
  'then|now|next|and|first|you|we|i|will|shall|be|are|to|begin|start|starting|beginning|continue|go|carry|on|again|by|from|here|come|comes|main|part|simply|just|please|decrease|decreasing|increase|increasing|shape|shaping|as|follows|,*';
const BEGIN_LEAD = 'then|now|next|and|you|we|will|here|from|,*';
const VERB =
  'work|works|working|worked|repeat|rep|repeats|repeating|knit|knitting|follow|following|do|doing|use|make|making|continue|keep';
const IN = 'in|with|on|by|to|through|repeating|working|follow|following|of*';
const SORT = 'pattern|patt|plain|main|set-up|garter|ridge|cable|stripe|panel|lace*';
const HEADS = [
  'the? next|following|first # @unit :|,|-|in moss|seed|garter|rib|ribbing|pattern|cable|lace|border|edging st|stitch|pattern?',
  `${LEAD} ${VERB}? ${IN} the? next|following|foll # ${SORT} @unit`,
  `${LEAD} ${VERB}? ${IN} these|this #? ${SORT} @unit`,
  `${LEAD} ${VERB}? ${IN} the # ${SORT} @unit below|following|foll|that follow? here?`,
  `${LEAD} ${VERB}? the? # ${SORT} @unit`,
  `the? # - @unit ${SORT} repeat|rep|pattern|patt`,
  `${LEAD} ${VERB} in|the|a* pattern|patt`,
];
/** How many stitches all of them leave. */
const LEAVES =
  'which|that|and|this|will* leave|leaves|leaving|bring|brings|bringing|take|takes|gives|have you|with|down|to|at|on|the|needles* # @sts left|remaining|in|all*';
const BESIDE = [
  'are|is|will|be|get|to* worked|repeated|knitted|done|repeat',
  'which|that you|are|is|will|be* worked|repeated|repeat|work',
  'as follows|below|here|set|shown',
  'form|forms|make|makes|being the|your|a|one? pattern|repeat* :?',
  'throughout|thus|below|over|and|again',
  '( # @unit )',
  ',',
];

/** Where a line announces the rounds that stand on the lines below it; null where it does not. */
export function findAnnounced(
  passage: Passage,
  finder: StartFinder,
  line: Line,
  below: Line,
): { readonly at: number; readonly announced: Announced } | null {
  const { tokens } = passage;
  if (!tokens.slice(line.last - 3, line.last).some((t) => /^[:.-]$/.test(t.text))) return null;
  for (let at = afterBullets(passage, line.first, line.last); at < line.last; at++) {
    const c = passage.cursor(at, line.last);
    const announced = readAnnounced(c);
    if (announced && c.done) {
      const start = finder.startAt(afterBullets(passage, below.first, below.last), below.last);
      const told = start?.kind === 'round' && (start.label.numbers.length > 0 || start.label.rule);
      return told ? { at, announced } : null;
    }
    // Its last sentence may announce them.
    while (at < line.last && !(tokens[at].kind === 'mark' && '.;'.includes(tokens[at].text))) at++;
  }
  return null;
}

const PATTERN =
  /^(?:pattern|patt|panel|lace|cables?|basketweave|centre|center|border|stripes|mesh)$/;
const ASKS =
  /^(?:until|till|for|times|once|twice|more|again|every|alternate|decreas\w+|increas\w+|dec|inc|cast|bind)$/;

/** "Begin the moss panel, with 3 sts in garter stitch at each edge:": what the rounds below are, which tell it stitch by stitch. */
function begins(c: TokenCursor): boolean {
  return c.takes(() => {
    if (!says(c, `${BEGIN_LEAD} begin|start|commence|establish|set the|your|a|up*`)) return null;
    const { i } = c;
    while (!c.done && !c.mark(':.;')) {
      const t = c.peek();
      const counts = t?.kind === 'number' && /^(?:sts?|stitch(?:es)?|-|knit|purl)$/.test(c.word(1));
      if (!t || isUnit(c) || ASKS.test(t.text) || (t.kind === 'number' && !counts)) return null;
      c.i++;
    }
    const said = c.tokens.slice(i, c.i);
    const named = said.some((t) => FABRIC_WORDS.has(t.text) || PATTERN.test(t.text));
    return named && c.eatMark(':') !== null;
  });
}

/** The announcement at the cursor, which stands behind its colon then. */
function readAnnounced(c: TokenCursor): Announced | null {
  if (begins(c)) return { rounds: null, tail: null };
  return c.attempt(() => {
    const start = c.i;
    while (c.eatMark('*[_'));
    const n = saysAny(c, HEADS);
    if (!n) return null;
    const tail = emptyTail();
    while (!c.done && !c.mark(':.-')) {
      const left = says(c, LEAVES)?.[0];
      if (left != null) tail.stated = { total: left, perSide: null, change: null };
      const read =
        left != null ||
        readTimesPart(c, tail) ||
        readUntil(c, tail) ||
        readFor(c, tail) ||
        saysAny(c, BESIDE);
      if (!read) return null;
    }
    const ahead = /\b(?:next (?:\d|[a-z]+ (?:rows|rounds|rnds))|following|below|follows?\b)/.test(
      c.slice(start, c.i),
    );
    // "until row 6:" has read its colon.
    if (!c.eatMark(ahead ? ':.-' : ':') && !/^[:-]$/.test(c.here(-1))) return null;
    while (c.eatMark('*]_'));
    return {
      rounds: n.find((value) => value !== null) ?? null,
      tail: stopOf(tail) !== null ? { ...tail, total: !tail.more } : null,
    };
  });
}

/** The statements with a repeat behind the rounds of each announcement; one whose rounds do not come to its number was not followed. */
export function placeAnnounced(
  statements: readonly Statement[],
  announced: ReadonlyMap<Statement, Announced>,
): Statement[] {
  if (announced.size === 0) return [...statements];
  const out: Statement[] = [];
  let left: { at: Statement; rounds: number | null; tail: Tail; worked: number } | null = null;
  const close = (): void => {
    if (!left) return;
    const { at, rounds, tail, worked } = left;
    left = null;
    const { from, to } = at;
    if (worked === 0 || (rounds !== null && rounds !== worked)) {
      out.push({ kind: 'prose', heading: false, instructs: true, from, to });
      return;
    }
    const which = { kind: 'last' as const, count: worked };
    const clause = { kind: 'repeat' as const, which, repeats: false, tail, from, to };
    out.push({ kind: 'work', clauses: [clause], from, to });
  };
  for (const s of statements) {
    const goesOn = s.kind === 'count' || (s.kind === 'prose' && !s.instructs && !s.heading);
    if (left && s.kind === 'round' && (left.rounds === null || left.worked < left.rounds))
      left.worked += numberOf(s.label);
    else if (!goesOn) close();
    out.push(s);
    const { rounds = null, tail = null } = announced.get(s) ?? {};
    if (tail) left = { at: s, rounds, tail, worked: 0 };
  }
  close();
  return out;
}

function numberOf(label: RoundLabel | null): number {
  return Math.max(1, label?.numbers.length ?? 1);
}
