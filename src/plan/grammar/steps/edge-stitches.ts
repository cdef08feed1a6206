/**
 * Stitches told with the edge they stand at: "ssk at the beginning and k2tog at the end of every needle",
 * "knit together the last 2 sts before every marker". In: a cursor at the words, the steps so far. Out: true,
 * the steps added and the cursor behind the words; false and nothing moved otherwise.
 */
import type { Place } from '../../lex/source.ts';
import { stitchKind } from '../../stitches/table.ts';
import { patternHere, readPattern } from './pattern-steps.ts';
import { SHAPE_VERB } from './placed-shaping.ts';
import { WITH_NEIGHBOURS } from './places.ts';
import { uncounted } from './sequence.ts';
import { ON_NEEDLES, TRAIL_EACH_SIDE } from './side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import { betweenEdges, type PatternStep, type Step, type StitchStep } from './steps.ts';
import { type ReadStitch, readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

const BEFORE_MARKERS = wording(
  'k|knit { tog|together the last # @sts | { the last }? # @sts? tog|together } before each|every|all the? marker|markers',
);

const EDGE_STS = 'edge|selvedge|selvage|border|seam|outer|outermost|end sts|stitches';
const THERE_OF =
  '{ of|on|in|at { each|every|the|all|both* { @side | row|round|rnd } | each|every|both|either end|ends } }?';
/** "knit the first and last st of each side", "k the edge sts", "edge sts are always knitted" */
const EDGES_KEPT = wording(
  `(? but|and|with|always* { ~(k|knit|p|purl)(?:ting|ing)?(?![a-z]) { the? first #? @sts? and the? last #? @sts? | the|your|both? #? ${EDGE_STS} } | the|your|both|all? ${EDGE_STS} are|is? always|still? ~(k|knit|knitted|p|purl|purled)(?![a-z]) } ${THERE_OF} always|throughout? )?`,
);
/** "everything else", "all the other sts", "the rest", "in between" */
const OTHERS_NAMED =
  '{ everything|all|what { else | { is|are|lies|stands }? in? between them? } | all|both* the|your* { other|others|rest|remaining|remainder|rem|middle | { @sts between } }* @sts? in? between? them? }';
const OTHERS = wording(
  `~[\\s,;:(-]* and|with|but|then* work|working|knit|keep|keeping|have|having? ${OTHERS_NAMED} are|being|is? worked|kept? in?`,
  '\\s*',
);
/** "purl everything between" */
const OTHERS_PLAIN = wording(
  '~[\\s,;:(-]* and|but|then|with* ~(k|knit|p|purl)(?:ting|ing)?(?![a-z0-9]) { everything|all|what { else | { is|are|lies|stands }? in? between them? } | all|both* the|your* other|others|rest|remaining|remainder|rem|middle @sts? { in? between them? }? | the|all* @sts in? between them? | in? between them? | to the? end }',
);

/**
 * "knit first and last st of each side, others in seed st", "seed st, but knit the first and last st of every needle", "knit
 * the edge sts, purl everything between": the edges of each side, or of the row, another fabric between.
 */
function readEdgesKept(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const m = cursor.match(EDGES_KEPT);
  if (!m) return false;
  const told = items[items.length - 1];
  const before =
    (told?.kind === 'pattern' || told?.kind === 'stitch') && !('times' in told.amount)
      ? told
      : null;
  const span = cursor.span(at);
  const numbers = m.filter((n) => /^\d+$/.test(n ?? '')).map(Number);
  const [first, last] = [numbers[0] ?? 1, numbers[1] ?? numbers[0] ?? 1];
  const between = before ?? othersHere(cursor, span);
  if (!between) return cursor.back(at, false);
  if (before) items.pop();
  const verb = m.slice(1).some((said) => /^p/.test(said ?? '')) ? 'p' : 'k';
  const edge = (times: number): Step => ({
    kind: 'stitch',
    name: verb,
    amount: { times },
    ...span,
  });
  const amount = { kind: 'end', count: last } as const;
  const steps = [edge(first), { ...between, amount }, edge(last)];
  if (PER_SIDE.test(m[0])) items.push(cursor.eachSide(steps, at));
  else items.push(...steps);
  return true;
}

/** ", the others in seed st", ", purl everything between" */
function othersHere(cursor: StepCursor, span: Place): PatternStep | StitchStep | null {
  const { i } = cursor;
  const amount = { kind: 'rest', count: 0 } as const;
  const plain = cursor.match(OTHERS_PLAIN);
  if (plain) return { kind: 'stitch', name: plain[1][0], amount, ...span };
  const rule = cursor.match(OTHERS) && patternHere(cursor);
  if (rule) return { kind: 'pattern', rule, amount, ...span };
  return cursor.back(i, null);
}

const SIDE =
  '{ it|them | each|every|of|the|a|this|that|your|all|both|one|same|2|3|4|5|6|8* { @side | round|rnd|row } }';
const OF = `{ of|on|in|across ${SIDE} }?`;
const NEAR = 'just|immediately|right|directly?';
const NEXT = 'each|every|the|next|following|other* next|following|other? marker|markers|m|one|1';
const STEP_IN = 'in|into|on|with|of|at|from';
const FIRST = `{ at the|its|their? beginning|beg|start ${OF} | ${STEP_IN} the|its? first|1st @sts? ${OF} | after|behind each|every|the|all @side 's? start|beginning|beg | the? beginning|beg|start of|in|on ${SIDE} | ${NEAR} after|past each|every|the marker|m }`;
const LAST = `{ again? at the|its|their? end ${OF} | ${STEP_IN} the|its? last|final @sts? ${OF} | before each|every|the|all @side 's? end | the? end of|in|on ${SIDE} | there | ${NEAR} before ${NEXT} }`;
const WITH = 'with|by|on';
const FIRST_LED = wording(
  `{ ${FIRST} | begin|start|begins|starts|beginning|starting ${SIDE} ${WITH} | ${SIDE} begins|starts ${WITH} } ,? work?`,
  '\\s+',
);
const FIRST_TOLD = wording(`~\\s+ ${FIRST}`);
const LAST_LED = wording(
  `{ ${LAST} | end|finish|ends|finishes|ending|finishing ${SIDE}? ${WITH} } ,? work?`,
  '\\s+',
);
const LAST_TOLD = wording(`~\\s+ ${LAST}`);
const LIKEWISE = wording(
  `{ ${FIRST} ,|:? { likewise|alike|too|same | the same | as well | as much } | likewise|alike|too|same ${FIRST} | the same ${FIRST} }`,
);
const AND = wording('~[\\s,;]* and? then?', '\\s*');
const BOTH = `{ at|on|in? both|each|either end|ends|edge|edges ${OF} | at|in? the? beginning|beg|beg.|start ${OF} ,? and|& { 1|one|another @sts? }? again? at|in? the? end|finish ${OF} | in|into|on|of the? first and in|into|on|of? the? last @sts? ${OF} }`;
const BOTH_LED = wording(`${BOTH} ,? work|make|do?`, '\\s+');
const BOTH_TOLD = wording(`~\\s+ ${BOTH}`);
/** "knit the first 2 and the last 2 sts of every needle together", "together the first 2 and last 2 on each needle", "the first 2 together on each needle, and the last 2 likewise" */
const FIRST_AND_LAST = wording(
  `{ dec|decrease by }? { ~(k|p)(?:nit|url)?(?:ting|ing)? }? take|taking|work|working? { tog|together the? first # @sts? and the? last # @sts? ${OF} | the? first # @sts? ${OF} tog|together? ${OF} ,? and knit|k|purl|p? the? last # @sts? ${OF} tog|together|likewise|too|alike ${OF} }`,
);
/** "knit the 3 sts on each needle together", "knit the 3 together on each needle" */
const EACH = 'of|on each|every|all the? @side';
const ALL_OF_EACH = wording(
  `k|knit|take|work the|all|remaining|those the|all|remaining|those* # @sts? { { that|which remain|are left? }? ${EACH} tog|together | tog|together ${EACH} }`,
);
/** "knit across", "knitting the rest plain in between", "knit" between the two */
const BETWEEN = wording(
  `~[\\s,;]* and|then|with* ~(k|p|w)(?:nit|url|ork)?(?:ting|ing)?(?![a-z0-9]) { the rest | the|all @sts | to end }? plain? { { across|along|over { it | the @side }? | to|until the? end of it|the|side* | in? between { them | the @side }? } | ~(?<=rest|plain|sts|stitches|to\\send) | ~(?=\\s*,) }`,
);
/** Words that lead from a run of plain stitches to what stands at its ends: "knit, but k2tog at …". */
const BUT = wording(
  '{ but|and|only|except|with|working|making|doing|taking|take|work|make|do|having|just|you|for|then|and* a|an? }',
  '\\s+',
);
const ARTICLE = wording('{ work|working|make|making|do { a|an|1|one }? | a|an|1|one }', '\\s+');
const ALL_ROUND = /[\s,]*all\s+(?:the\s+way\s+)?a?round(?![a-z])/y;
const CLAUSE_ENDS = /\s*(?:[.;,)]|$)/y;

