/** Passive voice as the imperative that it means: "the 2nd round is knitted", "8 stitches are decreased". Data of `wordings.ts`. */
import { raw } from '../lexicon/expression.ts';
import { COUNT, NTH, reads, STS, UNSHAPED, WORK_UNIT, type Wording } from './wording.ts';

/** Participles of the passive voice as imperatives. */
const VERBS: Readonly<Record<string, string>> = {
  'cast on': 'cast on',
  'cast off': 'cast off',
  'bound off': 'bind off',
  knitted: 'knit',
  knit: 'knit',
  purled: 'purl',
  slipped: 'slip',
  taken: 'knit',
  worked: 'knit',
};
/** Not behind "when", "until": those only tell a time. */
const NO_TIME = '\\b(?<!\\b(?:until|till|when|once|that|which|as|if|after|before) )';
const SOME = `(?:(?:every|each) (?:stitch|st)|(?:all (?:of )?the |all |the )?(?:(?:first|last|next|following|remaining) )?(?:${COUNT} )?${STS})`;
/** "rounds 2 and 3 are knitted by turns": again and again */
const BY_TURNS = raw`,? (?:(?:by|in) turns?|in alternation|alternat\w+|turn|one after|over and over)\b`;

export const PASSIVE_VOICE: readonly Wording[] = [
  // "… and is knitted to the end"
  reads(
    '$1 $2',
  )`\b(and|then) (?:is|are) (?:then )?(knit|purl)(?:ted|ed)?(?= (?:to (?:the )?end|across)\b)`,
  // "all the stitches of round 5 are knitted"
  reads(
    ([, what, verb]) => `${what}: ${VERBS[verb.toLowerCase()]}`,
  )`${NO_TIME}(?:all (?:of )?(?:the )?(?:stitches|sts)|every (?:stitch|st)) (?:of|in|on) (?:the )?(${WORK_UNIT} \d+|(?:next|last|${NTH}) (?:round|rnd|row)) (?:is|are) (?:then |now |to be )?(knitted|knit|purled)(?![a-z])`,
  // "In round 2, 8 stitches are decreased"
  reads(
    '$2crease $1',
  )`\b(?<=\b(?:in|on) (?:(?:the )?(?:next|following|last|${NTH}) )?(?:round|rnd|row)(?: \d+)?,? )(${COUNT} ${STS}) are (?:then |now )?(de|in)creased(?![a-z])`,
  // "the last 2 stitches are knitted together", "14 are knitted", "all the stitches are purled"
  reads(([, what, verb, together, back]) => {
    const which = /^the (?:stitches|sts)$/i.test(what) ? 'all the stitches' : what;
    const tail = `${together ? ' together' : ''}${back ? ' tbl' : ''}`;
    return `${VERBS[verb.toLowerCase()]} ${which}${tail}`;
  })`${NO_TIME}(?<!\b(?:edge|corner|cent(?:re|er)|middle|marked|border|selvedge|these|those) )(?<!\b(?:first|last)(?: \d+)? and (?:the )?(?:(?:first|last) )?(?:\d+ )?)(${SOME}|(?<=[,;:] |\band )${COUNT}) (?:is|are) (?:then |now |all |to be |loosely )?(cast on|cast off|bound off|knitted|knit|purled|slipped|taken(?= together)|worked(?= together))( together)?( through the back(?: of the)? loops?)?(?![a-z])(?!${BY_TURNS})`,
  // "the 2nd round is knitted"
  reads(
    ([, which, unit, verb]) => `${which} ${unit}: ${VERBS[verb.toLowerCase()]}`,
  )`${NO_TIME}(?<!\b(?:every|each|all|only|but|than|except|bar|save|for|and|or|not|never|don't)(?: the)? )(?:the )?(next|last|${NTH}) (round|rnd|rd|row) is (?:then |now )?(knitted|purled|worked)${UNSHAPED}?(?=[ ]?(?:[.,;]|and\b|$))`,
  // "rounds 5, 6 and 7 are knitted"
  reads(
    ([, what, verb]) => `${what}: ${VERBS[verb.toLowerCase()]}`,
  )`${NO_TIME}(?:the )?(${WORK_UNIT} \d+(?:[ ]?(?:-|–|,|and|to|&)[ ]?(?:and )?\d+)*) (?:are|is) (?:then |now |all )?(knitted|purled)(?: throughout| all round| all the way round| to the end)?(?![a-z])(?! after|${BY_TURNS})`,
  // "2 rounds are purled", "6 rounds are worked in rib"
  reads(
    ([, what, verb]) =>
      `${/^(?:worked|made)$/i.test(verb) ? 'work' : VERBS[verb.toLowerCase()]} ${what}`,
  )`${NO_TIME}(?:the )?(?:next |following )?(${COUNT} (?:more |further |plain )?${WORK_UNIT}) (?:is|are|should be|will be|were) (?:then |now |next |all )?(knitted|purled|worked|made)(?![a-z])(?!${BY_TURNS})`,
];
