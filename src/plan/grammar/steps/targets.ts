/**
 * "How far" and "how often" in a knitter's words: `to last 2 sts`, `to 3 sts before marker`, `around`,
 * `over next 8 sts`, `twice`, `x 4`, `5 more times`. Reads at a place of the normalised text and says
 * where it stopped.
 */
import { NUM } from '../../lex/numbers.ts';
import { STS } from '../../lexicon/words.ts';
import type { Target } from './steps.ts';

const THE = '(?:the\\s+|this\\s+|that\\s+|each\\s+|every\\s+)?';
const PLACE =
  '(?:rounds?|rnds?|rds?|rows?|sides?|needles?|dpns?|sections?|edges?|repeats?|panels?|motifs?|squares?|quarters?|wedges?|segments?|triangles?|circle|sts|stitches)';
const MARKER =
  '(?:(?:next|first|second|third|last|1st|2nd|3rd|corner|side|following|other|opposite|end|center|centre|[a-z]|red|blue|green|bor|eor)\\s+){0,4}(?:stitch\\s+)?(?:m\\b|mk\\b|mkr\\b|markers?(?:\\s+(?:threads?|rings?|pins?))?\\b|marking\\s+(?:threads?|rings?)|pm\\b)(?:\\s*[a-d1-9]\\b(?!\\s*(?:st|,\\s*k)))?';
const BOR = '(?:bor\\b|eor\\b|beg(?:inning)?\\.?\\s+of\\s+(?:the\\s+)?(?:round|rnd))';
const END = `(?:very\\s+)?(?:(?:needle|round|row|side|section)(?:'s)?\\s+)?end(?![a-z])(?:\\s+of\\s+${THE}${PLACE})?`;
const TO = '(?:(?:up\\s+)?to|as\\s+far\\s+as|until|till|up\\s+until)';
const LEAD = '(?:(?:even|across|around|along|on|straight)\\s+)?';
const EDGE =
  '(?:(?:edge|seam|border|selvedge|selvage|corner|side|garter|center|centre|marked)\\s+)?';

interface TargetRule {
  readonly re: RegExp;
  readonly read: (m: RegExpExecArray) => Target;
}

function rule(source: string, read: (m: RegExpExecArray) => Target): TargetRule {
  return { re: new RegExp(source, 'y'), read };
}

function count(text: string | undefined, otherwise: number): number {
  return text === undefined ? otherwise : Number(text);
}

/** Where a short row was turned before. */
const GAP_PLACE =
  '(?:(?:last|previous|prev\\.?|first|next|wrapped|double|turned|wrap(?:\\s+and\\s+turn)?)\\s+)*(?:turn(?:ing)?(?:\\s+(?:point|gap|st|stitch))?|gap|wrap(?:ped)?(?:\\s+(?:st|stitch))?|(?:wrapped|double|ds|turned)\\s+(?:st|stitch)|ds|w&t)(?![a-z])(?:\\s+of\\s+(?:the\\s+)?(?:previous|last|prev\\.?)\\s+(?:rs\\s+|ws\\s+|short\\s+)?(?:row|round))?';
const CENTRE =
  '(?:cent(?:re|er)|middle|(?:marked|pinned)(?!\\s+corner))(?:\\s+(?:back|front))?\\s+(?:st|stitch)(?![a-z])';
const CORNER = '(?:(?:next|first|following|marked)\\s+){0,3}corner(?:\\s+(?:st|stitch))?(?![a-z])';