/** What stands at the two ends, and the plain stitches between where the words name them. */
interface Ends {
  readonly first: string;
  readonly last: string;
  readonly run: string | null;
}

/** The stitches on every needle that are all knitted together. */
function readAllTogether(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const n = cursor
    .match(ALL_OF_EACH)
    ?.slice(1)
    .find((m) => m !== undefined);
  const name = `k${n}tog`;
  if (n === undefined || !stitchKind(name)) return cursor.back(at, false);
  items.push(cursor.eachSide([cursor.stitch(name, at, { times: 1 })], at));
  return true;
}

export function readAtEdges(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  if (readAllTogether(cursor, items) || readEnds(cursor, items)) return true;
  if (readEdgesKept(cursor, items) || readAtCorners(cursor, items)) return true;
  const before = cursor.match(BEFORE_MARKERS);
  if (!before) return false;
  const last = Number(before[1] ?? before[2]);
  items.push(cursor.eachSide(betweenEdges(null, `k${last}tog`, last, cursor.span(at)), at));
  return true;
}

/** "s2kp at every corner", "knit, working a cdd over each marked st": what takes the stitch there and those beside it. */
const AT_CORNERS = wording(
  '~[\\s,(]* at|on|over|in|with|to each|every|all|both { of the }? the|your? #? { marked|corner|centre|center|middle|pinned @sts | corner|corners }',
);

