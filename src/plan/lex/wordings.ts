/**
 * Notations and turns of phrase that say in other words what the grammar knows: passive voice, Roman numerals,
 * arrows and slashes for marks, words of translators. In: the designer's text. Out: places, and what they
 * are read as.
 */
import { raw, regex } from '../lexicon/expression.ts';

import { CLASS_WORDINGS } from './class-wordings.ts';
import { MARKER_WORDINGS, ringsAsMarkers } from './marker-words.ts';
import {
  crossesLines,
  letterRuns,
  mayMatch,
  type NeededWords,
  neededWords,
} from './needed-words.ts';
import { NOTATIONS } from './notations.ts';
import { inDigits, type Replacement } from './numbers.ts';
import { PASSIVE_VOICE } from './passive-voice.ts';
import { readAs } from './replaced.ts';
import { WORD_ORDER } from './word-order.ts';
import {
  BEGINS,
  FABRIC_NAME,
  NTH,
  ONE,
  reads,
  readWording,
  STS,
  UNSHAPED,
  WORK_UNIT,
  type Wording,
} from './wording.ts';

/** "through the back loops", "into the backs of the sts" */
const BACKS = `(?:(?:work(?:ed|ing)?|all|always|(?:sts?|stitch(?:es)?)(?![a-z])) )*(?:(?:in(?:to)?|through|thru) (?:the )?backs?(?: (?:loops?|legs?))?(?: of (?:all )?(?:the |your )?(?:sts?|stitch(?:es)?)(?![a-z]))?|tbl)(?: (?:on|in|for) (?:this|the)(?: first)? (?:round|rnd|row)| only| throughout)*`;

const PAIRS =
  '(?:two by two|two and two|in pairs|in twos|two at a time|2 by 2|2 and 2|2 at a time)';

const BARE: Readonly<Record<string, string>> = {
  'goes on': 'go on',
  'carries on': 'carry on',
  'casts on': 'cast on',
};

const FROM_HERE = raw`(?:from (?:here|now|there|this point|this round)(?: on(?:wards?)?)?|from (?:(?:round|rnd|row) )?\d+ on(?:wards?)?|thereafter|hereafter)`;
const ON_THEN = `(?:,? ?(?:${FROM_HERE}(?: to the end)?|onwards?|after (?:it|that|this)(?: one)?|that follow|to follow|throughout|(?:right )?(?:up )?to the (?:very )?end))`;
const WHICH = raw`(?:odd|even|alternate|alt\.?|ws|rs|(?:wrong|right)[- ]side)(?:[- ]numbered)? (?:rounds?|rnds?|rds?|rows?)`;
/** "all odd rounds", "round 3 and every alternate round", "every row". */
const RULED = `(?:(?:(?:${WORK_UNIT} \\d+|\\d+(?:st|nd|rd|th) ${WORK_UNIT}),? (?:and|&) )?(?:(?:on|in|all|every|each|the|following|remaining|other) ){0,4}${WHICH}|(?:${WORK_UNIT} \\d+|\\d+(?:st|nd|rd|th) ${WORK_UNIT}),? (?:and|&) (?:every|each) (?:other|second) ${WORK_UNIT}|every (?:single )?(?:row|round|rnd)(?= (?:is|goes) )|each (?:row|round|rnd)(?= is ))`;
const PLAINLY = '(?: (?:plain|even|straight|throughout|all round|all the way round))?';

/** "knit over knit", "purl sts over the purls" */
const OVER = (stitch: string): string =>
  `${stitch}(?:ting|ing)?(?: ${STS})? (?:over|on|the)(?: the)? ${stitch}s?(?: ${STS})?`;

