/**
 * Stitches as patterns spell them, American and British, read into canonical names: `k2tog tbl`,
 * `knit two together`, `sl 1, k1, psso`, `yfwd`, `M1L`, `inc in next st`, `slip 1 purlwise wyif`.
 * Reads at a place of the normalised text; counts such as the 5 of `k5` come along.
 */

import { NUM } from '../../lex/numbers.ts';
import { stitchKind, WIDEST_STITCH } from '../../stitches/table.ts';
import { readCable } from './cable-words.ts';
import type { Amount } from './steps.ts';
import { STS } from './targets.ts';

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
  return new RegExp(`(?:${body})(?=x\\s*\\d|[^a-z0-9]|$)`, 'y');
}

const TBL =
  '(?:tbl|tb|thru back loops?|(?:through|thru|in|into|in to) (?:the )?(?:back|b) (?:loops?|legs?|of (?:the |next )*(?:loops?|sts?|stitch(?:es)?)))';
const ONE = '(?:1|one|a)';
const TWO = '(?:2|two)';
const PASS = '(?:p(?:ass)?|draw|lift|pull|bring|put|lay|cast|leap|slip|take)';
const PSSO = `(?:psso|p sl st over|${PASS} (?:the )?(?:slipped|slip|sl|loose) ${STS} over(?: (?:the )?(?:knit(?:ted)?|k|next|new)? ?(?:${STS}|k2tog|it|one)?)?)`;
const P2SSO = `(?:p2sso|psso(?: both)?|${PASS} (?:the |both )?(?:${TWO} )?(?:slipped|slip|sl) ${STS} over(?: (?:the )?(?:knit(?:ted)?|k)? ?(?:${STS}|it)?)?)`;
const KWISE = '(?:k(?:nit)? ?(?:wise|ways?)|as if to (?:k(?:nit)?)(?: ?2tog)?|as for k2tog)';
const INTO = '(?:in ?to|in|thr(?:ough|u))';
const OF_ST =
  '(?:(?:,| )(?:loops? )?(?:of |in |into )(?:the )?(?:next |same |following |first |last |each |every |all |both )?(?:remaining )?(?:sts?|stitch(?:es)?))?';

interface WordRule {
  readonly starts: string;
  readonly re: RegExp;
  readonly name: string | ((m: RegExpExecArray) => string | null);
  readonly times?: number;
}

/** [all, verb, number, through the back] */
function together(m: readonly (string | undefined)[]): string | null {
  const n = Number(m[2]);
  if (!(n >= 2 && n <= WIDEST_STITCH)) return null;
  const plain = `${m[1]?.[0]}${n}tog`;
  const name = `${plain}${(m[3] ?? m[4]) ? ' tbl' : ''}`;
  return stitchKind(name) ? name : plain;
}