const AND_NEIGHBOURS = wording('~[\\s,]* and|with|plus its|the|their both|2? neighbours|neighbors');

function readAtCorners(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const last = items[items.length - 1];
  const runs = last?.kind === 'stitch' && !('times' in last.amount) && items.length === 1;
  if (items.length > (runs ? 1 : 0)) return false;
  if (runs) cursor.match(BUT);
  cursor.match(CALLED);
  const open = cursor.match(/\(/y) !== null;
  const stitch = shapingHere(cursor);
  const wide = stitch === null ? 0 : (stitchKind(stitch)?.consumes ?? 0);
  if (open) cursor.match(/\)/y);
  if (stitch === null || wide !== 3 || !cursor.match(AT_CORNERS)) return cursor.back(at, false);
  if (!cursor.match(AND_NEIGHBOURS)) {
    cursor.match(/,?\s*/y);
    cursor.match(WITH_NEIGHBOURS);
  }
  const span = cursor.span(at);
  const amount = { kind: 'centre', count: 1 } as const;
  const run = runs ? items.pop() : undefined;
  const plain: Step =
    run?.kind === 'stitch' ? { ...run, amount } : { kind: 'pattern', rule: 'set', amount, ...span };
  items.push(cursor.eachSide([plain, cursor.stitch(stitch, at, { times: 1 })], at));
  items.push({ ...plain, amount: { kind: 'rest', count: 0 } });
  return true;
}
/** "double-decrease (s2kp)" */
const CALLED = wording(
  'work|make|do|working|making? a|an|1? double|centred|centered|central - ~dec(?:rease)?',
  '\\s*(?=\\()',
);

/** "knit, but ssk at the start of each side and k2tog at the end of it", "at both ends of each needle k2tog" */
function readEnds(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const last = items[items.length - 1];
  const runs =
    (last?.kind === 'stitch' || last?.kind === 'pattern') &&
    (!('times' in last.amount) || uncounted(cursor, last)) &&
    !/[.;!]/.test(cursor.text.slice(last.to - cursor.base, at));
  if (runs) cursor.match(BUT);
  const ends = sameEnds(cursor) ?? twoEnds(cursor);
  if (!ends && (runs || items.length === 0) && oneEnd(cursor, items, runs)) return true;
  const wide = ends && stitchKind(ends.last)?.consumes;
  if (!ends || !wide) return cursor.back(at, false);
  const between = cursor.match(BETWEEN)?.[1] ?? ends.run;
  const fabric = runs ? null : fabricBetween(cursor);
  const steps = betweenEdges(ends.first, ends.last, wide, cursor.span(at));
  // "knit, knitting 2 together …": one instruction.
  const run = fabric ?? (runs ? items.pop() : undefined);
  const amount = { kind: 'end', count: wide } as const;
  if (run?.kind === 'stitch' || run?.kind === 'pattern') steps.splice(1, 1, { ...run, amount });
  else if (between && between !== 'w')
    steps.splice(1, 1, { ...cursor.stitch(between, at, amount) });
  if (PER_SIDE.test(cursor.text.slice(at, cursor.i))) {
    if (!cursor.match(TRAIL_EACH_SIDE) && !cursor.match(ON_NEEDLES)) cursor.match(ALL_ROUND);
    items.push(cursor.eachSide(steps, at));
  } else items.push(...steps);
  return true;
}

