/**
 * Numbers of a telling that count something else than stitches as they lie: equal parts, holes, ridges, a stitch by its
 * number, stitches to either side of a middle one, shares that make up the round. In: the tokens, the place of a number. Out:
 * what it may count.
 */
import type { Token } from '../../lex/tokens.ts';
import { CLASSES } from '../../lexicon/classes.ts';
import type { Told } from './clauses.ts';
import type { Counted, RoundSort } from './told-numbers.ts';

const STS = CLASSES.sts;
const MIDDLE = /^(?:centre|center|middle|central|corner)$/;
/** Parts of the round itself, and no tools that hold it. */
const PART =
  /^(?:sections|parts|sides|wedges|segments|quarters|fields|sectors|panels|groups|divisions|markers|corners)$/;
const HOLE = /^(?:holes?|eyelets?|eyelet-holes?|yos|yo|yarnovers?|overs)$/;
const RIDGE = /^(?:ridges?|bumps)$/;

const SORTS: readonly (readonly [RegExp, RoundSort])[] = [
  [/^(?:decreases?|decs?|decreasing|narrowing|shaping)$/, 'decrease'],
  [/^(?:increases?|incs?|increasing|widening)$/, 'increase'],
  [/^(?:purl|purled)$/, 'purl'],
  [/^(?:knit|knitted)$/, 'knit'],
];

/** The sort of rounds that a word names. */
export function sortNamed(word: string): RoundSort {
  return SORTS.find(([re]) => re.test(word))?.[1] ?? null;
}

/** "the last decrease round is round 12": the sort of rounds whose last one is told. */
export function lastOfSort({ text }: Told): RoundSort {
  return sortNamed(
    /\blast ([a-z]+) (?:round|rnd|row)\b(?=.* (?:is|was|will be|=) )/.exec(text)?.[1] ?? '',
  );
}

/** What the number at `i` counts, with its noun at `at`; null where it counts none of these. */
export function thingAt(
  list: readonly Token[],
  i: number,
  at: number,
  end: number,
): Counted | null {
  const sum = sumAt(list, i);
  if (sum) return sum;
  const noun = at < end ? list[at].text : '';
  const next = i + 1 < end ? list[i + 1].text : '';
  if (
    PART.test(noun) &&
    list[i].value > 2 &&
    !/^(?:of|with|x|at|a)$/.test(list[at + 1]?.text ?? '')
  )
    return { of: 'parts' };
  // "2 of them yarn overs"
  const those = noun === 'of' || next === 'of' ? list.slice(i + 1, i + 6) : [];
  if (those.some((t) => HOLE.test(t.text))) return { of: 'holes' };
  if (HOLE.test(noun) || HOLE.test(next) || (next === 'yarn' && HOLE.test(list[i + 2]?.text ?? '')))
    return { of: 'holes' };
  if (RIDGE.test(noun)) return { of: 'ridges' };
  return null;
}

/** "the new middle st is the 17th", "(17th st = centre)" */
export function nthStitch(list: readonly Token[], at: number, end: number): Counted | null {
  const said = list.map((t) => t.text);
  const middle = said.some((w) => MIDDLE.test(w) && w !== 'corner');
  const named = at < end && STS.has(list[at].text);
  const alone =
    (at >= end || list[at].kind === 'mark' || /^(?:is|was|being|becomes)$/.test(list[at].text)) &&
    said.some((w) => STS.has(w));
  return named || (middle && alone) ? { of: 'stitch', middle } : null;
}

const BESIDE = /^(?:side|left|right|before|after|beside|either)$/;

/** "16 each side of the centre", "16 on the left": stitches beside a middle one. */
export function besideMiddle(list: readonly Token[], from: number, end: number): boolean {
  return (
    list.some((t) => MIDDLE.test(t.text)) && list.slice(from, end).some((t) => BESIDE.test(t.text))
  );
}

interface Term {
  readonly value: number;
  readonly next: number;
}

/** "15", "15 sts", "centre st" */
function termAt(list: readonly Token[], i: number): Term | null {
  const t = list[i];
  if (!t) return null;
  if (t.kind === 'number') {
    const sts = STS.has(list[i + 1]?.text ?? '');
    return { value: t.value, next: sts ? i + 2 : i + 1 };
  }
  const at = t.text === 'the' ? i + 1 : i;
  if (!MIDDLE.test(list[at]?.text ?? '')) return null;
  return { value: 1, next: STS.has(list[at + 1]?.text ?? '') ? at + 2 : at + 1 };
}

const JOINT = /^[-+/]$/;
/** Most terms of a sum. Chosen: bounds the time. */
const MOST_TERMS = 24;

/** "14 + 14 + 14 + 14", "15 - 1 - 15", "16/16/16/16": the sum that the number is a term of. */
function sumAt(list: readonly Token[], i: number): Counted | null {
  let first = i;
  for (let k = i; k > 0 && i - k < 4 * MOST_TERMS; k--) {
    const { kind, text } = list[k];
    if (!(kind === 'number' || JOINT.test(text) || MIDDLE.test(text) || STS.has(text))) break;
    if (JOINT.test(list[k - 1].text) && kind !== 'mark') first = k;
    if (kind === 'number') first = k;
  }
  const values = termsFrom(list, first);
  return values ? { of: 'sum', total: values.reduce((a, b) => a + b, 0) } : null;
}

/** The terms of the sum that begins here; null where it is none. */
function termsFrom(list: readonly Token[], i: number): number[] | null {
  const values: number[] = [];
  let mark = '';
  for (let at = i; values.length < MOST_TERMS; ) {
    const term = termAt(list, at);
    if (!term) return null;
    values.push(term.value);
    const { text } = list[term.next] ?? { text: '' };
    if (!JOINT.test(text) || (mark !== '' && text !== mark)) break;
    mark = text;
    at = term.next + 1;
  }
  if (values.length < 3) return null;
  const mirrored = values.every((v, k) => v === values[values.length - 1 - k]);
  // "48 - 40 - 32": counts one after the other.
  return mark === '+' || mark === '/' || mirrored ? values : null;
}
