/**
 * Stitches as patterns spell them, American and British, read into canonical names: `k2tog tbl`,
 * `knit two together`, `sl 1, k1, psso`, `yfwd`, `M1L`, `inc in next st`, `slip 1 purlwise wyif`.
 * Reads at a place of the normalised text; counts such as the 5 of `k5` come along.
 */
import { NUM } from '../../lex/numbers.ts';
import { regex } from '../../lexicon/expression.ts';
import { SPELLINGS, type Spelling, TBL } from '../../lexicon/stitch-spellings.ts';
import { STS } from '../../lexicon/words.ts';
import { stitchKind, WIDEST_STITCH } from '../../stitches/table.ts';
import { readCable } from './cable-words.ts';
import type { Amount } from './steps.ts';

export interface ReadStitch {
  /** Canonical name; `sl1` and `sl1k` stand for the slip with the yarn on the wrong side. */
  readonly name: string;
  /** Null where the text says neither how many nor how far. */
  readonly amount: Amount | null;
  readonly end: number;
  /** Remark about an ambiguous wording, empty if none. */
  readonly doubt: string;
  /** The word was spelled out ("knit"), which alone means the whole round. */
  readonly spelled: boolean;
}

/** A space stands for any gap, a comma for any gap with a comma; the match ends at a word's end. */
function spaced(source: string): RegExp {
  const body = source.replaceAll(' ', '[\\s-]*').replaceAll(/,(?!\d*\})/g, '[\\s,;-]*');
  return regex.y`(?:${body})(?=x\s*\d|[^a-z0-9]|$)`;
}

/** "k2tog", "knit the next 2 sts together through the back loops". */
function together(said: Readonly<Partial<Record<string, string>>>): string | null {
  const n = Number(said.n);
  if (!(n >= 2 && n <= WIDEST_STITCH)) return null;
  const plain = `${(said.verb ?? said.late ?? 'k')[0]}${n}tog`;
  const name = `${plain}${(said.tbl ?? said.behind) ? ' tbl' : ''}`;
  return stitchKind(name) ? name : plain;
}

interface WordRule {
  readonly re: RegExp;
  readonly spelling: Spelling;
}

const BY_START = new Map<string, WordRule[]>();
for (const spelling of SPELLINGS) {
  const re = spaced(spelling.source);
  for (const c of spelling.letters) BY_START.set(c, [...(BY_START.get(c) ?? []), { re, spelling }]);
}

// Plain stitches with their counts.
const FAST = /([kp])(\d{1,7})(?=\s*(?:[,;)\]}*]|\.(?!\d)|$))/y;
const VERB =
  /(k(?:nit)?|p(?:url)?|sl(?:ip)?|s(?=\s*\d)|bo|bind[\s-]*off|cast[\s-]*off|co|cast[\s-]*on)(?![a-z])/y;
const COUNT = regex.y`\s*(?:(?:the\s+)?(?:next|first|last|final|following|remaining|rem\.?|other|center|centre|middle|corner|edge|these|those)\s*|the\s+)?(${NUM})(?!\s*/\s*\d)(?!\s*(?:${STS}\s*)?tog)(?!\s*(?:more\s+)?(?:rounds?|rnds?|rows?|times|cm\b|inch|ins?\b(?!\s+[a-z])|"))(?:\s*(?:edge|corner|seam|border|selvedge|more|center|centre)?\s*${STS})?`;
const EVERYTHING = /\s*everything(?![a-z])/y;
const ONE_ST =
  /\s*(?:the\s+|this\s+|a\s+|your\s+)?(?:next|first|last|final|following|corner|edge|marked|center|centre|middle|seam|selvedge|selvage|border|remaining|spare|extra|odd|other)?\s*(?:corner\s+|marked\s+|edge\s+|spare\s+|extra\s+|odd\s+|selvedge\s+|seam\s+)?(?:st|stitch)(?![a-z])|\s*the\s+(?:next|first|last|final|following)(?:\s+one)?(?=\s*[,;.)])/y;
