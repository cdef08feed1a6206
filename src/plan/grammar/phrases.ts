/**
 * Phrases that many sentences share: units, lists of round numbers, lengths, which rounds are meant. In: a
 * cursor at the phrase. Out: its meaning, the cursor behind it; null and the cursor unmoved otherwise.
 */
import { LENGTH_UNITS, ROUND_WORDS, ROW_WORDS, STITCH_WORDS, words } from '../lexicon/words.ts';
import type { RoundsRef } from './ast.ts';
import { betweenMarks } from './passages.ts';
import { says, saysAny } from './rules.ts';
import { readStatedCount, type StatedCount } from './steps/stated-counts.ts';
import { type ReadStitch, readStitch } from './steps/stitch-words.ts';
import type { TokenCursor } from './token-cursor.ts';

/** Longest range that is spelled out; a longer one is a slip of the pen. Chosen. */
const LONGEST_LIST = 20_000;
/** Most numbers or ranges of a list. Chosen: more make no sentence, and reading stays linear. */
const MOST_PARTS = 100;

/** What the numbered instructions of a list are called. */
const ITEM_WORDS = words(`
  step steps instruction instructions stage stages section sections part parts point points item items paragraph paragraphs para paras
  line lines no nos number numbers task tasks entry entries direction directions
`);

/** `round`, `rnds.`, `row`; `r` counts only before a number. */
export function unit(c: TokenCursor): 'round' | 'row' | null {
  if (c.eatWord(ROUND_WORDS)) return 'round';
  return c.eatWord(ROW_WORDS) ? 'row' : null;
}

export function isUnit(c: TokenCursor, ahead = 0): boolean {
  return c.isWord(ROUND_WORDS, ahead) || c.isWord(ROW_WORDS, ahead);
}

/** `sts`, `stitches`, `loops` */
export function eatStitches(c: TokenCursor): boolean {
  return c.eatWord(STITCH_WORDS) !== null;
}

/** A stitch by its name, or by one that the text gives it; nothing behind the cursor's end belongs to it. */
export function eatStitch(c: TokenCursor): ReadStitch | null {
  const at = c.from();
  const text = c.done ? '' : c.slice(c.i, c.end);
  const own = text === '' ? null : c.own?.matchAt(text, 0);
  const end = own?.name.length ?? 0;
  const named = own?.kind ? { name: own.kind, amount: null, end, doubt: '', spelled: false } : null;
  const read = named ?? (text === '' ? null : readStitch(text, 0));
  while (read && !c.done && c.from() - at < read.end) c.i++;
  return read;
}

/** A number of the list: not the count of stitches, times, rounds or a length behind it. */
function listNumber(c: TokenCursor): number | null {
  const t = c.peek();
  if (t?.kind !== 'number' || !Number.isInteger(t.value)) return null;
  const next = c.word(1);
  if (
    /^(?:times?|sts?|stitch(?:es)?|left|remain|remains|remaining|more|further|cms?|mm|in|ins|inch|inches)$/.test(
      next,
    )
  )
    if (
      next !== 'in' ||
      c.word(2) === '' ||
      /^(?:from|long|wide|deep|high|measured|above)$/.test(c.word(2))
    )
      // "rounds 7-14 in the same way"
      return null;
  // "2 x" is twice; in "rounds 1-2 x 10" the x belongs to the 10.
  if (next === 'x' && !c.isNumber(2)) return null;
  if (
    next === 'or' ||
    (c.here(1) === '/' && !c.isNumber(2) && c.word(2) !== 'ws' && c.word(2) !== 'rs')
  )
    return null;
  c.i++;
  return t.value;
}

/** Between the members of a list; `range` for "to". */
function separator(c: TokenCursor): 'range' | 'and' | null {
  const start = c.i;
  if (c.eatMark('-')) {
    for (let n = 0; n < 4 && c.eatMark('-'); n++);
    return 'range';
  }
  if (says(c, 'up|on? to|through|thru|till and including') || says(c, 'up to')) return 'range';
  if (c.phrase('to|through|thru|till')) return 'range';
  let got = false;
  if (c.eatMark(',&+/')) got = true;
  if (c.phrase('and')) got = true;
  if (c.eatMark('&')) got = true;
  if (!got) c.i = start;
  return got ? 'and' : null;
}

/** The words end behind so many more tokens. */
function endsIn(c: TokenCursor, ahead: number): boolean {
  return c.i + ahead >= c.end || c.mark('.;', ahead);
}

