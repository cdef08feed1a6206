/**
 * Whether an instruction may begin behind another, within its line. In: the passage, what would begin, what stands before it, the
 * boundary between the two. Out: false where the words go on with what stands before.
 */
import { type Boundary, onlyJoins, opensMore, withinBracket } from './boundaries.ts';
import { everyUntil, repeatsStitches } from './over-again.ts';
import type { Passage } from './passage.ts';
import { says, saysAny } from './rules.ts';
import { goesOnLong, isMarked, plainOnly, type Start, tells } from './start.ts';
import { isBounded } from './statements/going-on.ts';
import { follows } from './statements/label/holds.ts';

/** Most tokens of a round that are read to see that it goes on like others. Chosen: bounds the time; a sentence is shorter. */
const LONGEST_GOING = 300;

const CAST_AGAIN = [
  'rep|repeat|do this|that|the|it|same* #|once|twice|thrice|for|on more|further|times|time|the',
  'pm|place|placing a|another? marker? .|,|;|and* cast on',
  'pm .|,|;|and* co #',
];

interface Standing {
  readonly bound: Boundary;
  /** Token where it would begin. */
  readonly at: number;
  /** Token behind its line. */
  readonly last: number;
}

/** Whether `start` may follow `current` behind such a boundary. */
export function mayFollow(
  passage: Passage,
  start: Start,
  current: Start | undefined,
  { bound, at, last }: Standing,
): boolean {
  if (current && at - current.at <= 2 && onlyJoins(passage, current.at, at)) return false;
  // "k20, p1 (centre st; mark it), k to end"
  if (current?.kind === 'round' && withinBracket(passage, current.at, at, last)) return false;
  const range = current?.kind === 'round' && current.label.numbers.length > 1;
  if (range && start.kind === 'work' && passage.tokens[at - 1].text === ';') return false;
  // "Rounds 7-14: continue like this, increasing 8 sts on every odd round"
  const more = start.kind === 'work' || start.kind === 'going';
  const near = Math.min(last, (current?.next ?? at) + LONGEST_GOING);
  if (range && more && passage.body(current.label, current.next, near).kind === 'going')
    return false;
  // "ssk, k16, k2tog; repeat 3 times more" goes on with the round's stitches.
  const [word, then] = [passage.tokens[at].text, passage.tokens[at + 1]];
  const bare =
    /^rep(?:eat)?$/.test(word) &&
    (then?.kind === 'number' || /^(?:once|twice|until|another|a|for)$/.test(then?.text ?? ''));
  // "WS rows are knit. Repeat until 3 sts remain"
  const every = current?.kind === 'round' && current.label.every === true;
  const ruled = every || (current?.kind === 'round' && current.label.rule !== null);
  const stopped = passage.tokens[at - 1].text === '.';
  if (bare && current?.kind === 'round' && start.kind === 'work' && !(ruled && stopped))
    return false;
  // "Cast on 25 sts, pm, repeat this 3 more times"
  if (current?.kind === 'cast-on' && saysAny(passage.cursor(at, last), CAST_AGAIN)) return false;
  if (current?.kind === 'round' && repeatsStitches(passage, current, at, last)) return false;
  // "…, join in the round, round 1: purl": a label with its colon
  if (current?.kind !== 'round' && isMarked(start, passage.tokens)) return true;
  // "k1, k2tog, k to end, in every row until 4 sts remain"
  if (current?.kind !== 'work' && everyUntil(passage.cursor(at, last))) return true;
  // "Change to B and carry on in the same way until …"
  const led = current?.kind === 'work' || current?.kind === 'going' || current?.kind === 'colour';
  if (start.kind === 'going' && !led) {
    // "ssk, k20, k2tog; repeat this" goes on with the round's stitches.
    const full = bound.hard && (ruled || passage.tokens[at - 1].text !== ';');
    const told = start.going.stop === 'told' && !start.going.asks && !(ruled && !every);
    if (!full || !tells(start.going) || told) return false;
  }
  if (bound.hard) return true;
  const opening =
    current === undefined ||
    current.kind === 'cast-on' ||
    current.kind === 'set-up' ||
    current.kind === 'ground' ||
    current.kind === 'edges' ||
    current.kind === 'colour';
  const worked = current?.kind === 'work' || current?.kind === 'going';
  if (current?.kind === 'end' && start.kind === 'end') return false;
  if (bound.closing) {
    if (start.kind === 'round') return start.label.marked;
    return start.kind !== 'work' || opening || worked || !plainOnly(start);
  }
  if (current && opensMore(passage, current.at, at)) return false;
  switch (start.kind) {
    case 'end':
      return true;
    case 'going':
      return led && isBounded(start.going);
    case 'work':
      return (
        opening ||
        worked ||
        // "These 2 rows set the pattern. Keeping moss st correct, repeat them ten times"
        current.kind === 'pattern' ||
        (current?.kind === 'round' && (goesOnLong(start) || ofNextRound(passage, start)))
      );
    case 'set-up':
      // "Knit 1 row, then join into a round"
      if (current?.kind === 'work' && /^(?:join|close)$/.test(passage.tokens[at].text)) return true;
      return (
        opening &&
        current !== undefined &&
        current.kind !== 'set-up' &&
        passage.tokens[at].kind !== 'number' &&
        !/^(?:pm|place|placing|mark|put|hang|add)$/.test(passage.tokens[at].text)
      );
    case 'colour':
      return (
        worked ||
        current?.kind === 'ground' ||
        (opening && start.stripes !== undefined) ||
        (current?.kind === 'round' && passage.tokens[at - 1].text === 'then')
      );
    case 'ground':
      return opening || worked;
    case 'edges':
      return opening && (start.edges.first ?? start.edges.last)?.rs !== null;
    case 'round':
      // "needles 1, 2, 3 and 4."
      if (passage.tokens[at].kind === 'number') return false;
      if (current?.kind === 'round') {
        if (start.label.name === 'next' && isMarked(start, passage.tokens)) return true;
        const { tokens } = passage;
        const short =
          tokens[at].text === 'r' && (start.label.marked || tokens[current.at].text === 'r');
        return follows(current.label, start.label, short);
      }
      // "Knit 1 round, then on the next round *k13, k2tog; rep from * to end"
      if (worked && /^(?:next|last)$/.test(start.label.name)) return true;
      return start.label.marked && start.label.numbers.length > 0 && !bound.comma && opening;
    default:
      return false;
  }
}

/** "…, and purl the next round" */
function ofNextRound(passage: Passage, { at, next }: Start): boolean {
  return says(passage.cursor(at, next), 'knit|purl|k|p the next @unit') !== null;
}
