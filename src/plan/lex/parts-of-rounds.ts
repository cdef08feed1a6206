/**
 * The parts that a round is made of, and that rounds are told for one of them: "One pattern = 14 stitches, 6 patterns in one
 * round", "What follows is for one side. Repeat for each of the 4 sides." In: the designer's text. Out: places, and
 * what they are read as; parts that do not make up the cast-on stay as they are.
 */
import { regex } from '../lexicon/expression.ts';
import { inDigits, type Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';
import { TABLED } from './translated-words.ts';
import { COUNT, ONE, STS } from './wording.ts';

const PART =
  '(pattern|repeat|pattern repeat|wedge|sector|segment|section|panel|motif|side|needle|gore|petal|piece|part)';
/** Of a sentence that tells of nothing but the parts. */
const WORDS = new Set(
  `a all altogether an and are around be by complete consists contains counts described described divided each every equal form formed forms full given has have
  holds identical in into is it made make makes making means of on once one only or per round rounds rnd ring circle single so such takes text that the there these this to
  together total up what will with within work worked written out you your described explained told shown
  pattern patterns repeat repeats wedge wedges sector sectors segment segments section sections panel panels motif motifs side sides needle needles gore gores petal petals
  piece pieces part parts st sts stitch stitches them just here below for just`.split(/\s+/),
);
const SENTENCE =
  /(?<=^[ \t•*-]{0,16}|[.!:] {1,3})([a-z0-9](?:[^.!\n]|\bsts?\.(?=[ ][a-z(]))*)(?:[.] ((?:only|just|the (?:text|table|instructions)|it is)\b[^.!\n]{8,80}))?(?=[.!]|$)/gim;
const OF_STITCHES = regex.i`(?:\b(?:of|has|with|is|=|holds|takes|counts) ?)?\b(\d{1,3}) ${STS}`;
const OF_PARTS = regex.i`\b(\d{1,2}) (?:(?:such|equal|identical) )?${PART}s\b`;
const ONE_TOLD =
  /\bonly (?:one|1|a)\b|\b(?:one|1|a)(?: single)?(?: [a-z]+)? only\b|\bone (?:of them|[a-z]+) is (?:described|written|given|told|shown)/i;
const LONGEST = 200;

const CAST_ON = regex.i`\b(?:cast(?:ing)?[ -](?:on|up)|co|make|mount|set up|lay up|put on|start(?: with)?|begin with)[: ]+(?:about )?(${COUNT}) ${STS}`;
const SAME = '(?:repeat|do the same|work (?:it|them|this|the same)|the same|all is repeated)';
/** "… is for one side. Repeat for each of the 4 sides" */
const AND_AGAIN = regex.gim`\b(?<=\b(?:for|of|covers?|gives?) (?:only |just )?(?:one|1|a) (?:side|needle|quarter|section|segment|wedge|sector|pattern)(?: only)?)(?:[.] )(?=(?:then |and )?${SAME} (?:on|for|along|over|across|in|\d|${ONE})\b[^.;:\n]{0,40}(?:[.]|$))`;

/** How many parts the sentence tells of; null where it is no such sentence or they do not make up the stitches. */
function partsTold(said: string, total: number): { times: number; part: string } | null {
  if (said.length > LONGEST) return null;
  const digits = inDigits(said.replace(/\bone\b/gi, 'a').toLowerCase());
  const known = (digits.match(/[a-z]+|\d+/g) ?? []).every((w) => /^\d/.test(w) || WORDS.has(w));
  const parts = known ? OF_PARTS.exec(digits) : null;
  if (!parts) return null;
  const times = Number(parts[1]);
  const each = OF_STITCHES.exec(digits);
  const others = (digits.match(/\d+/g) ?? []).filter(
    (n) => n !== '1' && n !== parts[1] && n !== each?.[1],
  );
  if (others.length > 0 || times < 2) return null;
  // "4 sides of 20 sts" tells of the piece, not of its rounds.
  if (/^(?:side|needle)$/.test(parts[2]) && !ONE_TOLD.test(said)) return null;
  if (each ? Number(each[1]) * times !== total : total % times !== 0 || !ONE_TOLD.test(said))
    return null;
  return { times, part: parts[2] };
}

export function partsOfRounds(text: string): Replacement[] {
  const total = Number(inDigits(CAST_ON.exec(text)?.[1].toLowerCase() ?? ''));
  const sentences = readAs(text, SENTENCE, ([said]) => {
    const told = total > 0 ? partsTold(said, total) : null;
    // In sentences alone "ssk, knit to end" may be all of a round.
    if (!told || !(ONE_TOLD.test(said) || TABLED.test(text))) return null;
    const where = /^(?:side|needle)$/.test(told.part)
      ? `on each of the ${told.times} ${told.part}s`
      : `for each ${told.part}`;
    return `work each instruction ${told.times} times, once ${where}`;
  });
  return [...sentences, ...readAs(text, AND_AGAIN, '; ')];
}
