/**
 * Clauses of narration, and what is told in each whichever number of it: that stitches are lost or gained, of each part, every
 * time, of some round, before or after now. In: the tokens of a sentence. Out: its clauses.
 */
import type { Token } from '../../lex/tokens.ts';
import { CLASSES } from '../../lexicon/classes.ts';
import { BEFORE, GAINED, HELD, LATER, LOST } from '../../lexicon/narration.ts';
import { STITCH_WORDS } from '../../lexicon/words.ts';

/** Words that part one clause from the next. */
const JOINS = /^(?:and|but|or|so|which|while|plus|then|since|because|ie|thus|hence|therefore|yet)$/;
const MARKS = ',;:.!?()[]=';

export interface NarratedClause {
  readonly from: number;
  readonly end: number;
}

/** "rounds 4, 6 and 8" */
function inRow(list: readonly Token[], i: number): boolean {
  if (list[i + 1]?.kind !== 'number') return false;
  let k = i;
  while (list[k]?.text === ',' && list[k - 1]?.kind === 'number') k -= 2;
  return k < i && /^(?:rounds|rnds|rows)$/.test(list[k]?.text ?? '');
}

/** The sentence in clauses, as places among its tokens. */
export function narratedClauses(list: readonly Token[]): NarratedClause[] {
  const out: NarratedClause[] = [];
  let from = 0;
  const close = (end: number, next: number): void => {
    if (end > from) out.push({ from, end });
    from = next;
  };
  list.forEach((t, i) => {
    const dash = t.text === '-' && t.spaced && (list[i + 1]?.spaced ?? true);
    if (t.text === ',' && inRow(list, i)) return;
    if (t.kind === 'line' || dash || (t.kind === 'mark' && MARKS.includes(t.text))) close(i, i + 1);
    else if (t.kind === 'word' && JOINS.test(t.text)) {
      // "rounds 3 and 5"
      const listed = list[i - 1]?.kind === 'number' && list[i + 1]?.kind === 'number';
      // "6 of which decrease", "so far"
      const within = list[i - 1]?.text === 'of' || list[i + 1]?.text === 'far';
      if (!within && (!listed || STITCH_WORDS.has(list[i + 2]?.text ?? ''))) close(i, i);
    }
  });
  close(list.length, list.length);
  return out;
}

const UNIT = CLASSES.unit;
const PARTS = CLASSES.shared;
/** What stands between a number and what it counts. */
export const ADJECTIVE =
  /^(?:decrease|dec|decreasing|narrowing|shaping|increase|inc|increasing|purl|purled|knit|knitted|plain|garter|whole|full|such|more|fewer|less|new|old|live|single|equal|even|little|lonely|last|first|of|the|these|those|them|your|further|original)$/;
const NO_VERB =
  /^(?:total|totals|number|numbers|rest|count|counts|amount|amounts|left|being|look|looks|work|works|change|changes|use|measure|measures|down|less|fewer|off|away|minus|shorter|smaller|narrower|lighter|poorer)$/;
const SHARING = /^(?:each|every|per|a|an|any|one|1|either|both|all|the|your|our|in|on|of)$/;
const EACH_OF = /^(?:each|every|per|a|an|any|one|1|either)$/;
const ON = /^(?:on|over|onto|from|of|off|with|to|at)$/;
const ALL =
  /\b(?:in all|altogether|in total|total|all told|whole|all round|in the round|the lot)\b/;

/** What is told in a clause, whichever number of it. */
export interface Told {
  readonly change: boolean;
  readonly each: boolean;
  readonly share: boolean;
  readonly all: boolean;
  readonly verb: boolean;
  /** Rounds are counted in it. */
  readonly rounds: boolean;
  readonly text: string;
  readonly when: 'now' | 'before' | 'later';
  readonly round: number | null;
  /** "after the 2nd decrease round": which of its sort. */
  readonly nth: { readonly n: number; readonly sort: string } | null;
  /** It only names the round that the next clause tells of: "after round 6, …". */
  readonly leads: boolean;
}

