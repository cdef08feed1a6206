/**
 * Sentences that say once for all rounds how often the part between asterisks, or in brackets, is worked: "Work each * *
 * six times". In: the normalised text, or one sentence of it. Out: the numbers of times; null where none is told.
 */
import type { Place } from '../../lex/source.ts';
import { regex } from '../../lexicon/expression.ts';

export interface DeclaredRepeats {
  readonly stars: number | null;
  readonly brackets: number | null;
  /** How often all the stitches of a round are worked, or once on each side. */
  readonly rounds: number | 'sides' | null;
  /** Where the last is told, in the text. */
  readonly at?: Place;
}

const MARKED =
  /\*|\[ ?\]|\( ?\)|\b(?:asterisks?|stars?|brackets?|bracketed|parenthes[ei]s)(?![a-z])/;
const HOW_OFTEN =
  /(?:\b(\d{1,3})\s*(?:times|x)(?![a-z0-9])|\b(?:x|times)\s*(\d{1,3})\b|\b(twice)\b)/;
const ONCE_EACH =
  /\b(?:(?:on|for|over|per) (?:each|every|all)(?: of)?(?: the)?(?: \d)?|per) (?:needles?|sides?|sections?|quarters?|segments?|sectors?|wedges?|patterns?)\b/;
const OF_MARKED = /\b(?:instruct|work|do\b|repeat|made|knit|(?:each|every) (?:bracket|star))/;
/** It is said of all of them, not of the stitches before it. */
const OF_ALL =
  /\b(?:(?:is|are) (?:always )?(?:worked|made|knitted|repeated|done)|each|every|always|(?<!\bin )all|the group|whatever|everything|what|asterisks|stars|brackets|parentheses|instructions|stitches|sts|parts?|sections?)\b/;
const WORDS = new Set(
  `work worked working made repeat repeated repeats rep knit knitted each every all always the what whatever everything that
  instruction instructions stitches sts part parts section sections sequence stands stand is are lies lie shown given set written placed
  after marked between from to and in within inside of on a both asterisk asterisks star stars bracket brackets bracketed parenthesis parentheses
  times x twice round rnd rounds rnds row rows total altogether here below throughout this these unless otherwise told stated
  bit bits piece do done you them it is so altogether repeated anything all four group groups complete completes completed finish finishes fill fills makes make up way whole only just read reads
  directions direction lines line text table chart give gives covers cover below above told tells square quarters segments wedge wedges sector sectors pattern patterns motif motifs entry entries cell cells i e ie eg description descriptions described sixth fifth only all likewise too exactly eighth commas more other others remaining same follows following repeating corner corners along around repeat's s at needle needles side sides quarter segment over says said noted means mean will be you should must once for per = : ; , ' . - ( ) [ ] * "`.split(
    /\s+/,
  ),
);

/** What is told of a round's stitches, all of them. */
const OF_ROUNDS =
  /\b(?:instructions?|directions?|descriptions?|lines?|(?:stitches|sts) (?:given|told|shown)|what (?:is|follows)|entr(?:y|ies)|(?:each|every) group|cells?|(?:each|every) (?:round|rnd)|text|table|chart|rounds? (?:below|here|that follow|(?:below |here )?(?:is|are) (?:given|told|written|described))|(?:all|everything|this|it) is (?:given|told|written|described)|(?<![a-z] )(?:given|told|written|described) (?:here |only |below )?(?:for|of))\b/;
/** … that they are those of one side, or worked so often in a round. */
const FOR_A_SIDE =
  /\b(?:(?:each|every) (?:line|entry|cell|instruction|direction)|(?:per|in|each|every) (?:each |every |a |the )?(?:round|rnd)|to (?:complete|finish|fill|make up) (?:the|a|each|every) (?:whole )?(?:round|rnd)|all (?:the way )?a?round|around|per (?:side|needle|quarter|section|segment|wedge|sector|pattern|motif|corner)|(?:for|is|are|on|once|covers?|gives?|per|along|over) (?:only )?(?:1|one|a|each|every|all)(?: of)?(?: the)?(?: \d)?(?: (?:needles?|sides?|quarters?|sections?|segments?|wedges?|sectors?|patterns?|motifs?|repeats?|corners?))?)\b/;
const SIDES_COUNTED =
  /\b(?:each|every|all)(?: of)?(?: the)? ([2-9])\b(?! times)|\b([2-9]) (?:sides|needles|quarters|sections|segments|wedges|sectors|patterns|motifs|corners)\b/;

