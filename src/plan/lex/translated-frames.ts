/**
 * Turns of translators that are built of parts rather than said in one word: which way a decrease leans, which of the stitches
 * lies on top ("right-over 2 at once"), and that something is repeated. In: the text in the trade's words. Out: places, and what
 * they are read as.
 */
import { raw } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { BEGINS, COUNT, reads, readWording, STS, type Wording } from './wording.ts';

const LEANS = '(?:slant|lean|slop|inclin|tilt|skew|point|look|turn)';
const TOWARDS = `(?:(?:${LEANS}(?:e?d|ing)|with (?:an? |the )?(?:${LEANS}(?:e|ation|ing)?|slope|inclination|bias|tilt)),? )?(?:to|towards?|on)(?: the)? (right|left)|with (?:an? )?(?:${LEANS}|slope|inclination) (right|left)|${LEANS}(?:e?d|ing) (right|left)|(right|left)[- ]${LEANS}(?:e?d|ing)`;
const LEANING = `(?:(right|left)[- ]${LEANS}(?:e?d|ing)|${LEANS}(?:e?d|ing)(?: to)?(?: the)? (right|left))`;
const TWO_TOGETHER = `(?:(?:simple |single )?dec(?:rease)?s?|(?:knit |k |work )?(?:2|two)(?: ${STS})?(?: knit)? tog(?:ether)?\\.?(?: in knit| knit)?|k2tog)`;
const side = (m: RegExpExecArray): string =>
  m.slice(1).find((part) => part && /^(?:right|left)$/i.test(part)) ?? '';
const lean = (m: RegExpExecArray): string => (/^r/i.test(side(m)) ? 'k2tog' : 'ssk');

const SIDE = '(right|left|cent(?:re|er)|middle)';
const TOP = '(?:over|upper|on[- ]top|top|above|overlapping|up)';
const AT_ONCE = `(?:[ -]?(?:${STS}))?[ -](?:at[ -](?:once|a[ -]time)|in[- ](?:1|one)|tog(?:ether)?|into[- ](?:1|one)|as one)`;
/** Which of the stitches lies on top, of two and of three. Source: common practice. */
const ON_TOP: Readonly<Record<string, string>> = {
  right2: 'skp',
  left2: 'k2tog',
  right3: 'sk2p',
  left3: 'k3tog',
  centre3: 's2kp',
};
const onTop = (where: string, n: string): string | null => {
  const which = /^[cm]/i.test(where) ? 'centre' : where.toLowerCase();
  return ON_TOP[`${which}${/^(?:3|three)$/i.test(n) ? 3 : 2}`] ?? null;
};

const OVER_DRAWN =
  '(?:over ?(?:drawn|pulled|lifted|laid|cast|hauled|taken|lapped)|drawn over|pulled over|lifted over)';

const THAT_IS = '(?:i\\. ?e\\.|ie|that is(?: to say)?|namely|viz\\.?)';
const ADVERB =
  '(?:always|constantly|continually|continuously|continuing|for ?ever|steadily|on and on|ever(?: again)?|throughout|thus|so(?: on)?|likewise|over and over(?: again)?|again and again|all the time)';
const AGAIN = raw`(?:rep(?:eat(?:ed|ing)?)?\.?|take(?:n)? up(?: again)?|take(?:n)? again|retake|resume|reprise|begin again|start again|go back|return|restart|pick up again|redo|renew|again)`;
const STARS = raw`(?:(?:from |between |the |of )?(?:the )?\*(?: ?(?:to|till|until|up to|and|[-–]) ?(?:the )?\*)?)`;
const THE_ROUND =
  '(?:(?:,? (?:all|for all|over all|throughout|through|over|along|during|in|for|until|till|up to|to))?(?: the)?(?: whole| entire| complete)?(?: end of)?(?: the)? (?:rounds?|rnds?|rds?|rows?|needles?)(?: out| round| around| to the end| through| long)?|,? (?:to|till|until) the end(?: of (?:the )?(?:round|rnd|row|needle))?)';

/** What the grammar reads itself stays as it is. */
const again = ([all, ...told]: RegExpExecArray): string | null =>
  /^rep(?:eat)?\.? (?:from )?(?:the )?\*(?: to (?:the )?\*)?(?: to (?:the )?end(?: of (?:the )?(?:round|rnd|row|needle))?)?$/i.test(
    all,
  ) ||
  (/^rep/i.test(all) && told.every((part) => part === undefined))
    ? null
    : 'rep from *';

