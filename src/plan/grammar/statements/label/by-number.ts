/**
 * Labels that name rounds by number or rule: `Round 5`, `Rows 1, 3 and 5`, `1st – 3rd rnd`, `4th and every alt rnd`,
 * `All even rounds`, `WS rows`, `3.`. In: a cursor. Out: what it names, or null.
 */
import type { Parity } from '../../ast.ts';
import { numberList, ordinalList } from '../../number-lists.ts';
import { bracketedCount, isUnit, unit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { type Extras, readSide } from './extras.ts';
import { type Head, head, parityOf, unitHere } from './head.ts';
import { likeAnother, likeNumbers } from './like-another.ts';

/** Most rounds of one label. Chosen: more is a slip of the pen. */
const MOST_ROUNDS = 1000;

/** `Round 5`, `Rows 1, 3 and 5`, `rnd no. 7`, `R1` */
export function numbered(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|work|for|in|at|from|all?');
    const u = unitHere(c);
    if (u === undefined) return null;
    c.phrase('no|nos|number|numbers');
    c.eatMark('#');
    const numbers = numberList(c);
    if (!numbers) return null;
    upTo(c, numbers);
    const after = c.peek();
    if (after && after.kind === 'mark' && after.text === '/' && !/^[rw]s$/.test(c.word(1)))
      return null;
    const sided = c.attempt(() => sidedRule(c));
    const rule = sided?.rule ?? andRule(c);
    const side = sided ? { side: sided.side } : null;
    return head(
      rule && numbers.length === 1
        ? { ...ruledUpTo(c, numbers[0], rule, u), ...side }
        : { numbers: rule ? numbers : ofSort(c, numbers), unit: u, rule, ...side },
    );
  });
}

/** "Row 2 (WS) and all even rows" */
function sidedRule(c: TokenCursor): { readonly rule: Parity; readonly side: 'RS' | 'WS' } | null {
  const { i } = c;
  if (!says(c, '(|[ rs|ws|right|wrong side? @unit? )|]')) return null;
  const side = /ws|wrong/.test(c.slice(i, c.i)) ? 'WS' : 'RS';
  const rule = andRule(c);
  return rule && { rule, side };
}

/** "Row 6 and all WS rows to row 32", "all even rows from 6 to 12": the rounds from `first` on that the rule holds for. */
function ruledUpTo(
  c: TokenCursor,
  first: number,
  rule: Parity,
  unit: Head['unit'],
): Pick<Head, 'numbers' | 'rule' | 'unit'> {
  const to = lastOf(c);
  if (to === null || to <= first || to - first > MOST_ROUNDS)
    return { numbers: [first], rule, unit };
  const numbers = Array.from({ length: Math.floor((to - first) / 2) + 1 }, (_, i) => first + 2 * i);
  return { numbers, rule: null, unit };
}

/** "(4 to 22)" */
function bracketedList(c: TokenCursor): number[] | null {
  return c.attempt(() => {
    if (!c.eatMark('([')) return null;
    says(c, 'from? the?');
    unit(c);
    const list = numberList(c) ?? ordinalList(c);
    return list && list.length > 1 && c.eatMark(')]') ? list : null;
  });
}

/** "rounds 4-22, even", "from round 3 to round 21 on all odd rounds": those of the sort. */
function ofSort(c: TokenCursor, numbers: number[]): number[] {
  const sort = c.attempt(() => {
    const { i } = c;
    const told =
      says(
        c,
        ',|(|on|in|for|all|every|each|the|only|that|which|are* even|odd|uneven numbered? ones|only?',
      ) &&
      (unit(c) || true) &&
      (c.eatMark(')') || true) &&
      c.mark(':-');
    return told ? parityOf(c.slice(i, c.i)) : null;
  });
  const some = sort ? numbers.filter((n) => (n % 2 === 0) === (sort === 'even')) : [];
  return some.length > 0 ? some : numbers;
}

/** "to row 32", "as far as the 9th", "up to and including 24": the last of the rounds. */
function lastOf(c: TokenCursor): number | null {
  return c.attempt(() => {
    if (
      !says(
        c,
        'to|until|till|through|thru|up|as|far|and|including|inclusive|with|ending|at* the? @unit? no|number?',
      )
    )
      return null;
    const n = c.ordinal() ?? c.number();
    unit(c);
    says(c, '(|,? inclusive|incl|included )?');
    return n !== null && c.mark(':-)(,') ? n : null;
  });
}