const ALL_STS =
  /\s*(?:(?:all|every|each|both|the|of|remaining|rem\.?|those|these)\s+)+(?:\d+\s+)?(?:sts?|stitch(?:es)?|(?<=\b(?:all|every|each|both)\s(?:(?:the|of|\d+)\s)*)(?:halves|half|needles?|dpns?|tips?)|(?:rounds?|rnds?|rows?)(?=\s*(?:[.;(]|$)))?(?![a-z])(?:\s+on\s+(?:the\s+)?needles?)?|\s*(?:those|these|them)(?=\s*(?:[,;.)]|$))/y;
const SUFFIX_TBL = regex.y`(?:[\s-]*(?:${TBL.replaceAll(' ', '[\\s-]*')})(?![a-z]))`;
const SUFFIX_B = /b(?![a-z0-9])/y;
const SLIP_WAY =
  /[\s,-]*(?:(p(?:url)?[\s-]?wise|as\s+if\s+to\s+p(?:url)?(?![a-z]))|(k(?:nit)?[\s-]?wise|as\s+if\s+to\s+k(?:nit)?(?![a-z]))|(wyif|wyf|with\s+(?:the\s+)?(?:yarn|yf)\s+(?:held\s+)?(?:in|at|to)\s+(?:the\s+)?front|yarn\s+in\s+front)|(wyib|wyb|with\s+(?:the\s+)?yarn\s+(?:held\s+)?(?:in|at|to)\s+(?:the\s+)?back|yarn\s+in\s+back))/y;
const SLIP_LETTER = /([pk])(?![a-z0-9])/y;
const YARN_FIRST =
  /(?:bring\s+|with\s+|move\s+)?(?:yf|yfwd|yarn\s+(?:to\s+(?:the\s+)?)?(?:front|forward|fwd)|wyif)[\s,]+(?=sl(?:ip)?\b|sl\d)/y;
const YARN_BACK =
  /[\s,]*(?:take\s+|bring\s+|move\s+)?(?:yb|ybk|yarn\s+(?:to\s+(?:the\s+)?)?back)(?![a-z])/y;

/** Common practice where a text does not say which is meant. */
const PLAIN_DOUBLE = /^double\s+dec/;
const DOUBLE_READ =
  'which double decrease is meant is not told: read as slip 1, k2tog, pass the slipped stitch over';

function stitchOf(name: string, amount: Amount | null, end: number, doubt = ''): ReadStitch {
  return { name, amount, end, doubt, spelled: false };
}

function matchAt(re: RegExp, text: string, at: number): RegExpExecArray | null {
  re.lastIndex = at;
  return re.exec(text);
}

function amountAfter(text: string, at: number): { amount: Amount | null; end: number } {
  let m = matchAt(COUNT, text, at);
  if (m) return { amount: { times: Number(m[1]) }, end: COUNT.lastIndex };
  m = matchAt(ONE_ST, text, at);
  if (m) return { amount: { times: 1 }, end: ONE_ST.lastIndex };
  m = matchAt(ALL_STS, text, at) ?? matchAt(EVERYTHING, text, at);
  if (m && !/^\s*(?:the|of)\s*$/.test(m[0])) {
    return { amount: { kind: 'rest', count: 0 }, end: at + m[0].length };
  }
  return { amount: null, end: at };
}

function readSlip(text: string, at: number, front: boolean): ReadStitch {
  let { amount, end } = amountAfter(text, at);
  let knitwise = false;
  let yarn = front ? 'wyif' : '';
  const letter = matchAt(SLIP_LETTER, text, end);
  if (letter) {
    knitwise = letter[1] === 'k';
    end = SLIP_LETTER.lastIndex;
  }
  for (let m = matchAt(SLIP_WAY, text, end); m; m = matchAt(SLIP_WAY, text, end)) {
    end = SLIP_WAY.lastIndex;
    if (m[1]) knitwise = false;
    else if (m[2]) knitwise = true;
    else yarn = m[3] ? 'wyif' : 'wyib';
  }
  if (amount === null) {
    // "slip purlwise the next 2 sts"
    const late = amountAfter(text, end);
    amount = late.amount;
    end = late.end;
  }
  if (front) {
    if (matchAt(YARN_BACK, text, end)) end = YARN_BACK.lastIndex;
  }
  const base = knitwise ? 'sl1k' : 'sl1';
  return stitchOf(yarn ? `${base} ${yarn}` : base, amount, end);
}