/** "rounds 2 and 3, 2 and 3": what comes again is told once. */
function once(list: readonly number[] | null): number[] | null {
  if (!list) return null;
  const period = list.indexOf(list[0], 1);
  const again =
    period > 0 && list.length % period === 0 && list.every((n, i) => n === list[i % period]);
  return list.slice(0, again ? period : undefined);
}

/** "4, 6, 8 … 22", "3, 5, 7 and so on to 21": the same step up to a last one. */
function goesOnTo(c: TokenCursor, out: number[], one: () => number | null): void {
  c.takes(() => {
    const { i } = c;
    if (!says(c, ',|.|and|so|on|forth|etc|up|to|until|till|through|as|far|including|the* @unit?'))
      return null;
    if (!/\.|\betc\b|\bso\b/.test(c.slice(i, c.i))) return null;
    const [before, last] = out.slice(-2);
    const to = one();
    const step = last - before;
    if (to === null || step < 1 || to <= last || (to - last) % step || to - last > LONGEST_LIST)
      return null;
    for (let n = last + step; n <= to; n += step) out.push(n);
    return true;
  });
}

/** Words behind a number of a list. */
const AFTER_LIST =
  /^(?:and|or|to|until|till|again|over|in|as|for|from|is|are|on|through|thru|were)$/;

function listOf(c: TokenCursor, one: () => number | null): number[] | null {
  const first = one();
  if (first === null) return null;
  const out = [first];
  let ranged = false;
  for (let parts = 0; parts < MOST_PARTS; parts++) {
    const start = c.i;
    if (out.length > 1) goesOnTo(c, out, one);
    const how = separator(c);
    if (!how) return out;
    // "3-4 - 24 sts", "3 and 4 – 24": what stands behind a dash is none of it.
    const dashed = how === 'range' && c.mark('-', -1);
    const spaced = dashed && c.peek(-1)?.spaced && c.peek()?.spaced;
    if (spaced && (ranged || (out.length > 1 && endsIn(c, 1)))) {
      c.i = start;
      return out;
    }
    // "rounds 1-2 through round 12": up to that one
    if (how === 'range' && ranged && isUnit(c)) {
      c.i = start;
      return out;
    }
    ranged ||= how === 'range';
    c.phrase('the');
    if (isUnit(c) || (c.isWord(ITEM_WORDS) && c.isNumber(1))) c.i++;
    else if (c.word() === 'r' && c.isNumber(1)) c.i++;
    const n = one();
    // "rounds 4 and 5, one lacy round and one plain"
    const counts = n === 1 && c.peek()?.kind === 'word' && !isUnit(c) && !AFTER_LIST.test(c.word());
    // "rounds 3 and 4 till 12 sts remain"
    if (n === null || counts || (how === 'range' && c.isWord(STITCH_WORDS))) {
      c.i = start;
      return out;
    }
    if (how === 'range') {
      const last = out[out.length - 1];
      if (n < last || n - last > LONGEST_LIST) return null;
      for (let i = last + 1; i <= n; i++) out.push(i);
    } else out.push(n);
    if (out.length > LONGEST_LIST) return null;
  }
  return null;
}

/** What a step of a list is told by: `3`, or `C`, which counts as much. */
export function itemNumber(c: TokenCursor): number | null {
  const letter = /^[a-h]$/.test(c.word()) ? c.word() : null;
  if (letter === null) return c.number();
  c.i++;
  return letter.charCodeAt(0) - 96;
}

/** `1`, `1-4`, `2, 4 and 6`, `3 through 6` */
export function numberList(c: TokenCursor): number[] | null {
  return c.attempt(() => listOf(c, () => listNumber(c)));
}

/** `2nd`, `1st-3rd`, `2nd, 4th and 6th` */
export function ordinalList(c: TokenCursor): number[] | null {
  const one = (): number | null => {
    const n = c.ordinal();
    // "5th rnd, 6th rnd, 7th rnd"
    if (n !== null && isUnit(c) && c.mark(',&+/', 1) && c.peek(2)?.kind === 'ordinal') c.i++;
    return n;
  };
  return c.attempt(() => listOf(c, one));
}

