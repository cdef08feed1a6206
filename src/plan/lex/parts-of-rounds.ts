/**
 * The parts that a round is made of, and that rounds are told for one of them: "One pattern = 14 stitches, 6 patterns in one
 * round", "What follows is for one side. Repeat for each of the 4 sides." In: the designer's text. Out: places, and
 * what they are read as; parts that do not make up the cast-on stay as they are.
 */
import { numberWords, type Replacement } from './numbers.ts';
import { BEGINS, COUNT, ONE, STS } from './wording.ts';

const PART =
  '(pattern|repeat|wedge|sector|segment|section|panel|motif|side|needle|quarter|gore|petal)';
const NUMBER = `(\\d{1,3}|(?:${ONE})(?:-(?:${ONE}))?)`;
const HAS = '(?: ?= ?| ?: ?| (?:is|has|holds|counts|takes|measures|means|consists of|contains) )';
const LEAD =
  '(?:there (?:are|will be) |(?:with |making |and )?(?:a total of )?|you (?:have|work) )';
const ROUND =
  '(?: (?:in|to|make|makes|form|per|fill|complete|go (?:in)?to)(?: up)?(?: (?:each|every|a|the|one|1|whole|complete)){0,2} (?:round|rnd|ring|circle)| in all| altogether| around| all round)?';
/** "One pattern = 14 stitches, 6 patterns in one round" */
const MADE_OF = new RegExp(
  `${BEGINS}(?:one|1|each|every|a|the)(?: (?:one|single|full))? ${PART}${HAS}${NUMBER} ${STS}[,;.]? (?:and )?${LEAD}${NUMBER} (?:such |of these |equal )?${PART}s${ROUND}(?=[ ]?(?:[.;]|$))`,
  'gim',
);
const CAST_ON = new RegExp(
  `\\b(?:cast(?:ing)?[ -](?:on|up)|co|make|mount|set up|lay up|put on|start(?: with)?|begin with)[: ]+(?:about )?(${COUNT}) ${STS}`,
  'i',
);
const SAME = '(?:repeat|do the same|work (?:it|them|this|the same)|the same|all is repeated)';
/** "… is for one side. Repeat for each of the 4 sides" */
const AND_AGAIN = new RegExp(
  `\\b(?<=\\b(?:for|of|covers?|gives?) (?:only |just )?(?:one|1|a) (?:side|needle|quarter|section|segment|wedge|sector|pattern)(?: only)?)(?:[.] )(?=(?:then |and )?${SAME} (?:on|for|along|over|across|in|\\d|${ONE})\\b[^.;:\\n]{0,40}(?:[.]|$))`,
  'gim',
);

const numberIn = (word: string): number => Number(numberWords(word)[0]?.text ?? word);

export function partsOfRounds(text: string): Replacement[] {
  const out: Replacement[] = [];
  const total = numberIn(CAST_ON.exec(text)?.[1] ?? '');
  for (const m of text.matchAll(MADE_OF)) {
    const [said, one, stitches, parts, many] = m;
    if (one.toLowerCase() !== many.toLowerCase()) continue;
    const times = numberIn(parts);
    if (numberIn(stitches) * times !== total) continue;
    out.push({
      from: m.index,
      to: m.index + said.length,
      text: `work each instruction ${times} times, once for each ${many.toLowerCase()}`,
    });
  }
  for (const m of text.matchAll(AND_AGAIN))
    out.push({ from: m.index, to: m.index + m[0].length, text: '; ' });
  return out;
}
