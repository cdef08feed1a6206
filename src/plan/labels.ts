/**
 * Labels of rounds and rows: `Round 1:`, `Rnds 5-9 -`, `R1.`, `Row 2 (WS):`, `2nd and every alternate
 * row`, `Even-numbered rounds:`, `Next round`, `Set-up row:`, `Decrease round:`. Reads at a place of the
 * normalised text.
 */

import { readStatedCount, type StatedCount } from './grammar/steps/stated-counts.ts';
import { NUM, NUMBER_LIST, ORDINAL, toNumber, toNumberList, toOrdinal } from './lex/numbers.ts';

export type Parity = 'odd' | 'even' | 'rs' | 'ws' | 'other';

export interface RoundLabel {
  /** Numbers it names, ascending as written; empty where it names none. */
  readonly numbers: readonly number[];
  /** "and all even rounds": every such round not described otherwise. */
  readonly rule: Parity | null;
  /** "Next 3 rounds". */
  readonly repeat: number;
  /** `decrease`, `set-up`, `next`; empty for numbered ones. */
  readonly name: string;
  /** Numbers of named rounds: `Set-up rounds 1 and 2`. */
  readonly suffix: readonly number[];
  readonly side: 'RS' | 'WS' | null;
  readonly unit: 'round' | 'row' | null;
  readonly stated: StatedCount | null;
  /** "(repeat)": a round written out again; its number is not checked. */
  readonly again: boolean;
  /** A colon, dash or full stop ends it. */
  readonly marked: boolean;
  /** Place where the instruction starts. */
  readonly end: number;
}

export const UNIT = '(?:rounds?|rnds?|rds?|rows?)(?![a-z])\\.?';
const NTH_RULE =
  '(?:all|every|each)\\s+(?:the\\s+)?((?:(?:following|foll\\.?|other|alternate|alt\\.?|remaining|subsequent|rest\\s+of\\s+the|even|odd|ws|rs|wrong[\\s-]side|right[\\s-]side|2nd|second)(?:[\\s-]*(?:numbered|side))?\\s*){0,5})';
const NUMBERED = new RegExp(
  `(?:(?:on|work|for)\\s+)?(rounds?|rnds?|rds?|rows?|rw|r)(?:\\.(?=\\s*\\d))?\\s*(?:no\\.?\\s*|nos\\.?\\s*|#\\s*)?(${NUMBER_LIST})(?![a-z0-9]|/(?!\\s*[rw]s\\b))`,
  'y',
);
const AND_RULE = new RegExp(`\\s*,?\\s*(?:and|&)\\s+${NTH_RULE}(?:(${UNIT})|(?=\\s*[:(-]))`, 'y');
const PARITY = new RegExp(
  `(?:(?:on|work)\\s+)?(?:(?:all|every|each)\\s+)?(?:the\\s+)?(even|odd|ws|rs|wrong[\\s-]side|right[\\s-]side|other|alternate)(?:[\\s-]*numbered|[\\s-]*no\\.?)?\\s+(${UNIT})(?:\\s*(?:from\\s+)?(${NUMBER_LIST}))?(?:\\s+(?:to|through)\\s+(?:the\\s+)?end)?`,
  'y',
);
const NTH = new RegExp(
  `(?:the\\s+)?(?:on\\s+)?(${ORDINAL})((?:\\s*(?:,|and|&|,\\s*and)\\s*(?:${ORDINAL})){0,20})(?:\\s+(?:and|&)\\s+${NTH_RULE})?\\s+(${UNIT})`,
  'y',
);
const NEXT = new RegExp(
  `(?:on\\s+)?(?:the\\s+)?(next|following|foll\\.?|last|final|joining)\\s+(?:(${NUM})\\s+)?(${UNIT})`,
  'y',
);
const NAMED = new RegExp(
  `((?:\\d{1,3}(?:st|nd|rd|th)\\s+)?(?:[a-z][a-z'/-]{0,24}\\s+){1,4}?)(rounds?|rnds?|rds?|rows?)(?![a-z])\\.?(?:\\s+(${NUMBER_LIST}))?`,
  'y',
);
const SETUP = /(set[\s-]*up|foundation|edging|border|preparation|preparatory)\s*(?=:)/y;
const WORD_NUMBER =
  '(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty)';
