/**
 * Sentences that say once for all rounds how often the part between asterisks, or in brackets, is worked: "Work each * *
 * six times". In: the normalised text, or one sentence of it. Out: the numbers of times; null where none is told.
 */
import type { Place } from '../../lex/source.ts';

export interface DeclaredRepeats {
  readonly stars: number | null;
  readonly brackets: number | null;
  /** How often all the stitches of a round are worked, or once on each side. */
  readonly rounds: number | 'sides' | null;
  /** Where the last is told, in the text. */
  readonly at?: Place;
}

const MARKED = /\*|\b(?:asterisks?|stars?|brackets?|bracketed|parenthes[ei]s)(?![a-z])/;
const HOW_OFTEN =
  /(?:\b(\d{1,3})\s*(?:times|x)(?![a-z0-9])|\b(?:x|times)\s*(\d{1,3})\b|\b(twice)\b)/;
const ONCE_EACH =
  /\b(?:on|for|over|per) (?:each|every|all)(?: of)?(?: the)?(?: \d)? (?:needles?|sides?|sections?|quarters?|segments?|sectors?|wedges?|patterns?)\b/;
/** It is said of all of them, not of the stitches before it. */
const OF_ALL =
  /\b(?:each|every|always|all|the group|whatever|everything|what|asterisks|stars|brackets|parentheses|instructions|stitches|sts|parts?|sections?)\b/;
const WORDS = new Set(
  `work worked working repeat repeated repeats rep knit knitted each every all always the what whatever everything that
  instruction instructions stitches sts part parts section sections sequence stands stand is are lies lie shown given set written placed
  after marked between from to and in within inside of on a both asterisk asterisks star stars bracket brackets bracketed parenthesis parentheses
  times x twice round rnd rounds rnds row rows total altogether here below throughout this these unless otherwise told stated
  bit bits piece do done you them it is so altogether repeated anything all four group groups complete completes completed finish finishes fill fills makes make up way whole only just read reads
  directions direction lines line text table chart give gives covers cover below above told tells square quarters segments wedge wedges sector sectors pattern patterns motif motifs entry entries cell cells i e ie eg description descriptions described sixth fifth eighth commas more other others remaining same follows following repeating corner corners along around repeat's s at needle needles side sides quarter segment over says said noted means mean will be you should must once for per = : ; , ' . - ( ) [ ] * "`.split(
    /\s+/,
  ),
);

/** What is told of a round's stitches, all of them. */
const OF_ROUNDS =
  /\b(?:instructions?|directions?|descriptions?|lines?|(?:stitches|sts) (?:given|told|shown)|what (?:is|follows)|entr(?:y|ies)|(?:each|every) group|cells?|(?:each|every) (?:round|rnd)|text|table|chart)\b/;
/** … that they are those of one side, or worked so often in a round. */
const FOR_A_SIDE =
  /\b(?:(?:each|every) (?:line|entry|cell|instruction|direction)|(?:per|in|each|every) (?:each |every |a |the )?(?:round|rnd)|to (?:complete|finish|fill|make up) (?:the|a|each|every) (?:whole )?(?:round|rnd)|all (?:the way )?a?round|around|per (?:side|needle|quarter|section|segment|wedge|sector|pattern|motif|corner)|(?:for|is|are|on|once|covers?|gives?|per|along|over) (?:only )?(?:1|one|a|each|every|all)(?: of)?(?: the)?(?: \d)?(?: (?:needles?|sides?|quarters?|sections?|segments?|wedges?|sectors?|patterns?|motifs?|repeats?|corners?))?)\b/;
const SIDES_COUNTED =
  /\b(?:each|every|all)(?: of)?(?: the)? ([2-9])\b(?! times)|\b([2-9]) (?:sides|needles|quarters|sections|segments|wedges|sectors|patterns|motifs|corners)\b/;

/** Without a number of times: once on each, or told for one side. */
const ONE_SIDE =
  /\bonce\b|\b(?:for|is|are|of|covers?|gives?) (?:only |just )?(?:1|one|a) (?:side|needle|quarter|section|segment|wedge|sector|pattern|motif|corner)\b/;
/** "… and are repeated on the other 3": those and the first. */
const ON_OTHERS = /\b(?:other|remaining) ([1-9])\b|\b([1-9]) more times\b/;

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
      ? Number(others[1] ?? others[2]) + 1
      : counted
        ? Number(counted[1] ?? counted[2])
        : /\bquarter\b/.test(sentence)
          ? 4
          : null;
  if (!often && !ONE_SIDE.test(sentence)) return null;
  const known = (sentence.match(/[a-z]+|\d+|[^\sa-z0-9]/g) ?? []).every((word) =>
    /^\d/.test(word)
      ? word === '1' || word === others?.[1] || word === others?.[2] || Number(word) === told
      : WORDS.has(word),
  );
  return known ? (told ?? 'sides') : null;
}

/** What one sentence declares. */
export function declaredRepeats(sentence: string): DeclaredRepeats | null {
  if (sentence.length > 160) return null;
  if (!MARKED.test(sentence)) {
    const rounds = ofWholeRounds(sentence);
    return rounds === null ? null : { stars: null, brackets: null, rounds };
  }
  const often = HOW_OFTEN.exec(sentence);
  // "… once on each needle": the round says how often by its stitches.
  if (!often && ONCE_EACH.test(sentence) && /\b(?:instruct|work|do\b|repeat)/.test(sentence)) {
    const known = (sentence.match(/[a-z]+|\d+/g) ?? []).every((word) => WORDS.has(word));
    return known ? { stars: null, brackets: null, rounds: null } : null;
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
  if (HOW_OFTEN.test(norm) || OF_ROUNDS.test(norm)) {
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
