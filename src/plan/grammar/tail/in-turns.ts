/**
 * Shaping and plain rounds that take turns, told by how many there are of each: "working 1 round straight and 2 rounds with
 * decreases", "on 2 rounds out of 3", "decreasing on two rounds and knitting the third". In: a cursor and the tail read so
 * far. Out: true where something was read and kept.
 */
import { says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';

const LEAD =
  ',|(|-|:|and|with|in|by|working|work|knitting|knit|always|doing|making|alternating|alternate|alternately|keeping|to|on|of|having*';
const SORT =
  'plain|straight|even|knit|knitted|purl|purled|decrease|decreases|decreasing|decreased|dec|increase|increases|increasing|inc|shaping|shaped|without|with|no|any|not|worked|in|it|between|them';
const JOINT =
  'and|then|,|followed|by|after|every|each|alternating|alternately|with|to|for|&|+|before*';
const PLAIN = /\b(?:plain|straight|even|knit|knitted|purl|purled|without|no|not)\b/;
const SHAPES = /\b(?:dec|inc|shap)/;

interface Some {
  readonly n: number;
  readonly sort: 'plain' | 'shaped';
  readonly stitch: 'k' | 'p' | null;
}

export function readInTurns(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.inARow !== null || tail.every !== null) return false;
  return c.takes(() => {
    const open = says(c, LEAD) !== null && c.slice(Math.max(0, c.i - 3), c.i).includes('(');
    const told = outOf(c) ?? verbs(c) ?? counted(c);
    if (!told) return null;
    if (open && !c.eatMark(')')) return null;
    says(c, 'in turn|turns');
    tail.every = told.plain + 1;
    if (told.shaped > 1) tail.inARow = told.shaped;
    tail.between ??= told.stitch;
    return true;
  });
}

interface Turns {
  readonly shaped: number;
  readonly plain: number;
  readonly stitch: 'k' | 'p' | null;
}

/** "1 plain round and 2 decrease rounds" */
function counted(c: TokenCursor): Turns | null {
  return c.attempt(() => {
    const first = some(c);
    if (!first || !says(c, JOINT)) return null;
    const second = some(c);
    if (!second || first.sort === second.sort) return null;
    const [shaped, plain] = first.sort === 'shaped' ? [first, second] : [second, first];
    return { shaped: shaped.n, plain: plain.n, stitch: plain.stitch };
  });
}

function some(c: TokenCursor): Some | null {
  return c.attempt(() => {
    const n = c.number() ?? (c.phrase('a|an') ? 1 : null);
    const { i } = c;
    if (n === null || n < 1) return null;
    says(c, `${SORT}*`);
    if (!says(c, '@unit')) return null;
    says(c, `${SORT}*`);
    const said = c.slice(i, c.i);
    const plain = PLAIN.test(said);
    if (!plain && !SHAPES.test(said)) return null;
    const stitch = /\bpurl/.test(said) ? 'p' : /\bknit/.test(said) ? 'k' : null;
    return { n, sort: plain ? 'plain' : 'shaped', stitch: plain ? stitch : null };
  });
}

/** "on 2 rounds out of 3", "2 out of every 3 rounds" */
function outOf(c: TokenCursor): Turns | null {
  const n = says(c, '# @unit? out? of every|each? # @unit?');
  const [shaped, all] = n ?? [];
  if (shaped == null || all == null || all <= shaped || shaped < 1) return null;
  return { shaped, plain: all - shaped, stitch: null };
}

/** "decreasing on two rounds and knitting the third straight" */
function verbs(c: TokenCursor): Turns | null {
  return c.attempt(() => {
    const n = says(c, 'decreasing|decrease|dec|increasing|increase|shaping on|in|for? # @unit');
    const shaped = n?.[0];
    if (shaped == null) return null;
    const { i } = c;
    const plain = says(
      c,
      ',|and|then* knit|knitting|work|working|purl|purling the|every? next|other|following|%? @unit? plain|straight|even?',
    );
    const third = plain?.[0] ?? shaped + 1;
    if (!plain || third !== shaped + 1) return null;
    const said = c.slice(i, c.i);
    const stitch = /\bpurl/.test(said) ? 'p' : /\bknit/.test(said) ? 'k' : null;
    return { shaped, plain: 1, stitch };
  });
}
