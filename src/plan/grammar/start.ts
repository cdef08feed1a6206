/**
 * What begins at a place of a line: the kinds of instructions, each with what its first words said. In: such a beginning.
 * Out: what may stand beside it.
 */
import { PASSAGE } from '../lex/passage-marks.ts';
import type { Token } from '../lex/tokens.ts';
import { LEADS } from '../lexicon/words.ts';
import type { Going, RoundLabel, RoundsRef, Tail, Told } from './ast.ts';
import { isUnit } from './phrases.ts';
import { roundsRef } from './round-refs.ts';
import { says, saysAny } from './rules.ts';
import { stopOf } from './tail/open-tail.ts';
import type { TokenCursor } from './token-cursor.ts';

export type Start = { readonly at: number; readonly next: number } & (
  | { readonly kind: 'cast-on' | 'set-up' | 'end' }
  | { readonly kind: 'round'; readonly label: RoundLabel }
  | Told
);

/** How far the text has come: what an instruction may be depends on it. */
export interface Progress {
  castOn: boolean;
  worked: boolean;
  ended: boolean;
}

/** It asks to go on, says where to stop, or how the runs between the shaping grow shorter, which no label says. */
export function tells({ asks, stop, tail }: Going): boolean {
  return asks || stop !== null || tail.fewer !== null;
}

export function plainOnly(start: Extract<Start, { kind: 'work' }>): boolean {
  return start.clauses[0].kind === 'plain';
}

/** Shaping or a repeat that lasts: it cannot be a part of one round's stitches. */
export function goesOnLong(start: Extract<Start, { kind: 'work' }>): boolean {
  const [first] = start.clauses;
  if (first.kind !== 'shape') return false;
  const { tail } = first;
  return tail.every !== null || tail.untilStitches !== null || tail.times !== null;
}

/** "These 2 rows form the pattern", "Rows 1-4 are one repeat" */
const MAKE =
  'now|together|then|up* form|forms|set|sets|make|makes|are|is|establish|establishes|complete|completes|constitute|create|creates|=';
const SETS = [
  `${MAKE} the|a|an|our|your|#* pattern|patt|pat`,
  `${MAKE} the|a|an|our|your|#|full|whole|~* @set`,
];

const AND_SETS =
  'and set|sets|form|forms|establish|establishes|show|shows|give|position|placement|placing|rhythm|order|pattern|patt|of|for|the* shaping|decreases|decreasing|decs|increases|increasing|panel|panels|pattern|patt|stripes|edge|edges|cable|cables|border|corners';

export function patternSet(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    c.skip(LEADS);
    const which = roundsRef(c);
    if (!which) return null;
    const sets = saysAny(c, SETS);
    // "… form the pattern and set the position of the decreases"
    if (sets) says(c, AND_SETS);
    return sets && (c.done || c.mark('.,;:!(-') || c.word() === 'and') ? which : null;
  });
}

/** What a turn of rounds looks like: names of ridges and bands, and how many of them. */
const LOOKS =
  /^(?:a|an|1|2|3|4|6|8|the|purl|knit|garter|smooth|plain|raised|flat|ridges?|bands?|stripes?|waves?|welts?|rows?|rounds?|rnds?|then|and|of|followed|by|with|each|repeat|pattern|["',;()-])$/;

/** "Rows 1-4 make one "wave": a purl ridge, then a smooth band" */
export function turnNamed(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    const which = roundsRef(c);
    return which && namesTurn(c) ? which : null;
  });
}

function namesTurn(c: TokenCursor): true | null {
  if (!says(c, 'form|forms|make|makes|give|gives|are|is a|#')) return null;
  if (!/^(?:a|1)$/.test(c.here(-1))) return null;
  c.eatMark('"\'');
  for (let n = 0; n < 2 && c.peek()?.kind === 'word' && !isUnit(c); n++) c.i++;
  c.eatMark('"\'');
  if (!c.eatMark(':(')) return null;
  while (!c.done && !c.mark('.!')) {
    if (!LOOKS.test(c.here())) return null;
    c.i++;
  }
  return true;
}

/** "Row 43: …", "Next round: …": a label that ends with a colon. */
export function isMarked(start: Start, tokens: readonly Token[]): boolean {
  if (start.kind !== 'round' || tokens[start.next - 1]?.text !== ':') return false;
  // "needles 2, 3 and 4:"
  if (start.label.unit === null || tokens[start.at].kind === 'number') return false;
  const { numbers, rule, name } = start.label;
  return numbers.length > 0 || rule !== null || name === 'next' || name === 'last';
}

/** The mark of a passage, but not where a sentence names it: "from § to §". */
export function passageMark(tokens: readonly Token[], at: number, end: number): Start | null {
  let next = at;
  while (next < end && tokens[next].text === PASSAGE) next++;
  const before = tokens[at - 1]?.text ?? '';
  if (/^(?:from|to|and|between|until|till|-|the|next|second)$/.test(before)) return null;
  return { kind: 'passage', level: next - at, at, next };
}

const SHAPED_ROUND =
  /^,? ?(?:and |then |followed by )*(?:an?|one|1|another) (?:dec|inc)[a-z]* (?:rounds?|rnds?|rows?)\b/;
/** "…, the count dropping by 6 every second round" */
const CHANGES =
  /^,? ?(?:and |with |while |so )*(?:the |your |each |every |in )(?:[a-z]+ ){1,4}(?:dropping|drops?|losing|loses|taking|takes|falling|falls?|shrinking|shrinks|growing|grows|gaining|gains|disappear\w*|vanish\w*) (?:(?:by|away) )?\d/;

/** Words behind a clause go on with it: "…, then 1 decrease round", "…, the count dropping by 6 every second round". */
export function tellsShaping(said: string): boolean {
  return SHAPED_ROUND.test(said) || CHANGES.test(said);
}

/** "…, finishing with the 18th round": how far it goes, told by nothing else. */
export function endsAtNumber(tail: Tail): boolean {
  return tail.endWith !== null && 'number' in tail.endWith && stopOf(tail) === null;
}
