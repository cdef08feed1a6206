/**
 * Rounds told as a class: "every alternate round up to Round 22", "the rounds not named", "purl the first round and knit
 * the second". Data of `wordings.ts`.
 */
import { toldIn } from './classes-of-rounds.ts';
import {
  BEGINS,
  COUNT,
  FABRIC_NAME,
  NTH,
  reads,
  UNSHAPED,
  WORK_UNIT,
  type Wording,
} from './wording.ts';

const NOT_NAMED =
  '(?:(?:which |that )?(?:are |were |have been )?not (?:named|mentioned|listed|given|told|described|specified)|in[ -]between)';
const NO_SHAPING =
  '(?:,? without (?:any )?(?:decreas(?:es|ing)|shaping)|,? no (?:decreases|shaping) (?:are|is) (?:worked|made|done)|,? do not decrease|,? work without (?:decreas(?:es|ing)|shaping))';

/** Most rounds of such a class. Chosen: a piece has some hundred. */
const MOST_ROUNDS = 200;

/** What is done in rounds that nothing else names: "knit plain" knits, "worked without decreases" goes on in the fabric. */
function unnamed(unit: string, verb: string): string {
  const what = /^knit/i.test(verb) ? 'knit' : /^purl/i.test(verb) ? 'purl' : 'work even';
  return `all other ${/^row/i.test(unit) ? 'rows' : 'rounds'}: ${what}`;
}

/** Every second round from one to another, by their numbers; null where the last is none of them. */
function everySecond(unit: string, first: number, word: string, last: number): string | null {
  const odd = /odd/i.test(word) ? 1 : /even/i.test(word) ? 0 : first % 2;
  if (first % 2 !== odd || last % 2 !== odd || last <= first || last - first > 2 * MOST_ROUNDS)
    return null;
  const numbers = Array.from({ length: (last - first) / 2 + 1 }, (_, i) => first + 2 * i);
  return `${unit.replace(/s?$/, 's')} ${numbers.join(', ')}`;
}

const NUMBERED = `(?:${WORK_UNIT}) \\d{1,3}(?:,? ?(?:,|and|&) ?\\d{1,3}){0,20}`;
const SHAPED = `(?:is|are)(?: all| both| the| an?)* (dec(?:rease|reasing)?|inc(?:rease|reasing)?|shaping) (?:${WORK_UNIT}|ones?)`;

const ST_ST = '(?:stocking|stockinette|st|jersey)[ -]?(?:stitch|st)|st ?st';
const ONE_EACH = (a: string, b: string, unit: string): string =>
  `(?:${a}) (?:1|one|a|the rs|rs|right[ -]side|odd)(?: ${unit})?s?,? (?:and |then |& ?)?(?:${b}) (?:1|one|a|the next|the ws|ws|wrong[ -]side|even)(?: ${unit})?s?`;

