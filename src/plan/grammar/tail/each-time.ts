/**
 * What each time takes or adds, in brackets behind words that go on: "(2 sts per needle every other round)", "(8 sts fewer each
 * time)". In: a cursor at the bracket and the tail read so far. Out: true, the change and the pace kept; false and nothing moved.
 */
import { says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { readEvery } from './every.ts';
import type { OpenTail } from './open-tail.ts';

const A_ROUND =
  'a|per|in|on|at|each|every|the* dec|decrease|decreasing|inc|increase|increasing|shaping? @unit|time';

/** Tokens before the bracket among which the direction is looked for. Chosen. */
const NEAR = 12;

export function readEachTime(c: TokenCursor, tail: OpenTail): boolean {
  return c.takes(() => {
    const { i } = c;
    if (tail.eachPass !== null || !c.eatMark('(')) return null;
    const n = says(c, 'ie|that|is|always|minus|losing|gaining* # @sts?')?.[0];
    if (n == null) return null;
    says(c, 'fewer|less|more|decreased|increased|lost|gained');
    const per = says(c, 'per|on|in|at|for each|every|a? @shared') !== null;
    c.eatMark(',');
    const inside = { ...tail };
    const paced = readEvery(c, inside) || says(c, A_ROUND) !== null;
    if ((!per && !paced) || !c.eatMark(')')) return null;
    // "… (2 sts on each needle)" at the end is what is left.
    if (!paced && !/^(?:on|in|every|each|until|till)$/.test(c.word())) return null;
    const said = c.slice(Math.max(0, i - NEAR), c.i);
    const up = /\b(?:inc|gain|grow|add|more)/.test(said);
    if (!up && !/\b(?:dec|los|minus|less|fewer|shap|shrink)/.test(said)) return null;
    Object.assign(tail, inside, { eachPass: up ? n : -n });
    return true;
  });
}