/** "like the first", "as 1st and 2nd": rounds by their numbers alone. */
export function nthsAlone(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    c.phrase('the');
    const numbers = ordinalList(c);
    const ends = c.done || c.mark('.,;(-=') || (c.phrase('again') && c.done);
    return numbers && ends ? { kind: 'numbers' as const, numbers } : null;
  });
}

/** `12`, `2.5`, `7 3/4`, `1/2`, `5,5` */
export function plainNumber(c: TokenCursor): number | null {
  const whole = c.number();
  if (whole === null) return null;
  const slash = (ahead: number): boolean =>
    c.isNumber(ahead) && c.here(ahead + 1) === '/' && c.isNumber(ahead + 2);
  if (c.mark('/') && c.isNumber(1) && whole < 10) {
    const under = c.peek(1)?.value ?? 1;
    if (under > 1 && under < 10) {
      c.i += 2;
      return whole / under;
    }
  }
  if (slash(0) || (c.mark('-') && slash(1))) {
    if (c.mark('-')) c.i++;
    const part = (c.peek(0)?.value ?? 0) / (c.peek(2)?.value || 1);
    c.i += 3;
    return whole + part;
  }
  if (c.mark(',') && c.isNumber(1) && !c.peek(1)?.spaced && !c.peek()?.spaced) {
    const digits = c.here(1);
    c.i += 2;
    return Number(`${whole}.${digits}`);
  }
  return whole;
}

/** What is told in mm below it is a needle, not a length. Chosen: the thickest that are sold are 25 mm. */
export const THICKEST_NEEDLE_MM = 26;

/** A length with its unit, mm. */
export function length(c: TokenCursor): number | null {
  return c.attempt(() => {
    const n = plainNumber(c);
    if (n === null) return null;
    c.eatMark('-');
    const unitMm = LENGTH_UNITS[c.mark('"') ? '"' : c.word()];
    if (unitMm === undefined || (unitMm === 1 && n < THICKEST_NEEDLE_MM)) return null;
    // "in" is an inch only where no word follows that it belongs to.
    const after = c.peek(1);
    const inch =
      /^(?:from|long|wide|of|high|deep|square|has|have|and|then|ending|measured|tall|above|or|before|beyond|in)$/;
    if (c.word() === 'in' && after?.kind === 'number') return null;
    if (c.word() === 'in' && after?.kind === 'word' && !inch.test(after.text)) return null;
    c.i++;
    // "5 cm / 2 in", "5 cm (2 in)": the first holds.
    const start = c.i;
    const open = c.eatMark('([');
    if (open || c.eatMark('/')) {
      const other = plainNumber(c);
      c.eatMark('-');
      const again = LENGTH_UNITS[c.mark('"') ? '"' : c.word()];
      if (other !== null && again !== undefined) {
        c.i++;
        if (open) c.eatMark(')]');
      } else c.i = start;
    }
    return n * unitMm;
  });
}

/** `(120 sts)`, `[30 sts each side]`: the text of a bracket that only states a count. */
export function bracketedCount(c: TokenCursor): StatedCount | null {
  if (!c.mark('([')) return null;
  const close = c.closing(40);
  if (close < 0) return null;
  const count = readStatedCount(c.slice(c.i + 1, close));
  if (!count) return null;
  c.i = close + 1;
  return count;
}

/** A name in one spelling: `dec rnd` and `decrease round` are the same round. */
export function roundName(words: string): string {
  return words
    .trim()
    .replace(/\bdec(?:r?easing|r?|s)?\b\.?/g, 'decrease')
    .replace(/\binc(?:reasing|r?|s)?\b\.?/g, 'increase')
    .replace(/\bset[\s-]*up\b/g, 'set-up')
    .replace(/\b(?:the|a|this|that)\s+/g, '')
    .replace(/\s+/g, ' ');
}

/** Words that begin no name of a round. */
const NO_NAME =
  /^(?:rep|repeat|work|do|doing|alternate|alternating|like|knit|knitting|purl|purling|k|p|these|those|every|each|all|until|for|cont|continue|bind|cast|join|turn|in|at|of|to|from|with|and|between|same|as|note|a|an|the|when|after|before|by|you|if|count|worked|on|start|starting|beg|begin|beginning|using|next|last|previous|first|this|other|alternate|alt|following|foll|even|odd|or|more|times|pattern|complete|further|additional|then|plain|end|around|across|till)$/;

/** Words that join others, within no name: "going like rounds 4 and 5". */
const JOINS = /^(?:like|as|of|with|in|on|only|these|those|all|every)$/;