/** Without a number of times: once on each, or told for one side. */
const ONE_SIDE =
  /\bonce\b|\b(?:for|is|are|of|covers?|gives?) (?:only |just )?(?:1|one|a) (?:side|needle|quarter|section|segment|wedge|sector|pattern|motif|corner)\b/;
/** "… and are repeated on the other 3": those and the first. */
const ON_OTHERS =
  /\b(?:other|remaining) ([1-9])\b|\b([1-9]) more times\b|\b(?:the|all) ([1-9]) (?:others|other (?:needles|sides|quarters))\b/;

/** "Work the instruction once on each of the 4 sides", "The stitches given are for one side; repeat them 4 times to complete the round" */
function ofWholeRounds(sentence: string): DeclaredRepeats['rounds'] {
  if (!OF_ROUNDS.test(sentence) || !FOR_A_SIDE.test(sentence)) return null;
  const others = ON_OTHERS.exec(sentence);
  const often = others?.[2] ? null : HOW_OFTEN.exec(sentence);
  const counted = SIDES_COUNTED.exec(sentence);
  const told = often
    ? often[3]
      ? 2
      : Number(often[1] ?? often[2])
    : others
      ? Number(others[1] ?? others[2] ?? others[3]) + 1
      : counted
        ? Number(counted[1] ?? counted[2])
        : /\bquarter\b/.test(sentence)
          ? 4
          : null;
  if (!often && !ONE_SIDE.test(sentence)) return null;
  const known = (sentence.match(/[a-z]+|\d+|[^\sa-z0-9]/g) ?? []).every((word) =>
    /^\d/.test(word)
      ? word === '1' || others?.slice(1).includes(word) || Number(word) === told
      : WORDS.has(word),
  );
  return known ? (told ?? 'sides') : null;
}

const PART =
  '(?:needles?|pins?|dpns?|sides?|sections?|quarters?|segments?|wedges?|sectors?|panels?|patterns?|motifs?|gores?|corners?)';
/** A sentence that speaks of how rounds are told, and of one part: "All is told for one needle". */
const TELLS =
  /\b(?:told|tell|tells|given|give|gives|written|write|writes|described|describe|shown|show|stated|worded|noted|explained|spelt|spelled|listed|stands?|instructions?|directions?|directed|rounds?|rnds?|rows?|text|table|chart|lines?|what|everything|all|figures|numbers)\b/;
const OF_ONE_PART = regex.plain`\b(?:1|one|a|an|single|each|any|the first|first)(?: (?:single|such))? ${PART}(?: only| alone)?(?![a-z])`;
const ONE_ONLY = regex.plain`\b(?:for|of|as for|over|on|covers?|per|is|are|only|just|write|give|gives|describe|show|tell)(?: (?:only|just|out))* (?:1|one|a|an|a single|the first)(?: single)? ${PART}(?: only| alone)?(?![a-z])|\b(?:1|one) (?:of (?:them|these)|${PART}) (?:only|alone)\b|\b(?:only|just) (?:1|one)(?: of| out of)? (?:the |them|these)`;
const THE_SAME =
  /\b(?:same|alike|likewise|repeat(?:ed|s)?|again|identical(?:ly)?|similarly|equal(?:ly)?|match(?:es)?|copy)\b|\b(?:work|do) (?:it|them|this|that|so|all)\b|\btimes\b/;
const TELLING_WORDS = new Set(
  `all is are was were everything what whatever stands follows following here below above that this it so i we you only just out up told tell tells given
  give gives written write writes described describe shown show stated worded noted explained spelt spelled listed stand instruction instructions direction
  directions directed round rounds rnd rnds row rows text table chart line lines figures numbers for of on over as per in at with to and but the a an one each any every first
  single such alone do does work worked works working knit knitted repeat repeated repeats again same alike likewise identical identically similarly equal equally
  other others remaining rest three four five six seven eight twice times x way manner always them those these are will be must should always exactly
  throughout then also too because since from now next covers cover stitches sts needle needles pin pins dpn dpns side sides section sections
  quarter quarters segment segments wedge wedges sector sectors panel panels pattern patterns motif motifs gore gores corner corners , ; : - ( ) . '`.split(
    /\s+/,
  ),
);