const RULES: readonly WordRule[] = [
  // "2 sts together"
  {
    starts: '23456789',
    re: spaced(
      `([2-9]) (?:${STS} )?(?:(k(?:nit)?|p(?:url)?) )?tog(?:ether)?(?: (k(?:nit)?|p(?:url)?)(?: ?wise)?)?(?: ?(${TBL}))?`,
    ),
    name: (m) => together([m[0], m[2] ?? m[3] ?? 'k', m[1], m[4]]),
  },
  // "knit together 2"
  {
    starts: 'kp',
    re: spaced(
      `(k(?:nit)?|p(?:url)?) tog(?:ether)? (?:the )?(?:next )?([2-9])(?: ${STS})?(?: ?(${TBL}))?`,
    ),
    name: (m) => together(m),
  },
  // "k twice into next st"
  {
    starts: 'k',
    re: spaced(
      `k(?:nit)? (?:twice|2 times|2x) in(?:to)? (?:the )?(?:next |same |each |every |all )?${STS}`,
    ),
    name: 'kfb',
  },
  { starts: 's', re: spaced('(?:simple|single) dec(?:rease)?'), name: 'skp' },
  {
    starts: 'kp',
    re: spaced(
      `(k(?:nit)?|p(?:url)?) (?:the |these |those )?(?:next |last |first )?(${NUM}) (?:${STS} )?t(?:og(?:ether)?|g)?(?: ?(${TBL}|b(?![a-z]))| ?\\((${TBL})\\))?`,
    ),
    name: together,
  },
  {
    starts: 'k',
    re: spaced(
      `k(?:nit)? ?1? ?(?:${INTO} )?(?:the )?f(?:ront)? ?(?:&|and|,|/)? ?b(?:ack)? ?(?:&|and|,|/)? ?f(?:ront)?${OF_ST}`,
    ),
    name: 'kfbf',
  },
  {
    starts: 'k',
    re: spaced(
      `k(?:nit)? ?1? ?(?:${INTO} )?(?:the )?f(?:ront)? ?(?:&|and|/|\\+)? ?(?:then )?(?:${INTO} )?(?:the )?b(?:ack)?${OF_ST}`,
    ),
    name: 'kfb',
  },
  {
    starts: 'p',
    re: spaced(
      `p(?:url)? ?1? ?(?:${INTO} )?(?:the )?f(?:ront)? ?(?:&|and|/|\\+)? ?(?:then )?(?:${INTO} )?(?:the )?b(?:ack)?${OF_ST}`,
    ),
    name: 'pfb',
  },
  { starts: 'k', re: spaced('kyok|k1yok1'), name: '(k1, yo, k1) in 1 st' },
  { starts: 'k', re: spaced('kpk|k1pk1'), name: '(k1, p1, k1) in 1 st' },
  { starts: 'p', re: spaced('pkp'), name: '(p1, k1, p1) in 1 st' },
  {
    starts: 's',
    re: spaced(
      `(?:sl(?:ip)?|s) ?(?:the )?(?:next )?${TWO} ?(?:${STS} )?(?:at the same time )?(?:tog(?:ether)?,)?(?:${KWISE},)?(?:at once,)?(?:then |and )?k(?:nit)? ?(?:the )?(?:next )?(?:${ONE}|st(?:itch)?)(?: ?st(?:itch)?)?,(?:and |then )?${P2SSO}`,
    ),
    name: 's2kp',
  },
  {
    starts: 's',
    re: spaced(
      `(?:sl(?:ip)?|s) ?${ONE} ?(?:${STS})?,(?:${KWISE},)?(?:then |and )?k(?:nit)? ?${TWO} ?(?:${STS} )?tog(?:ether)?,(?:and |then )?${PSSO}`,
    ),
    name: 'sk2p',
  },
  {
    starts: 's',
    re: spaced(
      `(?:sl(?:ip)?|s) ?${ONE} ?(?:${STS})?,(?:loose(?:ly)?,)?(?:${KWISE},)?(?:with yarn in back,)?(?:then |and )?k(?:nit)? ?${ONE} ?(?:${STS})?,(?:and |then )?${PSSO}`,
    ),
    name: 'skp',
  },
  { starts: 's', re: spaced('s2kp2?o?|s2k|s2togkpo?|s2 ?tog ?k1'), name: 's2kp' },
  {
    starts: 'cd',
    re: spaced(
      '(?:cdd|cddk|(?:double )?cent(?:re|er)(?:e?d)? double decrease|central double decrease|double cent(?:re|er)(?:e?d)? decrease)',
    ),
    name: 's2kp',
  },
  { starts: 'cs', re: spaced('cddp|s2pp2?|s2p2'), name: 's2pp' },
  { starts: 's', re: spaced('sk2po?|sl1k2togpsso|skkp'), name: 'sk2p' },
  { starts: 's', re: spaced('skpo?|s1kp'), name: 'skp' },
  { starts: 's', re: spaced('sssk|s s s k|slip,slip,slip,knit'), name: 'sssk' },
  { starts: 's', re: spaced('sssp'), name: 'sssp' },
  {
    starts: 'dmg',
    re: spaced('ds|(?:make )?(?:a )?double st(?:itch)?|gsr'),
    name: 'sl1 wyif',
  },
  {
    starts: 's',
    re: spaced(
      `ssk|s s k|slip,slip,knit(?: (?:the |those )?(?:${TWO} )?slipped ${STS}(?: together)?| (?:the |those )?${TWO} together| decrease)?(?: ${TBL})?|sl1,sl1,k2tog tbl`,
    ),
    name: 'ssk',
  },
  // "slip 2 knitwise one at a time, knit them together through the back loops"
  {
    starts: 's',
    re: spaced(
      `(?:sl(?:ip)?) ?(?:the )?(?:next )?${TWO} ?(?:${STS})?,(?:${KWISE},)?(?:${ONE} (?:at a time|after the other|by ${ONE}),|separately,|singly,)(?:${KWISE},)?(?:then |and )?k(?:nit)? ?(?:them|these|those|both|(?:the )?${TWO})? ?(?:slipped )?(?:${STS} )?tog(?:ether)?(?:,${TBL})?`,
    ),
    name: 'ssk',
  },
  { starts: 's', re: spaced('ssp|s s p|slip,slip,purl'), name: 'ssp' },
  { starts: 'm', re: spaced('make (?:1|one|a) yarn ?over'), name: 'yo' },
  {
    starts: 'im',
    re: spaced(
      '(?:m|mk|make|inc(?:rease)?) ?(?:a )?(?:1|one|st(?:itch)?)? ?(?:st(?:itch)?)? ?(?:leaning|slanting|sloping) (?:to the )?left|(?:m|mk|make) ?(?:1|one) ?(?:l|left|lft|f)',
    ),
    name: 'm1l',
  },
  {
    starts: 'im',
    re: spaced(
      '(?:m|mk|make|inc(?:rease)?) ?(?:a )?(?:1|one|st(?:itch)?)? ?(?:st(?:itch)?)? ?(?:leaning|slanting|sloping) (?:to the )?right|(?:m|mk|make) ?(?:1|one) ?(?:r|right|rt|b)',
    ),
    name: 'm1r',
  },
  {
    starts: 'm',
    re: spaced('(?:m|mk|make) ?(?:1|one) ?(?:p|purl|p ?wise|purl ?wise|pl|pr|lp|rp)'),
    name: 'm1p',
  },
  {
    starts: 'm',
    re: spaced(`(?:m|mk|make) ?(?:1|one) ?(?:k|knit|k ?wise|a|t)?(?: ?${STS})?`),
    name: 'm1',
  },
  { starts: 'm', re: spaced('mb|make (?:a )?bobble'), name: 'mb' },
  { starts: 'b', re: spaced('bobble'), name: 'mb' },
  { starts: 'l', re: spaced('lli|left lifted (?:increase|inc)'), name: 'lli' },
  { starts: 'r', re: spaced('rli|right lifted (?:increase|inc)'), name: 'rli' },
  { starts: 'b', re: spaced('(?:backwards?|e) loop (?:increase|inc|cast on)'), name: 'co1' },
  {
    starts: 'yd',
    re: spaced(
      'yo ?2x?(?! ?(?:more )?times)|yo twice|dyo|double (?:yo|yarn ?over)|y2rn|yo ?x ?2|y2o',
    ),
    name: 'yo',
    times: 2,
  },
  {
    starts: 'y',
    re: spaced(
      'yo(?: ?1)?|yon|yrn|yfwd|yfd|yfrn|yfon|yf|yarn ?over(?: needle)?|yarn ?fo?r?wa?r?d|yarn (?:round|around|on) (?:the )?needle',
    ),
    name: 'yo',
  },
  { starts: 'w', re: spaced('wool (?:forward|round needle|over needle)|wfwd|wrn|won'), name: 'yo' },
  {
    starts: 'ik',
    re: spaced(
      `(?:inc(?:rease)?\\.?(?: ?knit ?wise)?(?: ?once)?(?: ?(?:1|one))?(?: ?${STS})?(?: (?:in|into|by working into front and back of) (?:the )?(?:next|first|last|same|each|every|all|both) ${STS})?)`,
    ),
    name: 'kfb',
  },
  {
    starts: 'k',
    re: spaced(
      'k(?:nit)? ?2 (?:sts|stitches) (?:from|into|in|out of) (?:each|every) (?:1 )?st(?:itch)?',
    ),
    name: 'kfb',
  },
  {
    starts: 'd',
    re: spaced('drop (?:1|one|next|the next)? ?(?:st(?:itch)?|yo|loop)'),
    name: 'drop1',
  },
];

