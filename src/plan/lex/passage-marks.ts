/**
 * Asterisks that stand around whole rounds: "*Purl 1 round. Next round: ssk, …* Repeat from * to * until 8 sts remain".
 * In: the designer's text. Out: those asterisks as paragraph marks, which the repeats of stitches within a round do
 * not have; none where no sentence behind them repeats from there.
 */
import { regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import type { Replacement } from './numbers.ts';

/** What asterisks around rounds are read as. */
export const PASSAGE = '§';

const MANY = '(?:an?|one|two|three|four|five|six|seven|eight|\\d{1,2})';
const NTH = '(?:\\d{1,2}(?:st|nd|rd|th)|first|second|next|following)';
const NAME =
  '(?:dec(?:rease)?|inc(?:rease)?|plain|set-?up|knit|purl|shaping|rs|ws|right side|wrong side)';
const ROUND = `(?:(?:${UNIT}|r)\\.? ?\\d|(?:the )?(?:${NTH} )?(?:${NAME} )?${UNIT}\\b|(?:knit|purl|k|p|work) (?:the )?(?:${MANY}|next|every) (?:more |plain |even |knit |purl ){0,2}${UNIT}\\b|(?:knit|purl)(?: all)? ${UNIT}\\b)`;
const OPENS = regex.gi`(?<=(?:^|\n|[.;:!)]\s)[ \t]{0,8})(\*{1,3})[ \t]{0,8}(?=${ROUND})`;
/** Most characters of a passage, and of the line in front of its repeat that are looked at. Chosen: bounds the time. */
const LONGEST = 4000;
const LONGEST_LEAD = 400;
const REPEATS =
  /\b(?:rep(?:eat)?|work|knit)(?:ed|ing|s)?\b\.?[^.\n*]{0,40}?(?:\b(?:from|between)\b[^.\n*]{0,20}?|(?=\*{1,3}[ ]?(?:to|and|until|till|-|–)[ ]?\*))(\*{1,3})(?:[ ]?(?:to|and|until|till|-|–)[ ]?(?:the )?(?:next |second )?(\*{1,3}))?/gi;
/** An asterisk in front of stitches. */
const INNER = /(?<=^|[\s:,;(])\*+(?=[ ]?[a-z0-9([])/gi;

export function passageMarks(text: string): Replacement[] {
  const openers = [...text.matchAll(OPENS)];
  if (openers.length === 0) return [];
  const out = new Map<number, Replacement>();
  const mark = (at: number, stars: string): void => {
    out.set(at, { from: at, to: at + stars.length, text: PASSAGE.repeat(stars.length) });
  };
  /** The last opener of each kind, and how many since the last repeat from one. */
  const open = new Map<string, { at: number; since: number }>();
  let next = 0;
  for (const m of text.matchAll(REPEATS)) {
    const [said, stars, closing] = m;
    for (; next < openers.length && openers[next].index < m.index; next++) {
      const { index: at, 1: kind } = openers[next];
      open.set(kind, { at, since: (open.get(kind)?.since ?? 0) + 1 });
    }
    const opener = open.get(stars);
    // Several in front of one repeat are points of a list.
    if (!opener || opener.since > 1 || m.index - opener.at > LONGEST) continue;
    if (closing !== undefined && closing !== stars) continue;
    const lead = text.slice(Math.max(0, m.index - LONGEST_LEAD), m.index);
    if (ofRound(lead.slice(lead.lastIndexOf('\n') + 1), stars)) continue;
    const behind = opener.at + stars.length;
    const closer = closerIn(text.slice(behind, m.index), stars);
    if (closing !== undefined && closer === null) continue;
    mark(opener.at, stars);
    if (closer !== null) mark(behind + closer, stars);
    mark(m.index + said.indexOf(stars), stars);
    if (closing !== undefined) mark(m.index + said.lastIndexOf(closing), closing);
    opener.since = 0;
  }
  return [...out.values()];
}

/** An asterisk before it in its line opens a repeat of stitches that no other words close. */
function ofRound(line: string, stars: string): boolean {
  const own = line.replace(OPENS, (all: string) => ' '.repeat(all.length));
  const opened = [...own.matchAll(INNER)].filter(([s]) => s === stars).length;
  const closed = [...own.matchAll(REPEATS)].filter(([, s]) => s === stars).length;
  return opened > closed;
}

/** Where the passage ends: such an asterisk behind a sentence, at the end of a line or right before the repeat. */
function closerIn(passage: string, stars: string): number | null {
  const ends = [
    ...passage.matchAll(/(?<=[.)\]a-z0-9][ ]?)(\*{1,3})(?=[ ]?(?:[.;,][ ]?)?(?:\n|$))/gi),
  ];
  return ends.filter(([, s]) => s === stars).at(-1)?.index ?? null;
}
