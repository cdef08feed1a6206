/**
 * Why so many stitches are cast on, told as a sum in brackets behind them: "(Why 90? Four sides of 22, and 2 for the
 * seam.)". In: the designer's text. Out: the brackets, read as nothing where the sum is right; where not, they stay.
 */
import { regex } from '../lexicon/expression.ts';
import { inDigits, type Replacement } from './numbers.ts';
import { COUNT, STS } from './wording.ts';

const BRACKET = regex.gi`\b(?:cast on|co|mount|set up|start with|lay up|put on) (?:about )?(${COUNT}) ${STS}[^()\n]{0,40}\(([^()\n]{6,120})\)`;
/** Besides numbers. */
const WORDS = new Set(
  `why so many that is are this it i.e ie makes make gives give equals of and plus with for each on per the a an extra more times x another
  sides side needles needle quarters sections corners corner seam edge edges selvedge selvedges stitch stitches st sts in all altogether total because we you need have there`.split(
    /\s+/,
  ),
);

function product(term: string): number | null {
  const numbers = (term.match(/\d+/g) ?? []).map(Number);
  if (numbers.length === 1) return numbers[0];
  if (numbers.length !== 2) return null;
  return /\b(?:of|times|x|with)\b|[x×*]/.test(term) ? numbers[0] * numbers[1] : null;
}

/** The terms of "4 sides of 22, and 2 for the seam"; results told on the way are held against them. */
function addsUp(told: string, total: number): boolean {
  let sum = 0;
  let terms = 0;
  for (const part of told.split(/,? (?:and|plus)\b|\+|,/)) {
    const [term, ...results] = part.split(/=|\b(?:makes?|gives?|equals)\b/);
    if (/\d/.test(term)) {
      const value = product(term);
      if (value === null) return false;
      sum += value;
      terms++;
    }
    if (results.some((r) => /\d/.test(r) && Number(/\d+/.exec(r)?.[0]) !== sum)) return false;
  }
  return terms > 0 && sum === total;
}

/** "You need 48 sts. Cast them on and join": so many as are told before. */
const CAST_THEM = regex.gi`\b(cast|put|throw)( on)? (?:all (?:of )?)?(?:them|these|those)( on)?(?= (?:and|loosely|using|with|over|onto|on)\b|[ ]?[.,;:]|$)`;
const TOLD = regex.gi`\b(${COUNT}) ${STS}`;
/** Most characters before it that are looked through. Chosen: a sentence or two. */
const LOOKED = 240;

function castThem(text: string): Replacement[] {
  return [...text.matchAll(CAST_THEM)].flatMap((m) => {
    const before = text.slice(Math.max(0, m.index - LOOKED), m.index);
    const counts = [...before.matchAll(TOLD)].map(([, n]) => Number(inDigits(n.toLowerCase())));
    const once = !/\b(?:cast(?:ing)?[ -]on|co) [^.\n]{0,40}\d/i.test(text.slice(0, m.index));
    if (!(m[2] ?? m[3]) || counts.length === 0 || !once) return [];
    return [
      { from: m.index, to: m.index + m[0].length, text: `Cast on ${Math.max(...counts)} sts` },
    ];
  });
}

export function castOnSums(text: string): Replacement[] {
  const sums = [...text.matchAll(BRACKET)].flatMap((m) => {
    const total = Number(inDigits(m[1].toLowerCase()));
    const told = inDigits(m[2].toLowerCase())
      .replace(/×/g, 'x')
      .replace(/^ ?why (?:so many|\d+)(?: (?:sts|stitches))? ?\?/, '')
      .replace(/\.$/, '');
    const known = (told.match(/[a-z]+/g) ?? []).every((w) => WORDS.has(w));
    // "(21 on each of 4 needles)" tells how they are shared.
    if (!/\b(?:why|and|plus)\b|[+,]/i.test(m[2])) return [];
    // "(1 edge st + 4 x 16 sts + 1 edge st)" tells how many sides there are besides.
    if (/^\W*\d/.test(told) && /\d (?:x|sides) /.test(told) && !/\b(?:why|because)\b/i.test(m[2]))
      return [];
    if (!known || !addsUp(told, total)) return [];
    const to = m.index + m[0].length;
    return [{ from: to - m[2].length - 2, to, text: '' }];
  });
  return [...sums, ...castThem(text)];
}
