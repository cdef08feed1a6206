/**
 * Rounds told by what changes in one before them: "r4 k14 betw decs = 64", "Round 6: with 12 sts between the decreases", then
 * "r8 k10 = 48". In: the designer's text. Out: the stitches of the round before with the new number; none where that round
 * has not exactly one run between its decreases.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { WORK_UNIT } from './wording.ts';

const LABEL = `^[ \\t•*-]{0,8}(?:(?:${WORK_UNIT}|r) ?\\d{1,3}|\\d{1,3}(?:st|nd|rd|th) ${WORK_UNIT})(?: \\((?:rs|ws)\\))?[ ]?[:.)-]?[ \\t]{1,4}`;
const COUNT = '[ ]?(?:=|->|→|-|–|[.,;] ?|\\()[ ]?\\d{1,4}\\b[^\\n]{0,40}';
const LINE = regex.gim`(${LABEL})([^\n]{1,160})$`;
const RUN = /(?<![\d.])(?:\bk(?:nit)? ?(\d{1,3})\b|\b(\d{1,3}) (?:knit|k)\b)(?! ?tog)/gi;
const DECREASE = /\b(?:ssk|skp|skpo|k2tog|p2tog|s2kp|sk2p|cdd|kfb|m1|yo)\b/i;
const STS = '(?:sts?|stitches|k|knit)';
const NUMBER = `(?:(?:as|like) (?:${WORK_UNIT} \\d{1,3}|before|the \\d{1,3}(?:nd|rd|th)),? ?)?(?:(?:but|only|now|always|with|having) ){0,3}(?:k(?:nit)? ?)?(\\d{1,3})(?: ${STS})?`;
const BETWEEN = `(?: ?(?:betw\\.?|between|in between|in the middle)(?: (?:the|each|all|these|them|two|decs?|decreases?)){0,3}\\.?)`;
const CHANGED = regex.i`^${NUMBER}${BETWEEN}(?=${COUNT}$|[. ]*$)`;
const BARE = regex.i`^k ?(\d{1,3})${BETWEEN}?(?=${COUNT}$|[. ]*$)`;

/** The stitches of a line up to its count, where one run of them may change. */
function template(body: string): ((n: string) => string) | null {
  const end = regex.plain`${COUNT}$`.exec(body)?.index ?? body.length;
  const stitches = body.slice(0, end);
  const runs = [...stitches.matchAll(RUN)];
  if (runs.length !== 1 || !DECREASE.test(stitches)) return null;
  const [{ index, 0: said }] = runs;
  return (n) =>
    stitches.slice(0, index) + said.replace(/\d+/, n) + stitches.slice(index + said.length);
}

export function roundsByOneNumber(text: string): Replacement[] {
  if (!/\b(?:betw|between|middle)\b/i.test(text)) return [];
  const out: Replacement[] = [];
  let like: ((n: string) => string) | null = null;
  let told = false;
  for (const { index, 1: label, 2: body } of text.matchAll(LINE)) {
    const m: RegExpExecArray | null =
      like && (CHANGED.exec(body) ?? (told ? BARE.exec(body) : null));
    if (like && m) {
      const from = index + label.length;
      out.push({ from, to: from + m[0].length, text: like(m[1]) });
      told = true;
      continue;
    }
    const next = template(body);
    if (next) [like, told] = [next, false];
  }
  return out;
}