/** One to three words before a unit: "decrease", "set-up", "1st dec". */
export function nameBeforeUnit(c: TokenCursor, most = 3): string | null {
  return c.attempt(() => {
    const start = c.i;
    for (let n = 0; n <= most; n++) {
      if (n > 0 && isUnit(c)) return roundName(c.slice(start, c.i));
      const t = c.peek();
      if (!t) return null;
      if (t.kind === 'ordinal' && n === 0) {
        c.i++;
        continue;
      }
      if (t.kind !== 'word') return null;
      const pattern = t.text === 'pattern' && isUnit(c, 1);
      if ((n === 0 ? NO_NAME : JOINS).test(t.text) && !pattern) return null;
      c.i++;
      for (let k = 0; k < 4 && c.mark('-/') && c.peek(1)?.kind === 'word'; k++) c.i += 2;
    }
    return null;
  });
}

/** A hyphen between a number and the word that it belongs to: "repeat 4-stitch cables". */
function tiesOn(c: TokenCursor): boolean {
  return c.mark('-') && !c.peek()?.spaced && c.peek(1)?.kind === 'word';
}

const OF_PATTERN =
  'of|from the|this|your? ~? chart|pattern|patt|pat|panel|table|cable|lace|motif|repeat|sequence';

/** How often or how long stands behind, or nothing more. */
function endsOrGoesOn(c: TokenCursor): boolean {
  return (
    c.isNumber() ||
    c.done ||
    c.mark('.,;') !== false ||
    /^(?:until|twice|once|for|a|another)$/.test(c.word())
  );
}

/** "both rounds", "this pair of rounds" */
const BOTH = ['both of? the|these|those? @unit', 'the|this|that|your? pair of the|these? @unit'];

/** "points 3 and 4", "the 2 rounds of points 3 up to and including 5", "no. 3" */
export function itemRef(c: TokenCursor): number[] | null {
  return c.attempt(() => {
    says(c, 'the|both|all* #? @unit of|in|from|under');
    says(c, 'the|from*');
    if (!c.eatWord(ITEM_WORDS)) return null;
    c.eatMark('#');
    const list = numberList(c) ?? listOf(c, () => itemNumber(c));
    says(c, '(|,? inclusive|incl )?');
    return list;
  });
}

/** Which rounds: "rounds 1 and 2", "the last 4 rounds", "these rounds", "steps 2-4", "2nd to 6th rounds". */
export function roundsRef(c: TokenCursor): RoundsRef | null {
  return c.attempt<RoundsRef>(() => {
    // "repeat only round 2", "point 3 alone"
    c.phrase('only|just|merely');
    const which = namedRounds(c);
    if (which && which.kind !== 'these') says(c, 'alone|only') ?? says(c, 'by itself|themselves');
    return which;
  });
}