/** A stitch that starts exactly at `at`, or null. */
export function readStitch(text: string, at: number): ReadStitch | null {
  const fast = matchAt(FAST, text, at);
  if (fast) {
    return stitchOf(fast[1], { times: Number(fast[2]) }, FAST.lastIndex);
  }
  if (matchAt(YARN_FIRST, text, at)) {
    const start = YARN_FIRST.lastIndex;
    const verb = matchAt(VERB, text, start);
    if (verb) return readSlip(text, VERB.lastIndex, true);
    const tight = /sl(?=\d)/y;
    if (matchAt(tight, text, start)) return readSlip(text, tight.lastIndex, true);
  }
  const cable = readCable(text, at);
  if (cable) {
    return stitchOf(cable.name, null, cable.end, cable.doubt);
  }
  for (const { re, spelling } of BY_START.get(text[at]) ?? []) {
    const m = matchAt(re, text, at);
    if (!m) continue;
    const name = spelling.name === 'together' ? together(m.groups ?? {}) : spelling.name;
    if (name === null) continue;
    const many = /\b(?:of|in|into|from|out of)\s+(?:the\s+)?(both|each|every|all)\s/.exec(
      m[0],
    )?.[1];
    const amount: Amount | null =
      many === 'both' ? { times: 2 } : many ? { kind: 'rest', count: 0 } : null;
    const doubt = PLAIN_DOUBLE.test(text.slice(at, re.lastIndex)) ? DOUBLE_READ : '';
    return stitchOf(name, spelling.times ? { times: spelling.times } : amount, re.lastIndex, doubt);
  }
  return readPlain(text, at);
}

/** k, p, slip, bind off and cast on with their counts. */
function readPlain(text: string, at: number): ReadStitch | null {
  const verb = matchAt(VERB, text, at) ?? matchAt(/([kps]|sl|bo|co)(?=\d|tbl|b\d)/y, text, at);
  if (!verb) return null;
  const word = verb[1];
  const afterVerb = at + verb[0].length;
  if (word.startsWith('s')) return readSlip(text, afterVerb, false);
  if (word[0] === 'b' || word[0] === 'c') {
    const { amount, end } = amountAfter(text, afterVerb);
    if (amount === null) return null;
    const on = word === 'co' || word.endsWith('on');
    return stitchOf(on ? 'co1' : 'bo1', amount, end);
  }
  const letter = word[0];
  const spelled = word.length > 1;
  let { amount, end } = amountAfter(text, afterVerb);
  let twisted = false;
  let doubt = '';
  if (matchAt(SUFFIX_TBL, text, end)) {
    twisted = true;
    end = SUFFIX_TBL.lastIndex;
    if (amount === null) ({ amount, end } = amountAfter(text, end));
  } else if (amount !== null && matchAt(SUFFIX_B, text, end)) {
    twisted = true;
    end = SUFFIX_B.lastIndex;
    doubt = `"${text.slice(at, end)}" is read as through the back loop; some patterns mean the stitch below`;
  } else if (amount === null) {
    const m = matchAt(/b(\d{1,4})(?![a-z0-9])/y, text, afterVerb);
    if (m) {
      twisted = true;
      amount = { times: Number(m[1]) };
      end = afterVerb + m[0].length;
    }
  }
  // "k2tgo" is a slip of the fingers, not k2.
  if (
    /[a-z]/.test(text[end] ?? '') &&
    end > afterVerb &&
    !/^x\s*\d/.test(text.slice(end, end + 4))
  ) {
    // …but "k1p1" is k1, p1.
    if (!/^[kp]\d/.test(text.slice(end, end + 2))) return null;
  }
  // "k1 more", "knit 5 more sts"
  const more = matchAt(/\s+more(?:\s+(?:sts?|stitch(?:es)?))?(?!\s*times)(?![a-z])/y, text, end);
  if (more && amount !== null) end += more[0].length;
  return { name: twisted ? `${letter}tbl` : letter, amount, end, doubt, spelled };
}
