/**
 * Names of yarn weights in American, British and Australian trade, and needle sizes.
 * Weight numbers 0 (lace) … 7 (jumbo): standard yarn weight system (craftyarncouncil.com, "guide to
 * yarn weights"); ply names: common practice. Needle sizes: theinkysheep.co.uk and fineleaffibres.com
 * conversion charts; US 17 follows the yarn council (12.75 mm).
 */
import { raw, regex } from './expression.ts';

/** Longest names first, so that "super bulky" is not read as "bulky". */
const WEIGHT_NAMES: readonly (readonly [RegExp, number])[] = [
  [/\bsuper[\s-]*(?:bulky|chunky)\b|\broving\b|\b14[\s-]*ply\b|\bpolar\b/, 6],
  [/\bjumbo\b/, 7],
  [/\bsuper[\s-]*fine\b|\bfingering\b|\bsock\b|\b(?:3|4)[\s-]*ply\b|\bfour[\s-]*ply\b/, 1],
  [/\bcobweb\b|\blace(?:[\s-]*weight)?\b|\b[12][\s-]*ply\b|\bthread\b/, 0],
  [/\blight[\s-]*worsted\b|\bdouble[\s-]*knit(?:ting)?\b|\bdk\b|\b8[\s-]*ply\b/, 3],
  [/\bsport(?:[\s-]*weight)?\b|\b5[\s-]*ply\b|\bbaby\b/, 2],
  [/\bworsted\b|\baran\b|\bafghan\b|\b10[\s-]*ply\b/, 4],
  [/\bbulky\b|\bchunky\b|\b12[\s-]*ply\b|\bcraft[\s-]*weight\b/, 5],
  [/\bmedium\b/, 4],
  [/\blight\b/, 3],
  [/\bfine\b/, 2],
];

/** Weight number named in a lower-case text, or null. */
export function yarnWeightNamed(text: string): number | null {
  const numbered = /\b(?:cyc|weight|category|#)\s*(?:no\.?\s*|#\s*)?\(?([0-7])\)?(?!\d)/.exec(text);
  if (numbered) return Number(numbered[1]);
  for (const [re, weight] of WEIGHT_NAMES) if (re.test(text)) return weight;
  return null;
}

/** Sizes by their numbers: `6=4` is 4 mm. */
function sizes(list: string): ReadonlyMap<string, number> {
  return new Map(
    list.split(' ').map((s) => [s.replace(/=.*/, ''), Number(s.replace(/.*=/, ''))] as const),
  );
}

const US_MM = sizes(
  '000=1.5 00=1.75 0=2 1=2.25 1.5=2.5 2=2.75 2.5=3 3=3.25 4=3.5 5=3.75 6=4 7=4.5 8=5 9=5.5 10=6 10.5=6.5 11=8 13=9 15=10 17=12.75 19=15 35=19 36=20 50=25',
);
const UK_MM = sizes(
  '14=2 13=2.25 12=2.75 11=3 10=3.25 9=3.75 8=4 7=4.5 6=5 5=5.5 4=6 3=6.5 2=7 1=7.5 0=8 00=9 000=10',
);

/** Needle diameter, mm, named in a lower-case text; null where none is. */
export function needleMm(text: string): number | null {
  const metric = /(\d{1,2}(?:[.,]\d{1,2})?)\s*mm\b/.exec(text);
  if (metric) {
    const mm = Number(metric[1].replace(',', '.'));
    return mm > 0 && mm <= 60 ? mm : null;
  }
  const american = /\bu\.?s\.?\s*(?:size\s*|no\.?\s*|#\s*)*(\d{1,3}(?:\.5|\s*1\/2|½)?)/.exec(text);
  if (american) return US_MM.get(american[1].replace(/\s*1\/2|½/, '.5')) ?? null;
  const british = /\bu\.?k\.?\s*(?:size\s*|no\.?\s*|#\s*)*(\d{1,3})/.exec(text);
  if (british) return UK_MM.get(british[1]) ?? null;
  // "No. 4" alone is a metric size, an old British or an American one: it is left open.
  const sized = /(?:size|#)\s*(\d{1,2}(?:\.5)?)\s*(?:needles?|dpns?|circular)?/.exec(text);
  return sized ? (US_MM.get(sized[1]) ?? null) : null;
}

const TOOL = raw`(?:(?:long|short|circular|straight|knitting|double[ -]?pointed|double|bamboo|wooden|metal|fixed|\d+[ -]?(?:cm|in|inch)|a|set|of|or|whatever)[ -]*)*(?:needles?|dpns?|circulars?|circs?|pins|straights)`;
const NUMBERED = '(?:(?:sizes?|us|u\\.s\\.|uk|u\\.k\\.|nos?\\.?|#)[ ]*)+';
const SIZED = `(?:\\d{1,2}(?:[.,]\\d{1,2})?[ ]?mm|${NUMBERED}\\d{1,3}(?:\\.5|[ ]?1\\/2|½)?)(?:[ ]*[(/][ ]*(?:\\d|us|uk)[^()\\n]{0,20}?\\)?)?`;
/** "3.25 mm needles", "US 6 (4 mm) circular", "needles size 4 mm", "on 3.25 mm". */
const NEEDLES = regex.plain`(?<![a-z0-9.])(?:${SIZED}[ -]*${TOOL}|(?:needles?|dpns?)[ ]*(?:of|:|in)?[ ]*(?:sizes?[ ]*)?${SIZED}|(?<=\b(?:on|with|using|over) (?:a |an )?)${SIZED})(?![a-z0-9])(?![ ]*(?:long|wide|square|high))`;

/** Where a lower-case sentence names the size of the needles, and the diameter, mm; null where it names none. */
export function needlesNamed(text: string): { from: number; to: number; mm: number } | null {
  const m = NEEDLES.exec(text);
  const mm = m ? needleMm(m[0]) : null;
  return m && mm !== null ? { from: m.index, to: m.index + m[0].length, mm } : null;
}
