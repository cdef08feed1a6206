/**
 * Instructions that repeat rounds: `Repeat rounds 3 and 4 five more times`, `Rep last 2 rounds until 8
 * sts remain`, `Work rounds 1-4 a total of 3 times`, `Work decrease round every 4th round 5 times`.
 */

import { readStatedCount, type StatedCount } from './grammar/steps/stated-counts.ts';
import { readTimes } from './grammar/steps/targets.ts';
import { roundName, UNIT } from './labels.ts';
import {
  LENGTH,
  NUM,
  NUMBER_LIST,
  ORDINAL,
  ORDINAL_LIST,
  toLength,
  toNumber,
  toNumberList,
  toOrdinal,
  toOrdinalList,
} from './lex/numbers.ts';

export interface RepeatLine {
  /** Round numbers to work, in order; empty where `last` says how many back. */
  readonly numbers: readonly number[];
  /** How many of the rounds just worked; 0 where `numbers` says which. */
  readonly last: number;
  /** "these rounds": all of the rounds since the last heading. */
  readonly these: boolean;
  /** `numbers` are those of a numbered list of instructions. */
  readonly steps: boolean;
  /** Times more than worked so far; null where `untilStitches` or `untilMm` decides, or the text does, unreadably. */
  readonly times: number | null;
  /** "for 6 rounds": so many rounds more, in whole repeats. */
  readonly forRounds: number | null;
  /** `times` is the total, including what has been worked. */
  readonly total: boolean;
  readonly untilStitches: number | null;
  readonly perSide: boolean;
  readonly untilMm: number | null;
  /** "ending with round 2". */
  readonly endWith: number | null;
  readonly stated: StatedCount | null;
}

export interface NamedLine {
  readonly name: string;
  /** Rounds from one to the next; 1 works it every round. */
  readonly every: number;
  readonly times: number | null;
  readonly more: boolean;
  readonly untilStitches: number | null;
  readonly stated: StatedCount | null;
}

const HEAD = new RegExp(
  `^\\s*(?:(?:and|then|now)\\s+){0,3}(rep(?:eat)?(?:ing)?|work(?:ing)?|knit|cont(?:inue)?)\\b\\.?[^\\d]*?(?:(these|those|last|previous|prev\\.?|above|preceding|this)\\s+(?:(${NUM})\\s+)?(?:${UNIT})|(?:rounds?|rnds?|rds?|rows?|steps?|r)\\.?\\s*#?\\s*(${NUMBER_LIST})|\\s(${NUM})\\s+(?:${UNIT}))`,
);
const HEAD_COUNT = new RegExp(
  `^\\s*(?:(?:and|then|now)\\s+){0,3}rep(?:eat)?\\.?\\s+(?:(?:the|this|these|all)\\s+){0,2}(${NUM})[\\s-]+(?:round|rnd|row)[\\s-]+(?:pat[a-z.]*|rep[a-z.]*|sequence)`,
);
const HEAD_NTH = new RegExp(
  `^\\s*(?:(?:and|then|now)\\s+){0,3}(rep(?:eat)?(?:ing)?)\\.?\\s+(?:from\\s+)?(?:the\\s+)?(${ORDINAL_LIST})\\s+(?:${UNIT})`,
);
const UNTIL_STS = new RegExp(
  `(?:until|till?)\\s+(?:(?:there\\s+)?(?:are|is)\\s+)?(?:(?:you|we)\\s+(?:have|are\\s+left\\s+with|reach)\\s+)?(?:only\\s+|just\\s+|a\\s+total\\s+of\\s+|the\\s+last\\s+)?(${NUM})\\s*(?:sts?|stitch(?:es)?|loops)?\\s*(?:remain|rem\\b|are|left|on|in|total|have)?`,
);
const DOWN_TO = new RegExp(
  `(?:(?:down|up)\\s+to|\\bto|leaving|to\\s+leave)\\s+(?:only\\s+)?(${NUM})\\s*(?:sts?|stitch(?:es)?|loops)(?![a-z])(?!\\s*(?:before|from|of))`,
);
const UNTIL_MM = new RegExp(
  `(?:until|till)\\b[^.\\d]{0,60}?(${LENGTH})\\s*(cm|mm|ins?\\b|inch(?:es)?|")|for\\s+(${LENGTH})\\s*(cm|mm|ins?\\b|inch(?:es)?|")`,
);
const FOR_ROUNDS = new RegExp(
  `\\bfor\\s+(?:a\\s+further\\s+|another\\s+|the\\s+next\\s+)?(${NUM})\\s+(?:more\\s+|further\\s+)?(?:${UNIT})`,
);
/** Something decides how long; whether it can be read or not. */
const UNTIL = /\b(?:until|till)\b/;
const END_WITH = new RegExp(
  `end(?:ing)?\\s+(?:with|after|on)\\s+(?:a\\s+)?(?:${UNIT}|r)\\s*(\\d+)`,
);
const MM: Record<string, number> = { c: 10, m: 1, i: 25.4, '"': 25.4 };

