/**
 * Shaping spread over the round: `decrease 8 sts evenly`, `inc 4 evenly by m1l`, `k2tog evenly 6 times`.
 * Input: a cursor at the word. Output: the step, the cursor behind it; null where there is none.
 */
import { NUM } from '../../lex/numbers.ts';
import { STS } from '../../lexicon/words.ts';
import type { StepCursor } from './step-cursor.ts';
import type { GroupStep, SpreadStep } from './steps.ts';

const STITCH = '(k2tog|ssk|skp|p2tog|m1[lrp]?|kfb|yo)';
const ACROSS =
  '(?:(?:[\\s,]*(?:all\\s+)?(?:across|around|over|along|to\\s+(?:the\\s+)?end|in|on|throughout)(?:\\s+of)?)?(?:\\s+(?:the|this|all|whole|entire))*\\s*(?:round|rnd|row|sts|stitches)|[\\s,]*(?<![a-z])(?:across|around|along))?';
const EVENLY =
  '[\\s,]*(?:(?:spacing|spreading|spread|placing|distributing|spaced|distributed)\\s+(?:them\\s+|these\\s+|out\\s+)?(?:out\\s+)?)?(?:evenly|even|equally)(?:\\s+(?:spaced|distributed|spread|placed))?(?:\\s+apart)?';
const HOW = `(?:\\s*(?:by|using|with)\\s+(?:working\\s+|a\\s+)?${STITCH}(?:\\s+each\\s+time)?)?`;
/** "decrease 8 sts evenly over the round by k2tog", "dec 8 sts across, evenly spaced" */
const SPREAD = new RegExp(
  `(?:work\\s+)?(dec|inc)(?:r?eas(?:e|ing)|rs?|\\.)?\\s*(?:by\\s+)?(?:(${NUM})\\s*(?:${STS})?)?${ACROSS}${EVENLY}\\s*(?:(${NUM})\\s*(?:${STS}|times)?\\s*)?${ACROSS}${HOW}`,
  'y',
);
/** "k2tog evenly 6 times", "k2tog 8 times, evenly spaced" */
const SPREAD_STITCH = new RegExp(
  `${STITCH}(?:\\s+(${NUM})\\s*(?:times|x))?${EVENLY}(?:\\s+(${NUM})\\s*(?:times|x))?${ACROSS}`,
  'y',
);
/** "dec 8 sts by knitting every 11th and 12th stitch together" */
const EVERY_NTH =
  /[\s,]*(?:by\s+)?(?:knit|work|k)(?:ting|ing)?\s+(?:together\s+)?every\s+(\d{1,3})(?:st|nd|rd|th)\s+and\s+(\d{1,3})(?:st|nd|rd|th)\s+(?:st|stitch|sts|stitches)\s+(?:together|tog)(?![a-z])/y;

export function readSpread(cursor: StepCursor): SpreadStep | GroupStep | null {
  const at = cursor.i;
  const stitch = /^(?:k2|ssk|skp|p2|m1|kfb|yo)/.test(cursor.text.slice(at, at + 3))
    ? cursor.match(SPREAD_STITCH)
    : null;
  const often = stitch && (stitch[2] ?? stitch[3]);
  if (often) return spread(cursor, at, stitch[1], often);
  cursor.i = at;
  const c = cursor.text[at];
  if (c !== 'd' && c !== 'i' && c !== 'w') return null;
  const m = cursor.match(SPREAD);
  if (!m) return null;
  const number = m[2] ?? m[3];
  if (number === undefined) {
    cursor.i = at;
    return null;
  }
  const nth = m[1] === 'dec' ? cursor.match(EVERY_NTH) : null;
  if (nth && Number(nth[2]) === Number(nth[1]) + 1) {
    const plain = cursor.stitch('k', at, { times: Number(nth[1]) - 1 });
    const steps = [plain, cursor.stitch('k2tog', at, { times: 1 })];
    return cursor.group(steps, at, { times: Number(number) });
  }
  return spread(cursor, at, m[4] ?? (m[1] === 'dec' ? 'k2tog' : 'm1'), number);
}

function spread(cursor: StepCursor, at: number, name: string, times: string): SpreadStep {
  return { kind: 'spread', name, times: Number(times), ...cursor.span(at) };
}
