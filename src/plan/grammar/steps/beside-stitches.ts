/**
 * Stitches told by those they stand beside: "m1 after the first and before the last st of each needle", "a yo on either side
 * of every corner st", "make 1 before and 1 after each marker". In: a cursor at the words, the steps so far. Out: true, the
 * steps of a side or of all round each marked stitch added and the cursor behind the words; false and nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
import { ON_NEEDLES, TRAIL_EACH_SIDE } from './side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import { insetOf, isTarget, type PatternStep, type Step, type StitchStep } from './steps.ts';
import { readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

const SIDE =
  '{ it|them | each|every|the|a|this|that|your|all|both|1|same* #? { @side | round|rnd|row } }';
const OF = `{ of|on|in|across|for ${SIDE} }?`;
const AND = '~[\\s,;]* and|&|then*';
/** Words between a run and what is worked within it: "knit, but with a yo …". */
const LEAD = wording(
  '{ but|and|only|except|with|working|doing|work|make|do|having|just|you|then|by|put|putting|place|placing* a|an? }',
  '\\s+',
);
/** "making 1", "1" behind another, "inc 1 st": a stitch that is made. */
const MADE = wording(
  '{ making|make|mk 1|a|an|another @sts? | increase|increasing|inc by? 1? @sts? | work|working? an|1|another increase }',
  '(?=\\s)',
);
const ONE_MORE = wording('1|another @sts?', '(?=\\s)');
const CENTRE = 'marked|corner|centre|center|middle|pinned';
/** What they stand beside. */
const WHAT = `each|every|all|both|the { of the }? your? #? { ~(${CENTRE})(?![a-z]) @sts | ~(corners?)(?![a-z]) | stitch? ~(m|mk|mkrs?|markers?)(?![a-z]) }`;
const EITHER = wording(
  `~\\s+ { { on|at|to? either|each|both side|sides of | before and|& after|behind|past } } ${WHAT}`,
);
const AFTER_WHAT = wording(`after|behind|past ${WHAT}`);
const BEFORE = wording('~\\s+ before');
const AFTER = wording('~\\s+ after|behind|past', '(?=\\s+and\\b)');
const BEFORE_WHAT = wording(`before ${WHAT}`);
const ENDS = wording(
  `~\\s+ { at|on|in|to? both|each|either end|ends|edge|edges ${OF} | at|in? the? beginning|beg|start ${OF} ${AND} { again? at|in }? the? end ${OF} }`,
);
const IN_FROM = wording(
  `~\\s+ #|a @sts? in? in|away? from each|either|both end|ends|edge|edges ${OF}`,
);
const FIRST = wording(`~\\s+ after|behind|past the? first|1st #? @sts? ${OF}`);
const LAST = wording(`before the? last|final #? @sts? ${OF}`);
/** ", knitting all other sts" */
const REST = wording(
  '~[\\s,;]* and|but|with|then* { ~(?:k|knit|work)(?:ting|ing)?(?![a-z0-9]) { { all|the other|others|rest|remaining* @sts? } | plain | in between } | all? the? other|others|rest|remaining @sts? knit|knitted|plain }',
  '(?=\\s*(?:[.;,)(=]|$))',
);
const NEXT = wording('~[\\s,;]* and|&|then*', '\\s*');
const AFTER_EVERY = wording(
  '~\\s+ after|behind each|every { ~(\\d{1,3})(?:st|nd|rd|th)?(?![a-z0-9]) }? @sts',
  '(?!\\s*of\\b)',
);
const PER_SIDE = /\b(?:each|every|all|both) (?!end|edge|beg|start|side of)/;

/** A stitch that shapes, without a count. */
function shapingHere(cursor: StepCursor): string | null {
  const at = cursor.i;
  const lead = cursor.match(LEAD) !== null;
  if (cursor.match(MADE)) return 'm1';
  const read = readStitch(cursor.text, cursor.i);
  // "make" of "make 1" may have been taken for a verb
  if (!read && lead) {
    cursor.i = at;
    if (cursor.match(MADE)) return 'm1';
  }
  const kind = read && !read.amount && read.name.length > 1 ? stitchKind(read.name) : null;
  if (!read || !kind || kind.consumes === kind.loops.length) {
    cursor.i = at;
    return null;
  }
  cursor.i = read.end;
  return read.name;
}

/** The stitch of the second place, or that of the first again; the cursor at that place. */
function again(cursor: StepCursor, first: string): string {
  cursor.match(NEXT);
  const other = shapingHere(cursor);
  if (!other) cursor.match(ONE_MORE);
  cursor.match(/\s+/y);
  return other ?? first;
}

/** "inc 1 st at each end …": a stitch is made, but which is only told behind it. */
const INCREASES = /\binc/;
const BY = wording('~\\s* ,? { by|using|with working|a|an|making* }', '\\s+');

function shapedBy(cursor: StepCursor): string | null {
  const stitch = cursor.match(BY) ? shapingHere(cursor) : null;
  return stitch && stitchKind(stitch)?.consumes === 0 ? stitch : null;
}

interface Beside {
  readonly first: string;
  readonly last: string;
  /** Stitches between them and the ends of the side. */
  readonly inset: readonly [number, number];
  /** A stitch that they stand on either side of. */
  readonly centre: boolean;
}

