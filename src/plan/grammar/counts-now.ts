/**
 * Counts told of the moment, or of a round by its number: "you should now have 84", "Round 16 finishes with 40 stitches",
 * "72 sts after Rnd 16". In: a sentence in lower case. Out: frames (`told-counts.ts`) with what each tells, the more
 * special first.
 */
import type { ToldCount } from './told-counts.ts';

const STS = '(?:sts?|stitch(?:es)?|loops?)';
const PART = '(?:needles?|ndls?|dpns?|pins?|sides?|sections?|quarters?|wedges?|panels?|segments?)';
const END = '(?=\\s*(?:[.,;:!?()\\]]|$|-|and\\b|so\\b|but\\b|since\\b|because\\b|as\\b|by\\b))';
const UNIT = '(?:round|rnd|row|rd)';
const NTH = `(?:${UNIT} (\\d+)|(\\d+)(?:st|nd|rd|th) ${UNIT})`;
const MODS =
  '(?: (?:now|just|only|exactly|still|all|at|last|a|total|of|once|again|about|to|be|mere|already|really|indeed|precisely))*';
const BEHIND =
  '(?: (?:left|remaining|remain|now|in all|altogether|in total|total|still|again|there|by now|at this point|on (?:the|your) needles?|to go|all told|in the round))*';
const COUNT = `(\\d+)(?: ${STS})?${BEHIND}`;

const HAVE = `(?:you|we|one)(?: (?:will|should|must|ought to|can|may|now|just|then|still|do|finally))* (?:have(?: had)?|see|count|get|hold|be|are|end(?: up)?|finish(?: up)?|come(?: out)?|arrive|stand|look)(?: (?:now|just|only|still|then))*(?: (?:left|looking|down|back|up))*(?: (?:with|at|on|to))?`;
const THERE =
  'there (?:now |still |then )*(?:are|is|remain|remains|should be|must be|will be|ought to be|stay)';
const LEAVES =
  '(?:that|this|it|which)(?: now| should| will| then)* (?:leaves?|makes?|gives?|brings?|takes?|gets?|leads?|lands?|puts?|is|comes to)(?: (?:you|us|it|the count|with|down|up|back|to|at|on))*';
/** Which moment a count is told of, in front of the number of a round. */
const ON_DONE =
  '(?:after|at the end of|by the end of|by|(?:up)?on (?:finishing|completing|completion of|ending|reaching)|(?:when|once) (?:you (?:have|are) )?(?:finished|completed|done|through)(?: with)?|(?:when|once)(?= (?:the )?(?:round|rnd|row|rd) \\d+ is))';
const TALLY =
  '(?:(?:the|your|our|my) )?(?:stitch |st )?(?:count|tally|check|checked|sts|stitches|total)(?: (?:at this point|now|here|so far|by now))*(?: ?[:=]| (?:is|are|should be|comes to))';
const BARE = `^\\W*(?:and |so |then |now )*(?:(?:(?:down|back|up|still|only|leaving|just|total|now|altogether)\\b ?|${TALLY} ?)+)(?:to |is |at |with )?`;
const TO_END =
  '\\b(?:to|and|which) (?:finish|finishes|end|ends|leave|leaves)(?: up)?(?: (?:with|on|at|you|us))*';

const LOST =
  '(?:lost|gained|gone|added|made|decreased|increased|shed|taken (?:off|away)|disappear|vanish|go|more|fewer|less)';
const AGAIN =
  '(?:(?:in|on|with|at|by) )?(?:(?:each|every)(?: one)?(?: of (?:these|those|the)(?: [a-z]+)?| (?:such )?(?:time|round|rnd|row|repeat|repetition|pair|pass|(?:de|in)crease (?:round|rnd|row)))?|(?:this|that|these|such) (?:rounds?|rnds?|rows?))(?: (?:you|we) (?:do|work|repeat) (?:this|that|it)(?: (?:round|rnd|row))?)?';

export type CountFrame = readonly [RegExp, (m: readonly string[]) => ToldCount];

const num = (...found: readonly (string | undefined)[]): number =>
  Number(found.find((n) => n !== undefined));
/** So many on each part, of so many parts where that is told. */
export const onEach = (count: string, parts: string | undefined): ToldCount => ({
  kind: 'each',
  count: Number(count),
  parts: Number(parts) || undefined,
});
const after = (round: number, count: number): ToldCount => ({
  kind: 'after',
  round,
  nth: false,
  count,
});

const eachTime = ([, one, other]: readonly string[]): ToldCount => ({
  kind: 'each time',
  count: num(one, other),
  side: false,
});

