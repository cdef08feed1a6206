/**
 * Yarns that the text calls by names of its own: "With heather, cast on 40", "Change to fern." In: the designer's text.
 * Out: the names in lower case, and the places at which they are read as `ownyarn1`, `ownyarn2` …
 * A name must be told as a yarn beyond doubt: changed to, taken up and dropped in more than one way, or beside colours.
 */
import { COLOUR_SHADES, COLOUR_WORDS } from '../lexicon/colour-words.ts';
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';

/** Words that never belong to the name of a yarn: needles, fabrics, methods, the words around them. */
const NEVER = new Set(
  `a all an and another any are as at back ball balls basketweave be beads being body border both brioche but by cable
square squares cables called careful carry cast casting cc centre center chain charted chart charts circular circulars colour colours color
colors continental contrast contrasting cord corner crochet crown decrease decreases decreasing dk done double dpn dpns each
edge edging eight either elastic end ending ends english every fabric finger fingering five flat for four from garter gauge
half hand herringbone holding hook icord if in increase increases increasing intarsia it join joined joining knit knitted
knitting lace larger last left lighter linen long loop loops loosely magic main marker markers mattress mc measuring method
metric mm moss needed needle needles new next no not of off on once one only or other our over pattern patt piece place plain
pointed provisional purl purling rem remaining reverse rib ribbing ribs ridge ridges right rnd rnds round rounds row rows same
scrap second seed set shade shades short shorter side sides single six size skein slip slipped smaller smooth so spare sport st
stays stitch stitches stocking stockinette straight strand strands stretchy sts tail tail tension that the then thicker thinner
this thread three through thumb times together tubular twice twisted two until us using waste welt when which while with wool
wools work worked working worsted wrong yarn yarns your aran chunky bulky cotton top bottom front inside outside middle between love without twisting turn care
patience total order case addition contrast rounds time place mind fact weight held optional leftover about grams metres meters
yards even odd uneven alternate`
    .split(/\s+/)
    .filter(Boolean),
);

/** Of needles, fabrics, methods, amounts: no part of what a yarn is called or looks like. */
export const isNoYarnWord = (word: string): boolean => NEVER.has(word);

const NAME = "((?:[a-z][a-z']{2,14} )?[a-z][a-z']{2,14})";
const KIND = '(?: (?:yarn|colou?r|shade|wool))?';
const ENDS = '(?=[ ]?(?:[.,;:)\\n]|$)| (?:and|for|until|on|with) )';
const told = (lead: string, end = ENDS) => regex.gim`\b${lead} (?:the )?${NAME}${KIND}${end}`;

/** "Change to fern.", "Round 5, fern:": enough by itself. */
const CHANGED = [
  told('(?:chang(?:e|ing)|switch(?:ing)?|swap(?:ping)?|return(?:ing)?|go(?:ing)?)(?: back)? to'),
  told('(?:rounds?|rnds?|rows?) \\d+(?:[-–]\\d+)?(?: \\((?:RS|WS)\\))?,', '(?=:)'),
];
/** Ways to speak of a yarn that other things share: two of them tell one. */
const SPOKEN = [
  told('(?:with|using|in)', '(?=,? (?:and [^.\\n]{0,20} )?cast on\\b)'),
  told('cast on [^.;\\n]{1,40}\\b(?:with|using|in)'),
  told('(?:re)?join(?:ing)?(?: in)?'),
  told('(?:break|cut|drop|fasten)(?:ing)?(?: off)?'),
  told('\\b(?<=^[ ]{0,4}|[.:;][ ]{1,2})(?:with|using|in)', '(?=[:,])'),
];

/** Colours are told in plain words, letters or as main and contrast: then one way to speak of another yarn is enough. */
const COLOURED = regex.i`\b(?:with|using|in|to|join|break(?: off)?) (?:the )?(?:mc|cc\d?|(?:main|contrast(?:ing)?) (?:colou?r|yarn)|(?:colou?r|yarn) [a-h]|(?:(?:${[...COLOUR_SHADES].join('|')}) )?(?:${[...COLOUR_WORDS].join('|')}))\b`;

/** Most names of one text. Chosen. */
const MOST = 9;

export function yarnNames(text: string): { names: string[]; words: Replacement[] } {
  const changed = CHANGED.flatMap((way) => namesIn(text, way));
  const coloured = changed.length > 0 || COLOURED.test(text);
  const ways = SPOKEN.map((way) => new Set(namesIn(text, way)));
  const spoken = [...new Set(ways.flatMap((way) => [...way]))].filter(
    (name) => coloured || ways.filter((way) => way.has(name)).length > 1,
  );
  const names = [...new Set([...changed, ...spoken])].slice(0, MOST);
  const words = names.flatMap((name, i) => readAs(text, regex.gi`\b${name}\b`, `ownyarn${i + 1}`));
  return { names, words };
}

function namesIn(text: string, way: RegExp): string[] {
  return [...text.matchAll(way)].flatMap(([, said]) => {
    const name = said.toLowerCase().replace(/ (?:yarn|colou?r|shade|wool)$/, '');
    const parts = name.split(' ');
    // Plain words for colours are known as they are.
    const known =
      COLOUR_WORDS.has(parts[parts.length - 1]) &&
      (parts.length < 2 || COLOUR_SHADES.has(parts[0]));
    const never = (part: string) => NEVER.has(part) || /^[ivx]+$|ly$/.test(part);
    return known || parts.some(never) ? [] : [name];
  });
}