const BY_START = new Map<string, WordRule[]>();
for (const rule of RULES) {
  for (const c of rule.starts) {
    const list = BY_START.get(c) ?? [];
    list.push(rule);
    BY_START.set(c, list);
  }
}

// Plain stitches with their counts.
const FAST = /([kp])(\d{1,7})(?=\s*(?:[,;)\]}*]|\.(?!\d)|$))/y;
const VERB =
  /(k(?:nit)?|p(?:url)?|sl(?:ip)?|s(?=\s*\d)|bo|bind[\s-]*off|cast[\s-]*off|co|cast[\s-]*on)(?![a-z])/y;
const COUNT = new RegExp(
  `\\s*(?:(?:the\\s+)?(?:next|first|last|final|following|remaining|rem\\.?|other|center|centre|corner|edge|these|those)\\s*)?(${NUM})(?!\\s*/\\s*\\d)(?!\\s*(?:${STS}\\s*)?tog)(?!\\s*(?:more\\s+)?(?:rounds?|rnds?|rows?|times|cm\\b|inch|ins?\\b(?!\\s+[a-z])|"))(?:\\s*(?:edge|corner|seam|border|selvedge|more|center|centre)?\\s*${STS})?`,
  'y',
);
const EVERYTHING = /\s*everything(?![a-z])/y;
const ONE_ST =
  /\s*(?:the\s+|this\s+|a\s+)?(?:next|first|last|final|following|corner|edge|marked|center|centre|seam|selvedge|remaining)?\s*(?:corner\s+|marked\s+|edge\s+)?(?:st|stitch)(?![a-z])|\s*the\s+(?:next|first|last|final|following)(?:\s+one)?(?=\s*[,;.)])/y;
