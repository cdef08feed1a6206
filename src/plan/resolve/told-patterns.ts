/**
 * "That is the whole pattern: one plain round, two decrease rounds": clauses behind a colon that tell what the pattern is, and
 * ask for no round. In: the statements of a plan. Out: the same, with such clauses as what "those rounds" mean.
 */
import type { Statement } from '../grammar/ast.ts';

const TELLS =
  /^\W*(?:(?:and|so|well|now|really|that is it|this is it|in short)[ ,]*){0,3}(?:(?:that|this|it|here) (?:is|was)(?: really| all)?|the [a-z ]{0,20}is) ?(?:(?:the|our|your|a|all|there is to|whole|entire|basic|full|complete|to it|of it|it) ){0,5}(?:pattern|repeat|sequence|recipe|rhythm|cycle|order)?\b[^:]{0,20}:\s*$/;
const NAMES_IT = /\b(?:pattern|repeat|sequence|recipe|rhythm|cycle|order|whole)\b/;

export function withToldPatterns(statements: readonly Statement[], text: string): Statement[] {
  return statements.map((s, i) => {
    const lead = statements[i - 1];
    if (s.kind !== 'work' || lead?.kind !== 'prose' || lead.instructs) return s;
    const words = text.slice(lead.from, lead.to);
    if (!TELLS.test(words) || !NAMES_IT.test(words)) return s;
    const once = s.clauses.every(
      (c) =>
        c.kind === 'named' || c.kind === 'sequence' || (c.kind === 'plain' && c.rounds !== null),
    );
    return once ? { kind: 'pattern', told: s.clauses, from: s.from, to: s.to } : s;
  });
}