/** Of a round by its number, or of some time before. */
export const OF_ROUNDS: readonly CountFrame[] = [
  // "in each of these rounds 8 sts are lost", "8 sts are gained every time", "you lose 8 sts each time you work this round"
  [
    new RegExp(
      `(?:^\\W*|[,;:] ?|\\band )${AGAIN},? (\\d+) ${STS}(?: (?:are|is|get|have been))? ${LOST}${END}|\\b(\\d+) ${STS} (?:(?:are|is|get) )?${LOST},? ${AGAIN}${END}`,
      'g',
    ),
    eachTime,
  ],
  [
    new RegExp(
      `\\b(?:you|we|this|it|(?:the )?(?:stitch |st )?count)(?: \\w+){0,2}? (?:loses?|gains?|sheds?|grows?|shrinks?|drops?|rises?|falls?)(?: by)? (\\d+)(?: ${STS})? ${AGAIN}(?:,? to (?:\\d+)(?: ${STS})?)?${END}`,
      'g',
    ),
    eachTime,
  ],
  // "that gets you to the end of round 23"
  [
    new RegExp(`\\b${LEAVES} (?:the )?end of (?:the )?${NTH}${END}`, 'g'),
    ([, a, b]) => ({ kind: 'at round', round: num(a, b) }),
  ],
  // "after 3 repeats you have 48 sts"
  [
    new RegExp(
      `\\bafter (?:the )?(?:\\d+|\\d+(?:st|nd|rd|th)) (?:repeats?|times|repetitions?|pairs?|goes)[,:]?(?: (?:${HAVE}|${THERE}|${LEAVES}))?${MODS} (\\d+)(?: ${STS})?${BEHIND}${END}`,
      'g',
    ),
    ([, count]) => ({ kind: 'some time', count: Number(count) }),
  ],
  // "72 sts after Rnd 16", "52 sts at the end of the 12th rnd"
  [
    new RegExp(
      `(?:^|[\\s(:])(\\d+) ${STS}(?: left| remain| remaining)? (?:after|at the end of|by the end of|on completing|on) (?:the )?${NTH}(?: is done)?${END}`,
      'g',
    ),
    ([, count, a, b]) => after(num(a, b), Number(count)),
  ],
  // "40 after rnd 10", "8 left after 14"
  [
    new RegExp(
      `(?:^|[\\s(:,])(\\d+)(?: ${STS})?(?: left| remain| remaining| there)? (?:after|by) (?:${UNIT} )?(\\d+)${END}`,
      'g',
    ),
    ([, count, round]) => after(Number(round), Number(count)),
  ],
  // "16 sts at the end"
  [
    new RegExp(`(?:^|[\\s(:,])(\\d+) ${STS}(?: left)? at (?:the )?(?:very )?end${END}`, 'g'),
    ([, count]) => ({ kind: 'at last', count: Number(count) }),
  ],
  // "after round 6 you will have 48", "at the end of the 12th rnd: 52"
  [
    new RegExp(
      `\\b${ON_DONE} (?:the )?${NTH}(?: is (?:done|worked|finished|complete))?[,:]?(?: (?:${HAVE}|${THERE}|${LEAVES}))?${MODS} (\\d+)(?: ${STS})?${BEHIND}${END}`,
      'g',
    ),
    ([, a, b, count]) => after(num(a, b), Number(count)),
  ],
  // "Round 16 finishes with 40 stitches, round 20 with 8"
  [
    new RegExp(
      `\\b(?:the )?${NTH}(?: (?:now|then|should|will))*(?: (?:finish(?:es)?|ends?|closes?|leaves?|gives?|comes out|is finished|stops))?(?: (?:you|us))?(?: (?:with|at|on|=|:))?${MODS} (\\d+) ?(?:${STS})${BEHIND}${END}`,
      'g',
    ),
    ([, a, b, count]) => after(num(a, b), Number(count)),
  ],
  [
    new RegExp(
      `\\b(?:the )?${NTH} (?:with|leaves|gives|on|at|ends with) (\\d+)${BEHIND}${END}`,
      'g',
    ),
    ([, a, b, count]) => after(num(a, b), Number(count)),
  ],
  // "The last row is row 12", "The last row is a right-side one (row 15)"
  [
    new RegExp(
      `\\b(?:the |your |our )?last (?:one|of (?:these|them|all)|${UNIT}) (?:is|was|will be)(?: then)?(?: an? [a-z -]{2,24} (?:one|${UNIT}))?[ ,:(]{1,3}(?:(?:this is|that is|number|no) )?${UNIT} (\\d+)${END}`,
      'g',
    ),
    ([, round]) => ({ kind: 'at round', round: Number(round) }),
  ],
  // "it is Round 20", "you have just finished Round 8"
  [
    new RegExp(
      `\\b(?:it is(?: now)?|(?:you|we) (?:have |are )?(?:now |just |then )*(?:finished|done|worked|completed|at(?: the end of)?|behind))(?: the end of)? ${UNIT} (\\d+)${END}`,
      'g',
    ),
    ([, round]) => ({ kind: 'at round', round: Number(round) }),
  ],
];

