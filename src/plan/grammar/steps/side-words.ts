/**
 * Sides, needles and halves of a round, in the wordings that several sorts of step share: before the stitches ("on each
 * side:"), behind them ("repeat on each needle"), by number ("needles 1 and 3"), and the others. Data alone: sticky
 * expressions, and rules (`wording.ts`) that make part of others.
 */
import { raw } from '../../lexicon/expression.ts';
import { wording } from './wording.ts';

const LIST = '{ { , and? | and|&|+|-|to } the? n|needle? ~\\d(?:st|nd|rd|th)?(?![\\d/]) }';
const NTHS = '{ { , and? | and|&|+|-|to } the? % }';
/** `needles 1, 2 and 4`, `n1-n4`, `the 2nd, 3rd and 4th needles`, `front needle` */
export const NAMED = `{ the? { @side|n ~\\d(?![\\d/]) ${LIST}* | % ${NTHS}* @side | front|back needle } }`;
/** "each of the other 3 needles", "the remaining sides" */
export const OTHERS = raw`{ { all|each|every of? }? the? other|remaining|rem|rem. other|remaining|rem|rem.* { ~\d(?!\d) @side? | @side } }`;
const ALIKE = '{ the same way? | alike|likewise|similarly|too | as well | in the same way }';

const EACH = '{ each|every|per|all the|#? } { of the? #|~? }? #?';
/** "on each side work (ssk, …)"; "on each side work to the last 2 sts" works as far as that. */
const WORK = '{ work|worked ~(?!\\s*(?:to|until|till|up|even|in|across|straight|as\\s+set)\\b) }?';
/** Before the stitches. */
export const EACH_SIDE = wording(
  `(? work|do? { at the? start|beginning|beg of | on|upon|for|along|across|at|in|over|within? } ${EACH} @side { of the square|round|rnd }? ${WORK} { as follows | thus | the same way? }? )? :|,|-?`,
);
/** Behind the stitches. */
export const TRAIL_EACH_SIDE = wording(
  `~\\s* ,|;|.|-* { and? rep|repeat|work|do on? the? needle|needles|side|sides # ${LIST}* ${ALIKE} | { rep|repeat|work|do { this|that|so | the same }? | the? same }? once? on|upon|along|for|across|at|between|in|over|around|round|until { each|every|all | the? other|remaining|rem|rem. | the? next ~(?=\\s+[2-9]\\s) } the|other|remaining|rem.|rem|#* { of the? #|~? }? #? { @side | pair|pairs of the? markers | marked? marker|markers|corner|corners|st|sts|stitch|stitches ~(?<=corners?|markers?|marked\\s(?:st|sts|stitch|stitches)) } { have|has been worked|knitted|done|completed }? }`,
);
/** "at each of the other 3 corners": how often in all; null where no number of corners or markers is told. */
export function cornersIn(words: string): number | null {
  const m =
    /\b(other|remaining|rem\.?)?\s*(\d)\s+(other|remaining)?\s*(?:marked\s+(?:sts?|stitch(?:es)?)|(?:corner|marker)s?)\b/.exec(
      words,
    );
  return m && Number(m[2]) + (m[1] || m[3] ? 1 : 0);
}
/** "*…* on each needle" */
export const CLOSE_EACH = wording(
  `{ { rep|repeat|work|same | do this? | the same }? on|upon|for|along|across|in }? ${EACH} @side`,
  '(?!\\s*:)',
);
const NEEDLES = `{ ${NAMED} | the? ~\\d(?:st|nd|rd|th)?(?![\\d/]|\\s*(?:times|x)\\b) ${LIST}* @side? | { all|each|every of? }? the? { other|remaining|rem|rem.|# | rest of the } { other|remaining|# }* @side }`;
/** "on needles 2, 3 and 4", "the same over the other needles", "the other needles are worked alike" */
export const ON_NEEDLES = wording(
  `~\\s* ,|;|:? { do|work|repeat|rep|same|likewise again? | the same again? | do the same }? { on|for|with|over|along ${NEEDLES} ${ALIKE}? | ${NEEDLES} are|is|all|worked|knitted|done|then* ${ALIKE} }`,
);
/** "ssk at the start of each side, then …": told for one side. */
export const AT_START = wording('~\\s* ,? at the start|beginning|beg of each|every @side');
/** "k2tog at the beginning, knit to end": where the first stitch of a row stands anyway. */
export const AT_ROW_START = wording(
  '~\\s* ,? at the start|beginning|beg { of the|each|every|this? @unit }?',
  '(?=\\s*(?:,|;|and\\b|then\\b))',
);
/** "to the last 2 sts of each side": the round is told for one side. */
export const ON_EACH_SIDE = new RegExp(
  wording('to|until the? last #? @sts of|on each|every @side').source,
);
/** "on each half" of the stitches, as they lie on two tips of one needle. */
export const EACH_HALF = wording(
  `on|over|for|across|along|in? each|both|either { of the #? }? half|halves ${WORK} { as follows | thus }? :|,|-?`,
);
