/**
 * One turn of phrase that says in other words what the grammar knows: its expression and what it is read as. Data of
 * `wordings.ts` and `word-order.ts`.
 */
import { raw } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';

export interface Wording {
  readonly re: RegExp;
  /** What it is read as; null where it does not hold after all. */
  readonly as: string | ((m: RegExpExecArray) => string | null);
}

/** Words, whatever their capitals, and what they are read as; `^` and `$` are ends of lines. */
export const reads =
  (as: Wording['as']) =>
  (words: TemplateStringsArray, ...parts: readonly string[]): Wording => ({
    re: new RegExp(String.raw(words, ...parts), 'gim'),
    as,
  });

/** What the wording finds in the text, each as it is read; `$1` is its first group. */
export function readWording(text: string, { re, as }: Wording): Replacement[] {
  return readAs(text, re, (m) => {
    if (m[0] === '') return null;
    return typeof as === 'string' ? as.replace(/\$(\d)/g, (_, n) => m[Number(n)] ?? '') : as(m);
  });
}

export const WORK_UNIT = UNIT;
export const STS = '(?:stitches|sts?\\.?(?![a-z])|stitch|loops)';
/** A word of a number; `COUNT`: a number in digits or words. */
export const ONE =
  'one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred';
export const COUNT = `(?:\\d+|(?:${ONE})(?:[ -](?:and )?(?:${ONE})){0,4})`;
/** A number in a row: "third", "14th". */
export const NTH = raw`(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|eleventh|twelfth|\d{1,3}(?:st|nd|rd|th))`;
/** Whole fabrics by their names, without a word behind them for the stitch. */
export const FABRIC_NAME = '(?:reverse )?(?:moss|seed|garter|stocking|stockinette)|rib|ribbing';
/** In which nothing is shaped, behind what is worked. */
export const UNSHAPED =
  '(?: plain| even| straight|,? with(?:out| no)(?: any)? (?:decreas|increas|shap)(?:es?|ing|ings))';
/** At the beginning of a sentence. */
export const BEGINS = '\\b(?<=^[ \\t•*-]{0,16}|[.;!:*)] {1,3})';
