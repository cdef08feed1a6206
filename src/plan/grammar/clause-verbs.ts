/**
 * Whether some clause of a sentence begins with a verb in the imperative. In: the tokens of a sentence. Out: true where one does, and no
 * noun or marker is meant.
 */
import type { Token } from '../lex/tokens.ts';
import { DESCRIBING, LEADS, MARKER_WORDS, ROUND_WORDS, ROW_WORDS } from '../lexicon/words.ts';

export const IMPERATIVE =
  /^(?:knit|purl|k|p|work|rep|repeat|cont|continue|dec|decrease|inc|increase|slip|pick|keep|carry|bind|cast|turn|ssk|sl|yo|rib|wrap)$/;

/** What is kept that is no knitting: "keep your tension even". */
const KEPT = /^(?:your|an|a|the|it|them|track|count|everything)$/;
const PATTERNED =
  /^(?:pattern|patt|pat|correct|garter|moss|seed|rib|ribbing|st|sts|stitch|stitches|stockinette|stocking|lace|cable)$/;

/** "first decrease", "first knit round": what is ordered is a thing, and nothing is asked. */
function endsNoun(tokens: readonly Token[], i: number): boolean {
  const unit = tokens[i + 2]?.text ?? '';
  if (!/^(?:knit|purl|work|repeat|rep|bind|cast)$/.test(tokens[i + 1]?.text ?? '')) return true;
  return ROUND_WORDS.has(unit) || ROW_WORDS.has(unit);
}

/** Some clause begins with a verb in the imperative. */
export function beginsClause(tokens: readonly Token[]): boolean {
  let opens = true;
  for (let i = 0; i < tokens.length; i++) {
    const t = tokens[i];
    if (t.kind === 'mark' && ',;:.([*-'.includes(t.text)) {
      opens = true;
      continue;
    }
    if (t.kind !== 'word') {
      // "First purl …"
      opens &&= t.kind === 'ordinal' && LEADS.has(t.text) && !endsNoun(tokens, i);
      continue;
    }
    if (opens && IMPERATIVE.test(t.text)) {
      const next = tokens[i + 1];
      // "Work measures …", "knit side": no verbs.
      const noun =
        next?.kind === 'word' &&
        (DESCRIBING.has(next.text) ||
          /^(?:side|sides|stitches|sts|stitch)$/.test(next.text) ||
          ((ROUND_WORDS.has(next.text) || ROW_WORDS.has(next.text)) &&
            DESCRIBING.has(tokens[i + 2]?.text ?? '')));
      const marker =
        /^(?:slip|keep|carry|pick)$/.test(t.text) &&
        tokens.slice(i, i + 5).some((w) => MARKER_WORDS.has(w.text) || w.text === 'yarn');
      // "Keep your tension even"
      const keeps =
        t.text === 'keep' &&
        KEPT.test(next?.text ?? '') &&
        !tokens.some((w) => w.kind === 'number' || PATTERNED.test(w.text));
      const turn = t.text === 'turn' && tokens.length < 4;
      if (!noun && !marker && !keeps && !turn) return true;
    }
    opens = opens && (LEADS.has(t.text) || t.text === 'and' || t.text === 'then');
    if (t.text === 'and' || t.text === 'then') opens = true;
  }
  return false;
}