/** "round 3 up to and including round 5", "5th round to 8th round": more numbers of the same list. */
function upTo(c: TokenCursor, numbers: number[]): void {
  c.takes(() => {
    const [first] = numbers;
    if (
      numbers.length > 1 ||
      !says(c, 'to|through|until|till|up|- and|including|to|the|with* @unit?')
    )
      return null;
    const last = c.ordinal() ?? c.number();
    if (last === null || last <= first || last - first > MOST_ROUNDS) return null;
    unit(c);
    c.phrase('inclusive|inclusively');
    if (!c.mark(':-)')) return null;
    for (let n = first + 1; n <= last; n++) numbers.push(n);
    return true;
  });
}

const RULE_WORDS =
  /^(?:following|foll|other|alternate|alt|remaining|rem|subsequent|later|further|rest|of|the|even|odd|ws|rs|wrong|right|side|numbered|second|uneven)$/;

/** `and every alternate round`, `and all WS rows` */
function andRule(c: TokenCursor): Parity | null {
  return c.attempt(() => {
    c.eatMark(',');
    if (!c.phrase('and') && !c.eatMark('&+')) return null;
    const rule = everyRule(c);
    // "Rnd 3 and all odd rnds from here on: knit."
    if (rule)
      says(c, 'from|after here|now|there|then|that|this|it on|onwards|onward?') ??
        says(c, 'thereafter|throughout|afterwards|onwards');
    return rule;
  });
}

function everyRule(c: TokenCursor): Parity | null {
  const start = c.i;
  if (
    !c.phrase('all|every|each') &&
    !(c.word() === 'the' && /^(?:even|odd|ws|rs)$/.test(c.word(1)) && c.phrase('the')) &&
    !/^(?:foll|following|subsequent|alternate|alt|remaining|rem)$/.test(c.word())
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

/** `All even rounds`, `WS rows`, `Every other round from 2`, `RS row` */
export function parity(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|work|for');
    const every = c.phrase('all|every|each');
    c.phrase('the');
    const start = c.i;
    const w = c.word();
    if (!/^(?:even|odd|uneven|ws|rs|wrong|right|other|alternate|alt|remaining)$/.test(w))
      return null;
    c.i++;
    c.eatMark('-');
    c.phrase('side|numbered|no');
    c.eatMark('-');
    c.phrase('numbered');
    const parity = parityOf(c.slice(start, c.i));
    const plural = /s$/.test(c.word());
    const rest = parity === 'other' && plural && /^(?:other|remaining)$/.test(w);
    const rule = rest ? 'rest' : parity;
    const u = unitHere(c);
    // "WS: purl" among rows told by their numbers
    const sided = u === undefined && (parity === 'rs' || parity === 'ws') && !every;
    if (sided && c.mark(':'))
      return head({ name: 'next', unit: null, side: parity === 'rs' ? 'RS' : 'WS' });
    if (u === undefined) return null;
    // "Every right side row is: knit …"
    c.takes(() => says(c, 'is|are|will always|be|worked|as|follows|this|thus*') && c.mark(':'));
    c.eatMark(',');
    const since = c.phrase('from|starting|beginning from|with|at?');
    if (!since && c.mark(',', -1)) c.i--;
    if (since) {
      c.phrase('the');
      c.phrase('round|rnd|row|rounds|rnds|rows');
    }
    const list = numberList(c) ?? (since ? ordinalList(c) : null);
    if (since) unit(c);
    const inside = list ? null : bracketedList(c);
    if (inside && (rule === 'even' || rule === 'odd'))
      return head({ numbers: inside.filter((n) => (n % 2 === 0) === (rule === 'even')), unit: u });
    const last = list || rule === 'rest' ? null : lastOf(c);
    if (last !== null) return head({ rule, unit: u, upTo: last });
    if (since && list?.length === 1 && rule) {
      c.phrase('on|onwards|onward');
      // "All WS rows, beginning with row 1": says which those are, as "Row 1 and every WS row" does.
      if (rule === 'rs' || rule === 'ws') return head({ numbers: list, rule, unit: u });
      const upTo = ruledUpTo(c, list[0], rule, u);
      return head(upTo.rule ? { rule, unit: u } : upTo);
    }
    c.phrase('to|through the? end');
    if ((rule === 'rs' || rule === 'ws') && !every && !plural && !list) {
      return head({ name: 'next', unit: u, side: rule === 'rs' ? 'RS' : 'WS' });
    }
    // "All WS rows from row 6 to row 12"
    if (since && list && list.length > 1 && /^[rw]s$/.test(rule))
      return head({ numbers: list.filter((n) => (n - list[0]) % 2 === 0), unit: u });
    if (!list || (rule !== 'even' && rule !== 'odd')) return head({ rule, unit: u });
    const numbers = list.filter((n) => (n % 2 === 0) === (rule === 'even'));
    // "Even round 1" names a round after all.
    return head({ numbers: numbers.length > 0 ? numbers : list, unit: u });
  });
}