/** ", moss stitch between" */
function fabricBetween(cursor: StepCursor): Step | null {
  const at = cursor.i;
  cursor.match(LEADS_BETWEEN);
  const fabric = readPattern(cursor);
  if (fabric?.kind === 'pattern' && cursor.match(IN_BETWEEN)) return fabric;
  return cursor.back(at, null);
}

const LEADS_BETWEEN = wording('~[\\s,;]* and|then|with|working*', '\\s*');
const IN_BETWEEN = wording('~\\s* in? between them?');

const PER_SIDE =
  /\b(?:(?:each|every|all|both)(?: of)?(?: the)?(?: \d)?|the \d) (?!end|edge|border|selv|seam|outer|beg|start|st\b|stitch|rows?\b|rounds?\b|rnds?\b)[a-z]/;

/** The same at both: "k2tog at both ends of every needle". */
function sameEnds(cursor: StepCursor): Ends | null {
  const at = cursor.i;
  const m = cursor.match(FIRST_AND_LAST);
  if (m) {
    const [, said, ...found] = m;
    const numbers = found.filter((n) => n !== undefined);
    const verb = said === 'p' ? 'p' : 'k';
    const name = `${verb}${numbers[0]}tog`;
    if (stitchKind(name) && numbers[0] === numbers[1])
      return { first: name, last: name, run: verb };
    return cursor.back(at, null);
  }
  const any = cursor.match(SHAPED_AT_BOTH);
  if (any) {
    const decrease = (any[1] ?? any[3]) !== 'inc';
    const [first, last] = decrease ? ['ssk', 'k2tog'] : ['kfb', 'kfb'];
    const ends = endsInBracket(cursor);
    if (ends || NOTHING_SAID_AGAIN.test(cursor.text.slice(cursor.i, cursor.i + 40))) {
      if (any[2]) cursor.promised ??= (decrease ? -1 : 1) * Number(any[2]);
      return ends ?? { first, last, run: 'k' };
    }
    return cursor.back(at, null);
  }
  const ahead = cursor.match(BOTH_LED) !== null;
  const stitch = shapingHere(cursor);
  const told = stitch !== null && (ahead ? endsClause(cursor) : cursor.match(BOTH_TOLD) !== null);
  if (stitch && told) return { first: stitch, last: stitch, run: /^p/.test(stitch) ? 'p' : 'k' };
  return cursor.back(at, null);
}

/** "decrease 1 st at both ends of all the needles": which way is not told (common practice), or behind it in brackets. */
const SHAPED_AT_BOTH = wording(
  `{ ${SHAPE_VERB} { by? # @sts? ~\\s*[:,(-]\\s* }? { 1|one @sts? | once }? | a|an|1|one ~(dec|inc)(?:r?ease)?(?![a-z])\\.? } ${BOTH} ~\\)?`,
);

/** … and no stitches behind it that say it again: "thus: k1, ssk, …". */
const NOTHING_SAID_AGAIN =
  /^\s*(?:$|[.;)=]|:\s*\d|[,-](?!\s*(?:thus|as\s+follows|i\.?e|namely|like|so:|that\s+is|by|work|using)\b))/;

/** "(k2tog at the start, ssk at the end)" */
function endsInBracket(cursor: StepCursor): Ends | null {
  const at = cursor.i;
  const ends = cursor.match(/\s*[,:]?\s*\(/y) && twoEnds(cursor);
  if (ends && cursor.match(/\s*\)/y)) return ends;
  return cursor.back(at, null);
}

function endsClause(cursor: StepCursor): boolean {
  const { i } = cursor;
  const ends = cursor.match(BETWEEN) ?? cursor.match(CLAUSE_ENDS);
  cursor.i = i;
  return ends !== null || i === cursor.text.length;
}

const WITHIN = /\b(first|1st|last|final)\s+(?:sts?|stitch)\.?$/;
const OF_SIDE = wording(`~\\s+ of|on|in|across ${SIDE}`);

