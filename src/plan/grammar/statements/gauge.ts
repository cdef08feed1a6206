/**
 * `Gauge:` lines in the trade's many forms → stitch width and round height in mm:
 * "22 sts and 30 rounds = 10 cm", "5.5 sts x 7.5 rows to 1 inch", "20 sts / 40 rows per 4 in in garter
 * stitch", "22x30". Without a length 10 cm is meant (common practice; 4 in counts as 10.16 cm).
 */
import { raw, regex } from '../../lexicon/expression.ts';
import type { FabricName } from '../../plan.ts';
import { THICKEST_NEEDLE_MM } from '../phrases.ts';

const MM: Record<string, number> = { cm: 10, mm: 1, in: 25.4 };

export interface ReadGauge {
  readonly fabric: FabricName | null;
  readonly stitchMm: number | null;
  readonly roundMm: number | null;
}

const FABRICS: readonly (readonly [RegExp, FabricName])[] = [
  [/rev(?:erse|\.)?\s+(?:stoc?k|st\.?\s*st)/, 'reverse'],
  [/garter|\bg[.\s-]{0,2}st\b/, 'garter'],
  [/jersey|stoc?k(?:inette|ing)|\bst\.?\s*st\b|stst|plain\s+knit/, 'stockinette'],
  [
    /2\s*[x/]\s*2\s*rib|k\s*2,?\s*(?:x\s*)?p\s*2|double\s+rib|rib\s+2\s*x\s*2|2\s*by\s*2\s*rib/,
    'rib 2x2',
  ],
  [/\brib/, 'rib 1x1'],
  [/seed|moss/, 'seed'],
  [/cable/, 'cable'],
];

export function fabricNamed(text: string): FabricName | null {
  for (const [re, name] of FABRICS) if (re.test(text)) return name;
  return null;
}

interface Token {
  readonly value: number;
  readonly unit: 'st' | 'row' | 'mm' | '';
}

const NUMBER = raw`(\d+(?:[.,]\d+)?(?:\s+\d\/\d)?)`;
const TOKEN = regex.g`${NUMBER}\s*-?\s*(sts?\b|stitch(?:es)?|rounds?|rnds?|rds?|rows?|ridges?|laps?\b|tours?\b|turns?\b|courses?\b|r\b|cms?\b|centimet(?:er|re)s?|mms?\b|ins?\b|inch(?:es)?|"|'')?|(?:\b(?:per|to\s+the|to\s+an?|an?|each|every)\s+|[=/]\s*)(cm\b|inch\b|in\b(?!\s+(?:rounds?|rnds?|rows?|the|a|garter|moss|seed|stoc\w+)\b))`;

/** "5.5", "5 1/2", "5,5". */
function value(text: string): number {
  const [, whole, over, under] = /^(?:([\d.,]+)\s+)?(\d)\/(\d)$/.exec(text) ?? ['', text, '0', '1'];
  return Number(whole?.replace(',', '.') ?? 0) + Number(over) / Number(under);
}

