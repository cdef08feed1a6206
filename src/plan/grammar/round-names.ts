/**
 * Names that a text gives its rounds: "Eyelet round: …", "my shrinky round goes like this", "Rnd 4 (inc rnd):", "this is
 * the corner round". In: the normalised text, or a cursor where such a name may stand. Out: the names, the name read.
 */
import { regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import { isSlipOf, NAME_SLIPS } from './garbled.ts';
import { isUnit, roundName, unit } from './phrases.ts';
import type { TokenCursor } from './token-cursor.ts';

const WORD = "[a-z][a-z']{0,20}";
const NAME = `${WORD}(?:[ -]${WORD}){0,2}?`;
const LEAD =
  "(?:(?:and|so|now|then|here|next|comes?|for|is|it's|time|we|start|begin|with|work|a|an|the|my|your|our|this|that|what|i|you|call|called|first|one|1) ){0,6}";
const BEGINS = '(?:^|[\\n.!;:)] ?)[ >*•-]{0,4}(?:\\d{1,2}[.)] )?';

/** What a name is told by; the name is the first group. */
const TOLD: readonly RegExp[] = [
  // "Eyelet round:", "plain round - knit every stitch", "my shrinky round goes like this:"
  regex.g`${BEGINS}${LEAD}(${NAME})[ -]${UNIT}(?: ?[(\[][^)\]\n]{0,60}[)\]])?(?: (?:goes|is|means|stands for|reads|works|runs|are|go)\b[^:.\n]{0,30})? ?(?::|=| - )`,
  // "Rnd 2 (inc rnd):", "Round 3 [decrease]:", "Next rnd (= dec-rnd):"
  regex.g`\b${UNIT} ?(?:\d{1,3})? ?[(\[] ?=? ?(?:the |a |my |your )?(${NAME})(?:[ -]${UNIT})?[)\]]`,
  // "Round 2: (corner round) …"
  regex.g`\b${UNIT} ?\d{1,3} ?[:.-] ?[(\[](?:the |a )?(${NAME})[ -]${UNIT}[)\]]`,
  // "we call it the corner round", "this is the decrease round"
  regex.g`\b(?:call(?:ed)?(?: (?:it|this|that|them|these))?|(?:this|that|which|it) (?:is|will be|was)|known as) (?:the|a|an|my|our|your) (${NAME})[ -]${UNIT}\b`,
  // "For a pinch round you do this on every needle: …"
  regex.g`\b(?:in|for) (?:the|an?|my|your|each) (${NAME})[ -]${UNIT},? (?:(?:you|we|i|just|simply) )*(?:do |work )?(?:(?:this|so|it|as follows|thus) ?)*,? ?(?:on|at|along) (?:each|every|all)\b`,
  // "A shrink means: on each needle …"
  regex.g`${BEGINS}(?:a|an|my|one) (${WORD}) (?:means|is|goes)(?: (?:this|like this|as follows))? ?: ?(?=on |at |\*|\(|\[|k\d|k2tog|ssk|knit|purl)`,
];

/** "rd A - …", "Round B: …" */
const LETTERED = regex.g`${BEGINS}${UNIT} ?([a-h])\b ?(?::|=|\.| -|-(?= ))`;

/** Words that are the name of no round, whatever stands behind them. */
const NO_NAME =
  /^(?:rs|ws|right|wrong|side|repeat|rep|again|next|last|final|previous|following|foll|first|second|third|every|each|all|other|another|same|these|those|both|even|odd|alt|alternate|set|set-up|setup|foundation|joining|in|on|of|to|for|from|until|till|at|work|knit|purl|k|p|this|that|it|more|full|whole|complete|new|total|old|cast|bind|join|your|when|if|after|before|between|around|round|rnd|row|rounds|rows|rnds|end|start|beginning|main|color|colour|mc|cc|side facing|single|only|one|a|an|the|pattern|edge|stitch|note)$/;

/** Names of rounds that mean as much without a description. */
const PLAIN_NAME = /^(?:plain|straight)$/;

/** Most names of one text. Chosen. */
const MOST = 24;

/** The names that the text tells, each in one spelling. */
export function roundNamesIn(norm: string): ReadonlySet<string> {
  const out = new Set<string>();
  if (!/\b(?:rounds?|rnds?|rds?|rows?)\b/.test(norm)) return out;
  for (const m of norm.matchAll(LETTERED)) out.add(m[1]);
  for (const re of TOLD) {
    for (const m of norm.matchAll(re)) {
      const words = m[1].replace(/-/g, ' ').split(' ');
      while (words.length > 0 && (NO_NAME.test(words[0]) || words[0] === 'dec' + "'d"))
        words.shift();
      if (words.length === 0 || words.some((w) => NO_NAME.test(w) || isSlipOf(w, NAME_SLIPS)))
        continue;
      out.add(nameOf(words.join(' ')));
      if (out.size >= MOST) return out;
    }
  }
  return out;
}

function nameOf(words: string): string {
  return roundName(words.replace(/-/g, ' '));
}

/** A round that the text has named stands here: "shrinky rounds", "the dec-rnd"; `bare`: also its name alone. */
export function ownRound(c: TokenCursor, bare = false): string | null {
  const names = c.own?.roundNames;
  if (!names || names.size === 0) return null;
  return c.attempt(() => {
    const start = c.i;
    let words = '';
    for (let n = 0; n < 3; n++) {
      const t = c.peek();
      if (t?.kind !== 'word') return null;
      words += `${n > 0 ? ' ' : ''}${t.text}`;
      c.i++;
      const name = nameOf(words);
      const after = c.i;
      c.eatMark('-');
      if (names.has(name)) {
        if (unit(c)) return name;
        c.i = after;
        const alone = bare && !PLAIN_NAME.test(name) && !/^(?:de|in)crease$/.test(name);
        if (alone && !(c.peek()?.kind === 'word' && names.has(nameOf(`${words} ${c.word()}`)))) {
          if (c.done || c.mark('.,;:+&)') || /^(?:and|then|once|twice|again)$/.test(c.word()))
            return name;
        }
      } else if (isUnit(c)) break;
      if (c.i === after && c.mark('-')) c.i++;
    }
    return c.back(start, null);
  });
}

/** One word that names a round, without the word for rounds: "a shrink". */
export function ownName(c: TokenCursor): string | null {
  const name = nameOf(c.word());
  if (name === '' || !c.own?.roundNames.has(name)) return null;
  c.i++;
  return name;
}

/** ", 1 dec rnd": a round by its name stands next, and no count. */
export function namesRoundNext(c: TokenCursor): boolean {
  return c.ahead(() => {
    while (c.eatMark(',;.(-') !== null || c.phrase('and|then|a|an|one|the'));
    c.number();
    return ownRound(c) !== null;
  });
}

const TELLS =
  /^(?:is|are|was|were|has|have|had|takes?|loses?|makes?|means?|gives?|leaves?|each|every|all|before|after|between|like|if|when|while|not|no|called|see|until|till|of|brings?|stays?|looks?|shows?|keeps?)$/;

/** A sentence that nothing has read names a round of the text's own and does not tell of it: "pop in a pinch round". */
export function asksForOwn(c: TokenCursor): boolean {
  if (!c.own?.roundNames.size) return false;
  for (; !c.done; c.i++) {
    if (TELLS.test(c.word())) return false;
    if (/^(?:a|an|another|one|the|1)$/.test(c.here(-1)) && ownRound(c) !== null)
      return !TELLS.test(c.word());
  }
  return false;
}
