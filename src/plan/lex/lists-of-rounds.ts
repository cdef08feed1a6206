/**
 * Lists of rounds under a head of their own: "Even-numbered rounds (the part in [ ] is made on each needle):" over "2: [yo,
 * k2, yo]", and lines that begin with an ordinal alone. In: the designer's text. Out: what the head says of its rounds as
 * sentences, and labels of the lines.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';
import { WORK_UNIT } from './wording.ts';

const SORT =
  '(?:(?:odd|even|uneven)(?:[- ]numbered)?|(?:pattern|lace|decrease|dec|decreasing|increase|inc|increasing|shaping|worked)|(?:rs|right[- ]side|ws|wrong[- ]side))';
const NUMBER = '[ \\t•*-]{0,8}(?:(?:rounds?|rnds?|rds?|rows?|r)\\.? ?)?\\d{1,3}(?:st|nd|rd|th)?';
const HEAD = regex.gim`(?<=^[ \t•*-]{0,8}|[.;] {1,2})(?:the |all )?(?:(${SORT}) ${WORK_UNIT}|${WORK_UNIT} with (?:an )?(odd|even|uneven) numbers?)(?:,? (?:are|is|go|goes|read|worked|knitted|made|told|as follows|like this|thus|so|below|here)){0,5}[:,]?[ ]*(?:\(([^\n]{3,160})\)|(each [^:\n]{3,80}|(?:the |what )[^:\n]{3,120}))?[ ]*:?[ \t]*(?=\n\s*${NUMBER}[ \t]*[:.)[ \t-])`;
const NUMBERED = regex.gim`^${NUMBER}(?=[ \t]*[:.)[ \t-])`;
/** Fewest rounds of a list. Chosen. */
const LEAST = 2;
/** Lines of a list looked at. Chosen: bounds the time. */
const MOST = 40;

/** "2nd  k5, k2tog" */
const NTH =
  /^([ \t•*-]{0,8})(\d{1,3})(?:st|nd|rd|th)([ \t]*[:.)=-]?[ \t]+)(?=[*([]|[kp] ?\d|(?:knit|purl|k2tog|ssk|skp|yo|sl|k|p)\b)/gim;

/** Numbers of the rounds listed below a place, up to the first line without one. */
function listedBelow(text: string, from: number): readonly number[] {
  const out: number[] = [];
  for (const line of text.slice(from, from + 4000).split('\n', MOST)) {
    if (line.trim() === '') continue;
    NUMBERED.lastIndex = 0;
    const said = NUMBERED.exec(line)?.[0];
    if (said === undefined) break;
    out.push(Number(/\d+/.exec(said)?.[0]));
  }
  return out;
}

/** What a head says of its rounds; a head that only names them says nothing. */
function headed(text: string): Replacement[] {
  return readAs(text, HEAD, (m) => {
    const [all, sort = '', numbers = '', inside, behind] = m;
    const listed = listedBelow(text, m.index + all.length);
    const odd = /odd|uneven/i.test(sort + numbers);
    const parity = odd || /even/i.test(sort + numbers) ? Number(odd) : null;
    if (listed.length < LEAST || listed.some((n, i) => i > 0 && n <= listed[i - 1])) return null;
    if (parity !== null && listed.some((n) => n % 2 !== parity)) return null;
    const said = (inside ?? behind ?? '')
      .trim()
      .replace(/^each (?=repeated|worked|knitted|made)/i, 'Each round is ');
    const sentences = said.replace(/[.:]+$/, '').replace(/;[ ]*/g, '.\n');
    return said === '' ? '' : `${sentences}.`;
  });
}

/** "Rnds 1, 3, 5, 7 knit": the last number is none of stitches. */
const LISTED = regex.gim`^([ \t•*-]*${WORK_UNIT} \d{1,3}(?:, ?\d{1,3}){1,40}(?:,? and \d{1,3}|, ?\d{1,3}))[ ]+(?=(?:knit|purl|k|p|plain)[ \t.;]*$)`;

/** "[ ] after 1st decrease round 56", "round 4: 48 [ ]": a list to tick off, which tells counts. */
const TICKED = regex.gim`^[ \t•*-]*(?:(?<box>\[[ x]?\]|[☐☑□])[ \t]*)?(?:after |at the end of )?(?:the )?(?<which>\d{1,3}(?:st|nd|rd|th) (?:decrease |increase |dec\.? |inc\.? |shaping )?${WORK_UNIT}|${WORK_UNIT} \d{1,3})[ \t]*[:=–-]?[ \t]*(?<count>\d{1,5})(?: ?(?:sts?|stitches))?\.?[ \t]*(?<behind>\[[ x]?\]|[☐☑□])?[ \t]*$`;

function ticked({ groups }: RegExpExecArray): string | null {
  if (!groups?.box && !groups?.behind) return null;
  const { which, count } = groups;
  return `After ${/^\d/.test(which) ? 'the ' : ''}${which} there are ${count} sts.`;
}

function ordinals(text: string): Replacement[] {
  const lines = [...text.matchAll(NTH)];
  if (lines.length < LEAST) return [];
  if (lines.some((m, i) => i > 0 && Number(m[2]) <= Number(lines[i - 1][2]))) return [];
  return readAs(text, NTH, ([, , n]) => `Round ${n}: `, 1);
}

export function listsOfRounds(text: string): Replacement[] {
  return [
    ...headed(text),
    ...ordinals(text),
    ...readAs(text, LISTED, ': ', 1),
    ...readAs(text, TICKED, ticked),
  ];
}
