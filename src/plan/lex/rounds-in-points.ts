/**
 * Rounds that take turns, told in points below: "Rounds 5-16: alternate", then "- knit" and "- decrease as in round 3". In:
 * the designer's text. Out: the numbers of each point's rounds in front of it, in place of the heading.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { WORK_UNIT } from './wording.ts';

const HEAD = regex.gim`^([ \t•*-]{0,8})(?:(${WORK_UNIT}) ?(\d{1,3}) ?(?:-|–|to|through) ?(\d{1,3})|(\d{1,3})(?:st|nd|rd|th)? ?(?:-|–|to) ?(\d{1,3})(?:st|nd|rd|th) (${WORK_UNIT}))[ ]?[:.,-]?[ ](?:(?:work|knit|these|are worked|repeat) )?(?:alternate|alternately|alternating|by turns|in turns?)[ ]?(?:work|between)?[ ]?[:.]?[ \t]*\n((?:[ \t]*(?:[-•*–]|[a-d][.)])[ ]+[^\n]+(?:\n|$)){2,6})`;
const POINT =
  /^[ \t]*(?:[-•*–]|[a-d][.)])[ ]+(?:(?:one|a|1) (?:round|rnd|row)(?: (?:of|with|in which you))? )?/i;
/** Longest range. Chosen. */
const MOST = 400;

export function roundsInPoints(text: string): Replacement[] {
  return [...text.matchAll(HEAD)].flatMap((m) => {
    const [said, indent] = m;
    const unit = (m[2] ?? m[7]).toLowerCase().startsWith('row') ? 'Rows' : 'Rounds';
    const [from, to] = [Number(m[3] ?? m[5]), Number(m[4] ?? m[6])];
    const lines = m[8].trimEnd().split('\n');
    const rounds = to - from + 1;
    if (rounds < lines.length || rounds > MOST || rounds % lines.length !== 0) return [];
    const out: Replacement[] = [];
    let at = m.index + said.length - m[8].length;
    out.push({ from: m.index + indent.length, to: at - 1, text: '' });
    lines.forEach((line, i) => {
      const lead = POINT.exec(line)?.[0].length ?? 0;
      const numbers: number[] = [];
      for (let n = from + i; n <= to; n += lines.length) numbers.push(n);
      out.push({ from: at, to: at + lead, text: `${unit} ${numbers.join(', ')}: ` });
      at += line.length + 1;
    });
    return out;
  });
}
