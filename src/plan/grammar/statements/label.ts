/**
 * Labels of rounds and rows: `Round 1:`, `Rnds 5-9 -`, `R1.`, `1st – 3rd rnd:`, `2nd and every alternate
 * row`, `Even-numbered rounds:`, `Next 3 rounds`, `Set-up row:`, `Decrease round:`. In: a cursor where one
 * may stand. Out: the label, the cursor behind it; null otherwise.
 */
import { ROUND_WORDS } from '../../lexicon/words.ts';
import type { Parity, RoundLabel } from '../ast.ts';
import { isUnit, numberList, ordinalList, roundName, unit } from '../phrases.ts';
import { isStitchWord } from '../prose.ts';
import { says } from '../rules.ts';
import { readStatedCount, type StatedCount } from '../steps/stated-counts.ts';
import type { TokenCursor } from '../token-cursor.ts';

type Unit = RoundLabel['unit'];

interface Head {
  readonly numbers: readonly number[];
  readonly rule: Parity | null;
  readonly repeat: number;
  readonly name: string;
  readonly unit: Unit;
  /** A bare number such as `3.`, whose mark is part of it. */
  readonly bare?: boolean;
  readonly suffix?: readonly number[];
  readonly side?: 'RS' | 'WS';
  readonly every?: boolean;
}

function head(part: Partial<Head>): Head {
  return { numbers: [], rule: null, repeat: 1, name: '', unit: null, ...part };
}

function unitHere(c: TokenCursor): Unit | undefined {
  if (c.word() === 'r' && c.isNumber(1)) {
    c.i++;
    return null;
  }
  return unit(c) ?? undefined;
}

/** `Round 5`, `Rows 1, 3 and 5`, `rnd no. 7`, `R1` */
function numbered(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|work|for|in|all?');
    const u = unitHere(c);
    if (u === undefined) return null;
    c.phrase('no|nos|number|numbers');
    c.eatMark('#');
    const numbers = numberList(c);
    if (!numbers) return null;
    const after = c.peek();
    if (after && after.kind === 'mark' && after.text === '/' && !/^[rw]s$/.test(c.word(1)))
      return null;
    return head({ numbers, unit: u, rule: andRule(c) });
  });
}

const RULE_WORDS =
  /^(?:following|foll|other|alternate|alt|remaining|subsequent|rest|of|the|even|odd|ws|rs|wrong|right|side|numbered|second)$/;

/** `and every alternate round`, `and all WS rows` */
function andRule(c: TokenCursor): Parity | null {
  return c.attempt(() => {
    c.eatMark(',');
    if (!c.phrase('and') && !c.eatMark('&')) return null;
    return everyRule(c);
  });
}

function everyRule(c: TokenCursor): Parity | null {
  const start = c.i;
  if (
    !c.phrase('all|every|each') &&
    !/^(?:foll|following|subsequent|alternate|alt|remaining)$/.test(c.word())
  ) {
    return null;
  }
  for (let n = 0; n < 8; n++) {
    const t = c.peek();
    if (t?.kind === 'word' && RULE_WORDS.test(c.word())) c.i++;
    else if (t?.kind === 'ordinal' && t.value === 2) c.i++;
    else if (c.mark('-') && c.peek(1)?.kind === 'word') c.i++;
    else break;
  }
  const words = c.slice(start, c.i);
  if (!unit(c) && !c.mark(':(-')) return null;
  return parityOf(words);
}

function parityOf(words: string): Parity {
  if (/\beven/.test(words)) return 'even';
  if (/\bodd/.test(words)) return 'odd';
  if (/\bws\b|wrong/.test(words)) return 'ws';
  if (/\brs\b|right/.test(words)) return 'rs';
  return 'other';
}