const WORDINGS: readonly Wording[] = [
  ...NOTATIONS,
  ...PASSIVE_VOICE,
  // "When 8 sts remain break the yarn"
  reads(
    ', ',
  )`(?<=\b(?:sts|stitches|only) (?:(?:are|still|now) ){0,2}(?:remain|left|remaining))[ ](?=(?:break|cut|thread|draw|fasten|graft|bind off|cast off)\b)`,
  // "round 1: knit into the backs of the sts", "round 1: purl (through back loops)", "round 1 (tbl): knit"
  reads(
    ([, verb]) => `${verb[0]} tbl all round`,
  )`(?<=\b${WORK_UNIT}\b[^:.\n]{0,30}: )(knit|k|purl|p)(?: all(?: sts| stitches)?)? \(?${BACKS}\)?(?=[ ]?[.,;)]|$)`,
  reads(
    ([, label, verb]) => `${label}: ${verb[0]} tbl all round`,
  )`(?<=${WORK_UNIT} \d{1,3})() \(${BACKS}\)[ ]?: (knit|k|purl|p)(?: all(?: sts| stitches)?)?(?=[ ]?[.;]|$)`,
  reads(
    ([, verb, n, unit]) =>
      `${verb} ${/first|next/i.test(n) ? '1' : n} ${unit} through the back loops`,
  )`\b(knit|purl) ((?:the )?(?:first|next)|an?|1|one) (round|rnd|row),? \(?${BACKS}\)?(?=[ ]?[.,;)]|$| and )`,
  reads(
    '(k1, p1, k1) in next st',
  )`\b(?:k|knit),? (?:p|purl),? and (?:k|knit)(?: again)? (?:all )?(?:in|into) (?:the )?(?:same |next |one |1 )?(?:st|stitch)(?![a-z])`,
  // "knit 3 times into the same stitch (front, back, front)", "the 1st st"
  reads(
    '(k1, k1 tbl, k1) in next st',
  )`\b(?:knit|k) (?:3|three) times (?:in|into) (?:the )?(?:same|next|1|one) ${STS}(?: ?\((?:in )?(?:the )?front, (?:the )?back,?(?: and)? (?:the )?front\))?`,
  reads('the first')`\bthe 1st(?= (?:st|stitch)(?![a-z]))`,
  // "From here on all odd rounds are knitted", "every right side row is: knit to …"
  reads((m) => {
    const [all, lead, rounds, then, , verb] = m;
    const told = all.length > (lead ?? '').length + rounds.length + (then ?? '').length;
    if (!then && !told) return null;
    const did = verb === undefined ? '' : /^p(?!l)/i.test(verb) ? ' purl' : ' knit';
    return `${rounds}${told ? ':' : ''}${did}`;
  })`${BEGINS}(${FROM_HERE},? )?(${RULED})(${ON_THEN})?(?:,? (?:you|we|i)(?: (?:just|simply|only|then|always|will))?(?= (?:knit|purl|work|k\d|p\d|k2tog|ssk|decrease|increase|repeat)\b(?! (?:an?|one|two|\d+) (?:${STS} )?(?:fewer|less|more)))|(?: (?:is|are|will be|goes?|reads?))((?: (?:all|both|always|simply|just|then|to be|worked))*)(?: (knitted|knit|purled|purl|plain)${PLAINLY}(?=[ ]?(?:[.;,]|$))|:|(?= (?:[*([]|[kp]\d|k2tog|kfb|ssk|skp|yo|knit to|purl to|knit all|purl all|k to|p to))))?(?![a-z])`,
  // "From now on one decreases on every round"
  reads(
    ([, then, verb]) => `you ${then ?? ''}${BARE[verb.toLowerCase()] ?? verb.replace(/s$/i, '')}`,
  )`\b(?<!(?:the|this|that|which|every|each|first|second|last|next|plain|other|only|no|any|centre|center) )one (now |then |always )?(decreases|increases|knits|purls|works|repeats|continues|goes on|carries on|begins|starts|casts on|slips)(?![a-z])`,
  // "carry out the decreases"
  reads(
    ([, form]) => `work${form === 'y' ? '' : form === 'ied' ? 'ed' : 'ing'}`,
  )`\bcarr(y|ied|ying) out\b`,
  // "repeat the round out"
  reads('to the end of the $1')`\bthe (round|rnd|row) out\b`,
  // "Rnd 0: cast on 88 sts"
  reads('')`^[ ]{0,4}(?:rounds?|rnd|rd|row|r)\.?[ ]?0[ ]?[:.-][ ]?(?=(?:cast|co|c/o)\b)`,
  // "I like a firm edge, so the first 3 rounds are purl, knit, purl"
  reads(
    '. ',
  )`,? (?:so|and) (?=the first [a-z0-9]{1,9} (?:rounds|rnds|rows) are (?:all |each |worked |in )*(?:knit|purl|garter)\b)`,
  // "cast on and join 96 sts"
  reads('$1 on $2. Join')`\b(cast) on and join (\d{1,4} (?:sts|stitches))(?! (?:to|together|with))`,
  // "60 sts / 4 needles / 15 per needle"
  reads((m) =>
    m[0].replaceAll(' / ', ', '),
  )`^[ ]{0,4}\d{2,3} (?:sts|stitches) / \d (?:needles|sides|dpns) / \d[^/\n]*$`,
  // "slip 24 sts on to each needle"
  reads(
    '$1 onto',
  )`\b((?:slip|put|place|divide|transfer|move|spread|distribute|share|cast|arrange|slide)\b[^.;:\n]{0,40}) on to\b(?! (?:work|knit|purl|round|rnd|row))`,
  // "knit 2 and 2 sts together"
  reads(
    'always knit 2 together',
  )`\bknit (?:together )?${PAIRS} (?:${STS} )?(?:together|tog)\b|\bknit (?:all )?(?:the )?(?:${STS} )?together ${PAIRS}(?![a-z])`,
  // "After the last decrease round (round 18) cut the yarn"
  reads(
    '',
  )`${BEGINS}(?:after|following|when|once) (?:(?:you have )?(?:worked |finished |completed |done )?(?:the |this |your )?(?:last|final)(?: (?:decrease|decreasing|increase|increasing))?(?: ${WORK_UNIT})?(?: ?\(${WORK_UNIT} ?\d+\))?(?: is (?:done|worked|finished|complete))?),? (?=(?:cut|break|snip|draw|fasten|thread|pull|bind|cast off|run|gather)\b)`,
  // "Double surjet (ds): slip 1, knit 2 together, …"
  reads(
    '$1 = ',
  )`^(?![^:\n]*\b(?:(?:de|in)creases?|rounds?|rnds?|rows?|side|stitch|st|pattern|rib)\b)(?![^\n]*\b(?:rounds?|rnds?|rows?)\b)[ \t]{0,4}(?:[a-z]{2,} ){1,3}\((?!rs\b|ws\b)([a-z][a-z0-9]{1,5})\)[ ]?:[ ]?(?=(?:slip|sl|knit|purl|k|p)[ ]?\d)`,
  // "Cast off loosely in knit over knit and purl over purl"
  reads(
    '$1 in pattern',
  )`\b((?:cast|bind)(?:ing)?[ -]off(?: [a-z]+ly)?(?: in rib)?),? (?:with |in )?(?:${OVER('k(?:nit)?')}(?:,? and |, )${OVER('p(?:url)?')}|${OVER('p(?:url)?')}(?:,? and |, )${OVER('k(?:nit)?')})(?![a-z])`,
  // "Cast on 120 sts. Knit round.": in the round
  reads(
    '$1 join in the round',
  )`\b((?:cast on|co|mount|set up|lay (?:up|on)|strike (?:up|on)|put on|take up) (?:\d+|${ONE}(?:-(?:${ONE}))?) (?:sts?\b|stitches|m\b|meshes)(?:(?!\bjoin|\bring\b|\bround\b|\bcircle\b)(?:[^.;\n]|\bno\.)){0,60}?\.?),? (?:and )?(?:knit|work) (?:a?round|in round)(?=[ ]?[.;]|[ ]?$)`,
  // "Dec: k2tog throughout.": what a decrease is anyhow
  reads('')`${BEGINS}dec(?:rease)?s?\.? ?(?:[:=]|are|is) ?k2tog throughout(?=[ ]?[.;]|[ ]?$)`,
  // "Knit every odd round from here on"
  reads('$2: $1')`${BEGINS}(knit|purl) (${RULED})${ON_THEN}?${PLAINLY}(?=[ ]?(?:[.;]|$))`,
  // "then work 1 final s2kp"
  reads(
    '$1',
  )`\bwork (?:(?:a|an|one|1|the|your) )?(?:(?:one|1) )?(?:final|last) (s2kp|sk2p|cdd|ssk|k2tog|k3tog|p3tog|dd)\b`,
  // "k to the end, and purl every wrong side row"
  reads(
    '. $2: $1',
  )`(?=,? (?:and|but) )(?<=\bto (?:the )?end),? (?:and|but) (knit|purl) (${RULED})${PLAINLY}(?=[ ]?(?:[.;]|$))`,
  // "every marking thread"
  reads('marker$1')`\b(?:marking|marker|stitch) (?:thread|ring|pin|yarn)(s?)\b`,
  // "work Dec rnd, removing markers as you go": which hangs on no stitch
  reads(
    '',
  )`(?<=\b(?:rnd|round|row)(?: once more| again| \d{1,3})?),? (?:and )?remov(?:e|ing) (?:(?:all|the|your|of|these) )*(?:markers|m)(?: as you (?:go|work|come to (?:them|it|each)|reach them))?(?=[ ]?(?:[.;([=-]|—|–|$))`,
  // "DEC ROUND (K1, k2tog tbl, k to last 3 sts on needle, k2tog, k1) on each needle"
  reads(
    '$1: ',
  )`^([ \t]{0,8}(?:dec|inc|decrease|increase|shaping|plain|cable|lace|eyelet) (?:round|rnd|row))[ ]{1,3}(?=[([*][ ]?(?:[kp]\d|k |p |ssk|skp|sl|yo|knit|purl))`,
  // "knit always 2 sts together"
  reads('$2 $1')`\b(knit|purl|work|k|p) (always|continually|continuously|constantly|repeatedly)\b`,
  // "kfb in each of next 5 sts"
  reads('in next $1 $2')`\bin(?:to)? each of (?:the )?next (\d{1,3}) (sts|stitches)\b`,
  // "take in 8 stitches", "without taking in"; not "take in the ends", "taking in one edge stitch"
  reads(([was]) =>
    /ing/i.test(was) ? 'decreasing' : 'decrease',
  )`\b(?:tak(?:e|ing|es)|took|taken)[ -]in\b(?! (?:(?:all|the|any|loose|1|one|half|an?|only|just) )*(?:ends?\b|edges?\b|(?:st|stitch) (?:from|of|at|on) (?:each|either|both|every) (?:side|edge|piece)))`,
  // "knit all the stitches together two by two"
  reads((m) =>
    /^p/i.test(m[1] ?? m[2] ?? m[3] ?? m[4] ?? '') ? 'p2tog to end' : 'k2tog to end',
  )`\b(?:(?:knit|work) (?:1|one|a|the next|the last) (?:round|rnd|row) (?:in which|where) )?(?:(knit|k|purl|p|work) (?:all |the |of |your )*${STS} (?:together )?${PAIRS}(?: together)?|(knit|k|purl|p|work) every (?:two|2) (?:stitches|sts) tog(?:ether)?|(?:all |the |of )*(?:stitches|sts) are (?:then |now |all )?(knitted|purled|worked) (?:together )?${PAIRS}(?: together)?|every (?:two|2) (?:stitches|sts) are (?:then |now |all )?(knitted|purled|worked) together)(?: (?:to the end|all the way round|all round|throughout)(?: of the (?:round|rnd|row))?)?(?![a-z])`,
  // "until you are back at the beginning of the round"
  reads(
    'to end',
  )`\buntil (?:you (?:are|come|get) )?back (?:at|to) (?:the (?:beginning|start|marker)(?: of the (?:round|rnd))?|where you (?:began|started|begin))(?![a-z])`,
  // "1st row of decreases: …"
  reads(
    ([, which, unit, way]) => `${which} ${way.toLowerCase()}crease ${unit}`,
  )`\b(first|second|1st|2nd) (row|round|rnd) of (?:the )?(de|in)creas(?:es|ing)(?=[ ]?:)`,
  // "Turn and knit back."
  reads(
    '$1 1 row',
  )`${BEGINS}(?:now |then )?(?:turn(?: the work)?,? (?:and )?)?(knit|purl|work) (?:all the way |straight |right )?back(?: (?:across|to the (?:start|beginning|edge|other side)))?(?=[ ]?[.;]|[ ]?$)`,
  // "k1, k2tog, k to end on every row until …"
  reads(
    ', in every $1 ',
  )`\b(?<=\b(?:to (?:the )?end|tog|together|ssk|skpo?|yo|[kp]\d{0,3}) )(?:in|on|of) (?:every|each) (row|round|rnd) (?=until|till)`,
  // "Do that over and over until …"
  reads(
    '$1 this row',
  )`\b(?<=[,;] (?:and )?|\band )(do|keep doing|repeat|rep|keep repeating) (?:this|that|so|it)(?= (?:(?:over and over|again and again|over|again) )?(?:until|till)\b)`,
  // Words of translators
  reads('back and forth')`\b(?:in|by) going and (?:in )?(?:returning|coming)\b`,
  // "Increase on the 1st st of every row, thus: …"
  reads(
    'every $1:',
  )`${BEGINS}(?:now |then |next )?(?:increase|decrease)(?: (?:1|one|a) (?:st|stitch))?(?: (?:on|at|in) the (?:1st|first|beginning|start|end)(?: (?:st|stitch))? of| on| in| at)? (?:every|each) (row|round|rnd),? (?:thus|as follows|like this|in this way|so)[ ]?:`,
  // "knit the 1st st once in front and once behind"
  reads(
    'kfb',
  )`\bknit the (?:next|first|1st|last) (?:st|stitch) once (?:in|into|through) (?:the )?front and once (?:behind|in back|into the back|through the back|in the back)\b`,
  // "on the 3 other needles"
  reads(
    'the other $1',
  )`\bthe (\d|two|three|five|seven) other(?= (?:needles|sides|sections|dpns)\b)`,
  // "Rnd 2: Knit 1 round, …", "Knit the whole round": the one that is told
  reads(
    '$1',
  )`(?<=^[ \t]{0,8}(?:round|rnd|rd|row)s?[ ]?\d{1,3}(?: ?\([^()\n]{1,30}\))?: )(knit|purl)(?: in)? (?:(?:1|one|a|this) (?:${WORK_UNIT})|(?:the|this)(?: whole| entire| full)? (?:round|rnd|rd|row)(?! (?:out|until|till|to)\b))(?=[ ]?[,;.(]| and |[ ]?$)`,
  // "knit the rest"
  reads(
    '$1 to end',
  )`\b(knit|purl|k|p) (?:all )?(?:the )?(?:rest|remainder)(?: of (?:the|your|this|each) (?:sts|stitches|row|round|rnd|needle|pin|dpn|side|section))?(?=[ ]?[,;.)]|[ ]?$)`,
  // "knit to the last stitch, slip it purlwise"
  reads(
    '$1 1',
  )`\b(?<=\b(?:last|first|marked|next) (?:st|stitch),? (?:and |then )?)(sl|slip|knit|purl|k|p) it(?=[ ]?[,.;)]| (?:purlwise|knitwise|pwise|kwise|with|wyif|wyib|tbl|through)\b)`,
  // Rings that mark the stitches
  reads('$1 the marker')`\b(before|after|past|slip|reach) (?:the|each|every) ring\b`,
  // "and knit the sixth."
  reads(
    ([, verb, which]) => `${which} round: ${verb}`,
  )`\b(?<=\band |, )(knit|purl) the (${NTH})(?=[ ]?[.;])`,
  // "the fourth round you just knit"
  reads(
    ([, which, unit, verb]) => `${which} ${unit}: ${verb}`,
  )`\b(next|following|${NTH}) (round|rnd|row) (?:you|we|i) (?:just |simply |then |only )?(knit|purl|work)(?![a-z])`,
  // "taking 8 sts away"
  reads('decreasing $1 $2')`\btak(?:e|ing) (\d+|[a-z]+)[ ]+(sts?\.?|stitches)[ ]+away\b`,
  // "Knit the 5th round plain"
  reads(
    ([, verb, which, unit]) => `${which} ${unit}: ${/work/i.test(verb) ? 'knit' : verb}`,
  )`\b(knit|purl|work) (?:the )?(${NTH}) (round|rnd|rd|row)${UNSHAPED}?(?=[ ]?(?:[.;]|$))`,
  // "Knit rounds 5-8 in colour B"
  reads(
    ([, verb, what]) => `${what}: ${verb}`,
  )`\b(knit|purl) (${WORK_UNIT} \d+(?:[ ]?(?:-|–|,|and|to|&)[ ]?(?:and )?\d+)*)(?= (?:in|with|using) (?:the )?(?:mc|cc\d?|main|contrast\w*|second|colou?r|yarn|[a-h])\b)`,
  // "mount 88 sts", "set up 80 sts"
  reads(
    'cast on',
  )`\b(?:mount|set up|put up|throw on|lay on|lay up|take up|strike up|strike on|put on|loop on|hit on|hit up|beat on)(?= (?:\d+|${ONE}(?:-${ONE})?) (?:${STS}|points|meshes)(?! (?:twisted|crossed|(?:out )?of|from|in)\b))`,
  reads('join in round')`\bwork in (?:circle|circular|round)\b(?! shap)`,
  reads('bind off ')`\bclose (?=(?:off )?all (?:the )?(?:sts|stitches|loops)\b)`,
  // "all the sts k2tog", "all sts purl"
  reads(([, stitch]) =>
    /^(?:k|p|knit|purl)$/i.test(stitch) ? `${stitch} all sts` : `${stitch} to end`,
  )`\ball (?:the )?(?:sts|stitches) (k2tog|p2tog|ssk|knit|purl|k|p)(?![a-z0-9])`,
  // "k all rows" of several
  reads('$1')`\b(rows?|rounds?|rnds?) of circle\b`,
  // "1st row. Plain."
  reads('$1 knit')`\b((?:${WORK_UNIT})[ ]?(?:\d+)?[.:,]) plain(?: knitting)?(?=[ ]?(?:[.;]|$))`,
  // "Work moss stitch in the round."
  reads('$1')`\b((?:${FABRIC_NAME})(?: stitch| st)?) in the (?:rounds?|rnds?)(?=[ ]?(?:[.;,)]|$))`,
  // "knit along until 2 sts are left, and ssk those"
  reads('$1')`\b(knit|purl|k|p) (?:along|onwards?|away|merrily)(?= (?:until|till|to)\b)`,
  reads(
    '$1',
  )`\b(ssk|k2tog|p2tog|skp|skpo)(?: (?:those|these|them)(?: 2| two)?)(?=[ ]?[,;.)]|[ ]?$)`,
  reads(
    'stockinette',
  )`\b(?:(?:smooth|plain|flat|right) (?:knitting|stocking (?:st|stitch))|smooth right)\b`,
  ...MARKER_WORDINGS,
  ...WORD_ORDER,
  ...CLASS_WORDINGS,
];

