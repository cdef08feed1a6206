/**
 * Asterisks that stand around whole rounds: "*Purl 1 round. Next round: ssk, …* Repeat from * to * until 8 sts remain".
 * In: the designer's text. Out: those asterisks as paragraph marks, which the repeats of stitches within a round do
 * not have; none where no sentence behind them repeats from there.
 */
import type { Replacement } from './numbers.ts';

/** What asterisks around rounds are read as. */
export const PASSAGE = '§';

const UNIT = '(?:rounds?|rnds?|rds?|rows?)';
const MANY = '(?:an?|one|two|three|four|five|six|seven|eight|\\d{1,2})';
const NTH = '(?:\\d{1,2}(?:st|nd|rd|th)|first|second|next|following)';
const NAME =
  '(?:dec(?:rease)?|inc(?:rease)?|plain|set-?up|knit|purl|shaping|rs|ws|right side|wrong side)';
const ROUND = `(?:(?:${UNIT}|r)\\.? ?\\d|(?:the )?(?:${NTH} )?(?:${NAME} )?${UNIT}\\b|(?:knit|purl|k|p|work) (?:the )?(?:${MANY}|next|every) (?:more |plain |even |knit |purl ){0,2}${UNIT}\\b|(?:knit|purl)(?: all)? ${UNIT}\\b)`;
const OPENS = new RegExp(`(?<=(?:^|\\n|[.;:!)]\\s)[ \\t]*)(\\*{1,3})[ \\t]*(?=${ROUND})`, 'gi');
const REPEATS =
  /\b(?:rep(?:eat)?|work|knit)(?:ed|ing|s)?\b\.?[^.\n*]{0,40}?\b(?:from|between)\b[^.\n*]{0,20}?(\*{1,3})(?:[ ]?(?:to|and|until|till|-|–)[ ]?(?:the )?(?:next |second )?(\*{1,3}))?/gi;
/** An asterisk in front of stitches. */
const INNER = /(?<=^|[\s:,;(])\*+(?=[ ]?[a-z0-9([])/gi;

export function passageMarks(text: string): Replacement[] {
  const openers = [...text.matchAll(OPENS)].map((m) => ({ at: m.index, mark: m[1] }));
  if (openers.length === 0) return [];
  const out = new Map<number, Replacement>();
  const mark = (at: number, stars: string): void => {
    out.set(at, { from: at, to: at + stars.length, text: PASSAGE.repeat(stars.length) });
  };
  let spent = 0;
  for (const m of text.matchAll(REPEATS)) {
    const [said, stars, closing] = m;
    if (closing !== undefined && closing !== stars) continue;
    const open = openers.filter((o) => o.at < m.index && o.mark === stars);
    const opener = open.at(-1);
    // Several in front of one repeat are points of a list.
    if (!opener || open.filter((o) => o.at >= spent).length > 1) continue;
    const behind = opener.at + stars.length;
    if (ofRound(text.slice(text.lastIndexOf('\n', m.index) + 1, m.index), opener, stars)) continue;
    const closer = closerIn(text.slice(behind, m.index), stars);
    if (closing !== undefined && closer === null) continue;
    mark(opener.at, stars);
    if (closer !== null) mark(behind + closer, stars);
    const first = m.index + said.indexOf(stars);
    mark(first, stars);
    if (closing !== undefined) mark(m.index + said.lastIndexOf(closing), closing);
    spent = m.index + said.length;
  }
  return [...out.values()];
}

/** An asterisk before it in its line opens a repeat of stitches that no other words close. */
function ofRound(line: string, opener: { readonly mark: string }, stars: string): boolean {
  const own = line.replace(OPENS, (all: string) => ' '.repeat(all.length));
  const opened = [...own.matchAll(INNER)].filter(([s]) => s === stars).length;
  const closed = [...own.matchAll(REPEATS)].filter(([, s]) => s === stars).length;
  return opener.mark === stars && opened > closed;
}

/** Where the passage ends: such an asterisk behind a sentence, at the end of a line or right before the repeat. */
function closerIn(passage: string, stars: string): number | null {
  const ends = [
    ...passage.matchAll(/(?<=[.)\]a-z0-9][ ]?)(\*{1,3})(?=[ ]?(?:[.;,][ ]?)?(?:\n|$))/gi),
  ];
  return ends.filter(([, s]) => s === stars).at(-1)?.index ?? null;
}
