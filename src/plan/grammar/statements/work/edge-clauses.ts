/**
 * Clauses that name a stitch and the edge it stands at: "K2tog at the beginning of every row until 2 sts remain",
 * "Bind off 3 sts at the beginning of the next 2 rows". In: a cursor, the token where the clause begins. Out:
 * the clause, the cursor behind it; null and the cursor unmoved otherwise.
 */
import { LEADS } from '../../../lexicon/words.ts';
import { stitchKind } from '../../../stitches/table.ts';
import type { Shaping, WorkClause } from '../../ast.ts';
import { eatStitch, eatStitches, unit } from '../../phrases.ts';
import { emptyTail } from '../../tail/open-tail.ts';
import { readTailPart } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { atEdge } from './shaping-words.ts';

/** "K2tog at the beginning of every row until 2 sts remain" */
export function stitchAtEdge(c: TokenCursor, start: number): WorkClause | null {
  return c.attempt(() => {
    c.skip(LEADS);
    c.phrase('work|continue|to?');
    const read = eatStitch(c);
    const kind = read ? stitchKind(read.name) : null;
    if (!read || !kind || kind.loops.length === kind.consumes) return null;
    const where = atEdge(c);
    if (!where) return null;
    const tail = emptyTail();
    while (readTailPart(c, tail) || c.eatMark(','));
    if (c.here(-1) === ',') c.i--;
    if (tail.every === null && tail.untilStitches === null) return null;
    const shaping: Shaping = {
      decrease: kind.loops.length < kind.consumes,
      count: Math.abs(kind.loops.length - kind.consumes),
      where,
      stitch: read.name,
    };
    return { kind: 'shape' as const, shaping, tail, ...c.span(start) };
  });
}

/** "Bind off 3 sts at the beginning of the next 2 rows" */
export function bindsEdge(c: TokenCursor, start: number): WorkClause | null {
  return c.attempt(() => {
    c.skip(LEADS);
    if (!(c.phrase('bind|cast|binding|casting off') || c.phrase('bo'))) return null;
    const count = c.number();
    if (count === null) return null;
    eatStitches(c);
    if (!c.phrase('at the? beg|beginning|start')) return null;
    if (!c.phrase('of the? next|following|foll|every|each')) return null;
    const rows = c.number() ?? 1;
    if (!unit(c)) return null;
    const tail = emptyTail();
    while (readTailPart(c, tail));
    return { kind: 'edge' as const, count, rows, tail, ...c.span(start) };
  });
}