/** Names in capitals that the text gives its rounds: `DR (decrease round): …`, later "work DR twice". */
const SHORT_NAME =
  /^([ \t]*)([A-Z]{1,3}\d?)[ ]*(?:\(|=[ ]*|[-–][ ]*)((?:[a-z-]+ ){1,2}(?:round|rnd|row))\)?[ ]*(?=:)/gm;

/** Most short names of one text. Chosen. */
const MOST_NAMES = 12;

/** "4 marked sts: these are the corners": a corner stitch is a marked one from there on. */
function cornersMarked(text: string): Replacement[] {
  const told =
    /\bmarked (?:sts|stitches)\b[:;,.-]? ?(?:and )?(?:these|they|which|that) (?:are|mark|will be|form) (?:the|your) corners?\b/i.exec(
      text,
    );
  if (!told) return [];
  const from = told.index + told[0].length;
  return readAs(text, /\bcorner(?= (?:st|sts|stitch|stitches)\b)/gi, ({ index }) =>
    index < from ? null : 'marked',
  );
}

function shortNames(text: string): Replacement[] {
  const out: Replacement[] = [];
  let names = 0;
  for (const m of text.matchAll(SHORT_NAME)) {
    const [all, lead, short] = m;
    const long = `${short.toLowerCase()} ${/(?:round|rnd|row)$/.exec(m[3])?.[0] ?? 'round'}`;
    const at = m.index + lead.length;
    out.push({ from: at, to: m.index + all.length, text: long });
    const again = regex.g`\b${short}\b`;
    again.lastIndex = m.index + all.length;
    for (let k = again.exec(text); k; k = again.exec(text)) {
      out.push({ from: k.index, to: k.index + short.length, text: long });
    }
    if (++names >= MOST_NAMES) break;
  }
  return out;
}

