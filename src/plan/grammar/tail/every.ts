/**
 * How often within the rounds: "every 4th round", "on the next and every foll alt row", "foll 3 rounds". In: a
 * cursor and the tail read so far. Out: true where something was read and kept.
 */
import { numberList, ordinalList } from '../number-lists.ts';
import { isUnit, unit } from '../phrases.ts';
import { says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { type OpenTail, readOnce } from './open-tail.ts';

export function readEvery(c: TokenCursor, tail: OpenTail): boolean {
  if (!c.mark('(')) return readOnce(c, tail, () => readHowOften(c, tail));
  // "(that is every row, not every other)"
  return c.takes(() => {
    const inside = { ...tail };
    says(c, '( that? is|means?');
    c.eatMark('(');
    if (!readHowOften(c, inside) || !c.eatMark(')')) return null;
    Object.assign(tail, inside);
    return true;
  });
}

function readHowOften(c: TokenCursor, tail: OpenTail): boolean {
  const start = c.i;
  // "work a taper round now and then on every third round"
  if (says(c, 'now ,? and? then') && says(c, 'on|in?') !== undefined) {
    const every = c.attempt(() => (/^(?:every|each)$/.test(c.word()) ? everyStep(c) : null));
    if (every === null) return c.back(start, false);
    Object.assign(tail, { every, atOnce: true, nextToo: true });
    return true;
  }
  c.phrase('then');
  c.phrase('on|in|at|for');
  c.phrase('the very?');
  // "repeat the decrease round on the foll 4th round"
  const here = c.i;
  const nth = tail.times === null ? c.attempt(() => followingRows(c)) : null;
  if (nth && nth.every > 1) {
    // "on the next round and on the following alternate round"
    Object.assign(tail, { ...nth, times: nth.times + Number(tail.atOnce) });
    return true;
  }
  c.i = here;
  let atOnce = false;
  let named = false;
  if (c.phrase('next|following|foll|this') || firstAndEvery(c)) {
    atOnce = true;
    if (c.isNumber()) return c.back(start, false);
    named = unit(c) !== null;
    const and = c.attempt(() => {
      c.eatMark(',');
      if (!(c.phrase('and then?') || c.phrase('then') || c.eatMark('&'))) return null;
      c.phrase('on|in|at');
      c.phrase('the very?');
      if (c.isNumber()) return /^(?:foll|following)$/.test(c.word(1)) || null;
      return /^(?:every|each|foll|following|alternate|alt)$/.test(c.word()) || null;
    });
    const some = and ? c.attempt(() => followingRows(c)) : null;
    if (some) {
      tail.every = some.every;
      tail.times = some.times + 1;
      tail.atOnce = true;
      return true;
    }
    if (!and) {
      if (!named) return c.back(start, false);
      // "Work the following rounds in the same way"
      tail.atOnce ||= !/s$/.test(c.word(-1));
      return true;
    }
  }
  // "6 more rounds, decreasing in all of them"
  if (says(c, 'in|on? all|each|every one|1|single? of them|these|those')) {
    tail.every ??= 1;
    return true;
  }
  // "every time round"
  if (says(c, 'each|every time round|around')) {
    tail.every ??= 1;
    return true;
  }
  // "on each of the next 4 rounds"
  const each = c.attempt(() => {
    if (!c.phrase('each|every|all of? the? next|following|foll')) return null;
    const n = c.number();
    return n !== null && unit(c) ? n : null;
  });
  if (each !== null && tail.times === null) {
    tail.every = 1;
    tail.times = each;
    tail.atOnce = true;
    return true;
  }
  const several = tail.times === null ? c.attempt(() => followingRows(c)) : null;
  if (several) {
    tail.every = several.every;
    tail.times = several.times + Number(tail.atOnce && !atOnce);
    return true;
  }
  const listed = c.attempt(() => byNumbers(c, tail));
  if (listed) {
    Object.assign(tail, listed);
    return true;
  }
  const step = everyStep(c);
  if (step === null) return c.back(start, false);
  tail.every = step;
  if (tail.atOnce || named) tail.nextToo = true;
  toldToShape(c, start, step, tail);
  tail.atOnce ||= atOnce;
  ruledOut(c, step);
  c.phrase('thereafter|after|from|here|then') && c.phrase('here|that|on');
  return true;
}

/** "on the first round and every alternate round after it": the cursor behind "first". */
function firstAndEvery(c: TokenCursor): boolean {
  return c.takes(() => {
    if (c.peek()?.kind !== 'ordinal' || c.peek()?.value !== 1) return null;
    c.i++;
    return c.ahead(
      () =>
        unit(c) !== null &&
        says(c, 'of these|them|those?') === null &&
        says(c, ',|and|&|then|on* every|each|alternate|alt') !== null,
    );
  });
}

const SORTS = [
  ['even', /\beven\b/],
  ['odd', /\bodd\b/],
  ['rs', /\b(?:rs|right)\b/],
  ['ws', /\b(?:ws|wrong)\b/],
] as const;
const PLAINLY = /^(?:knit|purl|plain|straight|work|k|p|all|no|not|without|are|is|nothing)/;

/** "with 1 st less before each decrease on the odd rounds", "decreasing on every right-side row": those that shape. */
function toldToShape(c: TokenCursor, start: number, step: number, tail: OpenTail): void {
  const words = c.slice(start, c.i);
  const side = /\b(?:(rs|right)|ws|wrong)\b/.exec(words);
  if (side && step === 2) tail.shapes ??= side[1] ? 'rs' : 'ws';
  if (!/^(?:on|in|at|every|each)\b/.test(words)) return;
  const before = c.word(start - c.i - 1);
  if (tail.fewer === null && !/^(?:dec|inc|shap)/.test(before)) return;
  if (PLAINLY.test(before) || PLAINLY.test(c.word())) return;
  tail.shapes ??= SORTS.find(([, said]) => said.test(words))?.[0] ?? null;
}

const NOT =
  ',|-|;|(|and|but|please|mind|you* not|never|rather|instead just|only|simply|merely|than|of|on|in|at*';

/** "every row, not every other": which rounds it is not says nothing new. */
function ruledOut(c: TokenCursor, step: number): void {
  c.takes(() => {
    const open = c.mark('(') || c.mark('(', 1);
    if (!says(c, NOT)) return null;
    const other =
      everyStep(c) ??
      (says(c, 'the|every|each|all* other|second|alternate|rs|ws|right|wrong side? #|one|ones?')
        ? 2
        : null);
    if (other === null || other === step || (open && !c.eatMark(')'))) return null;
    return c.done || c.mark('.,;:!()') || c.peek()?.kind === 'word';
  });
}

/** `foll 3 alt rows`, `following 4 rounds`, `2 foll 4th rounds`: so many of them; `foll 4th round`: one. */
function followingRows(c: TokenCursor): { every: number; times: number } | null {
  c.phrase('the');
  const ahead = c.number();
  if (!c.phrase('foll|following|subsequent')) return null;
  const times = ahead ?? c.number();
  const other = c.phrase('alternate|alt|other');
  const nth = other ? 2 : c.ordinal();
  if (!unit(c)) return null;
  const several = /s$/.test(c.word(-1));
  if (times === null) return nth === null || several ? null : { every: nth, times: 1 };
  return { every: nth ?? 1, times };
}

/** "on rounds 6, 8, 10 and 12", "on the 6th, 8th and 10th rounds": at an even pace up to the last of them. */
function byNumbers(c: TokenCursor, { every, untilRound }: OpenTail): Partial<OpenTail> | null {
  const led = c.word(-1) === 'the' ? 2 : 1;
  // "On the 6th, 8th and 10th rounds decrease" names those rounds.
  const begins = /^(?:[.;:!?]|)$/.test(c.here(-led - 1));
  if (untilRound !== null || begins || !/^(?:on|in|at)$/.test(c.word(-led))) return null;
  c.phrase('the');
  const units = unit(c) !== null;
  const shapes = ordinalList(c) ?? (units ? numberList(c) : null);
  if (!shapes || shapes.length < 2 || (!unit(c) && !units)) return null;
  const pace = shapes[1] - shapes[0];
  const even = shapes.every((n, i) => i === 0 || n - shapes[i - 1] === pace);
  const last = shapes[shapes.length - 1];
  return even && pace > 0 && (every ?? pace) === pace
    ? { every: pace, untilRound: last, shapes }
    : null;
}

/** `every other round`, `each foll 4th row`, `alternate rounds`: rounds from one to the next. */
function everyStep(c: TokenCursor): number | null {
  return c.attempt(() => {
    const every = c.phrase('every|each|all');
    const kind = /^(?:even|odd|rs|ws|right|wrong)$/.test(c.word());
    if (!every && !kind && !/^(?:alternate|alt|foll|following)$/.test(c.word())) return null;
    c.phrase('of');
    c.phrase('the');
    let step = 1;
    for (let n = 0; n < 5; n++) {
      const w = c.word();
      const t = c.peek();
      if (t?.kind === 'ordinal') {
        step = t.value;
        c.i++;
      } else if (/^(?:other|alternate|alt|alternating)$/.test(w)) {
        step = 2;
        c.i++;
      } else if (/^(?:following|foll|subsequent|next|single|decreasing)$/.test(w)) c.i++;
      else if (/^(?:rs|ws|right|wrong)$/.test(w)) {
        step = 2;
        c.i++;
        c.eatMark('-');
        c.phrase('side|facing');
      } else if (t?.kind === 'number' && isUnit(c, 1)) {
        step = t.value;
        c.i++;
      } else if (w === 'even' || w === 'odd') {
        step = 2;
        c.i++;
        c.eatMark('-');
        c.phrase('numbered');
      } else break;
    }
    if (!every && step === 1) return null;
    if (!unit(c) || (!every && kind && !/s$/.test(c.word(-1)))) return null;
    return step > 0 && step < 1000 ? step : null;
  });
}
