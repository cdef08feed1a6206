/**
 * Old and translated word order, told as a plan of today tells it: "16 st. knit", "1 st loose off, … draw the loose st
 * over", "the first 2 and the last 2 sts knit together", "to repeat the last two rows". Data of `wordings.ts`.
 */
import { STITCHES_BY_NUMBER } from './stitches-by-number.ts';
import { TRANSLATED } from './translated-words.ts';
import { BEGINS, COUNT, NTH, ONE, reads, STS, WORK_UNIT, type Wording } from './wording.ts';

/** Where a stitch begins among others, and where it ends. */
const HERE = '\\b(?<=[,;:*()\\[\\]][ ]{0,2}|\\b(?:then|and) )';
const DONE = '(?=[ ]?(?:[,;.*()\\[\\]=]|$)| (?:and|then|&)\\b)';
const OWN_SIDE = '(?:needle|ndl|pin|dpn|side|section|quarter)';
const LOOSE =
  '(?:loose(?:ly)? off|off(?: loose(?:ly)?)?|unknitted|unworked|without knitting(?: it)?)';
const AS_IF = '(?: (?:knitwise|purlwise|as if to (?:knit|purl)))?';

/** "= 8 st felled", "the felling rounds": a translator's decreases. */
const FELLED: Readonly<Record<string, string>> = {
  '': 'decrease',
  ing: 'decrease',
  ings: 'decreases',
  ed: 'decreased',
};

const INFINITIVES =
  'repeat|knit|purl|work|continue|cut|break|pass|thread|draw|pull|fasten|sew|cast on|cast off|bind off|close|join|place|mount|decrease|increase|slip|block|wash|leave|turn|divide|distribute|gather|tighten|secure|hide|weave';

