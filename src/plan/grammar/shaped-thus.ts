/**
 * Shaping whose stitches stand behind a colon: "Decrease on every other round as follows: *ssk, …; rep from *". In: the
 * clauses, the last of which only announces them, and the token behind the colon. Out: the clauses with those stitches, and the
 * token behind the sentence; null where no stitches stand there, or some of the words are not read.
 */
import type { WorkClause } from './ast.ts';
import { LONGEST_WHOLE } from './over-again.ts';
import type { Passage } from './passage.ts';
import { tellStitches } from './stitch-sentences.ts';
import { readTailPart } from './tail.ts';

export function shapedThus(
  passage: Passage,
  clauses: readonly WorkClause[],
  from: number,
  end: number,
): { readonly clauses: readonly WorkClause[]; readonly next: number } | null {
  const last = clauses[clauses.length - 1];
  if (last.kind !== 'shape' || !last.tellsBehind) return null;
  const { tokens } = passage;
  let stop = passage.sentenceEnd(from, Math.min(end, from + LONGEST_WHOLE), '.!?');
  const tail = { ...last.tail };
  // "…; rep from * to end, until 8 sts remain"
  for (let i = from; i + 1 < stop; i++) {
    if (tokens[i].text !== ',' || !/^(?:until|till)$/.test(tokens[i + 1].text)) continue;
    const c = passage.cursor(i + 1, stop);
    if (!readTailPart(c, tail) || !c.done) return null;
    stop = i;
  }
  const body = passage.body(null, from, stop);
  if (body.kind !== 'steps' || body.unread > 0 || body.failed || !body.hasStitches) return null;
  if (!tellStitches(body.steps)) return null;
  const { steps, stated } = body;
  const { tellsBehind: _announces, ...shape } = last;
  const whole = [...clauses.slice(0, -1), { ...shape, tail, told: { steps, stated } }];
  return { clauses: whole, next: passage.sentenceEnd(stop, end, '.!?') };
}