const RULES: readonly TargetRule[] = [
  // "to the centre 3 sts"
  rule(
    `${LEAD}${TO}\\s+(?:the\\s+)?(?:cent(?:re|er)|middle|central)\\s+(${NUM})\\s*${STS}`,
    (m) => ({
      kind: 'centre',
      count: Math.floor(Number(m[1]) / 2),
    }),
  ),
  // "to 1 st before centre st", "to corner st"
  rule(
    `${LEAD}${TO}\\s+(?:within\\s+)?(?:(${NUM})\\s*(?:${STS}\\s*)?(?:before|of|from)\\s+)?${THE}(?:(${CENTRE})|${CORNER})`,
    (m) => ({ kind: m[2] ? 'centre' : 'end', count: count(m[1], 0) }),
  ),
  // "to last 2 sts", "to the last 3 stitches before the marker"
  rule(
    `${LEAD}${TO}\\s+(?:the\\s+)?(?:last|final)(?:\\s*(${NUM}))?\\s*${EDGE}(?:${STS}|\\b)(?:\\s*(?:of|on|before|from)\\s+${THE}(?:(${MARKER})|${BOR}|${PLACE}\\b(?:\\s*\\d(?![\\d\\s]*sts))?|${END}))?`,
    (m) => ({ kind: m[2] ? 'marker' : 'end', count: count(m[1], 1) }),
  ),
  // "to 4 sts before the last turn", "to the wrapped st"
  rule(
    `${LEAD}${TO}\\s+(?:within\\s+)?(?:the\\s+)?(?:last\\s+)?(?:(${NUM})\\s*(?:${STS}\\s*)?(?:before|from|of)\\s+)?${THE}${GAP_PLACE}`,
    (m) => ({ kind: 'turn', count: count(m[1], 0) }),
  ),
  // "to 3 sts before marker", "until 2 sts before end", "to within 1 st of m"
  rule(
    `${LEAD}${TO}\\s+(?:within\\s+)?(?:there\\s+(?:are|is)\\s+|you\\s+(?:are|have|reach)\\s+)?(?:only\\s+|the\\s+)?(${NUM})\\s*(?:${STS}\\s*)?(?:(?:left|remaining|rem|remain|that remain)\\s+)?(?:before|bef\\b\\.?|from|of|away\\s+from|short\\s+of|prior\\s+to|b4)\\s+${THE}(?:(${MARKER})|${BOR}|${END}|${CORNER})`,
    (m) => ({ kind: m[2] ? 'marker' : 'end', count: Number(m[1]) }),
  ),
  // "until 2 sts remain (before the marker)"
  rule(
    `${LEAD}${TO}\\s+(?:there\\s+(?:are|is)\\s+)?(?:only\\s+)?(${NUM})\\s*(?:${STS}\\s*)?(?:remain(?:s|ing)?|rem\\b\\.?|(?:are\\s+|is\\s+)?left)(?:\\s+(?:before|on|in|to)\\s+${THE}(?:left(?:-hand)?\\s+)?(?:(${MARKER})|${CORNER}|${BOR}|${PLACE}\\b|${END}))?`,
    (m) => ({ kind: m[2] ? 'marker' : 'end', count: Number(m[1]) }),
  ),
  rule(`${LEAD}${TO}\\s+${THE}(?:${END}|${BOR})`, () => ({ kind: 'end', count: 0 })),
  rule(`${LEAD}${TO}\\s+(?:(?:you\\s+)?reach\\s+)?${THE}${MARKER}`, () => ({
    kind: 'marker',
    count: 0,
  })),
  rule(
    `(?:over|across|in|into|on|for)\\s+(?:the\\s+)?(?:next|first|following|last|remaining)\\s+(${NUM})\\s*${STS}`,
    (m) => ({ kind: 'next', count: Number(m[1]) }),
  ),
  rule(`(?:over|across|on|for)\\s+(?:the\\s+)?(${NUM})\\s*${STS}`, (m) => ({
    kind: 'next',
    count: Number(m[1]),
  })),
  rule(
    `(?:over|across|around|in|into|on)\\s+(?:each|every|all|the\\s+(?:remaining|rem|whole|entire))\\s*(?:of\\s+the\\s+)?(?:remaining\\s+|rem\\s+)?(?:\\d+\\s*)?(?:${STS}|(?:rounds?|rnds?|rds?|rows?|sts|stitches)\\b)`,
    () => ({ kind: 'rest', count: 0 }),
  ),
  rule(
    `(?:(?:for\\s+)?(?:the\\s+)?rest\\s+of\\s+(?:the\\s+|this\\s+)?(?:row|round|rnd|sts|stitches)|(?:all\\s+)(?:the\\s+)?(?:way\\s+)?(?:round|rnd)|all\\s+the\\s+way|(?:all\\s+)?(?:the\\s+way\\s+)?(?:around|across|along|all\\s+round|round))(?![a-z])(?:\\s+(?:the\\s+|this\\s+)?(?:whole\\s+|entire\\s+)?${PLACE}\\b)?`,
    () => ({ kind: 'rest', count: 0 }),
  ),
];