export function toldIn(clause: readonly Token[], before: Told | null): Told {
  const words = clause.map((t) => t.text);
  const text = words.join(' ');
  const change = clause.some((t, i) => changes(clause, t, i));
  const verb = words.some((w) => (HELD.has(w) || LOST.has(w)) && !NO_VERB.test(w));
  // "after 3 repeats you have 52 sts"
  const midway =
    /\bhalf ?way\b|\bafter (?:the )?\d+(?:st|nd|rd|th)? (?:repeats?|repetitions?|times|goes|pairs?)\b/.test(
      text,
    );
  const when = words.some((w) => LATER.has(w))
    ? 'later'
    : midway || words.some((w) => BEFORE.has(w))
      ? 'before'
      : 'now';
  // "round 6 ends with 52 sts", "rnd 10: 36"
  const heads = /^(?:(?:and|so|now|then|the) )*(?:round|rnd|row|rd) (\d+)\b(?=.*\d)/.exec(text);
  const after =
    heads ??
    /\b\d+ (?:[a-z]+ )*after (\d+)$/.exec(text) ??
    /\b(?:after|at the end of|by the end of|of|in|by) (?:the )?(?:(?:round|rnd|row|rd) (\d+)|(\d+)(?:st|nd|rd|th) (?:round|rnd|row|rd))\b/.exec(
      text,
    );
  const nthOf =
    /\bafter (?:the )?(\d{1,3})(?:st|nd|rd|th) (decrease|dec|increase|inc|shaping|narrowing|widening) (?:round|rnd|row)\b/.exec(
      text,
    );
  const inherits = before !== null && before.round !== null && (!verb || before.leads);
  // "…, in the 12th 16"
  const nth = inherits && clause.find((t) => t.kind === 'ordinal');
  const leads =
    (after !== null && !verb && clause.length <= 4) ||
    (nthOf !== null && !verb && clause.length <= 5);
  const n = after ? Number(after[1] ?? after[2]) : nth ? nth.value : null;
  return {
    change,
    each:
      (/\b(?:rounds|rnds|rows) \d/.test(text) && change) ||
      (change && verb && /\b\d+ times\b/.test(text)) ||
      /\b(?:each|every|per|any)(?: (?:such|one|of|these|the|decrease|dec|decreasing|increase|inc|increasing|shaping|narrowing|second|other|rs|ws|right-side))* (?:time|rounds?|rnds?|rows?|rds?|repeats?|pairs?|pass)\b|\bwhenever\b|\b(?:this|these) (?:rounds|rnds|rows)\b/.test(
        text,
      ) ||
      (before?.each === true && !verb),
    share: sharedIn(clause),
    all: ALL.test(text),
    verb,
    rounds:
      /\b\d+ (?:[a-z]+ )?(?:rounds|rnds|rows)\b/.test(text) || (before?.rounds === true && !verb),
    text,
    leads,
    when,
    nth: nthOf
      ? { n: Number(nthOf[1]), sort: nthOf[2] }
      : before?.leads === true
        ? before.nth
        : null,
    round: n ?? (inherits ? (before?.round ?? null) : null),
  };
}

/** A word that tells of stitches lost or gained, and is no name of a round. */
function changes(clause: readonly Token[], t: Token, i: number): boolean {
  if (t.kind !== 'word' || !(LOST.has(t.text) || GAINED.has(t.text))) return false;
  const next = clause[i + 1]?.text ?? '';
  // "the decrease round", "down to 72", "to go on with"
  if (UNIT.has(next)) return false;
  const by = clause[i - 1];
  if (
    /^(?:longer|wider|bigger|larger|shorter|narrower|smaller|lighter|poorer|richer)$/.test(t.text)
  )
    return by?.kind === 'number' || STITCH_WORDS.has(by?.text ?? '');
  if (by?.text === 'any') return false;
  // "no more than 16"
  if (next === 'than' && /^(?:no|not)$/.test(by?.text ?? '')) return false;
  if (t.text === 'off' && /^(?:cast|bind|bound|casting|binding)$/.test(by?.text ?? ''))
    return false;
  if (/^(?:go|goes)$/.test(t.text))
    return by?.text !== 'to' && /^(?:|from|away|missing|in|at|each|every|per|with)$/.test(next);
  if (t.text === 'taken' || t.text === 'takes')
    return /^(?:off|away|out)$/.test(next) || /^\d/.test(next);
  if (/^(?:down|off|away|go|goes|drops?|shrinks?|falls?)$/.test(t.text) && next === 'to')
    return false;
  return true;
}

/** "on each needle", "18 apiece", "to a side", "between markers" */
function sharedIn(clause: readonly Token[]): boolean {
  return clause.some((t, i) => {
    if (/^(?:apiece)$/.test(t.text)) return true;
    if (t.text === 'each')
      return (
        !clause.slice(0, i).some((w) => UNIT.has(w.text)) &&
        !clause.slice(i + 1, i + 5).some((w) => UNIT.has(w.text))
      );
    if (!PARTS.has(t.text) && !/^markers?$/.test(t.text)) return false;
    // "18 to a side", "on every needle", "a quarter", "between markers"
    for (let k = i - 1; k >= 0 && k >= i - 4; k--) {
      const { text, kind } = clause[k];
      if (EACH_OF.test(text) || text === 'between') return true;
      if (!(SHARING.test(text) || kind === 'number' || ADJECTIVE.test(text))) break;
    }
    const [prior, by] = [clause[i - 1]?.text ?? '', clause[i - 2]?.text ?? ''];
    return /s$/.test(t.text) && /^(?:the|all|your|both)$/.test(prior) && !ON.test(by);
  });
}
