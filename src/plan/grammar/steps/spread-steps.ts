/**
 * Shaping spread over the round: `decrease 8 sts evenly`, `inc 4 evenly by m1l`, `k2tog evenly 6 times`.
 * Input: a cursor at the word. Output: the step, the cursor behind it; null where there is none.
 */
import type { StepCursor } from './step-cursor.ts';
import type { GroupStep, SpreadStep, Step } from './steps.ts';
import { wording } from './wording.ts';

const STITCH = '~(k2tog|ssk|skp|p2tog|m1[lrp]?|kfb|yo)(?![a-z0-9])';
const ACROSS =
  '{ { all? across|around|over|along|in|on|throughout of? | to the? end of? }? the|this|all|whole|entire* round|rnd|row|sts|stitches | across|around|along }?';
const EVENLY =
  ',? { spacing|spreading|spread|placing|distributing|spaced|distributed them|these|out? out? }? evenly|even|equally spaced|distributed|spread|placed? apart?';
/** "decrease 8 sts evenly over the round by k2tog", "dec 8 sts across, evenly spaced" */
const SPREAD = wording(
  `work? ~(dec|inc)(?:r?eas(?:e|ing)|rs?|\\.)?(?![a-z]) by? { # @sts? }? ,? ${ACROSS} ${EVENLY} { # { @sts | times }? }? ,? ${ACROSS} { by|using|with working|a? ${STITCH} { each time }? }?`,
);
/** "k2tog evenly 6 times", "k2tog 8 times, evenly spaced" */
const SPREAD_STITCH = wording(`${STITCH} { # times|x }? ${EVENLY} { # times|x }? ${ACROSS}`);
/** "by knitting every 11th and 12th stitch together", "every 11th and 12th st are knitted together" */
const EVERY_NTH = wording(
  '~[\\s,]* by? knit|knitting|work|working|k? together|tog? every % and % knit? @sts together|tog?',
);

/** All stitches of such a step, and how often: so many times, or to the end of the round. */
function everyNth(cursor: StepCursor, at: number, times: number | null): GroupStep | null {
  const nth = cursor.match(EVERY_NTH);
  const wide = nth ? Number.parseInt(nth[1], 10) : 0;
  if (!nth || !/tog/.test(nth[0]) || Number.parseInt(nth[2], 10) !== wide + 1 || wide < 2)
    return cursor.back(at, null);
  const plain = cursor.stitch('k', at, { times: wide - 1 });
  const steps = [plain, cursor.stitch('k2tog', at, { times: 1 })];
  return cursor.group(steps, at, times === null ? { kind: 'rest', count: 0 } : { times });
}

export function readSpread(cursor: StepCursor): SpreadStep | GroupStep | null {
  const at = cursor.i;
  const stitch = /^(?:k2|ssk|skp|p2|m1|kfb|yo)/.test(cursor.text.slice(at, at + 3))
    ? cursor.match(SPREAD_STITCH)
    : null;
  const often = stitch && (stitch[2] ?? stitch[3]);
  if (often) return spread(cursor, at, stitch[1], often);
  cursor.i = at;
  const c = cursor.text[at];
  const alone = 'kwe'.includes(c) ? everyNth(cursor, at, null) : null;
  if (alone || (c !== 'd' && c !== 'i' && c !== 'w')) return alone;
  const m = cursor.match(SPREAD);
  if (!m) return null;
  const number = m[2] ?? m[3];
  if (number === undefined) return cursor.back(at, null);
  const behind = cursor.i;
  const nth = m[1] === 'dec' ? everyNth(cursor, at, Number(number)) : null;
  if (nth) return nth;
  cursor.i = behind;
  return spread(cursor, at, m[4] ?? (m[1] === 'dec' ? 'k2tog' : 'm1'), number);
}

function spread(cursor: StepCursor, at: number, name: string, times: string): SpreadStep {
  return { kind: 'spread', name, times: Number(times), ...cursor.span(at) };
}

/** The stitch of a run that shaping is spread in; none where it is no plain one. */
export function plainOf(run: Step | null): Pick<SpreadStep, 'plain'> {
  const plain = run?.kind === 'stitch' && (run.name === 'k' || run.name === 'p') ? run.name : null;
  return plain ? { plain } : {};
}