export interface ReadTarget {
  readonly target: Target;
  readonly end: number;
}

/** A target that starts exactly at `at`, or null. */
export function readTarget(text: string, at: number): ReadTarget | null {
  const c = text[at];
  if (c === undefined || !'tuaoiewlsfr'.includes(c)) return null;
  for (const { re, read } of RULES) {
    re.lastIndex = at;
    const m = re.exec(text);
    if (!m) continue;
    const target = read(m);
    // Looking further uses the same expressions, so the place is kept.
    const end = re.lastIndex;
    // "around to last 2 sts", "in each st to end": the narrower wording counts.
    if (target.kind === 'rest') {
      const gap = /[\s,]*/y;
      gap.lastIndex = end;
      gap.exec(text);
      const inner = readTarget(text, gap.lastIndex);
      if (inner) return inner;
    }
    return { target, end };
  }
  return null;
}

export interface ReadTimes {
  readonly times: number;
  /** "3 more times": on top of what has been worked. */
  readonly more: boolean;
  /** "3 times in total". */
  readonly total: boolean;
  readonly end: number;
}

const MORE = '(?:more|further|additional|extra)';
const TOTAL = '(?:in\\s+total|total|altogether|in\\s+all)';
const TIMES: readonly RegExp[] = [
  new RegExp(
    `(?:for\\s+)?(a\\s+total\\s+of\\s+)?(?:for\\s+)?(?:another\\s+|an?\\s+)?(${NUM})(\\s+${MORE})?\\s*-?(?:times?|reps?|repeats)(?![a-z])(\\s+${MORE})?(\\s+${TOTAL})?`,
    'y',
  ),
  new RegExp(
    `(a\\s+total\\s+of\\s+)?(once|twice|thrice|one\\s+time)(\\s+${MORE})?()(\\s+${TOTAL})?(?![a-z])`,
    'y',
  ),
  /()(?:x|\*|times)\s*(\d{1,6})()()()(?![a-z0-9/])/y,
  new RegExp(`()(${NUM})()\\s*x()()(?![a-z0-9])`, 'y'),
  new RegExp(`()another\\s+(${NUM})()\\s+times()()`, 'y'),
  new RegExp(`()(${NUM})(\\s+${MORE})()()(?![a-z\\s]*(?:rounds?|rnds?|rows?|sts?\\b|stitch))`, 'y'),
];

/** "5 times", "x 3", "twice more" at `at`, or null. An `x` stands for ×. */
export function readTimes(text: string, at: number): ReadTimes | null {
  const open = text[at] === '(' || text[at] === '[' ? 1 : 0;
  for (const re of TIMES) {
    re.lastIndex = at + open;
    const m = re.exec(text);
    if (!m) continue;
    let end = re.lastIndex;
    if (open) {
      const close = /\s*[)\]]/y;
      close.lastIndex = end;
      if (!close.test(text)) continue;
      end = close.lastIndex;
    }
    const word = m[2];
    const times =
      word === 'once' || word.startsWith('one ')
        ? 1
        : word === 'twice'
          ? 2
          : word === 'thrice'
            ? 3
            : Number(word);
    const another = /\banother\b/.test(m[0]);
    const more = another || (m[3] !== '' && m[3] !== undefined) ? true : !!m[4];
    // "4 times around", "4 times over"
    const around =
      /\s+(?:around|over|across|this|so|like\s+this|(?:in|on|per|each|every)\s+(?:the\s+|each\s+|every\s+)?(?:round|rnd|row))(?=\s*(?:[.,;(=-]|$))/y;
    around.lastIndex = end;
    if (around.test(text)) end = around.lastIndex;
    return { times, more, total: !!m[1] || !!m[5], end };
  }
  return null;
}
