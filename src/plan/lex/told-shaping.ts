/**
 * Orders to shape where the text tells elsewhere how: "decrease as described above on the next round", "decrease at every
 * marker - see DECREASE TIP", "work the first decreases". In: the designer's text, which of decreasing and increasing it
 * tells. Out: places, and what they are read as: a round of that name, or the order without its reference.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { WORK_UNIT } from './wording.ts';

/** A name as a verb: "shrink", "shrinking"; "dec", "decreasing". */
function verbOf(name: string): string {
  if (name === 'decrease' || name === 'increase')
    return `${name.slice(0, 3)}(?:reas(?:e|es|ing|ings)|s)?\\b\\.?`;
  const stem = name.replace(/e$/, '');
  return `${stem}(?:e?s|e|${stem.at(-1)}?(?:ing|ed))?\\b`;
}

const NAMED =
  '["“]?(?:(?:my|our|your|special|general) )?(?:(?:dec|inc)[a-z]*[ -]?)?(?:tips?|notes?|top|beginning|start|instructions?|explanations?|sections?|heading|method|paragraph|page|above|below|(?:dec|inc)reas[a-z]*)(?:[ -]?\\d)?["”]?(?: (?:above|below|on (?:de|in)creasing|section|tip|note|(?:at|on) the (?:top|foot|bottom|end|next page)(?: of (?:the|this) (?:page|pattern|text))?))?';
const TOLD =
  '(?:described|explained|told|given|shown|written|outlined|instructed|stated|set out|detailed)';
const REFERENCE = `(?:[ ]?[,–-]?[ ][([]?(?:please )?(?:(?:see|read|cf\\.?|according to|following|refer to|as in|as per|as under|like in)(?: the| this| our)? ${NAMED}|(?:just |exactly )?(?:as|like|in the way|the way)(?: (?:it is|is|was|i|we|you))? ${TOLD}(?: (?:above|below|before|earlier|already|here|at the (?:top|beginning|start))|(?: in| under| on| at)(?: the)? ${NAMED})?|as above)[)\\]]?)`;
const EACH = '(?:each|every|all|both|the)(?: of)?(?: the)?(?: (?:\\d|two|three|four|six|eight))?';
const COUNT = '(?: (?:\\d{1,3}|a|one|eight|four) (?:sts?|stitch(?:es)?))?';
const PLACE = `(?:(?:,? (?:at|on|in|by|before and after) (?:(?:each|both|either) (?:sides?|ends?) of )?${EACH} (?:stitch )?(?:marker|mkr|needle|side|corner)s?(?: threads?)?))`;
const BEGINS =
  '(?<=^[ \\t•*-]{0,8}|[.;:!,(] {1,3}|\\b(?:and|then|now|next|again|you|we|round|rnd|row) )';
const FRONT =
  '(?:(?:begin|start)(?:ning|ing)? (?:to )?|(?:(?:work|make|do|repeat|rep|carry out|begin|start)(?:ing)? )(?:(?:the|all|your|these|first|next|following|same|with) ){0,3})?';
const AGAIN = '(?: (?:again|once more|now|for the (?:first|second|third|last|next) time))?';
const NTH = `(?:very )?(?:next|following|foll|other|second|third|fourth|alternate|alt|\\d+(?:st|nd|rd|th)|${WORK_UNIT})`;
const WHEN = `(?=[ ]?(?:[,:]? ?(?:(?:on|in|for) (?:(?:the|every|each|this|all) )?${NTH}|(?:every|each) ${NTH})\\b|[.;!]|[=([] ?\\d|[-–:] \\d|$|,? (?:and|then)\\b))`;

function ordersOf(verb: string, name: string): readonly (readonly [RegExp, string])[] {
  return [
    [
      regex.gim`${BEGINS}${FRONT}${verb}${AGAIN}(?:${REFERENCE}){0,2}${AGAIN}${WHEN}`,
      `work a ${name} round`,
    ],
    [
      regex.gim`${BEGINS}${FRONT}${verb}${AGAIN}(?<place>${PLACE})(?:${REFERENCE}){0,2}${WHEN}`,
      `work a ${name} round`,
    ],
    [
      regex.gim`\b(${FRONT}${verb}${COUNT}${PLACE}?(?: (?:on|in) (?:the )?(?:next|following) ${WORK_UNIT})?)(?:${REFERENCE}){1,2}`,
      '$1',
    ],
  ];
}

export interface Way {
  /** What the text calls the round, and what the grammar does. */
  readonly said: string;
  readonly name: string;
  readonly words: string;
}

/** `told`: what the text tells a way of; `taken`: places that are read otherwise. */
export function toldShaping(
  text: string,
  told: readonly Way[],
  taken: (at: number) => boolean,
): Replacement[] {
  const out: Replacement[] = [];
  const used = new Uint8Array(text.length);
  const orders = told.flatMap(({ said, name, words }) =>
    ordersOf(verbOf(said), name).map(([re, as]) => ({ re, as, way: words.toLowerCase() })),
  );
  for (const { re, as, way } of orders) {
    for (const m of text.matchAll(re)) {
      const to = m.index + m[0].length;
      // "Decrease at every marker": where the way that is told decreases as well.
      const place = /[a-z]+$/i
        .exec((m.groups?.place ?? '').replace(/ threads?$/i, ''))?.[0]
        .toLowerCase();
      if (place && !way.includes(place.replace(/s$/, ''))) continue;
      if (m[0] === '' || taken(m.index) || used[m.index] || used[to - 1]) continue;
      out.push({ from: m.index, to, text: as.replace('$1', m[1] ?? '') });
      used.fill(1, m.index, to);
    }
  }
  return out;
}