/** `2nd round`, `1st – 3rd rnd`, `4th and every alt rnd` */
export function nth(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('on|in|at|for|from');
    c.phrase('the|your');
    const numbers = ordinalList(c);
    if (!numbers) return null;
    const rule = c.attempt(() => {
      if (!c.phrase('and') && !c.eatMark('&')) return null;
      const found = everyRule(c);
      if (found) c.i--;
      return found;
    });
    const u = unitHere(c);
    const ruled = rule ?? (u === undefined ? null : andRule(c));
    if (u !== undefined && !ruled) upTo(c, numbers);
    if (u !== undefined && ruled && numbers.length === 1)
      return head(ruledUpTo(c, numbers[0], ruled, u));
    if (u === undefined) {
      // "4th same as 2nd"
      if (!rule) return likeAnother(c) ? head({ numbers, unit: null }) : null;
      c.i++;
      return c.mark(':(-') || isUnit(c, -1) ? head({ numbers, rule, unit: null }) : null;
    }
    return head({ numbers, rule: ruled, unit: u });
  });
}

/** "The first 3 rounds are purl, knit, purl" */
export function firstOnes(c: TokenCursor): Head | null {
  return c.attempt(() => {
    c.phrase('so|and');
    const n = says(c, 'the|my|your first # @unit')?.[0];
    if (n == null || n < 2 || n > MOST_ROUNDS) return null;
    if (!says(c, 'are|will|should|be|being|worked|all|in*') || c.done) return null;
    const numbers = Array.from({ length: n }, (_, i) => i + 1);
    return /^(?:knit|purl|k|p|garter)$/.test(c.word()) ? head({ numbers, unit: 'round' }) : null;
  });
}

/** `3.`, `3)`, `3:` */
export function bare(c: TokenCursor): Head | null {
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
    // "4 (78 sts): …"
    const stated = open
      ? null
      : c.attempt(() => {
          const count = bracketedCount(c);
          return count && c.mark(':') ? count : null;
        });
    // "1 (WS): …"
    const x: Extras = { side: null, stated: null, again: false, colour: null, rule: null };
    c.takes(() => !open && c.mark('(') && readSide(c, x) && c.mark(':'));
    // "5-12 as 3-4"
    if (numbers.length > 1 && !open && likeNumbers(c)) return head({ numbers, bare: true });
    const dash = c.mark('-') && c.peek()?.spaced && c.peek(1)?.spaced && numbers.length === 1;
    if (open) {
      if (!c.eatMark(')]') || numbers[0] > 200) return null;
      c.eatMark(':.-');
    } else if (dash) c.i++;
    else if (!c.eatMark(numbers.length > 1 || nth || stated ? ':' : ':).')) return null;
    const after = c.peek();
    const needle = after?.kind === 'ordinal' && /^(?:needle|side|section)$/.test(c.word(1));
    if (
      !after ||
      !(
        needle ||
        after.kind === 'word' ||
        (after.kind === 'number' && numbers.length > 1) ||
        (after.kind === 'mark' && '*(['.includes(after.text))
      )
    )
      return null;
    return head({ numbers, bare: true, stated, ...(x.side ? { side: x.side } : null) });
  });
}