/** `All even rounds`, `WS rows`, `Every other round from 2`, `RS row` */
function parity(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|work|for');
    const every = c.phrase('all|every|each');
    c.phrase('the');
    const start = c.i;
    const w = c.word();
    if (!/^(?:even|odd|ws|rs|wrong|right|other|alternate|alt|remaining)$/.test(w)) return null;
    c.i++;
    c.eatMark('-');
    c.phrase('side|numbered|no');
    c.eatMark('-');
    c.phrase('numbered');
    const rule = parityOf(c.slice(start, c.i));
    const plural = /s$/.test(c.word());
    const u = unitHere(c);
    if (u === undefined) return null;
    c.phrase('from');
    const list = numberList(c);
    c.phrase('to|through the? end');
    if ((rule === 'rs' || rule === 'ws') && !every && !plural && !list) {
      return head({ name: 'next', unit: u, side: rule === 'rs' ? 'RS' : 'WS' });
    }
    if (!list || (rule !== 'even' && rule !== 'odd')) return head({ rule, unit: u });
    const numbers = list.filter((n) => (n % 2 === 0) === (rule === 'even'));
    // "Even round 1" names a round after all.
    return head({ numbers: numbers.length > 0 ? numbers : list, unit: u });
  });
}

/** `2nd round`, `1st – 3rd rnd`, `4th and every alt rnd` */
function nth(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|in|for');
    c.phrase('the');
    const numbers = ordinalList(c);
    if (!numbers) return null;
    const rule = c.attempt(() => {
      if (!c.phrase('and') && !c.eatMark('&')) return null;
      const found = everyRule(c);
      if (found) c.i--;
      return found;
    });
    const u = unitHere(c);
    // "5th round to 8th round"
    c.attempt(() => {
      if (u === undefined || numbers.length > 1) return null;
      if (!c.phrase('to|through|until|till the?') && !c.eatMark('-')) return null;
      c.phrase('the');
      const last = c.ordinal();
      if (last === null || !unit(c) || last <= numbers[0] || last - numbers[0] > 1000) return null;
      for (let n = numbers[0] + 1; n <= last; n++) numbers.push(n);
      return true;
    });
    if (u === undefined) {
      if (!rule) return null;
      c.i++;
      return c.mark(':(-') || isUnit(c, -1) ? head({ numbers, rule, unit: null }) : null;
    }
    return head({ numbers, rule, unit: u });
  });
}

/** `Next round`, `On the following 3 rounds` */
function next(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|for|in|work');
    c.phrase('the');
    const w = c.word();
    if (
      !/^(?:next|following|foll|last|final|joining)$/.test(w) &&
      !(c.here() === 'first' && c.isNumber(1))
    )
      return null;
    c.i++;
    const repeat = c.number() ?? 1;
    const u = unit(c);
    if (!u || !Number.isInteger(repeat)) return null;
    return head({ name: /^foll/.test(w) || w === '' ? 'next' : w, repeat, unit: u });
  });
}

