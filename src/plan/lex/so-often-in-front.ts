/**
 * Rounds in a list behind how often all of them are worked: "Four times: *k2tog, k8; rep from * to end; knit 1 round." In: the
 * designer's text. Out: the rounds one after the other, and that they are repeated, told behind the last of them.
 */
import { regex } from '../lexicon/expression.ts';
import { inDigits, type Replacement } from './numbers.ts';
import { BEGINS, COUNT, WORK_UNIT } from './wording.ts';

const HEAD = regex.gim`${BEGINS}(?:now |then |next )?(?:(?:work|do|knit|repeat|rep) )?(?:(?:the|these) following )?(${COUNT}) times ?: ?([^.\n]{5,300}\.)(?! [a-z])`;
/** Where one round ends; "; rep from *" belongs to its stitches. */
const BETWEEN = /;(?! ?rep) ?(?:then |and )?/gi;
/** … where plain rounds and names of rounds are all that is listed. */
const COMMAS = /,? (?:and |then )+|, /gi;
const PLAIN = regex.i`^(?:work |knit |purl |k |p )?(?:(a|one|\d{1,2}|two|three|four) )?(?:plain |knit |purl )?${WORK_UNIT}(?: plain| even| straight)?$`;
const NAMED = regex.i`^(?:work |do |then )?(?:a |an |one |1 |the )?[a-z]+ (?:round|rnd|row)(?: \((?=[*[(a-z])[^()]{4,120}\))?$`;
const STITCHES =
  /^(?:\*|\(|\[|k ?\d|p ?\d|k2tog|ssk|skpo?|on each|(?:knit|purl|k|p) (?:to|until|all)\b)/i;

const NEXT = 'Next round: ';

interface Part {
  readonly rounds: number;
  /** What stands in front of its words. */
  readonly lead: string;
}

function partOf(words: string): Part | null {
  const plain = PLAIN.exec(words);
  if (plain)
    return { rounds: Number(inDigits(plain[1]?.toLowerCase() ?? '1').replace('a', '1')), lead: '' };
  if (NAMED.test(words)) return { rounds: 1, lead: /^(?:work|do) /i.test(words) ? '' : 'Work ' };
  return STITCHES.test(words) ? { rounds: 1, lead: NEXT } : null;
}

export function soOftenInFront(text: string): Replacement[] {
  return [...text.matchAll(HEAD)].flatMap((m) => {
    const times = Number(inDigits(m[1].toLowerCase()));
    const list = m[2].slice(0, -1);
    const from = m.index + m[0].length - m[2].length;
    const stops = [...list.matchAll(BETWEEN)];
    const marks = stops.length > 0 ? stops : [...list.matchAll(COMMAS)];
    const starts = [0, ...marks.map((b) => b.index + b[0].length)];
    const parts = starts.map((at, i) => partOf(list.slice(at, marks[i]?.index).trim()));
    const stitched = parts.some((p) => p?.lead === NEXT);
    if (parts.length < 2 || !(times > 1) || parts.includes(null)) return [];
    if (stitched && stops.length === 0) return [];
    const rounds = parts.reduce((sum, p) => sum + (p?.rounds ?? 0), 0);
    return [
      { from: m.index, to: from, text: parts[0]?.lead ?? '' },
      ...marks.map((b, i) => ({
        from: from + b.index,
        to: from + b.index + b[0].length,
        text: `. ${parts[i + 1]?.lead ?? ''}`,
      })),
      {
        from: from + list.length,
        to: from + m[2].length,
        text: `. Repeat the last ${rounds} rounds ${times - 1} more times.`,
      },
    ];
  });
}