/** Of one part: "six to a needle", "the needles hold 6 sts each". */
export const OF_PARTS: readonly CountFrame[] = [
  [
    new RegExp(
      `\\b(?<!\\d+ x |\\d+x)(\\d+)(?: ${STS})?(?: (?:are|is|left|now|remain|there))* (?:per|to an?|an?|(?:on|in|to|for|at) (?:each|every)|(?:on|in) each of (?:the |your )?(\\d+)) ${PART}(?: now)?${END}`,
      'g',
    ),
    ([, count, parts]) => onEach(count, parts),
  ],
  [
    new RegExp(
      `\\b(?:(?:the|your|our|all|both) )*(?:(\\d+) )?${PART} (?:now |still |then |should |all )*(?:hold|have|carry|contain|show|hold|get)(?: now| only| just)* (\\d+)(?: ${STS})? (?:each|apiece)${END}`,
      'g',
    ),
    ([, parts, count]) => onEach(count, parts),
  ],
  // "(4 x 6)"
  [
    new RegExp(`\\b(\\d{1,2}) ?(?:x|times) ?(\\d+)(?: ${STS})?${END}`, 'g'),
    ([, parts, count]) => ({ kind: 'each', count: Number(count), parts: Number(parts) }),
  ],
  // "that is 6 and 6 and 6 and 6"
  [
    /\b(?:that is|thus|ie|i e|namely|or) ((\d+)(?:(?: and|,|,? plus| \+)+ \2){1,11})(?![\d ]*(?:sts|stitch))(?=[\s.,;:!)]|$)/g,
    ([, sum, each]) => ({
      kind: 'each',
      count: Number(each),
      parts: (sum.match(/\d+/g) ?? []).length,
    }),
  ],
];

/** Of the moment. */
export const OF_NOW: readonly CountFrame[] = [
  // "you have reached round 9: 40 sts", "you are now at the end of round 9 with 40 sts"
  [
    new RegExp(
      `\\b(?:you|we) (?:have |are |will be )?(?:now |then )*(?:reached?|at|behind|through)(?: the end of)? (?:the )?${NTH}(?: ?[,:]| with| and)* (\\d+) ${STS}${BEHIND}${END}`,
      'g',
    ),
    ([, a, b, count]) => after(num(a, b), Number(count)),
  ],
  [
    new RegExp(
      `(?:^|\\W)(?:${HAVE}|${THERE}|${LEAVES}|${TO_END})${MODS} ${COUNT}(?: (?:for|on|in) (?:this|the) (?:round|row))?${END}`,
      'g',
    ),
    ([, count]) => ({ kind: 'now', count: Number(count) }),
  ],
  [
    // "24 remain", "24 stitches left"
    new RegExp(
      `(?<!\\bof (?:the |these |your )?)(?:^|[\\s(])(\\d+)(?: ${STS})? (?:remain|remaining|are left|left over|left|stay|on the needles?)${BEHIND}${END}`,
      'g',
    ),
    ([, count]) => ({ kind: 'now', count: Number(count) }),
  ],
  [
    new RegExp(`${BARE}(?:only |just |exactly |still )?${COUNT}${END}`, 'g'),
    ([, count]) => ({ kind: 'now', count: Number(count) }),
  ],
  // ", 24 in all"
  [
    new RegExp(
      `(?<!(?:rounds|rnds|rows|times)[,;] ?)(?:^|[,;(] ?|\\band )(?<!(?:rounds|rnds|rows|times)[,;] ?)(\\d+)(?: ${STS})? (?:in all|altogether|total|in total|all told)${END}`,
      'g',
    ),
    ([, count]) => ({ kind: 'now', count: Number(count) }),
  ],
  // "24 sts?", "Still with me? 24 stitches - …"
  [
    new RegExp(
      `(?:^\\W*|[?!.;:-] )(?:and |so |then |now |that is )*(\\d+) ${STS}${BEHIND}(?=\\s*(?:[.?!;:)]|- |$))`,
      'g',
    ),
    ([, count]) => ({ kind: 'now', count: Number(count) }),
  ],
  // "…, and the end of round 23"
  [
    new RegExp(
      `^\\W*(?:and|which is|at|to)(?: (?:at|to|so|thus))* (?:the )?end of (?:the )?${NTH}${END}`,
      'g',
    ),
    ([, a, b]) => ({ kind: 'at round', round: num(a, b) }),
  ],
];