function namedRounds(c: TokenCursor): RoundsRef | null {
  return c.attempt<RoundsRef>(() => {
    // "repeat (R3, R4)"
    if (c.mark('(') && /^(?:repeat|rep|work|do|as|of|like)$/.test(c.word(-1))) {
      c.i++;
      const inside = roundsRef(c);
      return inside && c.eatMark(')') ? inside : null;
    }
    const passage = betweenMarks(c);
    if (passage) return passage;
    if (saysAny(c, BOTH)) return { kind: 'last', count: 2 };
    const since = c.phrase('from|starting the? from?') || c.phrase('from the?');
    c.anyPhrase(['all of the|these?', 'all the?', 'the', 'both']);
    // "the pattern rows"
    if (says(c, 'pattern|patt|chart rounds|rows|rnds')) return { kind: 'these' };
    const items = itemRef(c);
    if (items) return { kind: 'items', numbers: items };
    // "repeat 3+4 twice", "as 1"
    if (c.isNumber() && /^(?:repeat|rep|as|like)$/.test(c.word(-1))) {
      const numbers = c.attempt(() => {
        const list = numberList(c);
        return list && !isUnit(c) && !tiesOn(c) && c.word() !== 'last' ? list : null;
      });
      if (numbers) return { kind: 'numbers', numbers };
    }
    const r = c.word() === 'r' && c.isNumber(1);
    if (r || isUnit(c)) {
      c.i++;
      c.anyPhrase(['no', 'nos', 'numbers?']);
      c.eatMark('#');
      const letter = /^[a-h]$/.exec(c.word());
      if (letter) {
        c.i++;
        const names = [letter[0]];
        const more = (): string | null => {
          if (separator(c) !== 'and') return null;
          if (isUnit(c)) c.i++;
          const next = /^[a-h]$/.exec(c.word());
          if (next) c.i++;
          return next?.[0] ?? null;
        };
        for (let n = 0; n < 8; n++) {
          const next = c.attempt(more);
          if (next === null) break;
          names.push(next);
        }
        return names.length > 1 ? { kind: 'letters', names } : { kind: 'named', name: letter[0] };
      }
      const numbers = once(numberList(c));
      if (!numbers) return null;
      says(c, OF_PATTERN);
      if (since && numbers.length === 1 && c.phrase('onwards|onward|on')) {
        return { kind: 'since', number: numbers[0] };
      }
      return since && numbers.length === 1
        ? { kind: 'since', number: numbers[0] }
        : { kind: 'numbers', numbers };
    }
    const nth = c.attempt(() => {
      const numbers = ordinalList(c);
      return numbers && unit(c) ? numbers : null;
    });
    if (nth)
      return since && nth.length === 1
        ? { kind: 'since', number: nth[0] }
        : { kind: 'numbers', numbers: nth };
    // "Repeat the pattern", "repeat this sequence"
    const worked = /^(?:rep(?:eat)?|work|do|knit)$/.test(c.word(c.word(-1) === 'the' ? -2 : -1));
    if (worked && c.takes(() => says(c, 'this|that? ~? pattern|patt|sequence') && endsOrGoesOn(c)))
      return { kind: 'these' };
    // "work the set 5 more times"
    const set = c.takes(() => {
      const given = /^(?:the|this|that)$/.test(c.word(-1)) || c.phrase('the|this|that');
      return (
        given && says(c, 'whole|full? set|stripe|cycle|pair|block') !== null && endsOrGoesOn(c)
      );
    });
    if (set) return { kind: 'set' };
    const near =
      /^(?:last|previous|prev|preceding|these|those|above|this|that|foregoing|both|same)$/.exec(
        c.word(),
      )?.[0];
    if (near) {
      c.i++;
      if (c.word() === 'last' || c.word() === 'previous' || c.word() === 'above') c.i++;
      const count = c.number();
      c.eatMark('-');
      const plural = /s$/.test(c.word());
      if (!unit(c)) {
        // "repeat those two (dec round + knit round) 7 more times"
        return count !== null && (c.mark('(') || c.isNumber()) ? { kind: 'last', count } : null;
      }
      c.phrase('above|again|sequence|pattern|patt|pat|rep|repeat');
      if (count !== null) return { kind: 'last', count };
      if (near === 'both') return { kind: 'last', count: 2 };
      return plural && /these|those|above|foregoing/.test(near)
        ? { kind: 'these' }
        : { kind: 'last', count: 1 };
    }
    if (
      /^(?:them|it)$/.test(c.word()) &&
      (c.isNumber(1) || /^(?:twice|once|again|a|another|until)$/.test(c.word(1)))
    ) {
      c.i++;
      // "Work it 50 times", "repeat it until …"; "keep at it until …" is said of all.
      const repeated = /^(?:rep|repeat|repeating|do|doing|work|working)$/.test(c.word(-2));
      return c.word(-1) === 'it' && (repeated || c.word() !== 'until')
        ? { kind: 'these', one: true }
        : { kind: 'these' };
    }
    // "the 4-round pattern", "these 2 rounds"
    const given = c.word(-1) === 'the';
    const count = c.number();
    if (count !== null && Number.isInteger(count)) {
      // "with the 2 rounds, a decrease round and a purl round, until …"
      if (
        given &&
        count > 1 &&
        c.takes(
          () =>
            unit(c) !== null &&
            (c.mark(',(') || /^(?:until|till|over|again|alternately)$/.test(c.word())),
        )
      )
        return { kind: 'last', count };
      c.eatMark('-');
      if (says(c, '@unit just|already worked|given|made|completed|done|told|knitted|described'))
        return { kind: 'last', count };
      const named = c.phrase('pattern|patt|chart');
      if (
        unit(c) &&
        (named ||
          c.phrase('cable|lace? pattern|patt|pat|rep|repeat|sequence') ||
          c.phrase('above') ||
          says(c, OF_PATTERN))
      )
        return { kind: 'last', count };
    }
    return null;
  });
}