/** One at the beginning and another at the end: "ssk at the start of each side, knit across, k2tog at the end of it". */
function twoEnds(cursor: StepCursor): Ends | null {
  const at = cursor.i;
  const edge = (led: RegExp, told: RegExp): string | null => {
    const { i } = cursor;
    const ahead = cursor.match(led) !== null;
    const stitch = shapingHere(cursor);
    // "inc in the last st": the stitch itself says where it stands.
    const within = WITHIN.exec(cursor.text.slice(i, cursor.i));
    const there = within ? /^f|^1/.test(within[1]) === (led === FIRST_LED) : false;
    if (there) cursor.match(OF_SIDE);
    if (stitch !== null && (there || ahead || cursor.match(told))) return stitch;
    return cursor.back(i, null);
  };
  const first = edge(FIRST_LED, FIRST_TOLD);
  const run = first === null ? null : (cursor.match(BETWEEN)?.[1] ?? null);
  if (first !== null) cursor.match(AND);
  const last = first === null ? null : edge(LAST_LED, LAST_TOLD);
  if (first !== null && last !== null) return { first, last, run };
  cursor.i = at;
  // The other way about: "k2tog before the end of each needle, and after its start likewise"
  const end = edge(LAST_LED, LAST_TOLD);
  cursor.match(AND);
  const begin =
    end === null ? null : (edge(FIRST_LED, FIRST_TOLD) ?? (cursor.match(LIKEWISE) && end));
  if (end !== null && begin !== null) return { first: begin, last: end, run: null };
  return cursor.back(at, null);
}

/** "knit the first 2 sts of each needle together" */
const TOGETHER_AT = wording(
  `{ dec|decrease by }? { ~(k|p)(?:nit|url)?(?:ting|ing)? | take|taking|work|working } { tog|together the? first|last # @sts? ${OF} | the? first|last # @sts? ${OF} tog|together ${OF} }`,
);
const NO_MORE = /\s*(?:$|[.;)=(:]|-\s|,\s*\d+\s*st)/y;

/** At one end alone, of each side or of the round: "knit, k2tog at the end of each needle". */
function oneEnd(cursor: StepCursor, items: Step[], runs: boolean): boolean {
  const at = cursor.i;
  const found = togetherAt(cursor) ?? stitchAt(cursor, 'first') ?? stitchAt(cursor, 'last');
  const wide = found && stitchKind(found.name)?.consumes;
  const plain = found && !PER_SIDE.test(cursor.text.slice(at, cursor.i)) ? null : BETWEEN;
  if (plain) cursor.match(plain) ?? cursor.match(REST);
  const { i } = cursor;
  if (!found || !wide || !plain || !cursor.match(NO_MORE)) return cursor.back(at, false);
  cursor.i = i;
  const run = runs ? items.pop() : undefined;
  const amount = { kind: 'end', count: found.edge === 'first' ? 0 : wide } as const;
  const rest: Step =
    run?.kind === 'stitch' || run?.kind === 'pattern'
      ? { ...run, amount }
      : cursor.stitch(found.name.startsWith('p') ? 'p' : 'k', at, amount);
  const stitch = cursor.stitch(found.name, at, { times: 1 });
  items.push(cursor.eachSide(found.edge === 'first' ? [stitch, rest] : [rest, stitch], at));
  return true;
}

const REST = wording(
  '~[\\s,;]* and|then|with* ~(?:k|p|w)(?:nit|url|ork)?(?:ting|ing)? { the rest | to the? end of? { it | the @side }? }',
);

interface AtEdge {
  readonly edge: 'first' | 'last';
  readonly name: string;
}

function togetherAt(cursor: StepCursor): AtEdge | null {
  const at = cursor.i;
  const m = cursor.match(TOGETHER_AT);
  const name = m && `${m[1] === 'p' ? 'p' : 'k'}${m[2] ?? m[3]}tog`;
  if (name && stitchKind(name)) return { edge: /\blast\b/.test(m[0]) ? 'last' : 'first', name };
  return cursor.back(at, null);
}

/** "k2tog at the beginning of every side", "at the end of every side ssk" */
function stitchAt(cursor: StepCursor, edge: AtEdge['edge']): AtEdge | null {
  const at = cursor.i;
  const ahead = cursor.match(edge === 'first' ? FIRST_LED : LAST_LED) !== null;
  const name = shapingHere(cursor);
  if (name && (ahead || cursor.match(edge === 'first' ? FIRST_TOLD : LAST_TOLD)))
    return { edge, name };
  return cursor.back(at, null);
}

/** A stitch without a count, that is no run: "an ssk", "k2tog". */
function shapingHere(cursor: StepCursor): string | null {
  const at = cursor.i;
  cursor.match(ARTICLE);
  const stitch = stitchHere(cursor);
  if (stitch && !stitch.amount && stitch.name.length > 1) return stitch.name;
  return cursor.back(at, null);
}

function stitchHere(cursor: StepCursor): ReadStitch | null {
  const read = readStitch(cursor.text, cursor.i);
  if (read) cursor.i = read.end;
  return read;
}