/** "m1 after the first and before the last st", "m1 one st in from each end" */
function atEnds(cursor: StepCursor, stitch: string, made: boolean): Beside | null {
  const at = cursor.i;
  const zero = stitchKind(stitch)?.consumes === 0;
  const from = cursor.match(IN_FROM);
  if (from) {
    const n = Number(from[1] ?? 1);
    return { first: stitch, last: stitch, inset: [n, n], centre: false };
  }
  if (zero && cursor.match(ENDS)) {
    const by = made ? shapedBy(cursor) : stitch;
    if (by) {
      const n = insetOf(by);
      return { first: by, last: by, inset: [n, n], centre: false };
    }
    cursor.i = at;
    return null;
  }
  const after = cursor.match(FIRST);
  if (after) {
    const last = again(cursor, stitch);
    const before = cursor.match(LAST);
    if (before) {
      const told = Number(after[1] ?? before[1] ?? 1);
      return { first: stitch, last, inset: [told, Number(before[1] ?? told)], centre: false };
    }
  }
  cursor.i = at;
  return null;
}
/** "on either side of each corner st", "before and 1 after every marker" */
function eitherSide(cursor: StepCursor, told: string): Beside | null {
  const at = cursor.i;
  let stitch = told;
  let last = stitch;
  let m = cursor.match(EITHER);
  if (!m && cursor.match(BEFORE)) {
    // "before each marker and another after it" is told stitch by stitch.
    last = again(cursor, stitch);
    m = cursor.match(AFTER_WHAT);
  }
  // "ssk after and k2tog before every marker"
  if (!m && cursor.match(AFTER)) {
    const before = again(cursor, stitch);
    m = cursor.match(BEFORE_WHAT);
    if (m) [stitch, last] = [before, stitch];
  }
  if (!m) {
    cursor.i = at;
    return null;
  }
  const marker = /\b(?:m|mk|mkrs?|markers?)\s*$/.test(m[0]);
  if (!marker) return { first: stitch, last, inset: [0, 0], centre: true };
  const near = insetOf(stitch);
  // Behind a marker a side begins.
  return { first: last, last: stitch, inset: [near, near], centre: false };
}

/** The run before the words, taken off the steps; stitches as they show themselves where none stands there. */
function runBefore(cursor: StepCursor, items: Step[], at: number): StitchStep | PatternStep | null {
  const last = items.at(-1);
  const open =
    (last?.kind === 'stitch' || last?.kind === 'pattern') &&
    (isTarget(last.amount)
      ? last.amount.kind === 'rest' && last.amount.count === 0
      : last.kind === 'stitch' && /^(?:k|p)$/.test(last.name) && last.amount.times === 1);
  if (open && items.length === 1) {
    items.pop();
    return last;
  }
  if (items.length > 0) return null;
  const amount = { kind: 'rest', count: 0 } as const;
  const { from, to } = cursor.span(at);
  return { kind: 'stitch', name: 'k', amount, from, to };
}

export function readBesideStitches(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const stitch = shapingHere(cursor);
  const made = INCREASES.test(cursor.text.slice(at, cursor.i));
  const every = stitch && cursor.match(AFTER_EVERY);
  if (every) {
    const run = runBefore(cursor, items, at);
    if (run) {
      const plain: Step = { ...run, amount: { times: Number(every[1] ?? 1) } };
      const pair = [plain, cursor.stitch(stitch, at, { times: 1 })];
      items.push(cursor.group(pair, at, { kind: 'rest', count: 0 }));
      return true;
    }
    cursor.i = at;
    return false;
  }
  const found = stitch && (atEnds(cursor, stitch, made) ?? eitherSide(cursor, stitch));
  if (found) cursor.match(REST);
  const run = found ? runBefore(cursor, items, at) : null;
  if (!found || !run) {
    cursor.i = at;
    return false;
  }
  const { first, last, inset, centre } = found;
  const plain = (count: number): Step[] =>
    count > 0 ? [{ ...run, amount: { times: count } }] : [];
  const wide = stitchKind(last)?.consumes ?? 0;
  if (centre) {
    const steps: Step[] = [
      { ...run, amount: { kind: 'centre', count: stitchKind(first)?.consumes ?? 0 } },
      cursor.stitch(first, at, { times: 1 }),
      ...plain(1),
      cursor.stitch(last, at, { times: 1 }),
    ];
    items.push(cursor.eachSide(steps, at), { ...run, amount: { kind: 'rest', count: 0 } });
    return true;
  }
  const steps: Step[] = [
    ...plain(inset[0]),
    cursor.stitch(first, at, { times: 1 }),
    { ...run, amount: { kind: 'end', count: wide + inset[1] } },
    cursor.stitch(last, at, { times: 1 }),
    ...plain(inset[1]),
  ];
  if (
    PER_SIDE.test(cursor.text.slice(at, cursor.i)) ||
    cursor.match(TRAIL_EACH_SIDE) ||
    cursor.match(ON_NEEDLES)
  )
    items.push(cursor.eachSide(steps, at));
  else items.push(...steps);
  return true;
}