export interface Tail {
  times: number | null;
  more: boolean;
  total: boolean;
  untilStitches: number | null;
  /** The number is that of one side or section. */
  perSide: boolean;
  untilMm: number | null;
  stated: StatedCount | null;
}

export function readTail(text: string): Tail {
  const tail: Tail = {
    times: null,
    more: false,
    total: false,
    untilStitches: null,
    perSide: false,
    untilMm: null,
    stated: null,
  };
  const mm = UNTIL_MM.exec(text);
  const sts = UNTIL_STS.exec(text) ?? DOWN_TO.exec(text.replace(/[([][^()[\]]*[)\]]/g, ' '));
  if (mm) tail.untilMm = toLength(mm[1] ?? mm[3]) * MM[(mm[2] ?? mm[4])[0]];
  else if (sts) {
    tail.untilStitches = toNumber(sts[1]);
    const after = text.slice(sts.index + sts[0].length, sts.index + sts[0].length + 60);
    tail.perSide =
      /^[^.;()]*?\b(?:between|each|per|every)\b[^.;()]{0,12}\b(?:markers?|m|sides?|needles?|sections?|edges?)\b/.test(
        after,
      );
  }
  for (const m of text.matchAll(/[([]([^()[\]]*)[)\]]/g)) {
    const count = readStatedCount(m[1]);
    if (count && /\d\s*(?:sts?|stitch|rem|left|loops|$)/.test(m[1])) tail.stated ??= count;
  }
  const dash = /(?:\s-+|=|:)\s*(\d[^.;]*)/.exec(text);
  if (dash) tail.stated ??= readStatedCount(dash[1]);
  const after = /[.;]\s*(?:you\s|there\s)?([^.;]*\d+\s*(?:sts|stitches)[^.;]*)/.exec(text);
  if (after) tail.stated ??= readStatedCount(after[0].replace(/^[.;\s]+/, ''));
  const plain = text.replace(/[([][^()[\]]*[)\]]/g, (m) => ' '.repeat(m.length));
  for (let i = 0; i < plain.length; i++) {
    if (i > 0 && /[a-z0-9]/.test(plain[i - 1])) continue;
    const times = readTimes(plain, i);
    if (times) {
      tail.times = times.times;
      tail.more = times.more;
      tail.total = times.total;
      break;
    }
  }
  return tail;
}

/** Reads a sentence that starts with `repeat` or `work rounds …`; null where it names no rounds. */
export function readRepeat(text: string): RepeatLine | null {
  const nth = HEAD_NTH.exec(text);
  const counted = HEAD_COUNT.exec(text);
  const head = nth ?? counted ?? HEAD.exec(text);
  if (!head) return null;
  const rest = text.slice(head[0].length, head[0].length + 400);
  const tail = readTail(rest);
  let numbers: number[] = [];
  let last = 0;
  let these = false;
  if (nth) {
    const list = toOrdinalList(nth[2]);
    if (!list) return null;
    numbers = list;
  } else if (counted) last = toNumber(counted[1]);
  else if (head[4]) {
    const list = toNumberList(head[4]);
    if (!list) return null;
    numbers = list;
    if (/\bfrom\s+(?:the\s+)?(?:${UNIT})/.test(head[0]) && list.length === 1) these = false;
  } else if (head[5]) last = toNumber(head[5]);
  else if (head[3]) last = toNumber(head[3]);
  else if (/these|those|above/.test(head[2]) && /rounds|rnds|rows|rds/.test(head[0])) these = true;
  else last = 1;
  const end = END_WITH.exec(rest);
  const open = UNTIL.test(rest);
  const forRounds = FOR_ROUNDS.exec(rest);
  const repeats = counted !== null || head[1].startsWith('rep');
  return {
    numbers,
    last,
    these,
    times: tail.times ?? (open || tail.untilStitches !== null || tail.untilMm !== null ? null : 1),
    steps: /\bsteps?\s*\d/.test(head[0]),
    total: tail.total || (!repeats && !tail.more && tail.times !== null),
    forRounds: forRounds ? toNumber(forRounds[1]) : null,
    untilStitches: tail.untilStitches,
    perSide: tail.perSide,
    untilMm: tail.untilMm,
    endWith: end ? Number(end[1]) : null,
    stated: tail.stated,
  };
}

