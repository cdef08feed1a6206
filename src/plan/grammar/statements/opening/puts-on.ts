/**
 * A sentence that puts stitches on the needle in whatever words: "Foundation: 64 loops", "41 sts are put on the needle", "Make
 * a ring of the end and pick up 8 stitches in it". It is composed of a verb or a name of putting on and a number of stitches, in any
 * order; it says no size, gauge or round. In: a cursor at its beginning, in a text whose other words cast nothing on. Out: the
 * place of its number.
 */
import { STITCH_WORDS } from '../../../lexicon/words.ts';
import { isUnit } from '../../phrases.ts';
import type { TokenCursor } from '../../token-cursor.ts';

/** Most tokens of such a sentence. Chosen: bounds the time. */
const LONGEST = 40;

const VERB =
  /^(?:make|makes|making|made|mount|mounts|mounted|mounting|lay|laid|string|strung|throw|thrown|take|takes|taken|pick|picks|picked|picking|strike|struck|begin|begins|begun|beginning|start|starts|started|starting|commence|commences|commencing|form|forms|formed|hang|hung|wind|winds|wound|looped|looping|knot|knotted|put|puts|set|sets|chain|chained|need|needs|needed|needing|want|wants|wanted|wanting|require|requires|required|foundation|initial|base|raise|raised|get|gets)$/;
/** What stands before a number that it names: "Made stitches: 64". */
const NAME =
  /^(?:foundation|stitches|sts|loops|beginning|start|starting|begin|edge|rim|base|initial|made|mounted|total)$/;
const NO_SENTENCE =
  /^(?:gauge|tension|sample|swatch|size|sizes|yarn|wool|needle|needles|material|materials|finished|measures|measurements|abbreviation|abbreviations|note|notes|knit|purl|k|p|repeat|rep|then|until)$/;
/** The number is that of something else, or of a part. */
const OTHERS =
  /^(?:cm|cms|inch|inches|gauge|tension|until|till|left|remain|remains|remaining|over|decrease|decreases|decreased|increase|increases|increased)$/;
const BEHIND =
  /^(?:each|every|per|a|apiece|marker|markers|holder|holders|apart|at|more|fewer|less)$/;

/** The token of the number of stitches put on, counted from the cursor; null where the sentence puts none on. */
export function stitchesPutOn(c: TokenCursor): number | null {
  if (NO_SENTENCE.test(c.word()) || isUnit(c)) return null;
  let verb = false;
  let found: number | null = null;
  for (let n = 0; n < LONGEST; n++) {
    const t = c.peek(n);
    if (!t || (t.kind === 'mark' && '.;!?'.includes(t.text))) break;
    if (OTHERS.test(t.text)) return null;
    if (t.kind === 'word' && VERB.test(t.text)) verb = true;
    if (t.kind !== 'number' || found !== null || (t.value ?? 0) < 2) continue;
    const sts = made(c, n + 1) ? n + (c.mark('-', n + 2) ? 4 : 3) : n + 1;
    const counted = STITCH_WORDS.has(c.word(sts));
    const behind = c.word(sts + 1) === 'on' ? c.word(sts + 2) : c.word(sts + 1);
    if (counted && !BEHIND.test(behind)) found = n;
    // "Made stitches: 64"
    const named = c.mark(':=', n - 1) && NAME.test(c.word(n - 2));
    if (named && (!c.peek(n + 1) || c.mark('.,;(', n + 1))) [found, verb] = [n, true];
  }
  return verb ? found : null;
}

/** "60 chain-on stitches" */
function made(c: TokenCursor, n: number): boolean {
  return (
    /^(?:chain|cast|knit|loop)$/.test(c.word(n)) &&
    c.word(n + (c.mark('-', n + 1) ? 2 : 1)) === 'on'
  );
}