const OTHER_UNIT =
  /(\d\s*(?:cms?\b|centimet\w+|ins?\b\.?|inch(?:es)?|"))\s*(?:\(\s*\d+(?:[.,]\d+)?\s*(?:cms?|centimet\w+|ins?\.?|inch(?:es)?|")\s*\)|\/\s*\d+(?:[.,]\d+)?\s*(?:cms?|ins?|inch(?:es)?|"))/g;

/** Needle sizes, and a length told again in other units, are no lengths of fabric. */
export function withoutNeedles(text: string): string {
  return (
    text
      .replace(
        /\d+(?:[.,]\d+)?\s*mm\s*(?:\(.*?\)\s*)?(?:needles?|dpns?|circulars?|straights?|hook|double)/g,
        ' ',
      )
      // "10 cm (4 in)": the first holds.
      .replace(OTHER_UNIT, '$1')
      .replace(/\b(?:on|with|using)\s+(?:an?\s+)?\d{1,2}(?:[.,]\d+)?\s*mm\b/g, ' ')
      .replace(
        /(?:\b(?:on|with|using)\s+)?(?:size|needles?|us|uk)\s*(?:(?:size|nos?|nr|n)\b\.?\s*)?\d+(?:\.\d+)?(?!\d|\s*-?\s*(?:sts?\b|stitch|rows?\b|rounds?\b|rnds?\b))\s*(?:mm)?/g,
        ' ',
      )
  );
}

/** One of the gauges that a text gives: where it stands, and its words with a length that all share. */
export interface GaugePart {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const STITCHES = /\d+(?:[.,]\d+)?\s*-?\s*(?:sts?\b|stitch)/g;
const HAS_STITCHES = /\d\s*-?\s*(?:sts?\b|stitch)/;
const LENGTH = /\d+(?:[.,]\d+)?\s*(?:cms?\b|centimet|ins?\b|inch|")/;

/**
 * "18 sts and 36 rows in garter stitch, 20 sts and 28 rows in stockinette, to 10 cm": a gauge for each
 * fabric named, or the whole text as one.
 */
export function gaugeParts(text: string): GaugePart[] {
  const starts = [0];
  for (const { index } of text.matchAll(STITCHES)) {
    const from = starts[starts.length - 1];
    const before = text.slice(from, index);
    if (!HAS_STITCHES.test(before)) continue;
    // What introduces the second gauge ("; in garter stitch 18 sts") belongs to it.
    const gap = /.*(?:[;,.]|\band\b)/s.exec(before)?.[0].length ?? before.length;
    for (const cut of [from + gap, index]) {
      const [one, other] = [text.slice(from, cut), text.slice(cut)].map(firstFabric);
      const apart = text[cut - 1] === ';' || (one !== null && other !== null);
      if (!apart || one === other || !HAS_STITCHES.test(text.slice(from, cut))) continue;
      starts.push(cut);
      break;
    }
  }
  const shared = LENGTH.exec(text)?.[0];
  return starts.map((from, k) => {
    const to = starts[k + 1] ?? text.length;
    const own = text.slice(from, to);
    const lacks = starts.length > 1 && shared !== undefined && !LENGTH.test(own);
    return {
      from,
      to,
      text: lacks ? `${own} = ${shared}${shared.endsWith('centimet') ? 'res' : ''}` : own,
    };
  });
}

/** The fabric named first. */
function firstFabric(text: string): FabricName | null {
  let found: FabricName | null = null;
  let at = Number.POSITIVE_INFINITY;
  for (const [re, name] of FABRICS) {
    const index = re.exec(text)?.index ?? Number.POSITIVE_INFINITY;
    if (index < at) [found, at] = [name, index];
  }
  return found;
}

/** Reads the normalised text behind `Gauge:`; null where it holds no stitch or row count. */
export function readGauge(text: string): ReadGauge | null {
  const clean = withoutNeedles(text).replace(
    /\b(?:k\s*\d\s*,?\s*p\s*\d|\d\s*[x/]\s*\d\s*(?=rib)|rib\s*\d\s*x\s*\d)/g,
    ' ',
  );
  const tokens: Token[] = [];
  for (const m of clean.matchAll(TOKEN)) {
    if (m[3]) {
      tokens.push({ value: MM[m[3] === 'cm' ? 'cm' : 'in'], unit: 'mm' });
      continue;
    }
    const n = value(m[1]);
    const word = m[2] ?? '';
    if (!Number.isFinite(n)) continue;
    if (/^st/.test(word)) tokens.push({ value: n, unit: 'st' });
    else if (/^(?:r|lap|to|tu|co)/.test(word))
      tokens.push({ value: /^ri/.test(word) ? 2 * n : n, unit: 'row' });
    else if (/^c/.test(word)) tokens.push({ value: n * MM.cm, unit: 'mm' });
    else if (/^mm/.test(word) && n > THICKEST_NEEDLE_MM) tokens.push({ value: n, unit: 'mm' });
    else if (/^(?:in|"|'')/.test(word)) tokens.push({ value: n * MM.in, unit: 'mm' });
    else if (!word) tokens.push({ value: n, unit: '' });
  }
  // "22 x 30": the first bare number is stitches, the second rows; "10 x 10 cm" lends its unit.
  let stitch = tokens.findIndex((t) => t.unit === 'st');
  const rows = (t: Token, i: number): boolean => t.unit === 'row' && i > stitch;
  let row = tokens.findIndex(rows);
  if (row < 0) row = tokens.findIndex((t) => t.unit === 'row');
  if (stitch < 0 && row < 0) {
    stitch = tokens.findIndex((t) => t.unit === '');
    row = tokens.findIndex((t, i) => i > stitch && t.unit === '');
    const length = tokens.findIndex((t) => t.unit === 'mm');
    if (length >= 0 && length < stitch) {
      stitch = -1;
      row = -1;
    }
    if (row > length && length >= 0) row = -1;
  } else if (stitch < 0 && row > 0 && tokens[row - 1].unit === '') stitch = row - 1;
  else if (row < 0 && tokens[stitch + 1]?.unit === '' && tokens[stitch + 2] !== undefined) {
    const between = tokens[stitch + 1];
    if (between.value > 12) row = stitch + 1;
  }
  if (stitch < 0 && row < 0) return null;
  // "10 cm = 20 sts, 4 in = 28 rows": where a length leads, the one before is meant.
  const isLength = (t: Token): boolean => t.unit === 'mm' && t.value > 0;
  const lengthFor = (i: number): number => {
    const [before, after] = [
      tokens.slice(0, i).reverse().find(isLength),
      tokens.slice(i).find(isLength),
    ];
    const led = tokens.length > 0 && isLength(tokens[0]);
    return ((led ? before : after) ?? before ?? after)?.value ?? 100;
  };
  const size = (i: number): number | null => {
    if (i < 0 || !(tokens[i].value > 0)) return null;
    const mm = lengthFor(i) / tokens[i].value;
    return mm >= 0.3 && mm <= 200 ? mm : null;
  };
  const stitchMm = size(stitch);
  const roundMm = size(row);
  if (stitchMm === null && roundMm === null) return null;
  return { fabric: fabricNamed(text), stitchMm, roundMm };
}

const N = raw`\d+(?:[.,]\d+)?`;
const STS = '(?:sts?\\b\\.?|stitch(?:es)?)';
const ROWS = '(?:rows?|rounds?|rn?ds?|ridges?|laps?|tours?|turns?|courses?|r)\\b\\.?';
const SPAN = raw`(?:(?:${N}\s*(?:x\s*${N}\s*)?-?\s*|\b(?:an?|the|each|every|per)\s+|/\s*)(?:cms?|in|ins|inch(?:es)?|centimet\w+)\b|\d{2,3}\s*mm\b|\d\s*")`;

/** "Stitches: 20 to 10 cm", "Rows - 28": the figures behind what they count. Same meaning, other order. */
const BEHIND = regex.g`\b(stitch(?:es)?|sts?|rows?|rounds?|rn?ds?)(?:\s+count)?(?:\s*[:=]|\s+(?:gauge|tension|density)\s*[:=]?)\s*(${N})(?![\d.,]*\d|\s*(?:x\s*\d+\s*)?-?\s*(?:st|r[ion]|cm|in|mm|"))`;

/** "Stitches per 10 cm: 20". */
const LENGTH_FIRST = regex.g`\b(stitch(?:es)?|sts?|rows?|rounds?|rn?ds?)\s+((?:per|to|in|over|each|every)\s+(?:the\s+)?(?:${N}\s*)?(?:cm|in|inch(?:es)?|")\s*)[:=|]\s*(${N})`;

export function plainFigures(text: string): string {
  return text.replace(LENGTH_FIRST, '$3 $1 $2').replace(BEHIND, '$2 $1');
}

/** Stitches or rounds to a length, one of them alone: "20 sts to 4 in.", "28 rows per 4 inches". */
const DENSITY = regex.plain`${N}\s*-?\s*(?:${STS}|${ROWS})\s*(?:(?:to|per|in|over|make|measure|are|give|equal|=|for|across|wide|high|in\s+(?:width|height)|should|every|/|about)\s*){1,4}${SPAN}|${SPAN}\s*(?:[(/]\s*${SPAN}\s*\)?\s*)?(?:=|equals?|is|are|gives?|takes?|holds?|has|have|contains?|counts?)\s*${N}\s*-?\s*(?:${STS}|${ROWS})`;
/** "24 x 32 = 10 cm", "20 and 40 to 10 cm": stitches and rounds by their figures alone, to a length. */
const PAIR = regex.plain`(?<![\d.,x/-]\s*)\b\d{1,2}(?:[.,]\d)?\s*(?:x|/|and|by|&)\s*\d{1,3}(?:[.,]\d)?\s*(?:(?:=|to|per|on|over|makes?|gives?|equals?|for|the|a|an)\s*){1,3}${SPAN}`;
const SOME_STITCHES = regex.plain`\d\s*${STS}`;
const SOME_ROWS = regex.plain`\d\s*${ROWS}`;
const SOME_LENGTH = new RegExp(SPAN);
const ROWS_OR_LENGTH = regex.plain`\d\s*${ROWS}|${SPAN}`;
const NO_GAUGE = /\b(?:cast[\s-]*(?:on|off)|bind|co\s+\d|remain|repeat|work\s+\d|until|till)\b/;

/** Stitches or rounds to a length. Numbers in digits. */
export function isPartOfGauge(text: string): boolean {
  const plain = plainFigures(text);
  const named =
    /\b(?:gauge|tension)\b/.test(text) && SOME_STITCHES.test(plain) && ROWS_OR_LENGTH.test(plain);
  return (named || DENSITY.test(plain)) && !NO_GAUGE.test(plain);
}

/** Stitches, rounds and a length in one sentence: a gauge, whatever it is called. Numbers in digits. */
export function isGaugeSentence(text: string): boolean {
  return (
    (PAIR.test(text) ||
      (SOME_STITCHES.test(text) && SOME_ROWS.test(text) && SOME_LENGTH.test(text))) &&
    !/\b(?:cast\s+on|co\s+\d|remain|repeat)\b/.test(text)
  );
}

const MEASURED =
  /^[\s(•*-]*(?:(?:it|they|both|all|these|figures|gauges?|tension|is|are|was|were|to|be|when|taken|counted|the|your|a|an|please|knit|work|make|first|blocked|washed|flat)\s+)*(?:measured|measure|over|in|worked|gauge|tension|swatch\w*|sample)\b/;

const FABRIC_ALONE =
  /^[\s(•*-]*(?:garter|stockinette|stocking|moss|seed|reverse|rib(?:bing)?|st\.?)(?:[\s,.)]+(?:st(?:itch)?|after|before|when|blocked|unblocked|blocking|washed|washing|flat|worked|knitted|in|the|round|rnd|st\.?))*[\s.)]*$/;

/** "Measured over garter stitch.", "(gauge in stockinette)": in which fabric, without figures of its own. */
export function measuresGauge(text: string): boolean {
  return (
    text.length < 120 &&
    (MEASURED.test(text) || FABRIC_ALONE.test(text)) &&
    fabricNamed(text) !== null &&
    !/\d\s*-?\s*(?:sts?\b|stitch|rows?\b|rounds?\b|rn?ds?\b)/.test(text) &&
    !/\b(?:cast|throughout|until|till|repeat)\b/.test(text)
  );
}