const ALL_STS =
  /\s*(?:(?:all|every|each|both|the|of|remaining|rem\.?|those|these)\s+)+(?:\d+\s+)?(?:sts?|stitch(?:es)?|(?<=\b(?:all|every|each|both)\s(?:(?:the|of|\d+)\s)*)(?:halves|half|needles?|dpns?|tips?)|(?:rounds?|rnds?|rows?)(?=\s*(?:[.;(]|$)))?(?![a-z])(?:\s+on\s+(?:the\s+)?needles?)?/y;
const SUFFIX_TBL = new RegExp(`(?:[\\s-]*(?:${TBL.replaceAll(' ', '[\\s-]*')})(?![a-z]))`, 'y');
const SUFFIX_B = /b(?![a-z0-9])/y;
const SLIP_WAY =
  /[\s,-]*(?:(p(?:url)?[\s-]?wise|as\s+if\s+to\s+p(?:url)?(?![a-z]))|(k(?:nit)?[\s-]?wise|as\s+if\s+to\s+k(?:nit)?(?![a-z]))|(wyif|wyf|with\s+(?:the\s+)?(?:yarn|yf)\s+(?:held\s+)?(?:in|at|to)\s+(?:the\s+)?front|yarn\s+in\s+front)|(wyib|wyb|with\s+(?:the\s+)?yarn\s+(?:held\s+)?(?:in|at|to)\s+(?:the\s+)?back|yarn\s+in\s+back))/y;
const SLIP_LETTER = /([pk])(?![a-z0-9])/y;
const YARN_FIRST =
  /(?:bring\s+|with\s+|move\s+)?(?:yf|yfwd|yarn\s+(?:to\s+(?:the\s+)?)?(?:front|forward|fwd)|wyif)[\s,]+(?=sl(?:ip)?\b|sl\d)/y;
const YARN_BACK =
  /[\s,]*(?:take\s+|bring\s+|move\s+)?(?:yb|ybk|yarn\s+(?:to\s+(?:the\s+)?)?back)(?![a-z])/y;

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
  return { name: yarn ? `${base} ${yarn}` : base, amount, end, doubt: '', spelled: false };
}

/** A stitch that starts exactly at `at`, or null. */
export function readStitch(text: string, at: number): ReadStitch | null {
  const fast = matchAt(FAST, text, at);
  if (fast) {
    return {
      name: fast[1],
      amount: { times: Number(fast[2]) },
      end: FAST.lastIndex,
      doubt: '',
      spelled: false,
    };
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
    return {
      name: cable.name,
      amount: null,
      end: cable.end,
      doubt: cable.doubt,
      spelled: false,
    };
  }
  for (const rule of BY_START.get(text[at]) ?? []) {
    const m = matchAt(rule.re, text, at);
    if (!m) continue;
    const name = typeof rule.name === 'string' ? rule.name : rule.name(m);
    if (name === null) continue;
    const many = /\b(?:of|in|into|from|out of)\s+(?:the\s+)?(both|each|every|all)\s/.exec(
      m[0],
    )?.[1];
    const amount: Amount | null =
      many === 'both' ? { times: 2 } : many ? { kind: 'rest', count: 0 } : null;
    return {
      name,
      amount: rule.times ? { times: rule.times } : amount,
      end: rule.re.lastIndex,
      doubt: '',
      spelled: false,
    };
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
    return { name: on ? 'co1' : 'bo1', amount, end, doubt: '', spelled: false };
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
