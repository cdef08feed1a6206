/**
 * "until you have worked the *k1, k2tog* round and have 16 sts": the last round told by its stitches. In: a cursor and the
 * tail read so far. Out: true where it stands here; the stitches, and the count that they leave, kept.
 */
import { bracketedCount, eatStitch } from '../phrases.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';

const ROUND_OF =
  'the|a|an|that|this|last|final|increase|decrease|dec|inc|shaping* @unit? of|with|is|has|reads|reading|goes|that|which|:*';
const WORKED =
  'you|we|i|have|has|had|just|worked|done|finished|completed|knitted|knit|work|come|get|got|reach|reached|to|are|arrive|at|it|also*';
const UP_TO = [
  `until|till|til ${WORKED} ${ROUND_OF}`,
  `as far as ${ROUND_OF}`,
  `down|up to and? including|with? ${ROUND_OF}`,
  `ending|finishing with|after|on ${ROUND_OF}`,
  'to the|a @unit of|with?',
  `stop|end|finish|stopping when|once|after ${WORKED} ${ROUND_OF}`,
];
/** "to (ssk, k1, k2tog)" */
const TO_BRACKET = 'to (|*|[';
/** Most stitches of its repeat. Chosen. */
const MOST_TOLD = 6;

const COUNT =
  ',|;|:|-|=|and|when|which|that|is|you|there|with|will|now|leaves|leaving|have|has|are|be|left|only|just* # @sts? will|left|remain|remains|remaining|are|on|the|needles|needle|in|all|rem*';

export function readUntilStitches(c: TokenCursor, tail: OpenTail): boolean {
  return c.takes(() => {
    if (
      tail.untilStitches !== null ||
      (!saysAny(c, UP_TO) && !says(c, 'to the') && !says(c, TO_BRACKET))
    )
      return null;
    const lead = c.word(-1);
    // "k1, (ssk, k2tog) four times, k1": edge stitches stand around what is repeated.
    const edge = c.takes(() => edgeStitch(c) && c.eatMark(',') !== null && c.mark('*(['));
    c.eatMark('*([');
    c.eatMark('*');
    const list: { name: string; times: number }[] = [];
    while (list.length < MOST_TOLD) {
      const read = c.attempt(() => {
        if (list.length > 0 && !says(c, ',|and|then')) return null;
        const stitch = eatStitch(c);
        const { amount } = stitch ?? {};
        if (!stitch || (amount && !('times' in amount))) return null;
        return { name: stitch.name, times: amount && 'times' in amount ? amount.times : 1 };
      });
      if (!read) break;
      list.push(read);
    }
    if (!list.some((s) => !/^[kp]$/.test(s.name))) return null;
    c.eatMark('*)]');
    c.takes(() => says(c, ',|;? rep|repeat from? *?') !== null);
    c.eatMark('*)]');
    says(c, '# times');
    if (edge) c.takes(() => says(c, ',|and|then*') !== null && edgeStitch(c));
    says(
      c,
      'all|right|the|way|round|around|to|end|of|on|in|at|each|every|all|side|needle|needles|section|@unit|across*',
    );
    // "to the k10, kfb round"
    if (lead === 'the' && list.length === 1 && !/^(?:round|rnd|row)$/.test(c.word(-1))) return null;
    says(c, 'has|have|is|are|been|was* worked|done|reached|completed|knitted|over?');
    says(c, 'all|right|the|way|round|around|to|end*');
    const count = bracketedCount(c)?.total ?? says(c, COUNT)?.[0] ?? null;
    tail.untilStitches = count;
    tail.lastStitches = list;
    return true;
  });
}

/** "k1" */
function edgeStitch(c: TokenCursor): boolean {
  const stitch = eatStitch(c);
  return stitch !== null && /^[kp]$/.test(stitch.name) && stitch.amount !== null;
}