export const WORD_ORDER: readonly Wording[] = [
  ...TRANSLATED,
  ...STITCHES_BY_NUMBER,
  // "Working: Take up 68 sts": a heading
  reads(
    '',
  )`^[ \t]{0,8}(?:working|knitting|way of working|method of working|manner of working)(?: (?:method|way|manner|instructions?))?[ ]?:[ ](?=(?:cast|mount|take|put|lay|strike|set|with|using|on|make)\b)`,
  // "the first 2 and the last 2 sts of every needle knit together"
  reads(
    ([, what, verb]) => `${/^p/i.test(verb) ? 'purl' : 'knit'} ${what} together`,
  )`${HERE}((?:the )?first ${COUNT} (?:${STS} )?and (?:the )?last ${COUNT} (?:${STS} )?(?:of|on) (?:each|every|the) ${OWN_SIDE}) (?:are )?(knit(?:ted)?|purl(?:ed)?|k|p) tog(?:ether|\.)?(?![a-z])`,
  // "until 2 st remain before the next mark, knit these together"
  reads(
    ([, n, verb]) => `${/^p/i.test(verb) ? 'purl' : 'knit'} ${n} together`,
  )`\b(?<=\b([2-4]|two|three|four) (?:${STS} )?(?:remain|remains|remaining|are left|left|before|on)\b[^.;*\n]{0,50}[,;] ?(?:and |then )*)(knit|purl|k|p|take|work) (?:these|those|them|both)(?: (?:last )?(?:2|3|4|two|three|four))?(?: ${STS})? tog(?:ether|\.)?(?![a-z])`,
  // "take 1 st loose off", "lift off 2 sts", "1 st off loose"
  reads(
    ([, n, way]) => `slip ${n}${way ?? ''}`,
  )`\b(?:take|lift|slip|draw)(?: off)? (${COUNT})(?: ${STS})? ${LOOSE}(${AS_IF})(?![a-z])`,
  reads('slip $1 sts')`\b(?:lift|take) off (two|three|[23]) ${STS}(?![a-z])`,
  reads('slip 1')`${HERE}(?:1|one) ${STS} (?:${LOOSE}|lifted(?: off)?|taken off|loose)${DONE}`,
  // "slipped st pulled over"
  reads(
    'psso',
  )`(?:the )?(?:slipped|lifted|loose|slip) (?:${STS}|one) (?:is |then )?(?:pulled|drawn|passed|lifted|taken|put) over(?: (?:it|(?:the )?knit(?:ted)? (?:${STS}|one)))?(?![a-z])`,
  // "the next mark", "4 marks": what is hung in
  reads(
    'marker$1',
  )`\b(?<=\b(?:the|a|each|every|next|last|first|following|this|that|another|both|all|these|those|of|between|before|after|past|stitch|\d{1,2}|${ONE}) )mark(s?)\b(?! (?:the|each|every|off|this|it|your|as|where|out)\b)`,
  // "* After the marker: slip 1, …": there the round begins
  reads(
    '$1',
  )`([*(\[][ ]?)(?:after|past|beginning after) (?:the|each|every) mark(?:er)?[:,]?[ ](?=\S)`,
  // "2nd round.--Plain.", "1st and 3rd rows. - Knit"
  reads(
    ([, label, plain]) =>
      `${label.replace(/(\d*[23])d\b/g, (_, n: string) => n + (n.endsWith('2') ? 'nd' : 'rd'))}: ${plain ? 'knit' : ''}`,
  )`^([ \t]{0,8}(?:the )?(?:(?:\d{1,3}d|next|last|${NTH})(?:,? (?:and|to|&) |, ?)?){1,4} ${WORK_UNIT})(?:\.[ ]?[-–—]{1,3}|[-–—]{2,3})[ ]?(plain(?: knitting)?(?=[ ]?(?:\.|$)))?(?=[^\s-])`,
  reads(
    ([, n]) => `${n}${n.endsWith('2') ? 'nd' : 'rd'}`,
  )`\b(\d{0,2}[23])d(?= (?:${WORK_UNIT}|${STS}|needle)(?![a-z]))`,
  // "Rnd 1: knitted."
  reads(([, verb]) =>
    /^p/i.test(verb) ? 'purl' : 'knit',
  )`(?<=: )(knitted|purled)(?=[ ]?(?:[.;]|$))`,
  // "decrease at both ends of each needle by knitting two together"
  reads(
    ([, where, verb]) => `${/^p/i.test(verb) ? 'p' : 'k'}2tog ${where}`,
  )`\b(?:decrease|dec)(?: (?:1|one|a) (?:st|stitch))? ((?:at|on) (?:the |each |both |either )?(?:beginning|start|ends?)\b[^.;,\n]{0,60}?) by (knitting|working|taking|purling) (?:2|two) (?:${STS} )?tog(?:ether)?(?![a-z])`,
  // "between them knit"
  reads('$1 between them')`(?<=[;,] )(?:in )?between(?: them)? (knit|purl)(?=[ ]?(?:[.;]|$))`,
  // "knit plain until three remain", "plain to the last 3"
  reads('$1')`\b(knit|purl|k|p) plain(?= (?:to|until|till|across|up)\b)`,
  reads('knit')`${HERE}plain(?= (?:to|until|till)\b)`,
  // "right-leaning 2-together (k2tog)"
  reads(([, way, name]) =>
    name ? name : /^r/i.test(way) ? 'k2tog' : 'ssk',
  )`\b(right|left)[- ](?:leaning|slanting|sloping) (?:(?:2|two)[- ]together|dec(?:rease)?\b\.?)(?: \((k2tog|ssk|skpo?)\))?`,
  // "Then on the foll. rnds, without a plain rnd between:" over rounds that are told each
  reads(
    '',
  )`${BEGINS}(?:then |now |here |and )?(?:(?:on|in|for) (?:all )?(?:the|these) (?:foll\.?|following|next|remaining|last|other) ${WORK_UNIT},? )?(?:without|with no)(?: an?y?)? (?:plain|even|knit|purl|resting) ${WORK_UNIT}(?: in)? between(?: them)?:(?=[ \t]*$)`,
  // "without increase or decrease"
  reads(
    'without decreasing',
  )`\bwith(?:out| no) (?:any )?(?:in|de)creas(?:e|es|ing)s?,? (?:or|and|nor) (?:any )?(?:in|de)creas(?:e|es|ing)s?\b`,
  // "To repeat the last two rows, each time with …": an infinitive that asks; not "To work flat, cast on …"
  reads(
    '',
  )`${BEGINS}to (?=(?:${INFINITIVES})\b(?! ?:)(?![^.;:\n]{0,160}, (?!(?:to|and|each|every|with|until|till|always|in|on|from|for|leaving|by|as|without|at|working|decreasing|increasing|then|but)\b|\d))(?! (?:the |this |your |it )?(?:flat|square|bigger|smaller|up)\b))`,
  reads(
    '',
  )`\b(?<=, (?:and )?|\band )to (?=(?:pass|pull|draw|tighten|fasten|thread|sew|cut|close|secure|join|place|iron|block|knit|purl|repeat)\b(?! (?:end|last|first|the (?:end|last))\b))`,
  // "8 sts, which you gather on the tail": an order of its own
  reads(
    '. $1 them',
  )`\b(?<=\b(?:sts?|stitches|loops)),? which (?:you|we) (?:then |now |simply |just )?(gather|draw|pull|thread|bind off|cast off|run|close|fasten)(?= )`,
  // "the dbl dec"
  reads('double')`\bdbl\b\.?(?= (?:dec|inc)[a-z]*\b)`,
  // "Further rounds: decrease on all the even ones": so it goes on
  reads(
    'continue: ',
  )`${BEGINS}(?:all )?(?:the )?(?:further|following|subsequent|remaining|next) (?:rounds|rnds|rows): ?(?=(?:always |now |then )?(?:continue|carry on|go on|keep|decrease|increase|repeat|as before|in the same|likewise)\b)`,
  // "every round from the 4th up to and including the 9th"
  reads(
    ([, unit, from, to]) => `${unit.toLowerCase()}s ${from}-${to}`,
  )`\b(?:every|each|all)(?: (?:single|of|the|following|further)){0,3} (round|rnd|row)s? (?:from|between) (?:the |round |rnd |row ){0,2}(\d+)(?:st|nd|rd|th)?(?: (?:round|rnd|row))?,? (?:up )?(?:to|through|till|until|and)(?: and)?(?: including)? (?:the |round |rnd |row ){0,2}(\d+)(?:st|nd|rd|th)?(?: (?:round|rnd|row))?(?: (?:inclusive|included))?(?![a-z\d])`,
  // "Rounds 4 through 12 go the same way: …"
  reads(
    '$1: in the same way,',
  )`\b((?:rounds|rnds|rows) \d+ ?(?:-|–|to|through) ?\d+) (?:are|is|go|run)(?: all| worked| knitted| done){0,2}(?: on)?(?: in)?(?: just| exactly)? (?:the same(?: way| manner)?|this way|likewise|like this|so|thus) ?[:,](?! with)`,
  // "diminishing on each even round", "between the diminutions"
  reads(([, ending]) => `decreas${ending.toLowerCase() || 'e'}`)`\bdiminish(ing|es|ed|)\b`,
  reads(([, many]) => `decrease${many}`)`\bdiminution(s?)\b`,
  // "fell 8 sts", "the felling round", "narrow every other round", "8 st felled"
  reads(([, how]) => FELLED[how.toLowerCase()] ?? null)`\b(?:fell|narrow)(ing|ings|ed)\b(?! seam)`,
  reads(
    'decrease',
  )`(?:${BEGINS}|\b(?<=, (?:and |then |thereafter )?|\b(?:and|to|from here|from now on|thereafter|then) ))(?:fell(?= (?:in|on|at|like|as|so|thus|again|every|once|\d)\b)|narrow(?= (?:in (?:this|the same|like)|as before|like this|so|thus|every)\b))`,
  // "k2tog beg of ea ndl"
  reads('needle$1')`\bndl(s?)\b\.?`,
  // "knit the pin to the last 2 sts", "knit out"
  reads('$1')`\b(knit|purl|k|p) (?:the|each|every|this) ${OWN_SIDE}(?= to (?:the )?last\b)`,
  reads('$1 to end')`${HERE}(knit|purl|k|p) out${DONE}`,
  reads('yo')`${HERE}(?:1|one|an?) over${DONE}`,
];
