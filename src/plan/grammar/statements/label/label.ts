/**
 * Labels of rounds and rows: `Round 1:`, `Rnds 5-9 -`, `R1.`, `1st – 3rd rnd:`, `2nd and every alternate
 * row`, `Even-numbered rounds:`, `Next 3 rounds`, `Set-up row:`, `Decrease round:`. In: a cursor where one
 * may stand. Out: the label, the cursor behind it; null otherwise.
 */
import type { RoundLabel } from '../../ast.ts';
import { isUnit } from '../../phrases.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { every, lettered, named, next, ownNamed } from './by-name.ts';
import { bare, firstOnes, nth, numbered, parity } from './by-number.ts';
import {
  type Extras,
  fabricNamed,
  readAside,
  readCalled,
  readExtras,
  readPredicate,
  readSide,
} from './extras.ts';
import { likeAnother } from './like-another.ts';

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
      firstOnes(c) ??
      parity(c) ??
      nth(c) ??
      next(c) ??
      lettered(c) ??
      ownNamed(c) ??
      named(c) ??
      every(c) ??
      bare(c);
    if (!found) return null;
    const x: Extras = {
      side: found.side ?? null,
      stated: found.stated ?? null,
      again: false,
      colour: null,
      rule: found.rule,
    };
    if (!found.bare && !likeAnother(c)) {
      readExtras(c, x);
      c.takes(() => readAside(c));
    }
    if (found.numbers.length === 1) c.takes(() => readPredicate(c));
    // A comma may stand behind a number or "next", but hardly behind a name.
    const isNamed =
      found.name !== '' &&
      found.numbers.length === 0 &&
      !/^(?:next|last|final|joining)$/.test(found.name);
    const marked = found.bare === true || readMark(c, isNamed);
    // "2. moss st: *k1, p1*"
    const behind = found.bare ? c.attempt(() => fabricNamed(c)) : null;
    if (behind) {
      x.fabric = behind;
      readMark(c, true);
    }
    // "Round 2: (corner round) k2tog, …"
    if (marked && !x.called) readCalled(c, x);
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
      colour: x.colour,
      again: x.again,
      marked,
      ...(found.upTo ? { upTo: found.upTo } : null),
      ...(found.every ? { every: true } : null),
      ...(found.means && { means: found.means }),
      ...(x.fabric ? { fabric: x.fabric } : null),
      ...(x.called ? { called: x.called } : null),
    };
  });
}
