/**
 * Counts that a sentence tells, and which can be held against the piece: stitches now, on each side, after some round, rounds
 * worked, stitches lost. In: the words of a sentence, in lower case. Out: what they tell, in order.
 */
import { type CountFrame, OF_NOW, OF_PARTS, OF_ROUNDS, onEach } from './counts-now.ts';
import { OF_SHARES } from './counts-of-shares.ts';

export type ToldCount =
  | { readonly kind: 'now' | 'each' | 'changed'; readonly count: number; readonly parts?: number }
  /** Lost or gained whenever the shaped round is worked; with `side` on each of them. */
  | { readonly kind: 'each time'; readonly count: number; readonly side: boolean }
  | { readonly kind: 'rounds'; readonly count: number; readonly shaping: string }
  /** `nth`: of the shaped rounds, else the round of that number. */
  | {
      readonly kind: 'after';
      readonly round: number;
      readonly nth: boolean;
      readonly count: number;
    }
  /** So many are left when all is worked. */
  | { readonly kind: 'at last'; readonly count: number }
  /** Some round leaves so many. */
  | { readonly kind: 'some time'; readonly count: number }
  /** The round of that number is the last that has been worked. */
  | { readonly kind: 'at round'; readonly round: number }
  | { readonly kind: 'list'; readonly counts: readonly number[] }
  /** So many parts of so many: "a quarter of them, 12". */
  | { readonly kind: 'share'; readonly part: number; readonly of: number; readonly count: number }
  /** "48 minus 8 is 40" */
  | { readonly kind: 'sum'; readonly count: number; readonly is: number }
  /** Rounds that were purled, or the ridges that they make. */
  | { readonly kind: 'purled' | 'ridges'; readonly count: number };

const STS = '(?:sts?|stitch(?:es)?|loops?)';
const ROUNDS = '(?:rounds|rnds|rows)';
const PART = '(?:needles?|ndls?|dpns?|sides?|sections?|quarters?|wedges?|panels?|segments?)';
const SHAPING = '(decrease |increase |decreasing |increasing )?';
const ALL = '(?: (?:in all|altogether|so far|in total|by now|all told|already|up to here|now))*';
const END = '(?=\\s*(?:[.,;:!)]|$|and\\b|so\\b|but\\b|since\\b|because\\b|as\\b))';
const ORDER = ['', 'first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth'];
const SOME =
  '(?:there (?:are|were|should be|must be|will be)|you (?:have|had|should have|will have))(?: now| just| only| still)*';

