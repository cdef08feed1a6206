/**
 * Shaping told with its place in the round: "knit, decreasing 1 st at the end of the round", "increase 1 st in the
 * middle of each side", "knit, dec 2 sts on each needle". In: a cursor at the words, the steps so far. Out: true, the
 * run before them and the shaping as one instruction, the cursor behind it; false and nothing moved otherwise.
 */
import type { Place } from '../../lex/source.ts';
import { uncounted } from './sequence.ts';
import { plainOf } from './spread-steps.ts';
import type { StepCursor } from './step-cursor.ts';
import {
  type Amount,
  isTarget,
  type PatternStep,
  type Step,
  type StitchStep,
  shapedAtEnds,
} from './steps.ts';
import { wording } from './wording.ts';

/** "decrease", "inc", "losing" */
export const SHAPE_VERB = '~(dec|inc|los|reduc)(?:r?eas(?:e|ing)|rs?|e|ing|\\.)?(?![a-z])';
const VERB = SHAPE_VERB;
const NOUN = '~(dec|inc)(?:r?eases?|s|\\.)?(?![a-z])';
const HOW_MANY = `{ ${VERB} by? #|a|an|one @sts? | work|make|working|making #|a|an|one ${NOUN} }`;
const WHOLE = '{ the|this|that? round|rnd|row }';
const OF = `{ of|on|in|to { ${WHOLE} | { each|every|all|both of? the? #? @side } } }?`;
const PLACED = wording(
  `${HOW_MANY} at|in|on|to|into|near the? very? ~(beginning|beg|start|end|middle|centre|center)(?![a-z]) @sts? ${OF} { by|using|with working|a? ~(k2tog|ssk|skp|p2tog|ssp|m1[lrp]?|kfb|yo)(?![a-z0-9]) }?`,
);
const ON_EACH = wording(
  `{ ${VERB} { by? # { @sts | times }? ~\\s*[:,(-]\\s* | # times ~\\s+ }? { # { @sts | times }? | once | twice } | { work|make|working|making }? #|a|an|one ${NOUN} } on|in|from|along|per|for each|every|all? of? the? #? @side ~\\)?`,
  '(?!\\s+of)',
);

export function readPlacedShaping(cursor: StepCursor, items: Step[]): boolean {
  return atPlace(cursor, items) || onEach(cursor, items);
}

/** The run that the shaping belongs to, taken off the steps; as the stitches show themselves where none stands here. */
function runBefore(cursor: StepCursor, items: Step[], at: Place): StitchStep | PatternStep | null {
  const last = items[items.length - 1];
  if (last?.kind === 'stitch' || last?.kind === 'pattern') {
    const { amount } = last;
    const open = isTarget(amount)
      ? (amount.kind === 'rest' || amount.kind === 'end') && amount.count === 0
      : uncounted(cursor, last);
    if (open) {
      items.pop();
      return last;
    }
  }
  const amount = { kind: 'rest', count: 0 } as const;
  return items.length === 0 ? { kind: 'pattern', rule: 'set', amount, ...at } : null;
}

/** "decreasing 1 st at the end of the round", "making 1 increase in the middle of each side" */
function atPlace(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const m = cursor.match(PLACED);
  const times = Number(m?.[2] ?? m?.[3] ?? 1);
  const place = m?.[5] ?? '';
  const middle = /^[mc]/.test(place);
  const run =
    m && times > 0 && (times === 1 || !middle) ? runBefore(cursor, items, cursor.span(at)) : null;
  if (!m || !run) return cursor.back(at, false);
  const purled = run.kind === 'stitch' && run.name === 'p';
  const decrease = (m[1] ?? m[4]) !== 'inc';
  const usual = decrease ? (purled ? 'p2tog' : 'k2tog') : 'm1';
  const shaped = cursor.stitch(m[6] ?? usual, at, { times });
  const before = (amount: Amount): Step => ({ ...run, amount });
  const rest = before({ kind: 'rest', count: 0 });
  const steps = middle
    ? [before({ kind: 'centre', count: decrease ? 1 : 0 }), shaped, rest]
    : place === 'end'
      ? [rest, shaped]
      : [shaped, rest];
  if (PER_SIDE.test(m[0])) items.push(cursor.eachSide(steps, at));
  else items.push(...steps);
  return true;
}

const PER_SIDE = /\s(?:each|every|all|both)\s/;

/** What follows says it again in stitches. */
const LEADS_ON =
  /^\s*,?\s*(?:as\s+(?:follows|foll)|thus|like\s+this|so\s*:|i\.?e\b|by\s+(?:work|knit)|:\s*(?!\d))/;

/** "decreasing 2 sts on each needle": at both ends of it, or evenly along it. */
function onEach(cursor: StepCursor, items: Step[]): boolean {
  const at = cursor.i;
  const m = cursor.match(ON_EACH);
  if (m && LEADS_ON.test(cursor.text.slice(cursor.i, cursor.i + 24))) cursor.i = at;
  if (!m || cursor.i === at) return false;
  const [, verb, all, allTimes, each, nouns, noun] = m;
  const decrease = (verb ?? noun) !== 'inc';
  const times = Number(each ?? nouns ?? (/\stwice\s/.test(m[0]) ? 2 : 1));
  const promised = all ?? allTimes;
  if (promised) cursor.promised ??= (decrease ? -1 : 1) * Number(promised);
  const span = cursor.span(at);
  // "purl, decreasing …": one instruction, between whose shaping the run goes on.
  const run = runBefore(cursor, items, span);
  const steps: Step[] =
    times === 2
      ? shapedAtEnds(decrease, span).map((s) =>
          run && s.kind === 'pattern' ? { ...run, amount: s.amount } : s,
        )
      : [{ kind: 'spread', name: decrease ? 'k2tog' : 'm1', times, ...plainOf(run), ...span }];
  items.push(cursor.eachSide(steps, at));
  return true;
}