const WORDED = new RegExp(
  `(rounds?|rnds?|rds?|rows?)\\s+(${WORD_NUMBER}(?:(?:\\s*,\\s*(?:and\\s+)?|\\s+and\\s+|\\s*&\\s*)${WORD_NUMBER}){0,12})(?![a-z])`,
  'y',
);
const EVERY = /(?:every|each|all)\s+(rounds?|rnds?|rows?)\.?\s*(?=:)/y;
const BARE = /(\d{1,4})\s*(?:[:)]|\.(?!\d))\s*(?=[a-z*([])/y;
const SIDE =
  /\s*(?:,\s*)?(?:[([]\s*(rs|ws|right\s+side|wrong\s+side)(?:\s+(?:facing|row|side))?\s*[)\]]|[-/]?\s*(rs|ws)(?![a-z])(?:\s+facing)?|,\s*(right\s+side|wrong\s+side)(?:\s+facing)?)/y;
const EXTRA = /\s*[([]([^()[\]\n]{1,80})[)\]]/y;
const MARK = /\s*(?:[:=>]|\.(?!\d)|-(?!\s*\d+\s*(?:st|\)))|\)|,(?=\s))+\s*/y;
const NOT_NAMES =
  /^(?:repeat|rep|work|knit|purl|k|p|these|those|every|each|all|until|for|cont|continue|bind|cast|join|turn|in|at|of|to|from|with|and|between|same|as|note|a|when|after|before|by|you|if|count|worked|on|start|starting|beg|begin|beginning|using)\b/;

function at(re: RegExp, text: string, from: number): RegExpExecArray | null {
  re.lastIndex = from;
  return re.exec(text);
}

function parityOf(words: string): Parity {
  if (/\beven/.test(words)) return 'even';
  if (/\bodd/.test(words)) return 'odd';
  if (/\bws\b|wrong/.test(words)) return 'ws';
  if (/\brs\b|right/.test(words)) return 'rs';
  return 'other';
}

function unitOf(word: string | undefined): 'round' | 'row' | null {
  if (word === undefined) return null;
  if (word.startsWith('row') || word === 'rw') return 'row';
  return word === 'r' ? null : 'round';
}

/** A name in one spelling: `dec rnd` and `decrease round` are the same round. */
export function roundName(words: string): string {
  return words
    .trim()
    .replace(/\bdec(?:r?easing|r?|s)?\b\.?/g, 'decrease')
    .replace(/\binc(?:reasing|r?|s)?\b\.?/g, 'increase')
    .replace(/\bset[\s-]*up\b/g, 'set-up')
    .replace(/\b(?:the|a|this)\s+/g, '')
    .replace(/\s+/g, ' ');
}

interface Head {
  readonly numbers: readonly number[];
  readonly rule: Parity | null;
  readonly repeat: number;
  readonly name: string;
  readonly unit: 'round' | 'row' | null;
  readonly end: number;
  /** A bare number such as `3.`, whose mark is part of it. */
  readonly bare?: boolean;
  readonly suffix?: readonly number[];
  readonly side?: 'RS' | 'WS';
}