const FRAMES: readonly Wording[] = [
  // "2 sts together to the right", "dec slanted to the left", "left-leaning 2 together", "2 left-leaning tog"
  reads(
    lean,
  )`\b(?<!k3tog |3 (?:sts )?)(?:(?:1|one|a) )?${TWO_TOGETHER},? ?(?:${TOWARDS})(?! (?:side|edge|of|needle|hand|end|marker)\b| ?:)(?: \((?:= ?)?(?:k2tog|ssk|skpo?)\))?`,
  reads(
    lean,
  )`\b(?:(?:1|one|a) )?(?:${LEANING} ${TWO_TOGETHER}|(?:2|two)(?: ${STS})? ${LEANING},? tog(?:ether)?\.?)(?![a-z])(?: \((?:= ?)?(?:k2tog|ssk|skpo?)\))?`,
  reads(
    lean,
  )`\b(?<=[,;:*(] ?|\b(?:and|needle|then) )(?:2|two)(?: ${STS})? tog(?:ether)?\.? (right|left)(?=[ ]?[,;.*)]|$)`,
  // "right-over 2 at once", "2 at once with the right on top"
  reads((m) => {
    const [where = '', n = ''] = [/^[rlcm]/i, /^[t\d]/i].map((sort) =>
      m.slice(1).find((part) => part && sort.test(part)),
    );
    return onTop(where, n);
  })`\b(?:(?:1|one|a) )?(?:(?:${SIDE}[ -](?:st(?:itch)? )?${TOP},? ?|upper[ -]${SIDE} )(2|two|3|three)${AT_ONCE}|(2|two|3|three)${AT_ONCE},? (?:with |so that )?(?:the )?${SIDE}(?: (?:one|st|stitch))?(?: (?:lies|being|lying))? (?:on top|over|above|uppermost))(?![a-z])`,
  // "2 sts drawn over together", "knit 3 together overdrawn"
  reads(([, n]) =>
    /^(?:3|three)$/i.test(n) ? 'sk2p' : 'skp',
  )`\b(?:(?:knit|k|work) )?(2|two|3|three)(?: ${STS})? (?:${OVER_DRAWN} tog(?:ether)?(?![a-z])|tog(?:ether)?,? ${OVER_DRAWN}(?![a-z]))`,
  // "take up again from * to *", "from * to * always", "* always repeat"
  reads(
    again,
  )`(?<=[;,.)*\]] ?)(${ADVERB} )?${AGAIN} (${ADVERB} )?${STARS}( ${ADVERB}|${THE_ROUND})?(?=[ ]?(?:[.;,=(]|$)| (?:to (?:the )?end|\d|${COUNT} times|until)\b)`,
  reads(
    'rep from *',
  )`(?<=[;,.)*\]] ?)${STARS} (?:${ADVERB}(?: ${AGAIN})?|${AGAIN}(?: ${ADVERB})?)${THE_ROUND}?(?=[ ]?(?:[.;=(]|$))`,
  reads('rep from *')`(?<=\*[;,]? ?)(?:and )?${ADVERB}(?: ${AGAIN})?(?=[ ]?(?:[.;=(]|$))`,
  reads('repeat to end')`(?<=[)\]],? ?)repeat(?:${THE_ROUND})?(?=[ ]?(?:[.;=]|$))`,
  // "knit all 2 by 2 together", "always 2 together"
  reads(
    ([, n]) => `always knit ${n} together`,
  )`(?<=[,;:*(] ?|\b(?:knit|k|round) )(?:knit )?always (?:knit )?(${COUNT})(?: ${STS})? tog(?:ether)?(?: in knit)?(?![a-z])`,
  reads(
    'k2tog to end',
  )`(?<=: ?|^|\. |\band )all (?:the )?${STS},? (?:2|two) (?:by|and) (?:2|two) tog(?:ether)?(?![a-z])`,
  // "weave 3 rounds"
  reads(
    'knit',
  )`${BEGINS}weave(?= (?:${COUNT} (?:rounds?|rows?)|in (?:the )?(?:moss|garter|stock|rib|reverse)))`,
  // "Round 1: all purl stitches"
  reads('$1')`(?<=: ?)(?:all (?:the )?)?(knit|purl) ${STS}(?=[ ]?(?:[.;,(=]|$))`,
  // "bind off loosely", however it is said
  reads(
    'loosely',
  )`\b(?<=\b(?:off|close|bind|cast)[^.;\n]{0,40} )(?:supple|supply|slack|slackly|soft|softly|limply|lightly)(?=[ ]?(?:[.;,]|$)| in | all | with )`,
  // "decrease, i.e. k2tog, …": what follows is how
  reads(
    'on $1 ',
  )`\b(?:at|towards?) the end of ((?:every|each) needle),? (?:decrease|narrow|take in)(?: ${COUNT}(?: ${STS})?)?,? ${THAT_IS}[,:]? (?=(?:work|knit|k|purl|p) (?:to|until|till|up)\b)`,
  // "take 1 loose, knit to the last"
  reads(
    'sl $1',
  )`\b(?<=[,;:*(] ?|\b(?:and|then|needle) )(?:take|lift)(?: off)? (1|one|2|two|the (?:first|last)(?: ${STS})?)(?: ${STS})? (?:loose(?:ly)?|off)(?: (?:off|loose(?:ly)?))?(?=[ ]?[,;.)]| (?:and|then) )`,
  // "moss stitch, according to how the stitches present themselves"
  reads(
    '',
  )`\b(?<=\b(?:stitch|rib|pattern|decreas\w+|rounds?|rows?),? )(?:according to|following|just as|as)(?: how)? the ${STS} (?:as they )?(?:present|show|appear|come|look|lie|fall)(?: themselves)?(?=[ ]?(?:[.;,)]|$)| (?:up )?(?:to|until|till)\b)`,
  reads(
    '',
  )`\b(?:decrease|increase|narrow|widen|shape)(?: ${COUNT}(?: ${STS})?)?,? ${THAT_IS}[,:]? (?=(?:k|p|knit|purl|work|slip|sl|ssk|skp|yo|m1|kfb|\d)(?![a-z]))`,
  // "2 together twisted (i.e. through the back loops)"
  reads(
    'k2tog tbl',
  )`\b(?:knit )?(?:2|two)(?: ${STS})? tog(?:ether)?\.? (?:twisted|crossed)(?: \((?:= ?|i\.? ?e\.? ?|that is )?(?:in|through|tbl)[^()\n]{0,30}\))?(?![a-z])`,
  // "k2tog (= k2tog)"
  reads(([, one, two]) =>
    one.toLowerCase() === two.toLowerCase() ? one : null,
  )`\b(k2tog|ssk|skp|sk2p|s2kp|k3tog|yo|m1) \((?:= ?)?(k2tog|ssk|skp|sk2p|s2kp|k3tog|yo|m1)\)`,
  // "are to be repeated constantly"
  reads(
    'repeat $1 $2',
  )`${BEGINS}(?:the )?((?:(?:\d+(?:st|nd|rd|th)|first|second|third|fourth)(?:,? (?:and|to|&) |[-–, ]+)?(?:the )?)+ (?:rounds?|rnds?|rds?|rows?)|(?:rounds?|rnds?|rds?|rows?) \d+(?:(?:,? (?:and|to|&) |[-–])\d+)*|these (?:\d |two |2 )?(?:rounds|rows)) (?:(?:are|is) (?:to be )?)?(?:${ADVERB} )?repeat(?:ed)?(?: ${ADVERB})?,? ?((?=until|till|\d|[.;]|$))`,
  reads(
    '1 edge st',
  )`\b(?:1|one) ${STS} (?:of (?:the )?)?(?:edge|selvedge|selvage|border)(?=[ ]?[,;.*)]|$)`,
  // "other 3 times", "16 on each one", "k2 / p2" of a rib
  reads('$1 more times')`\b(?<!the )(?:others?|another) (${COUNT}) times(?![a-z])`,
  reads('$1 more times')`\b(${COUNT}) (?:others?|further) times(?![a-z])`,
  reads('$1, $2')`\b([kp]\d) ?/ ?([kp]\d)(?![a-z\d/])`,
  // "80 sts cast on and divide"
  reads(
    'cast on $1',
  )`${BEGINS}(${COUNT} ${STS}) (?:cast|set|lay|put|strike|loop|take) (?:on|up)(?![a-z])`,
  // "cast all sts off"
  reads('$1 off $2')`\b(cast|bind) ((?:all )(?:the )?(?:remaining )?${STS}) off\b`,
];

/** What a stitch is for, before it is told: "then reduce to the left: skp". */
const PURPOSES: readonly Wording[] = [
  reads(
    '',
  )`\b(?<=[,;:*(] ?|\b(?:and|then|needle) )(?:(?:make|work) (?:a|1|one) )?(?:decrease|dec|reduce|narrow|shape|lessen|shorten)(?:,? (?:1|one|(?:1|one) st(?:itch)?|once|to(?:wards)? the (?:left|right)|as follows|thus|like this|so|here|by)){0,4} ?[:,] ?(?=(?:skp|ssk|sk2p|s2kp|k2tog|k3tog)\b)`,
];

export const otherFrames = (text: string): Replacement[] =>
  FRAMES.flatMap((frame) => readWording(text, frame));
export const purposes = (text: string): Replacement[] =>
  PURPOSES.flatMap((purpose) => readWording(text, purpose));