export const CLASS_WORDINGS: readonly Wording[] = [
  // "Rounds 5-12: continue changing colours every 2 rounds"
  reads(
    'continue in this way, changing',
  )`(?<=: )continue (?:to change|changing)(?= (?:the )?colou?rs? (?:every|after|each))`,
  // "Rounds 3-4: knit the first of them and decrease on the second"
  reads(([, a, b, how]) =>
    Number(b) === Number(a) + 1 ? `Round ${a}: ${how}. Round ${b}: decrease as before` : null,
  )`${BEGINS}(?:rounds|rnds) (\d{1,3}) ?(?:-|–|to|and|&) ?(\d{1,3})[ ]?: ?(knit|purl) (?:the )?first(?: of (?:them|these)| one| round)?,?(?: and| then|,)? (?:decrease|work the decreases) (?:on|in) (?:the )?(?:second|other|next)(?: of (?:them|these)| one| round)?(?=[ ]?[.;]|$)`,
  reads(
    'work in ',
  )`${BEGINS}(?:now |then )?change (?:over )?to (?=(?:${FABRIC_NAME}|st)(?: st(?:itch)?)?(?: ?\([^()\n]{0,60}\))? for ${COUNT} )`,
  // "st st (knit every round)", "garter st (k 1 round, p 1 round)": what everybody means by it
  reads(
    '$1',
  )`\b(${ST_ST})[ ]?[([](?:i\.?e\.?,? )?(?:knit(?:ting)? (?:every|each|all) (?:round|rnd)s?|${ONE_EACH('knit|k', 'purl|p', 'row')}(?: alternately)?)[)\]]`,
  reads(
    '$1',
  )`\b(garter(?: stitch| st)?)[ ]?[([](?:i\.?e\.?,? )?(?:knit(?:ting)? (?:every|each|all) rows?|${ONE_EACH('knit|k', 'purl|p', '(?:round|rnd)')}(?: alternately)?)[)\]]`,
  // "Rounds 2, 4 and 6 are decrease rounds: *k2tog, …", "…, all the others are knitted"
  reads(([, rounds]) => `${rounds}:`)`${BEGINS}(${NUMBERED}) ${SHAPED}[ ]?:`,
  reads(
    ([, rounds, way, how]) =>
      `${rounds}: ${/^i/i.test(way) ? 'in' : 'de'}crease round. ${unnamed('rounds', how)}`,
  )`${BEGINS}(${NUMBERED}) ${SHAPED}(?:,|;)? (?:and |while |with )?(?:all )?(?:of )?(?:the )?(?:other ${WORK_UNIT}|others|rest|remaining ${WORK_UNIT})(?:(?: (?:is|are|being|all|just|simply|worked))*|:) (knit|purl|plain)(?:ted|led|ed)?(?=[ ]?(?:[.;]|$))`,
  // "Purl Round 1.", "First, knit row 3, which is a WS row": its order in front, where that round is told nowhere else or plain
  reads(({ input, 1: verb, 2: unit, 3: number, 4: plain, 5: side }) => {
    const n = number.toLowerCase() === 'one' ? 1 : Number(number);
    const works = /work/i.test(verb);
    if (!plain && (works || toldIn(input).has(n))) return null;
    const label = `${unit} ${n}${side ? ` (${/^w/i.test(side) ? 'WS' : 'RS'})` : ''}`;
    return `${label}: ${works ? 'knit' : verb}`;
  })`${BEGINS}(?:first,? |then |now )?(knit|purl|work) (?:all (?:of |(?:the )?sts (?:of|in|on) )?)?(?:the )?(round|rnd|rd|row) (one|\d{1,3})(${UNSHAPED})?(?:,? (?:which|this|that|it) is an? ((?:ws|rs|wrong|right)(?:[- ]side)?) row)?(?=[ ]?(?:[.;]|$))`,
  // "Work the rounds not named without decreases", "knit plain on the rounds in between", "on those not listed do not decrease"
  reads(([, verb, named, unit, plain]) =>
    verb || plain ? unnamed(named ?? unit, verb ?? 'work') : null,
  )`${BEGINS}(?:(knit|purl|work)${UNSHAPED}? )?(?:(?:in|on) )?(?:all )?(?:of )?(?:the |any )?(?:(?:other )?(${WORK_UNIT}) ${NOT_NAMED}(?: here| above)?|(?<=\bthe )(?:other|remaining) (rounds|rnds|rds|rows)(?=${NO_SHAPING}))(${UNSHAPED}|${NO_SHAPING})?(?=[ ]?(?:[.;]|$))`,
  // "All return rows: purl", "the following rows on the way back"
  reads(
    ([, some, foll, many]) =>
      `${some ?? (many ? 'all ' : '')}${foll ?? ''}wrong side row${many ?? ''}`,
  )`(?<![a-z])((?:all|every|each|any|the) (?:the |of the )?)?((?:following|other|further|even) )?(?:return(?:ing)?|back|backward|way back|homeward)[ -]row(s)?\b`,
  reads(
    ([, some, foll]) => `${some}${foll ?? ''}wrong side rows`,
  )`\b((?:all|every|each|any) (?:the |of the )?)((?:following|other|further|even) )?(?:rows? )?(?:on|in|of) the (?:way|journey) back\b`,
  reads('all wrong side rows')`${BEGINS}(?:on|in) the (?:way|journey) back(?: always)?(?=[ ]?:)`,
  // "Rnds 4-5 (moss): *k1, p1*, then *p1, k1*": a round each
  reads(([, unit, a, b, extra, one, two]) => {
    if (Number(b) !== Number(a) + 1) return null;
    const label = unit.replace(/s$/i, '');
    return [
      `${label} ${a}${extra}: *${one}; rep from * to end`,
      `${label} ${b}${extra}: *${two}; rep from * to end`,
    ].join('. ');
  })`${BEGINS}(rounds|rnds|rows) (\d{1,3})[ ]?(?:-|–|and|&|to)[ ]?(\d{1,3})([ ]?[(,]?[a-z ]{0,20}\)?)[ ]?: ?\*([^*\n:;]{2,60})\*[ ]?[,;]?[ ]?(?:and then|then|next|/) \*([^*\n:;]{2,60})\*(?=[ ]?(?:[.;]|$))`,
  // "Work the sts as they present themselves", "as the stitches appear"
  reads(([, verb]) => {
    if (!verb) return 'knit the knits and purl the purls';
    return /ing/i.test(verb)
      ? 'knitting the knits and purling the purls'
      : 'knit the knits and purl the purls';
  })`\b(?:(work|working|worked|knit|knitting) )?(?:all (?:of )?)?(?:the )?(?:other |remaining |rest of the )?(?:sts?|stitches)(?: just| exactly)? as they (?:now )?(?:appear|come|present(?: themselves)?|show(?: themselves)?|look|lie|sit|stand|fall|face you|are)(?: (?:to you|on the needles?|on this side|at you))?(?:[ ]?[,:(] ?(?:and |that is |i\.?e\.? )*knit (?:over|on|the) knits?,? (?:and )?purl (?:over|on|the) purls?\)?)?(?![a-z])`,
  reads(
    'knit the knits and purl the purls',
  )`\b(?:work |knit )?as (?:the |your )?(?:sts|stitches) (?:appear|come|present(?: themselves)?|show|look|lie|sit|face you)(?: (?:to you|on the needles?))?(?![a-z])`,
  // "The rounds not listed are knit", "every round not named here is knitted plain"
  reads(([, unit, verb]) =>
    unnamed(unit, verb),
  )`${BEGINS}(?:all |every |any |the |all the )(?:other |remaining )?(${WORK_UNIT})(?: ${NOT_NAMED})?(?: here| above)? (?:is|are) (?:all )?(knit|knitted|purled|worked)${UNSHAPED}?(?=[ ]?(?:[.;]|$))(?<=(?:not|between|other|remaining)\b[^.;]*)`,
  // "Round 2 and every alternate round up to and including Round 22: knit", "6th row and all the even rows as far as the 30th"
  reads((m) => {
    const [, before, a, b, behind, word, second, last] = m;
    const unit = before ?? behind ?? second;
    if (!unit) return null;
    return everySecond(unit, Number.parseInt(a ?? b, 10), word, Number.parseInt(last, 10));
  })`${BEGINS}(?:(${WORK_UNIT})[ ]?(\d{1,3})|(\d{1,3})(?:st|nd|rd|th)(?: (${WORK_UNIT}))?),? and (?:all |every |each |the )*(?:foll(?:owing)?\.? )?(even(?:-numbered)?|odd(?:-numbered)?|alternate|alt|other|second|2nd) (?:foll(?:owing)?\.? )?(${WORK_UNIT})?(?: thereafter| after(?:wards| that)?| following)? ?(?:up to and including|up to|as far as|through to|through|until|till|to) (?:and including )?(?:the )?(?:${WORK_UNIT} )?(\d{1,3})(?:st|nd|rd|th)?(?: ${WORK_UNIT})?(?: inclusive)?(?=[ ]?:)`,
  // "Purl the first round and knit the second", "purl round 1 and knit round 2"
  reads(([, verb, a, unit, other, b, again]) =>
    unit || again ? `${a} ${unit ?? again}: ${verb}. ${b} ${unit ?? again}: ${other}` : null,
  )`${BEGINS}(knit|purl) the (${NTH})(?: (${WORK_UNIT}))?(?:[,;]? (?:and |then )*)(knit|purl) the (${NTH})(?: (${WORK_UNIT}))?(?=[ ]?(?:[.;,]|$))`,
  reads(
    ([, a, unit, verb, b, other]) =>
      `${a} ${unit}: ${verb.slice(0, 4)}. ${b} ${unit}: ${other.slice(0, 4)}`,
  )`${BEGINS}the (${NTH}) (${WORK_UNIT}) is (knit|knitted|purled)(?:[,;]? and|,) the (${NTH})(?: is)? (knit|knitted|purled)(?=[ ]?(?:[.;,]|$))`,
  reads(
    '$2: $1. $4: $3',
  )`${BEGINS}(knit|purl) (${WORK_UNIT} \d{1,3})(?:[,;]? (?:and |then )*)(knit|purl) (${WORK_UNIT} \d{1,3})(?=[ ]?(?:[.;,]|$))`,
  // "repeat *-* the rnd around"
  reads(
    'around',
  )`\b(?:the (?:round|rnd) (?:around|about)|during the (?:whole|entire) (?:round|rnd))(?![a-z])`,
  // "18 sts between Ms"
  reads(([said]) =>
    said.endsWith('Ms') ? said.replace('Ms', 'markers') : null,
  )`\b(?:between|before|after|all) Ms(?![a-z.])`,
  // "until Round 25 has been worked and 12 stitches remain"
  reads(
    '$1. $2 sts remain',
  )`\b(until (?:you have worked |after )?${WORK_UNIT} \d{1,3}(?: has been worked| is worked| is done| has been completed| inclusive)?)(?:,? and|,) (?:there are |you have |only )*(\d{1,4}) (?:stitches|sts) (?:remain|are left|left|remaining)(?=[ ]?(?:[.;]|$))`,
];
