/**
 * Sentences that say once for all rounds how often the part between asterisks, or in brackets, is worked: "Work each * *
 * six times". In: the normalised text, or one sentence of it. Out: the numbers of times; null where none is told.
 */
export interface DeclaredRepeats {
  readonly stars: number | null;
  readonly brackets: number | null;
}

const MARKED = /\*|\b(?:asterisks?|stars?|brackets?|parenthes[ei]s)(?![a-z])/;
const HOW_OFTEN =
  /(?:\b(\d{1,3})\s*(?:times|x)(?![a-z0-9])|\b(?:x|times)\s*(\d{1,3})\b|\b(twice)\b)/;
const ONCE_EACH =
  /\b(?:on|for|over|per) (?:each|every|all)(?: of)?(?: the)?(?: \d)? (?:needles?|sides?|sections?|quarters?|segments?)\b/;
/** It is said of all of them, not of the stitches before it. */
const OF_ALL =
  /\b(?:each|every|always|all|whatever|everything|what|asterisks|stars|brackets|parentheses|instructions|stitches|sts|parts?|sections?)\b/;
const WORDS = new Set(
  `work worked working repeat repeated repeats rep knit knitted each every all always the what whatever everything that
  instruction instructions stitches sts part parts section sections sequence stands stand is are lies lie shown given set written placed
  after marked between from to and in within inside of on a both asterisk asterisks star stars bracket brackets parenthesis parentheses
  times x twice round rnd rounds rnds row rows total altogether here below throughout this these unless otherwise told stated
  bit bits piece do done you them it is so altogether repeated anything all four needle needles side sides quarter segment over says said noted means mean will be you should must once for per = : , - ( ) [ ] * "`.split(
    /\s+/,
  ),
);

/** What one sentence declares. */
export function declaredRepeats(sentence: string): DeclaredRepeats | null {
  if (sentence.length > 160 || !MARKED.test(sentence)) return null;
  const often = HOW_OFTEN.exec(sentence);
  // "… once on each needle": the round says how often by its stitches.
  if (!often && ONCE_EACH.test(sentence) && /\b(?:instruct|work|do\b|repeat)/.test(sentence)) {
    const known = (sentence.match(/[a-z]+|\d+/g) ?? []).every((word) => WORDS.has(word));
    return known ? { stars: null, brackets: null } : null;
  }
  if (!often || !(OF_ALL.test(sentence) || ONCE_EACH.test(sentence))) return null;
  const words = sentence.match(/[a-z]+|\d+|[^\sa-z0-9]/g) ?? [];
  let numbers = 0;
  for (const word of words) {
    if (/^\d/.test(word)) numbers++;
    else if (!WORDS.has(word)) return null;
  }
  const times = often[3] ? 2 : Number(often[1] ?? often[2]);
  if (numbers > (often[3] ? 0 : 1) || times < 1) return null;
  const brackets = /[([]|bracket|parenth/.test(sentence) && !/\*|asterisk|star/.test(sentence);
  return { stars: brackets ? null : times, brackets: brackets ? times : null };
}

/** What the text declares, before its asterisks or brackets are used. */
export function declaredIn(norm: string): DeclaredRepeats {
  let stars: number | null = null;
  let brackets: number | null = null;
  if (HOW_OFTEN.test(norm)) {
    for (const sentence of norm.split(/[.;!\n]/)) {
      const told = declaredRepeats(sentence);
      stars ??= told?.stars ?? null;
      brackets ??= told?.brackets ?? null;
    }
  }
  return { stars, brackets };
}
