/**
 * Shaping spread over the round: `decrease 8 sts evenly`, `inc 4 evenly by m1l`, `k2tog evenly 6 times`.
 * Input: a cursor at the word. Output: the step, the cursor behind it; null where there is none.
 */
import { NUM } from '../../lex/numbers.ts';
import type { StepCursor } from './step-cursor.ts';
import type { SpreadStep } from './steps.ts';
import { STS } from './targets.ts';

const SPREAD = new RegExp(
  `(?:work\\s+)?(dec|inc)(?:r?eas(?:e|ing)|rs?|\\.)?\\s*(?:by\\s+)?(?:(${NUM})\\s*(?:${STS})?)?\\s*(?:evenly|even)(?:\\s+(?:spaced|distributed))?\\s*(?:(${NUM})\\s*(?:${STS}|times)?\\s*)?(?:across|around|over|along|to\\s+end|in)?\\s*(?:(?:the|this|all)\\s+)?(?:round|rnd|row|sts|stitches)?(?:\\s*(?:by|using|with)\\s+(?:working\\s+)?(k2tog|ssk|skp|p2tog|m1[lrp]?|kfb|yo)(?:\\s+each\\s+time)?)?`,
  'y',
);
const SPREAD_STITCH = new RegExp(
  `(k2tog|ssk|skp|p2tog|m1[lrp]?|kfb|yo)\\s+evenly\\s+(?:spaced\\s+)?(${NUM})\\s*(?:times|x)(?:\\s+(?:across|around)(?:\\s+(?:the\\s+)?(?:round|row))?)?`,
  'y',
);

export function readSpread(cursor: StepCursor): SpreadStep | null {
  const at = cursor.i;
  const stitch = /^(?:k2|ssk|skp|p2|m1|kfb|yo)/.test(cursor.text.slice(at, at + 3))
    ? cursor.match(SPREAD_STITCH)
    : null;
  if (stitch) return spread(cursor, at, stitch[1], stitch[2]);
  const c = cursor.text[at];
  if (c !== 'd' && c !== 'i' && c !== 'w') return null;
  const m = cursor.match(SPREAD);
  if (!m) return null;
  const number = m[2] ?? m[3];
  if (number === undefined) {
    cursor.i = at;
    return null;
  }
  return spread(cursor, at, m[4] ?? (m[1] === 'dec' ? 'k2tog' : 'm1'), number);
}

function spread(cursor: StepCursor, at: number, name: string, times: string): SpreadStep {
  return { kind: 'spread', name, times: Number(times), ...cursor.span(at) };
}
