/**
 * Words that stand where the name of a fabric or a verb of work does and are none: "continue in frobble stitch", "moss frobble
 * throughout", "frobble the first st of every row". In: a sentence in lower case. Out: whether it has such a word, so that it asks
 * for something that cannot be followed.
 */
import { DESCRIBING, EVERYDAY_VERBS } from '../lexicon/words.ts';

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

/** What is to be done with the edge of every row, by a verb that is none. */
export function toldOfEdges(text: string): boolean {
  const [, verb] =
    /^(?:and |but |also |always )*([a-z]{3,}) the (?:first|last|edge|selvedge|border)(?: (?:and|&)(?: the)? (?:first|last))?(?: \d+)? (?:sts?|stitch(?:es)?) (?:of|on|in) (?:each|every|all) rows?\b/.exec(
      text,
    ) ?? [];
  return verb !== undefined && !EVERYDAY_VERBS.has(verb) && !DESCRIBING.has(verb);
}