/** "All is told for one needle; do the same on the three others", "Each side is worked alike, so I give one side only" */
function ofOnePart(sentence: string): DeclaredRepeats['rounds'] {
  if (!TELLS.test(sentence) || !OF_ONE_PART.test(sentence)) return null;
  if (!ONE_ONLY.test(sentence)) return null;
  const words = sentence.match(/[a-z]+|\d+|[^\sa-z0-9]/g) ?? [];
  const numbers = words.filter((w) => /^\d/.test(w) && w !== '1');
  if (numbers.length > 1 || !words.every((w) => /^\d/.test(w) || TELLING_WORDS.has(w))) return null;
  if (
    !THE_SAME.test(sentence) &&
    !/\b(?:only|just|alone)\b/.test(sentence) &&
    !TOLD_OF.test(sentence)
  )
    return null;
  const [n] = numbers;
  if (n === undefined) return 'sides';
  const others = regex.plain`\bother ${n}\b|\b${n} (?:others?|remaining|more)\b|\bremaining ${n}\b`;
  return others.test(sentence) ? Number(n) + 1 : Number(n);
}
/** "The instructions are for one needle", "Rounds are told for one quarter" */
const TOLD_OF =
  /\b(?:instructions?|directions?|rounds?|rnds?|rows?|text|table|chart|lines?|everything|all|what \w+|figures|numbers)\b.* (?:for|of|over|per) (?:only )?(?:1|one|a)\b/;

/** What one sentence declares. */
export function declaredRepeats(sentence: string): DeclaredRepeats | null {
  if (sentence.length > 160) return null;
  if (!MARKED.test(sentence)) {
    const rounds = ofWholeRounds(sentence) ?? ofOnePart(sentence);
    return rounds === null ? null : { stars: null, brackets: null, rounds };
  }
  const often = HOW_OFTEN.exec(sentence);
  // "… once on each needle": the round says how often by its stitches.
  if (!often && ONCE_EACH.test(sentence) && OF_MARKED.test(sentence)) {
    const said = sentence.match(/[a-z]+|\d+/g) ?? [];
    const numbers = said.filter((word) => /^\d/.test(word));
    if (numbers.length > 1 || !said.every((word) => /^\d/.test(word) || WORDS.has(word)))
      return null;
    const stars = /\*|asterisk|star/.test(sentence);
    const [n] = numbers.map(Number);
    if (stars) return { stars: null, brackets: null, rounds: null };
    return { stars: null, brackets: n ?? null, rounds: n === undefined ? 'sides' : null };
  }
  if (!often || !(OF_ALL.test(sentence) || ONCE_EACH.test(sentence))) return null;
  const words = sentence.match(/[a-z]+|\d+|[^\sa-z0-9]/g) ?? [];
  let numbers = 0;
  for (const word of words) {
    // "the group is 1 needle; work it 4 times"
    if (/^\d/.test(word)) numbers += word === '1' ? 0 : 1;
    else if (!WORDS.has(word)) return null;
  }
  const times = often[3] ? 2 : Number(often[1] ?? often[2]);
  if (numbers > (often[3] ? 0 : 1) || times < 1) return null;
  const brackets = /[([]|bracket|parenth/.test(sentence) && !/\*|asterisk|star/.test(sentence);
  return { stars: brackets ? null : times, brackets: brackets ? times : null, rounds: null };
}

/** What the text declares, before its asterisks or brackets are used. */
export function declaredIn(norm: string): DeclaredRepeats {
  let stars: number | null = null;
  let brackets: number | null = null;
  let rounds: DeclaredRepeats['rounds'] = null;
  let at: Place | undefined;
  if (
    HOW_OFTEN.test(norm) ||
    ONCE_EACH.test(norm) ||
    OF_ROUNDS.test(norm) ||
    OF_ONE_PART.test(norm)
  ) {
    let from = 0;
    for (const whole of norm.split(/[.!\n]/)) {
      const begin = from;
      from += whole.length + 1;
      for (const sentence of declaredRepeats(whole) ? [whole] : whole.split(';')) {
        const told = declaredRepeats(sentence);
        stars ??= told?.stars ?? null;
        brackets ??= told?.brackets ?? null;
        if (told?.rounds != null && rounds === null) {
          rounds = told.rounds;
          at = { from: begin + whole.length - whole.trimStart().length, to: begin + whole.length };
        }
      }
    }
  }
  return { stars, brackets, rounds, at };
}