const NAMED = new RegExp(
  `^\\s*(?:(?:and|then|now)\\s+){0,3}(rep(?:eat)?\\.?|work(?:ing)?|knit)\\s+(?:the\\s+|a\\s+|this\\s+|another\\s+)?((?:[a-z][a-z'-]*\\s+){1,3}?)(?:${UNIT})`,
);
const EVERY = new RegExp(
  `(?:on\\s+)?(?:(?:the\\s+)?(?:next|following)\\s+(?:${UNIT}\\s+)?and\\s+)?(?:on\\s+|then\\s+)?(?:every|each)\\s+(?:following\\s+|foll\\.?\\s+)?(?:(${ORDINAL})\\s+|(${NUM})\\s+)?(?:${UNIT})`,
);

const PART_NAMED = new RegExp(
  `^(?:(?:work|rep(?:eat)?\\.?|knit)\\s+)?(?:the\\s+|a\\s+|one\\s+|1\\s+)?((?:[a-z][a-z'-]*\\s+){0,2}[a-z][a-z'-]*)\\s+(?:${UNIT})$`,
);

export interface Compound {
  /** In turn: the name of a round described before, or the text of a plain instruction. */
  readonly parts: readonly ({ readonly name: string } | { readonly text: string })[];
  readonly tail: Tail;
}

/** `Work dec rnd, then knit 3 rnds, 5 times in all`; null where the sentence is none such. */
export function readCompound(text: string): Compound | null {
  const end =
    /[\s,;)\]]+(?:(?:a\s+total\s+of\s+)?[a-z0-9]+(?:\s+more)?\s+times\b|twice\b|x\s*\d|until\b)/.exec(
      text,
    );
  if (!end) return null;
  const pieces = text
    .slice(0, end.index)
    .replace(/^[\s([]*(?:(?:and|then|now)\s+){0,3}|[\s)\]]+$/g, '')
    .split(/[\s,;]*(?:\b(?:and\s+then|then|followed\s+by|and)\s+)|\s*[,;]\s*/)
    .filter((p) => p !== '');
  if (pieces.length < 2 || pieces.length > 20) return null;
  const parts = pieces.map((piece) => {
    const named = PART_NAMED.exec(piece.trim());
    const plain =
      /^(?:(?:work|knit|purl|k|p)\s+)?(?:\d|one\b|two\b|three\b|four\b|five\b|six\b)/.test(piece);
    return named && !plain ? { name: roundName(named[1]) } : { text: piece };
  });
  return parts.some((p) => 'name' in p) ? { parts, tail: readTail(text.slice(end.index)) } : null;
}

/** Reads `work decrease round every 4th round 5 times`; several spans may follow each other. */
export function readNamed(text: string): NamedLine[] {
  const head = NAMED.exec(text);
  if (!head) return [];
  const name = roundName(head[2]);
  const rest = text.slice(head[0].length, head[0].length + 400);
  const parts = rest.split(/,?\s*(?:and\s+)?then\s+(?=(?:on\s+)?every)|,\s*(?=every)/);
  return parts.map((part) => {
    const every = EVERY.exec(part);
    const span = every ? (every[1] ? toOrdinal(every[1]) : every[2] ? toNumber(every[2]) : 1) : 1;
    const tail = readTail(every ? part.replace(every[0], ' '.repeat(every[0].length)) : part);
    return {
      name,
      every: Number.isFinite(span) && span > 0 ? span : 1,
      times: tail.times ?? (tail.untilStitches !== null || UNTIL.test(part) ? null : 1),
      more: tail.more || head[1].startsWith('rep'),
      untilStitches: tail.untilStitches,
      stated: tail.stated,
    };
  });
}