const FRAMES: readonly CountFrame[] = [
  ...OF_ROUNDS,
  [
    new RegExp(
      `\\b(?:you|we|this|it|each|every|which)(?: \\w+){0,3}? (?:loses?|gains?|takes? away|sheds?) (\\d+)(?: ${STS})?(?:(,)? ((?:\\d+ )?(?:per|(?:on|in|to|for|at) (?:each|every)) ${PART}))?(?: (?:each|every) (?:time|round|rnd|row)| whenever you (?:do|work) it)?${END}`,
      'g',
    ),
    ([, count, comma, part]) => ({
      kind: 'each time',
      count: Number(count),
      side: part !== undefined && comma === undefined,
    }),
  ],
  [
    new RegExp(
      `\\b(?:after|at the end of|on completing|by) (?:round|rnd|row) (\\d+),? ${SOME} (\\d+)(?: ${STS})?(?: left)?${END}`,
      'g',
    ),
    ([, round, count]) => ({
      kind: 'after',
      round: Number(round),
      nth: false,
      count: Number(count),
    }),
  ],
  [
    new RegExp(
      `\\bafter the (?:(\\d+)(?:st|nd|rd|th)|(${ORDER.slice(1).join('|')})) (?:de|in)crease (?:round|rnd|row),? ${SOME} (\\d+)(?: ${STS})?(?: left)?${END}`,
      'g',
    ),
    ([, n, word, count]) => ({
      kind: 'after',
      round: Number(n) || ORDER.indexOf(word),
      nth: true,
      count: Number(count),
    }),
  ],
  [
    new RegExp(
      `(?:^\\W*|\\b(?:counts?|totals?|rounds (?:leave|give))\\b[^\\d.;]{0,40}? )(\\d+(?:,? (?:and )?\\d+){2,})(?: ${STS})?(?=[ .]*$)`,
      'g',
    ),
    ([, list]) => ({ kind: 'list', counts: (list.match(/\d+/g) ?? []).map(Number) }),
  ],
  [
    new RegExp(
      `\\b(?:each|every)(?: (?:one )?of (?:the |your )?(\\d+))? ${PART} (?:now |still |then )*(?:has|have|holds?|carr(?:y|ies)|counts?|contains?|is|shows|should (?:have|hold)) (?:now |only |just |still )*(\\d+)(?: ${STS})?(?: left| now| on it)*${END}`,
      'g',
    ),
    ([, parts, count]) => onEach(count, parts),
  ],
  [
    new RegExp(
      `\\b(\\d+)(?: ${STS})?(?: (?:are|is|left|now|remain|there))* (?:per|to a|(?:on|in|to|for|at) (?:each|every)|(?:on|in) each of the (\\d+)) ${PART}(?: now)?${END}`,
      'g',
    ),
    ([, count, parts]) => onEach(count, parts),
  ],
  [
    new RegExp(
      `\\bbetween (?:the |each pair of |every 2 |2 )?markers,? there (?:are|should be) (?:now )?(\\d+)(?: ${STS})?${END}|\\b(\\d+) ${STS} (?:left |now )?between (?:the |each pair of |every 2 |any 2 )?markers(?: now)?${END}`,
      'g',
    ),
    ([, one, other]) => ({ kind: 'each', count: Number(one ?? other) }),
  ],
  [
    new RegExp(
      `\\b(?:(?:that|this|which|it) (?:was|is|makes|made) (?:now )?|(?:you|we) (?:will |should |now )*have (?:now )?(?:worked |knitted |done |finished )?|^\\W*)(\\d+) ${SHAPING}${ROUNDS}(?: of [a-z]+)?(?: are| have been| were)?(?: now)?(?: (?:worked|done|knitted|finished))?${ALL}${END}`,
      'g',
    ),
    ([, count, shaping]) => ({ kind: 'rounds', count: Number(count), shaping: shaping ?? '' }),
  ],
  [
    new RegExp(
      `\\b(?:you|we) (?:have |had )?(?:now |just )*((?:de|in)crease)d (\\d+) times${ALL}${END}`,
      'g',
    ),
    ([, shaping, count]) => ({ kind: 'rounds', count: Number(count), shaping }),
  ],
  [
    new RegExp(
      `\\b(?<!of the )(\\d+) (?:of the (?:\\d+ )?)?${STS} (?:have|has|are|is) (?:now |been |already )*(?:decreased|increased|lost|gained|added|gone)${ALL}${END}|\\b(?:you|we) have (?:now |just |already )*(?:lost|gained|decreased|increased|added) (\\d+) ${STS}${ALL}${END}`,
      'g',
    ),
    ([, one, other]) => ({ kind: 'changed', count: Number(one ?? other) }),
  ],
  [
    new RegExp(
      `\\b(?:the |your )?(?:stitch )?count(?::| is| should be)(?: now| still)* (\\d+)(?: ${STS})?${END}|\\bof the \\d+ ${STS} (\\d+) (?:are|remain)(?: now)?(?: left)?${END}`,
      'g',
    ),
    ([, one, other]) => ({ kind: 'now', count: Number(one ?? other) }),
  ],
  ...OF_SHARES,
  ...OF_PARTS,
  ...OF_NOW,
];

/** "When you come out at the other end there are …": the clause tells of the moment that has come. */
const BY_NOW =
  /(^|[.,;:(] ?|\b(?:and|so) )(?:when|once|if|by the time|as soon as) (?:you|we)(?: (?:have|are|will have))?(?: (?:now|just|all|then|only))* (?:come|comes|get|gets|got|reach|reached|finish|finished|done|do|work|worked|knit|knitted|arrive|arrived|count|counted|stop|stopped)\b[^,;:\d]*?(?:[,;:]|(?= (?:it is|there|you|that|we)\b))/;

/** The words without what only tells that they hold now. */
export function atHand(words: string): string {
  return words.replace(BY_NOW, '$1');
}

/** All that is told, and the words that tell something else. */
export function toldCounts(words: string): { readonly told: ToldCount[]; readonly rest: string } {
  const told: ToldCount[] = [];
  let rest = atHand(words)
    .replace(/\s+/g, ' ')
    .replace(/ (?=[,.;:!])/g, '');
  if (!/\d/.test(rest) || rest.length > 400) return { told, rest };
  for (const [frame, means] of FRAMES)
    rest = rest.replace(frame, (...m: string[]) => {
      told.push(means(m));
      return '';
    });
  return { told, rest };
}

/** What is said around a count and asks for nothing. */
const IDLE =
  /\b(?:and|so|now|then|that|is|or|with|thus|checkpoints?|check|checked|half ?way|again|here|good|great|right|phew|sanity|(?:give|do) (?:it|them|those|that|you)?(?: a)?(?: quick)? (?:count|check)|(?:stop|pause) (?:to|and) count|count (?:them|again|now)|count|mate|love|dear|folks|please|still(?: with me)?|ok|okay|hooray|done|if all (?:is|went|has gone) well)\b/g;

/** The sentence tells counts and nothing besides. */
export function tellsCountsAlone(words: string): boolean {
  const { told, rest } = toldCounts(words);
  return told.length > 0 && !/[a-z0-9]/.test(rest.replace(IDLE, ''));
}