const BARE_LABEL =
  /^[ \t]{0,8}(?:(?:rounds?|rnds?|rows?|r)[ ]?\d{1,4}(?:[ ]?(?:-|–|to|through|and|,)[ ]?(?:r|rounds?|rnds?|rows?)?[ ]?\d{1,4}){0,6}|next)(?: \([^()\n]{1,40}\))?[ \t]*$/i;
const POINT = /^[ \t]{0,8}[-•*–][ \t]+(?=\S)/;

/** "Rounds 5 to 14" over a list of points: one sentence, its parts joined by semicolons. */
function points(text: string): Replacement[] {
  const out: Replacement[] = [];
  let at = 0;
  let under = 0;
  for (const line of text.split('\n')) {
    const point = under > 0 ? POINT.exec(line) : null;
    if (point) {
      const stop = under > 1 && text[at - 2] === '.' ? 1 : 0;
      out.push({ from: at - 1 - stop, to: at + point[0].length, text: under === 1 ? ': ' : '; ' });
      under++;
    } else under = BARE_LABEL.test(line) ? 1 : 0;
    at += line.length + 1;
  }
  return out;
}

/** What each wording needs, from its first use on. */
const NEEDED: (Needs | undefined)[] = [];

interface Needs {
  readonly words: NeededWords;
  /** It matches within one line, which has all of them. */
  readonly inLine: boolean;
}

function needsOf(re: RegExp): Needs {
  return { words: neededWords(re), inLine: !crossesLines(re) };
}

/** Longest text whose lines are looked through one by one. Chosen: a pattern is shorter, and the time stays bounded. */
const LONGEST_LOOKED = 10_000;

export function otherWordings(text: string): Replacement[] {
  const out: Replacement[] = [
    ...shortNames(text),
    ...cornersMarked(text),
    ...ringsAsMarkers(text),
    ...points(text),
  ];
  const runs = letterRuns(text);
  const lines = text.length > LONGEST_LOOKED ? [runs] : text.split('\n').map(letterRuns);
  for (const [k, wording] of WORDINGS.entries()) {
    NEEDED[k] ??= needsOf(wording.re);
    const { words, inLine } = NEEDED[k];
    if (!mayMatch(words, runs)) continue;
    if (inLine && !lines.some((line) => mayMatch(words, line))) continue;
    for (const found of readWording(text, wording))
      out.push({ ...found, text: inDigits(found.text) });
  }
  return out;
}