/** What a label names, without the side, remarks and colon behind it. */
function readHead(text: string, from: number): Head | null {
  let m = at(NUMBERED, text, from);
  if (m) {
    const numbers = toNumberList(m[2]);
    if (!numbers) return null;
    const end = NUMBERED.lastIndex;
    const head = { numbers, rule: null, repeat: 1, name: '', unit: unitOf(m[1]), end };
    const more = at(AND_RULE, text, end);
    if (!more) return head;
    const unit = head.unit ?? unitOf(more[2]);
    return { ...head, rule: parityOf(more[1]), unit, end: AND_RULE.lastIndex };
  }
  m = at(PARITY, text, from);
  if (m) {
    const rule = parityOf(m[1]);
    // "RS row: knit" is one row; "RS rows: knit" are all of them.
    if (
      (rule === 'rs' || rule === 'ws') &&
      !/^(?:on\s+|work\s+)?(?:all|every|each)|s\.?$/.test(m[0]) &&
      !m[3]
    ) {
      const side = rule === 'rs' ? ('RS' as const) : ('WS' as const);
      return {
        numbers: [],
        rule: null,
        repeat: 1,
        name: 'next',
        unit: unitOf(m[2]),
        end: PARITY.lastIndex,
        side,
      };
    }
    const head = { repeat: 1, name: '', unit: unitOf(m[2]), end: PARITY.lastIndex };
    const list = m[3] ? toNumberList(m[3]) : null;
    if (!list || (rule !== 'even' && rule !== 'odd')) return { ...head, numbers: [], rule };
    const numbers = list.filter((n) => (n % 2 === 0) === (rule === 'even'));
    // "Even round 1" names a round after all.
    return { ...head, numbers: numbers.length > 0 ? numbers : list, rule: null };
  }
  m = at(NTH, text, from);
  if (m && !/^(?:other|alt)/.test(m[1])) {
    const more = m[2].split(/\s*(?:,|and|&)\s*/).filter((s) => s !== '');
    const numbers = [m[1], ...more].map(toOrdinal);
    const rule = m[3] === undefined ? null : parityOf(m[3]);
    return { numbers, rule, repeat: 1, name: '', unit: unitOf(m[4]), end: NTH.lastIndex };
  }
  m = at(NEXT, text, from);
  if (m) {
    const name = m[1].startsWith('f') && m[1] !== 'final' ? 'next' : m[1];
    const repeat = m[2] ? toNumber(m[2]) : 1;
    return { numbers: [], rule: null, repeat, name, unit: unitOf(m[3]), end: NEXT.lastIndex };
  }
  m = at(SETUP, text, from);
  if (m) {
    const end = SETUP.lastIndex;
    return { numbers: [], rule: null, repeat: 1, name: roundName(m[1]), unit: null, end };
  }
  m = at(NAMED, text, from);
  if (m && !NOT_NAMES.test(m[1])) {
    const name = roundName(m[1]);
    const suffix = m[3] ? toNumberList(m[3]) : [];
    if (!suffix || (suffix.length > 0 && name !== 'set-up')) return null;
    const repeat = Math.max(1, suffix.length);
    const unit = unitOf(m[2]);
    return { numbers: [], rule: null, repeat, name, unit, end: NAMED.lastIndex, suffix };
  }
  m = at(WORDED, text, from);
  if (m) {
    const numbers = m[2].split(/[\s,&]+(?:and\s+)?|\s+and\s+/).map(toNumber);
    return { numbers, rule: null, repeat: 1, name: '', unit: unitOf(m[1]), end: WORDED.lastIndex };
  }
  m = at(EVERY, text, from);
  if (m) {
    const end = EVERY.lastIndex;
    return { numbers: [], rule: null, repeat: 1, name: 'next', unit: unitOf(m[1]), end };
  }
  m = at(BARE, text, from);
  if (!m) return null;
  const end = BARE.lastIndex;
  return { numbers: [Number(m[1])], rule: null, repeat: 1, name: '', unit: null, end, bare: true };
}

/** The label that starts exactly at `from`, or null. */
export function readLabel(text: string, from: number): RoundLabel | null {
  const head = readHead(text, from);
  if (!head) return null;
  const { numbers, repeat, name, unit } = head;
  let { rule, end } = head;
  let side: 'RS' | 'WS' | null = head.side ?? null;
  let stated: StatedCount | null = null;
  let again = false;
  for (;;) {
    const s = at(SIDE, text, end);
    if (s) {
      side = (s[1] ?? s[2] ?? s[3]).startsWith('r') ? 'RS' : 'WS';
      end = SIDE.lastIndex;
      continue;
    }
    const extra = at(EXTRA, text, end);
    if (!extra) break;
    const count = readStatedCount(extra[1]);
    const ruled = at(AND_RULE, ` ${extra[1]} :`, 0);
    const words = /^[a-z ,.'/&-]+$/.test(extra[1]) && !/^\s*[kp]\s*$/.test(extra[1]);
    if (ruled) rule ??= parityOf(ruled[1]);
    else if (count) stated ??= count;
    else if (/^\s*(?:repeat|again)/.test(extra[1])) again = true;
    else if (words && !/\b(?:ssk|yo|pm|sm|kfb)\b/.test(extra[1])) {
      if (/\bws\b|wrong/.test(extra[1])) side = 'WS';
      else if (/\brs\b|right side/.test(extra[1])) side = 'RS';
    } else if (
      !/^[a-z\s]*(?:rounds?|rnds?|rows?)?\s*\d+(?:\s*(?:,|-|and)\s*\d+)*[a-z\s]*$/.test(extra[1])
    )
      break;
    end = EXTRA.lastIndex;
  }
  // A comma may stand behind a number or "next", but hardly behind a name.
  const named = name !== '' && numbers.length === 0 && !/^(?:next|last|final|joining)$/.test(name);
  const mark = named && text[end] === ',' ? null : at(MARK, text, end);
  const marked = head.bare === true || mark !== null;
  if (mark) end = MARK.lastIndex;
  if (named && !marked) return null;
  if (numbers.some((n) => !(n >= 0))) return null;
  const suffix = head.suffix ?? [];
  return { numbers, rule, repeat, name, suffix, side, unit, stated, again, marked, end };
}
