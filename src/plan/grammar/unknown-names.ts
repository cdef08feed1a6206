/**
 * Words that stand where the name of a fabric or a verb of work does and are none: "continue in frobble stitch", "moss frobble
 * throughout", "frobble the first st of every row". In: a sentence in lower case. Out: whether it has such a word, so that it asks
 * for something that cannot be followed.
 */
import { CLASSES } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import {
  CARE_VERBS,
  CRAFT_NOUNS,
  DECREASE_WORDS,
  DESCRIBING,
  EVERYDAY_VERBS,
  FILLERS,
  INCREASE_WORDS,
  LEADS,
  MODALS,
  PRONOUNS,
  REMARK_LEADS,
  STITCH_WORDS,
  WORK_FORMS,
  words,
} from '../lexicon/words.ts';

const FABRIC = 'moss|seed|garter|stocking|stockinette|reverse|rev|jersey|pearl|rib|ribbing|ribbed';
/** Fabrics by a word that none is called, where work goes on in them. */
const IN_A_FABRIC =
  /\b(?:work|worked|knit|knitted|continue|cont|change|going) (?:now |on |over |all )*(?:in|to) ([a-z]{3,}) (?:st|stitch)\b/;
const STITCHES = new RegExp(
  `^(?:${FABRIC}|knit|purl|plain|this|that|the|each|every|one|same|any|lace|cable|cabled|mesh|tweed|slip|slipped|linen|basket|trinity|fancy|pattern|double|single|twisted|next|last|first|corner|edge|centre|center|middle|marked|your|another|long|chain)$`,
);
const ALL_IN = new RegExp(`^(?:the )?(?:${FABRIC}) ([a-z]{3,}) (?:throughout|all through|only)\\b`);

export function namesNoFabric(text: string): boolean {
  const [, word] = IN_A_FABRIC.exec(text) ?? [];
  if (word !== undefined && !STITCHES.test(word)) return true;
  const [, other] = ALL_IN.exec(text) ?? [];
  return (
    other !== undefined && !/^(?:stitch|pattern|ridges?|rounds?|rows?|border|fabric)$/.test(other)
  );
}

/** What is to be done with the stitches at the edge, or with all of them, by a verb that is none: "…, frobbling the last st of every row". */
export function toldOfEdges(text: string): boolean {
  for (const [, verb] of text.matchAll(AT_EDGES))
    if (!/(?:ly|wise)$/.test(verb) && !formsOf(verb).some((v) => KNOWN.some((set) => set.has(v))))
      return true;
  return false;
}

/** "giving": giving, giv, give; "wrapping": wrap too. */
function formsOf(verb: string): string[] {
  if (!verb.endsWith('ing')) return [verb];
  const stem = verb.slice(0, -3);
  return [verb, stem, `${stem}e`, stem.replace(/(.)\1$/, '$1')];
}

const AT_EDGES =
  /(?:^|[,;:(-] ?|\b(?:and|then|but|by|while|when|always|also|never|please|simply|just|should|must|to|you|we) )([a-z]{4,}) (?:[a-z]+wise )?(?:(?:the|your|all|each|every|both) )+(?:very )?(?:first|last|edge|selvedge|selvage|border|\d+(?:st|nd|rd|th)?|second|third|other)(?: (?:and|&)(?: the)? (?:first|last))?(?: \d+)?(?: (?:sts?|stitch(?:es)?)\b| *(?:$|[.,;)]))/g;
const KNOWN: readonly ReadonlySet<string>[] = [
  CARE_VERBS,
  CLASSES.handle,
  CLASSES.place,
  CLASSES.join,
  CLASSES.distribute,
  CRAFT_NOUNS,
  DECREASE_WORDS,
  DESCRIBING,
  EVERYDAY,
  EVERYDAY_VERBS,
  FILLERS,
  INCREASE_WORDS,
  LEADS,
  MODALS,
  PRONOUNS,
  REMARK_LEADS,
  STITCH_WORDS,
  WORK_FORMS,
  words(
    'over into onto through between inside outside across along around near past except from until till upto than within before after behind between beside under above below during using counting including having where there',
  ),
];
