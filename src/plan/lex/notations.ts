/**
 * Notations of single words and marks: full stops, slashes, arrows and Roman numerals, apostrophes, headers within a line. Data of
 * `wordings.ts`.
 */
import { romanValue } from './numbers.ts';
import { TABLE_MARKS, tableMark } from './tables.ts';
import { reads, WORK_UNIT, type Wording } from './wording.ts';

const ROMAN = '[IVX]{1,6}';

const SHORT_VERBS: Readonly<Record<string, string>> = {
  dec: 'decreasing',
  inc: 'increasing',
  rep: 'repeating',
  k: 'knitting',
  p: 'purling',
};

export const NOTATIONS: readonly Wording[] = [
  // "w/ 2 fewer sts", "ea side"
  reads('with ')`\bw\/[ ]?(?=\d|[a-z]{3,})`,
  reads(
    'each',
  )`\bea\b\.?(?= (?:time|side|section|needles?|ndls?|pins?|dpns?|corner|marker|end|rnd|round|row|of|st)\b)`,
  // "dec'ing 8 sts", "inc'g 1 st", "k'ing 1 rnd between"
  reads(
    ([, verb]) => SHORT_VERBS[verb.toLowerCase()] ?? null,
  )`\b(dec|inc|rep|k|p)'(?:in)?g(?![a-z])`,
  // "yarn thru"
  reads('through')`\b(?:thru|thro['’]?)(?![a-z])`,
  { re: TABLE_MARKS, as: ([mark]) => tableMark(mark) },
  // "until you've 16 sts", "there's 48 left"
  reads('$1 have')`\b(you|we|they|i)['’]ve\b`,
  reads('$1 are')`\b(you|we|they)['’]re\b`,
  reads('$1 is')`\b(there|that|it|here)['’]s\b`,
  reads('$1 will')`\b(you|we|they|i|it|that)['’]ll\b`,
  // "Rnd 2   Ndl 1-4: k1, yo"
  reads(
    '$1: ',
  )`^([ \t]{0,8}(?:rounds?|rnds?|rows?)[ ]?\d{1,4})[ ]{1,6}(?=(?:(?:needles?|ndls?)[ ]?\d|(?:each|every) needle:))`,
  // "repeat *-* the whole round"
  reads(
    '$1 from * to *',
  )`\b(rep|repeat)\.? \*[ ]?[-–][ ]?\*(?: (?:the )?(?:whole|entire) (?:round|rnd|row))?`,
  // "cm 10 x 10 = 20 sts", "20 sts = cm 10"
  reads(
    '$1 cm',
  )`(?<![\d½] ?)\bcm\.? (\d{1,3}(?:[.,]\d)?(?: ?x ?\d{1,3})?)(?![\d.,]*\d| ?(?:sts?|stitch|rows?|rounds?|rnds?|[cm]m)\b)`,
  // "Wool: any. Needles: 4 mm. Tension: 20 sts, 40 rows = 10 cm"
  reads('$1\n$2:')`([.*])[ ]{1,4}\*?(gauge|tension)\*?:\*?(?=[ ]?\d)`,
  // "CO: 97 sts / Worked: flat / Needles: 4 mm"
  reads(
    '\n$1:',
  )`(?<=\S)[ ]{1,4}[/|;·•][ ]{1,4}\*?(gauge|tension|worked|construction|needles|yarn|sides|seam)\*?:\*?(?=[ ]?\S)`,
  // "Needle: 3.75 mm      Gauge: 22 sts / 32 rnds = 10 cm"
  reads('\n$1:')`(?<=\S)[ \t]{3,40}(gauge|tension):(?=[ ]?\d)`,
  // "Rnd 5: k all / Sts: 88"
  reads(' ($1 sts)')`/[ ]?sts?(?: after (?:rnd|round|row|r) ?\d{1,4})?:[ ]?(\d{1,5})(?=[ \t]*$)`,
  reads('$1wise')`\b(k|p)\.[ ]?wise\b`,
  reads('$1r')`^([ \t•*-]*)r\.[ ]?(?=\d)`,
  // "1/ purl"
  reads('$1:')`^([ \t]*\d{1,3})[ ]?/(?=[ ]+[a-z*([])`,
  // "<72>", "/72/" at the end of a line
  reads('=$1')`[</|][ ]?(\d{1,5})([ ]?(?:sts?|stitches))?[ ]?[>/|](?=[ \t]{0,4}$)`,
  // "<88 sts / 22 per side>"
  reads('($1)')`<([^<>\n]{0,40}\d[^<>\n]{0,40})>(?=[ \t]{0,4}\.?[ \t]{0,4}$)`,
  // "1. round:", "2.-4. row:"
  reads(
    ([, lead, from, join, to, unit]) =>
      `${lead}${/^(?:row|r$|reihe|rang)/i.test(unit) ? 'row' : 'round'} ${from}${to ? `${/^[-–]$/.test(join) ? '-' : ` ${join} `}${to}` : ''}`,
  )`^([ \t•*-]*)(\d{1,3})\.(?:[ ]?(-|–|to|and|&)[ ]?(\d{1,3})\.)?[ ]?(rounds?|rnds?|rds?|rows?|r|tours?|runden?|reihen?|omg|omgang|varv|giro|vuelta|rang)(?=[ ]?(?:[:(]|[–-](?![ ]?(?:rou?nd|row))))`,
  // "Course 1:", "Tour 1:", "Line 1:"
  reads(
    '$1round $2',
  )`^([ \t•*-]*)(?:line|course|tour|rang|runde|pass|omgang|toer|giro|vuelta)[ ]?(\d{1,3})(?=[ ]?(?:[:.)–-]|and\b|to\b|&))`,
  // "w.fwd", "wl.fwd": wool forward
  reads('yfwd')`\bwl?\.?[ ]?fwd\b\.?`,
  // "y.fwd.", "w.r.n.", "p.2 s.s.o.", "C.4 F.", "g.st."
  reads(([, w, way]) => `${w}${way.replace('.', '')}`)`\b([wy])\.[ ]?(fwd|rn|on|o|r\.n|o\.n)\b\.?`,
  reads('p$1sso')`\bp\.?[ ]?(2)?[ ]?s\.[ ]?s\.[ ]?o\b\.?`,
  reads('$1$2$3')`\b([ctm])\.?[ ]?(\d{1,2})[ ]?([fblr])\b\.(?!\d)`,
  reads('stst')`\bst\.[ ]?st\b(?:\.(?=[ ]*[,;:)(a-z]))?`,
  reads(
    ([, w]) => `${/g/i.test(w) ? 'garter' : 'moss'} st`,
  )`\b([gm])\.[ ]?st\b(?:\.(?=[ ]*[,;:)(a-z]))?`,
  // Addresses
  reads(' ')`\b(?:https?://|www\.)\S+`,
  // "→ 76" at the end of a line states a count.
  reads('=')`(?:→|⇒|=>|->)(?=[ \t]{0,4}\d+[ \t]{0,4}(?:sts?\b\.?|stitches)?[.;]?[ \t]{0,4}$)`,
  // "row 3/ k1, …"
  reads('$1:')`^([ \t]*(?:${WORK_UNIT}|r)[ .]?\d+)[ ]?/(?=[ ]+(?![rw]s\b)[a-z*([])`,
  // "Round IV:", "rounds II and III"
  reads(
    romanRounds,
  )`\b(${WORK_UNIT})([ ]+)(${ROMAN})(?:([ ]*(?:-|–|,|&|and|to)[ ]*)(${ROMAN}))?(?![A-Za-z])(?=[ ]*[:.)(,;–-]|[ ]+(?:until|once|twice|\d))`,
  reads((m) =>
    m[3] === m[3].toUpperCase() ? romanRounds(m) : null,
  )`\b(${WORK_UNIT})([ ]+)(${ROMAN})([ ]*(?:-|–|,|&|and|to)[ ]*)(${ROMAN})(?![A-Za-z])`,
  // "2nd r.: …"
  reads('$1 rnd')`^([ \t]*\d{1,3}(?:st|nd|rd|th)) r\.(?=[ :])`,
];

function romanRounds(m: RegExpExecArray): string | null {
  const [, unit, gap, first, join, second] = m;
  if (first !== first.toUpperCase() || (second ?? '') !== (second ?? '').toUpperCase()) return null;
  const a = romanValue(first);
  if (a === null || a === 0) return null;
  const b = second ? romanValue(second) : null;
  if (second && !b) return null;
  return `${unit}${gap}${a}${second ? `${join}${b}` : ''}`;
}
