/**
 * A round told to be all of one stitch in words of its own: "is a purl round", "gets purled", ": this one is knit", "all
 * straight". In: a cursor behind the round's label. Out: the verb, and the cursor moved to the end of the sentence; null and the cursor unmoved
 * where other words stand there.
 */
import { regex } from '../lexicon/expression.ts';
import { says } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

const IS = 'is|are|will|shall|should|must|gets|get|goes|stays|=';
const LEAD = `,|this|it|which|that|a|an|the|and|${IS}|be|being|simply|just|always|only|worked|made|done|in|entirely|wholly|completely|you|we|i|single|#*`;
const HOW = 'plain|straight|ordinary|simple|whole|full|all|to|the|of|@sts*';
const STITCH = 'knit|knitted|k|purl|purled|p|plain|straight|right|left';
const BEHIND =
  ',|:|;|knit|purl|work|it|them|all|across|every|each|the|a|of|in|@sts|@unit|stitch|to|end|way|around|round|plain|straight|without|with|no|any|decreases|decreasing|decrease|shaping*';

/** `worded`: the words must say more than the stitch. */
export function toldPlain(c: TokenCursor, worded: boolean): 'knit' | 'purl' | null {
  const { i } = c;
  const back = (): null => {
    return c.back(i, null);
  };
  says(c, LEAD);
  const led = regex.plain`\b(?:${IS.replace('|=', '')})\b|=|\b(?:you|we|i)\b`.test(c.slice(i, c.i));
  if (worded && !led) return back();
  says(c, HOW);
  const all = /\ball\b/.test(c.slice(i, c.i));
  const at = c.i;
  if (!says(c, STITCH)) {
    // "all plain", "all straight": the words before are the stitch.
    if (!/^(?:plain|straight)$/.test(c.word(-1))) return back();
  } else if (/^(?:right|left)$/.test(c.word(at - c.i)) && !all) return back();
  const said = c.word(-1);
  const { i: behind } = c;
  says(c, BEHIND);
  const other = c.slice(behind, c.i).match(/\b(?:knit|purl)\b/g) ?? [];
  const verb = /^(?:p|purl|purled|left)$/.test(said) ? 'purl' : 'knit';
  if (other.some((w) => w !== verb)) return back();
  return c.done || c.mark('.;!?=(-') ? verb : back();
}
