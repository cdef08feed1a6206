/**
 * Classes of rounds told apart from those that are told each: "all other wrong-side rows (rows 3, 5, 7 and so on, up to row
 * 19) are purled". In: the designer's text. Out: places, and the rule that they are read as.
 */
import type { Replacement } from './numbers.ts';
import { BEGINS, WORK_UNIT } from './wording.ts';

const SORT = '(odd|even|ws|rs|wrong[ -]side|right[ -]side)(?:[ -]numbered)?';
/** Those that no line of their own tells. */
const UNTOLD =
  '(?:not|un)[ -]?(?:otherwise )?(?:mentioned|given|listed|told|described|shown|written(?: out)?)(?: here| below| above| separately)?';
const OTHERS = `(?:(?:(?:all|any|each|every|both|the)(?: of)? )?(?:the )?(other|remaining|rest of the|further|intervening|in-between|missing|unlisted|unmentioned) |(?:(?:all|any|each|every|the) )?(?:the )?)`;
/** "rows 3, 5, 7 and so on, up to row 19" */
const LIST = `(?:(?:rows?|rounds?|rnds?|nos?\\.?|numbers?|that is|i\\.?e\\.?|,) ?){0,3}(\\d{1,3}(?:(?:, ?| ?& ?| and |, and )\\d{1,3}){0,40})(?:,? ?(?:and so (?:on|forth)|etc\\.?|…|\\.\\.\\.|and (?:the )?(?:others|rest)))?(?:,? ?(?:up to(?: and including)?|to|until|through|as far as|-|–)(?: (?:rows?|rounds?|rnds?))? ?(\\d{1,3}))?`;
const LISTED = `(?:,? ?\\(${LIST}\\)|, ${LIST},)`;
const WORKED =
  '(?:(?:is|are|will be|should be|get) )?(?:(?:all|always|simply|just|to be|worked|plain|in),? ){0,4}';
const HOW = '(knitted|knit|purled|purl|k|p)(?: (?:plain|throughout|across|all round|even))?';
const AFTER = '(?: after (?:the )?(?:first|row 1|round 1|rnd 1|that|it|this))?';
const UNLESS =
  '(?:unless (?:it is )?(?:told|stated|said|noted|otherwise|mentioned|indicated|written)(?: otherwise)?,? )?';
const STOP = '(?=[ ]?(?:[.;]|$))';

/** "All other even rounds are knit", "the wrong-side rows not mentioned: purl" */
const SUBJECT_FIRST = new RegExp(
  `${BEGINS}(${UNLESS})${OTHERS}${SORT} ${WORK_UNIT}(${AFTER})(?: (${UNTOLD}))?(?:${LISTED})?:? ?${WORKED}${HOW}${STOP}`,
  'gim',
);
/** "Purl all the other wrong-side rows (3, 5, 7 etc.)" */
const VERB_FIRST = new RegExp(
  `${BEGINS}()(?:then )?${HOW} ${OTHERS}${SORT} ${WORK_UNIT}(${AFTER})(?: (${UNTOLD}))?(?:${LISTED})?${STOP}`,
  'gim',
);
const LABEL = new RegExp(`^\\W{0,8}${WORK_UNIT} ?(\\d{1,3})\\b`, 'gim');
const WRONG_SIDE = new RegExp(
  `^\\W{0,8}${WORK_UNIT} ?(\\d{1,3})[^:\\n]{0,3}\\(?(?:ws|wrong|back)`,
  'im',
);

const GOES_ON = /\b(?:and so|etc|and (?:the )?(?:others|rest))\b|…|\.\.\./i;

/** The numbers go up by two, and are of that sort where the text shows which rows those are. */
function fits(
  list: string,
  end: string | undefined,
  sort: string,
  text: string,
  open: boolean,
): boolean {
  const numbers = (list.match(/\d+/g) ?? []).map(Number);
  const [first] = numbers;
  if (numbers.some((n, i) => n !== first + 2 * i)) return false;
  const wrong = WRONG_SIDE.exec(text)?.[1];
  const odd = /^odd/i.test(sort)
    ? 1
    : /^even/i.test(sort)
      ? 0
      : wrong === undefined
        ? null
        : (Number(wrong) + (/^w/i.test(sort) ? 0 : 1)) % 2;
  if (odd !== null && first % 2 !== odd) return false;
  const last = Math.max(...[...text.matchAll(LABEL)].map((m) => Number(m[1])));
  if (end === undefined && open) return true;
  const to = end === undefined ? numbers[numbers.length - 1] : Number(end);
  return to % 2 === first % 2 && to < last && to >= last - 2;
}

/** Same words for every class: "every odd row: purl"; those that are told each hold over it. */
export function classesOfRounds(text: string): Replacement[] {
  const out: Replacement[] = [];
  if (!/\b(?:odd|even|[wr]s|side)\b/i.test(text)) return out;
  const put = (m: RegExpExecArray, told: readonly (string | undefined)[], how: string): void => {
    const [other, sort, after, untold, listA, endA, listB, endB] = told;
    const list = listA ?? listB;
    const every = /\b(?:every|each) (?:the )?other\b/i.test(m[0]);
    // "every other wrong-side row" is each second one, unless the numbers say otherwise.
    if (every && list === undefined) return;
    if (!m[1] && !other && !untold && !after && list === undefined) return;
    if (list !== undefined && !fits(list, endA ?? endB, sort ?? '', text, GOES_ON.test(m[0])))
      return;
    const unit = /\b(?:rows?)\b/i.test(m[0]) ? 'row' : 'round';
    const which = (sort ?? '').toLowerCase().replace(' ', '-');
    out.push({
      from: m.index,
      to: m.index + m[0].length,
      text: `every ${which} ${unit}: ${/^p/i.test(how) ? 'purl' : 'knit'}`,
    });
  };
  for (const m of text.matchAll(SUBJECT_FIRST)) put(m, m.slice(2, 10), m[10]);
  for (const m of text.matchAll(VERB_FIRST)) put(m, m.slice(3, 11), m[2]);
  return out;
}