const NOT_NAMES =
  /^(?:repeat|rep|work|knit|purl|k|p|these|those|every|each|all|until|for|cont|continue|bind|cast|join|turn|in|at|of|to|from|with|and|between|same|as|note|a|when|after|before|by|you|if|count|worked|on|start|starting|beg|begin|beginning|using|the|this|dec'd|now|then|finally|next|last)$/;

/** `Decrease round`, `Set-up rows 1 and 2`, `1st dec rnd`; only before a colon or dash. */
function named(c: TokenCursor): Head | null {
  return c.attempt(() => {
    // "Work a decrease round:"
    c.attempt(() =>
      c.phrase('work a|the|one') && /^(?:dec|inc|decrease|increase|set|plain)$/.test(c.word())
        ? true
        : null,
    );
    // "1 decrease round: …"
    const several = c.isNumber() && c.peek(1)?.kind === 'word' && !isUnit(c, 1) ? c.number() : null;
    const start = c.i;
    if (/^(?:set|setup|foundation|edging|border|preparation|preparatory)$/.test(c.word())) {
      const set = c.attempt(() => {
        c.i++;
        c.eatMark('-');
        c.phrase('up');
        if (c.phrase('for')) for (let n = 0; n < 4 && c.peek()?.kind === 'word'; n++) c.i++;
        return c.mark(':') ? roundName(c.slice(start, c.i).replace(/set ?-? ?up/, 'set-up')) : null;
      });
      if (set) return head({ name: set });
    }
    let words = 0;
    for (;;) {
      const t = c.peek();
      if (!t) return null;
      if (words > 0 && isUnit(c)) break;
      if (t.kind === 'ordinal' && words === 0) {
        c.i++;
        words++;
        continue;
      }
      if (t.kind !== 'word' || words >= 4) return null;
      if (words === 0 && NOT_NAMES.test(t.text)) return null;
      if (isStitchWord(t) || /^(?:all|around|across|end)$/.test(t.text)) return null;
      c.i++;
      words++;
      for (
        let k = 0;
        k < 4 && c.mark('-/') && c.peek(1)?.kind === 'word' && !c.peek(1)?.spaced;
        k++
      )
        c.i += 2;
    }
    const name = roundName(c.slice(start, c.i));
    const isRound = c.isWord(ROUND_WORDS);
    c.i++;
    const suffix = numberList(c) ?? [];
    if (
      several !== null &&
      (suffix.length > 0 || several < 1 || !Number.isInteger(several) || !c.mark(':'))
    )
      return null;
    const repeat = several ?? Math.max(1, suffix.length);
    return head({ name, suffix, repeat, unit: isRound ? 'round' : 'row' });
  });
}

/** `Row A:` */
function lettered(c: TokenCursor): Head | null {
  return c.attempt(() => {
    const u = unit(c);
    const letter = /^[a-h]$/.exec(c.word());
    if (!u || !letter) return null;
    c.i++;
    return c.mark(':.-') ? head({ name: letter[0], unit: u }) : null;
  });
}

/** `Every round:` */
function every(c: TokenCursor): Head | null {
  return c.attempt(() => {
    if (!c.phrase('every|each|all')) return null;
    const u = unit(c);
    return u && c.mark(':') ? head({ name: 'next', unit: u, every: true }) : null;
  });
}

/** `3.`, `3)`, `3:` */
function bare(c: TokenCursor): Head | null {
  return c.attempt(() => {
    const open = c.eatMark('([');
    // "1st: …"
    const nth = open
      ? null
      : c.attempt(() => {
          const found = ordinalList(c);
          return found && c.mark(':') ? found : null;
        });
    const numbers = nth ?? numberList(c);
    if (!numbers || numbers.some((n) => n > 9999)) return null;
    const dash = c.mark('-') && c.peek()?.spaced && c.peek(1)?.spaced && numbers.length === 1;
    if (open) {
      if (!c.eatMark(')]') || numbers[0] > 200) return null;
      c.eatMark(':.-');
    } else if (dash) c.i++;
    else if (!c.eatMark(numbers.length > 1 || nth ? ':' : ':).')) return null;
    const after = c.peek();
    if (!after || !(after.kind === 'word' || (after.kind === 'mark' && '*(['.includes(after.text))))
      return null;
    return head({ numbers, bare: true });
  });
}

interface Extras {
  side: 'RS' | 'WS' | null;
  stated: StatedCount | null;
  again: boolean;
  rule: Parity | null;
}

/** Sides, counts and remarks behind what a label names. */
function readExtras(c: TokenCursor, x: Extras): void {
  for (;;) {
    const start = c.i;
    if (
      c.phrase('inclusive|incl') ||
      c.phrase('as follows') ||
      says(c, '( of|out # )') ||
      says(c, '( of # )')
    )
      continue;
    if (readSide(c, x)) continue;
    c.i = start;
    if (!c.mark('([')) return;
    const close = c.closing(30);
    if (close < 0) return;
    const inside = c.slice(c.i + 1, close);
    const count = readStatedCount(inside);
    const ruled = c.attempt(() => {
      const end = c.end;
      c.i++;
      c.end = close;
      c.phrase('and') || c.eatMark('&');
      const got = c.phrase('all|every|each') ? parityOf(c.slice(c.i, close)) : null;
      c.end = end;
      return got;
    });
    const words = /^[a-z ,.'/&-]+$/.test(inside) && !/^\s*[kp]\s*$/.test(inside);
    if (ruled) x.rule ??= ruled;
    else if (count) x.stated ??= count;
    else if (/^\s*(?:repeat|again)/.test(inside)) x.again = true;
    else if (words && !/\b(?:ssk|yo|pm|sm|kfb|k|p)\b/.test(inside)) {
      if (/\bws\b|wrong/.test(inside)) x.side = 'WS';
      else if (/\brs\b|right side/.test(inside)) x.side = 'RS';
    } else if (
      !/^[a-z\s]*(?:rounds?|rnds?|rows?)?\s*\d+(?:\s*(?:,|-|and)\s*\d+)*[a-z\s]*$/.test(inside) &&
      !(
        /\b(?:dec|inc|shaping|sts?|corner)/.test(inside) &&
        readStatedCount(inside.replace(/^.*[;,]/, ''))
      )
    ) {
      return;
    } else {
      const late = readStatedCount(inside.replace(/^.*[;,]/, ''));
      if (late && /;|,/.test(inside)) x.stated ??= late;
    }
    c.i = close + 1;
  }
}

/** ", straight after the decrease round that left 12" between a label and its colon. */
function readAside(c: TokenCursor): true | null {
  if (!c.eatMark(',')) return null;
  if (
    !/^(?:which|the|this|straight|that|after|before|again|just|to|as|for|and|so|now)$/.test(
      c.word(),
    )
  )
    return null;
  for (let n = 0; n < 16; n++) {
    if (c.mark(':')) return n > 1 || null;
    const t = c.peek();
    if (!t || (t.kind === 'mark' && t.text !== '-') || isStitchWord(t)) return null;
    if (/^(?:knit|purl|k|p|knitting|purling|work|repeat|rep|needle|side|each|every)$/.test(t.text))
      return null;
    c.i++;
  }
  return null;
}

/** `(RS)`, `/WS`, `- RS facing`, `, right side` */
function readSide(c: TokenCursor, x: Extras): boolean {
  const open = c.mark('([') ? c.eatMark('([') : null;
  if (!open) c.eatMark(',-/');
  else c.eatMark('=');
  const w = c.word();
  const long = (w === 'right' || w === 'wrong') && c.word(1) === 'side';
  if (!long && w !== 'rs' && w !== 'ws') return false;
  c.i += long ? 2 : 1;
  c.phrase('facing|row|side|rows|round');
  if (open && !c.eatMark(')]')) return false;
  x.side = w[0] === 'r' ? 'RS' : 'WS';
  return true;
}

/** A colon, dash, full stop or bracket ends a label. */
function readMark(c: TokenCursor, noComma: boolean): boolean {
  let got = false;
  for (;;) {
    if (c.mark(':=>).•')) {
      c.i++;
      got = true;
      continue;
    }
    // "Round 3 - 88 sts" is a count, "Round 3 - knit" a mark.
    if (c.mark('-')) {
      if (c.isNumber(1) && (/^st/.test(c.word(2)) || c.here(2) === ')')) return got;
      c.i++;
      got = true;
      continue;
    }
    if (!got && !noComma && c.mark(',;') && c.peek(1)?.spaced) {
      c.i++;
      got = true;
      continue;
    }
    return got;
  }
}

const WORK_BEFORE = 'then|now|and|next|finally';

/** The label that stands here, or null. */
export function readLabel(c: TokenCursor): RoundLabel | null {
  return c.attempt<RoundLabel>(() => {
    c.attempt(() => {
      if (!c.phrase(WORK_BEFORE)) return null;
      for (let n = 0; n < 4 && (c.phrase(WORK_BEFORE) || c.eatMark(',')); n++);
      return isUnit(c) && (c.isNumber(1) || c.peek(1)?.kind === 'ordinal') ? true : null;
    });
    const found =
      numbered(c) ??
      parity(c) ??
      nth(c) ??
      next(c) ??
      lettered(c) ??
      named(c) ??
      every(c) ??
      bare(c);
    if (!found) return null;
    const x: Extras = { side: found.side ?? null, stated: null, again: false, rule: found.rule };
    if (!found.bare) readExtras(c, x);
    if (!found.bare) c.takes(() => readAside(c));
    // A comma may stand behind a number or "next", but hardly behind a name.
    const isNamed =
      found.name !== '' &&
      found.numbers.length === 0 &&
      !/^(?:next|last|final|joining)$/.test(found.name);
    const marked = found.bare === true || readMark(c, isNamed);
    const side = marked && c.takes(() => readSide(c, x));
    if (side) readMark(c, true);
    if (isNamed && !marked) return null;
    const { numbers, repeat, name, unit: u } = found;
    return {
      numbers,
      rule: x.rule,
      repeat,
      name,
      suffix: found.suffix ?? [],
      side: x.side,
      unit: u,
      stated: x.stated,
      again: x.again,
      marked,
      ...(found.every ? { every: true } : null),
    };
  });
}
