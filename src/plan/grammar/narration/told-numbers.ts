/**
 * Numbers that a sentence tells, each with what it may count: stitches in all or on each part, stitches lost or gained, rounds
 * so far, the number of a round. In: the tokens of a sentence that asks for nothing. Out: every number that counts something
 * of the fabric; those of grams, hours or pages are none.
 */
import type { Place } from '../../lex/source.ts';
import type { Token } from '../../lex/tokens.ts';
import { CLASSES } from '../../lexicon/classes.ts';
import { CITES, GAINED, HELD, LOST, OTHER_UNITS } from '../../lexicon/narration.ts';
import { FILLERS, MODALS, PRONOUNS } from '../../lexicon/words.ts';
import { declaredRepeats } from '../steps/declared-repeats.ts';
import { LEADS_ON } from '../word-law.ts';
import { ADJECTIVE, narratedClauses, type Told, toldIn } from './clauses.ts';
import { besideMiddle, lastOfSort, nthStitch, sortNamed, thingAt } from './told-things.ts';

/** The sort of rounds counted; null for all. */
export type RoundSort = 'decrease' | 'increase' | 'purl' | 'knit' | null;

/** What a number may count. */
export type Counted =
  /** Stitches: of each part where `share`; lost or gained where `change`, in every shaped round where `each`. */
  | {
      readonly of: 'stitches';
      readonly share: boolean;
      readonly change: boolean;
      readonly each: boolean;
    }
  /** `nth`: of the rounds of its sort; `last`: it is the one that has come out last; `alone`: nothing else is said, "(row 13)". */
  | {
      readonly of: 'round';
      readonly sort: RoundSort;
      readonly last: boolean;
      readonly alone?: boolean;
    }
  /** `all`: from the beginning on. */
  | { readonly of: 'rounds'; readonly sort: RoundSort; readonly all?: boolean }
  | { readonly of: 'times' }
  /** Equal parts of the round, or the markers that part it. */
  | { readonly of: 'parts' }
  /** A stitch by its number: the middle one, or any. */
  | { readonly of: 'stitch'; readonly middle: boolean }
  /** Yarn overs of the last rounds, and ridges. */
  | { readonly of: 'holes' | 'ridges' }
  /** Stitches to the right and left of a middle one. */
  | { readonly of: 'halves' }
  /** A row of shares that makes all the stitches: "15 + 1 + 15". */
  | { readonly of: 'sum'; readonly total: number }
  /** So many parts of `each` stitches, and `extra` besides them. */
  | { readonly of: 'product'; readonly each: number; readonly extra: number };

export interface ToldNumber extends Place {
  readonly value: number;
  /** The likeliest first; the number holds where one of them does. */
  readonly counted: readonly Counted[];
  /** It was so before, or will be so later. */
  readonly when: 'now' | 'before' | 'later';
  /** After the round of that number. */
  readonly round: number | null;
  /** After which of the rounds of a sort. */
  readonly nth: Told['nth'];
  /** What it counts stands with it: "16 sts", "row 13". */
  readonly named: boolean;
}

/** Somebody else's piece, a size that is not this one. */
const ELSEWHERE =
  /^(?:if|whenever|unless|would|other|another|larger|bigger|version|sizes?|sample|mine|i|my|she|he|her|his|people|some|readers?|knitters?|testers?|book|printing|leaflet|edition|swatch|gauge|tension|blanket|row-ends)$/;

const UNIT = CLASSES.unit;
const PARTS = CLASSES.shared;
const STS = CLASSES.sts;
const WORKED =
  /\b(?:worked|done|made|knitted|finished|complete|completed|so far|behind|in all|altogether|in total|total|have been|all told|by now|that (?:is|was|makes)|this (?:is|was|makes))\b/;
const AT_LAST =
  /\b(?:last|end|ends|ended|ending|finish|finishes|finished|stop|stops|close|closes|just (?:worked|done))\b|\b(?:that|this|which) (?:is|was)\b|\b(?:you|we) are\b|^(?:and |then |now )*(?:when|once|after) (?:the )?(?:round|rnd|row) \d+ (?:is|has been) (?:now )?(?:done|worked|finished|complete|completed|over)\b/;

export function readToldNumbers(list: readonly Token[]): ToldNumber[] {
  if (!list.some((t) => t.kind === 'number' || t.kind === 'ordinal')) return [];
  if (declaredRepeats(list.map((t) => t.text).join(' ')) !== null) return [];
  const out: ToldNumber[] = [];
  let before: Told | null = null;
  let elsewhere = false;
  for (const { from, end } of narratedClauses(list)) {
    const clause = list.slice(from, end);
    const told = toldIn(clause, before);
    const conditional =
      /^(?:if|for|unless)$/.test(clause[0].text) && !/^for$/.test(clause[1]?.text ?? '');
    // "Do you want 96?", but "36 sts? Good."
    const asked = list[end]?.text === '?' && clause.length > 3;
    const started = conditional && clause.some((t) => /^(?:started|began|begun)$/.test(t.text));
    const other = !started && (asked || clause.some((t) => ELSEWHERE.test(t.text)));
    if (other && conditional) elsewhere = true;
    if (!other && !elsewhere) {
      for (let i = from; i < end; i++) {
        const number = numberAt(list, i, from, end, told, before);
        if (number) out.push(number);
      }
    }
    before = told;
  }
  return out;
}

function numberAt(
  list: readonly Token[],
  i: number,
  from: number,
  end: number,
  told: Told,
  before: Told | null,
): ToldNumber | null {
  const t = list[i];
  if (t.kind !== 'number' && t.kind !== 'ordinal') return null;
  const prior = i > from ? (list[i - 1]?.text ?? '') : '';
  if (/^(?:next|following|not|all)$/.test(prior)) return null;
  // "(9:40 in the video)"
  const hour = list[i + 1]?.text === ':' && list[i + 2]?.kind === 'number' && !list[i + 2].spaced;
  const minute = list[i - 1]?.text === ':' && list[i - 2]?.kind === 'number' && !t.spaced;
  if (hour || minute) return null;
  // "32 left after 9": the number of a round.
  if (prior === 'after' && told.round === t.value) return null;
  if (t.kind === 'ordinal' && told.nth?.n === t.value && /^(?:after|the)$/.test(prior)) return null;
  let sort: RoundSort = null;
  let at = i + 1;
  while (at < end && at < i + 5 && ADJECTIVE.test(list[at].text)) {
    const { text } = list[at];
    sort ??= sortNamed(text);
    at++;
  }
  const noun = at < end ? list[at].text : '';
  // "32 of the 48 sts are gone"
  const past =
    wasSo(list, i, end) || (list[i - 2]?.text === 'of' && /^(?:the|your|our)$/.test(prior));
  const make = (counted: readonly Counted[], named = false): ToldNumber | null =>
    counted.length === 0
      ? null
      : {
          value: t.value,
          counted,
          when: past ? 'before' : told.when,
          round: told.round,
          nth: told.nth,
          named,
          from: t.from,
          to: t.to,
        };
  if (t.kind === 'ordinal') {
    // "The last decrease round is the 16th."
    const named =
      UNIT.has(noun) || (at >= end && /\blast (?:[a-z]+ )?(?:round|rnd|row)\b/.test(told.text));
    if (told.round === t.value && /\b(?:after|at the end|by the end)\b/.test(told.text))
      return null;
    const last = AT_LAST.test(told.text);
    const nth = nthStitch(list, at, end);
    if (nth) return make([nth], true);
    return named && t.value > 1 ? make([{ of: 'round', sort, last }]) : null;
  }
  const thing = thingAt(list, i, at, end);
  if (thing) return make([thing], true);
  if (!Number.isInteger(t.value) || /^[-/.£$€#+]$/.test(prior)) return null;
  const glued = list[i + 1];
  if (glued && /^[-/%"]$/.test(glued.text) && !glued.spaced && !list[i + 2]?.spaced) return null;
  if (UNIT.has(prior) && list[i - 2]?.kind !== 'ordinal' && !STS.has(noun)) {
    if (/s$/.test(prior) || (told.round === t.value && told.text.includes('after'))) return null;
    const ends = AT_LAST.test(told.text) && !told.change && i - 1 > from;
    const alone = list.every((w) => w.kind !== 'word' || w === list[i - 1]);
    return make([{ of: 'round', sort: lastOfSort(told), last: ends || alone, alone }], true);
  }
  if (cited(list, i) || listed(list, i)) return null;
  const product = productAt(list, i, end);
  if (product === 'each') return null;
  if (product) return make([product]);
  // "13 rounds, 6 of them with decreases"
  const those =
    before?.rounds === true &&
    list[i + 1]?.text === 'of' &&
    /^(?:which|them|these|those)$/.test(list[i + 2]?.text ?? '');
  if (those)
    sort ??= list.slice(i + 3, end).reduce<RoundSort>((s, w) => s ?? sortNamed(w.text), null);
  if (UNIT.has(noun) || (those && sort !== null))
    return prior !== 'of' && (those || workedSoFar(list, told)) && !told.each
      ? make([{ of: 'rounds', sort, all: told.all || those }])
      : null;
  if (noun === 'times')
    return (told.change && told.verb) ||
      /\b(?:have|has|been|so far|by now|up to here)\b/.test(told.text)
      ? make([timesOf(told)])
      : null;
  if (measures(list, i + 1) || measures(list, at)) return null;
  if (PARTS.has(noun)) return null;
  if (/^(?:ends|edges)$/.test(noun)) return null;
  const sts =
    // "8 new ones", "32 of the 48 sts"
    (told.change && noun === 'ones') ||
    (at > i + 1 && list[at]?.kind === 'number' && STS.has(list[at + 1]?.text ?? '')) ||
    STS.has(noun) ||
    (i + 1 < end && STS.has(list[i + 1].text));
  if (!sts && !standsAlone(list[at], at < end)) return null;
  // "the clever one", "one of them"
  if (t.value === 1 && !(sts && told.change && (told.share || told.each))) return null;
  // "one more knit stitch before the kfb each time"
  if ((told.each || t.value === 1) && t.kind === 'number' && BESIDE.test(told.text)) return null;
  // "a round or two", "after every ten stitches"
  if ((prior === 'or' && UNIT.has(list[i - 2].text)) || /^(?:every|each|over)$/.test(prior))
    return null;
  // "the round 3 that has 16 sts": one of several
  if (
    DIVIDES.test(told.text) ||
    /\bthe (?:round|rnd|row) \d+ (?:that|which|with)\b/.test(told.text)
  )
    return null;
  const brief = list.slice(from, end).filter((w) => !IDLE.test(w.text)).length <= 2;
  if (
    !(
      sts ||
      told.change ||
      told.share ||
      told.all ||
      told.round !== null ||
      brief ||
      TALLIES.test(told.text)
    )
  )
    return null;
  const to = /^(?:to|into)$/.test(prior) || (prior === 'from' && told.change);
  // "with 35 sts between them"
  const apart = sts && /^(?:between|apart)$/.test(list[at + 1]?.text ?? '');
  const counted =
    past || to
      ? [HAD, { ...HAD, share: true }]
      : apart
        ? [{ ...HAD, share: true }]
        : stitchesTold(told, before);
  return make(besideMiddle(list, from, end) ? [...counted, { of: 'halves' }] : counted, sts);
}

/** "13 rounds in all", "13 rounds now, 16 sts" */
function workedSoFar(list: readonly Token[], { verb, text }: Told): boolean {
  if (WORKED.test(verb ? text : list.map((w) => w.text).join(' '))) return true;
  return !verb && /\bnow\b/.test(text) && list.some((t) => STS.has(t.text));
}

/** "You have decreased 4 times": so many rounds of that sort. */
function timesOf({ text }: Told): Counted {
  const by = /\b(in|de)creased\b/.exec(text)?.[1];
  if (!by) return { of: 'times' };
  return { of: 'rounds', sort: by === 'in' ? 'increase' : 'decrease' };
}

const BESIDE = /\b(?:before|between|after|beside)\b/;
const DIVIDES = /\b(?:split|divide|distribute|arrange|share|spread|slide|put|place)\b/;
const IDLE =
  /^(?:so|and|now|then|which|is|that|still|just|only|or|ie|thus|but|to|the|from|down|up|left)$/;
/** A count is told, whatever it is called. */
const TALLIES =
  /\b(?:(?:you|we|one|1) (?:(?:now|will|should|still|then|only|just) )*(?:have|had|count|counts|get|see|are|end|got|stand)|there (?:(?:should|must|will|ought|to|now|still|then) )*(?:be|is|are|was|were|remain|remains|stay)|(?:count|total|tally|number (?:of|is))|to go on with|(?:that|this|which|it) (?:leaves|makes|brings|takes|is|was|gives)|(?:brings?|brought|takes|took|gets?) (?:you|us|it|the (?:count|total)) (?:down |up |back )?to|leaving|making|remain|remains|remaining|left|what was|(?:down|up|back) to|from \d+|turned into|become|became|(?:doubled|halved) to|twice as many|(?:square|piece|round|ring|work|whole|lot) (?:(?:now|still|then) )*(?:has|have|holds?|counts?|carries|shows?))\b/;

const HAD = { of: 'stitches', share: false, change: false, each: false } as const;

/** "from 80 to 72", "the 80 have turned into 72", "what was 80 is now 72" */
function wasSo(list: readonly Token[], i: number, end: number): boolean {
  const prior = list[i - 1]?.text ?? '';
  if (/^(?:from|was|were|had)$/.test(prior)) return true;
  return (
    /^(?:the|your|our|these|those)$/.test(prior) &&
    list
      .slice(i, end)
      .some((t, k) => /^(?:to|into)$/.test(t.text) && list[i + k + 1]?.kind === 'number')
  );
}

/** "52, 44, 36 sts": counts of rounds one after the other. */
function listed(list: readonly Token[], i: number): boolean {
  const by = (mark: number, number: number): boolean =>
    list[mark]?.text === ',' &&
    list[number]?.kind === 'number' &&
    !UNIT.has(list[number - 1]?.text ?? '');
  return by(i + 1, i + 2) || by(i - 1, i - 2);
}

/** "page 3", "rounds 1 and 2", "stitches 16, 32 and 48": the number names something. */
function cited(list: readonly Token[], i: number): boolean {
  let k = i - 1;
  while (k > 0 && /^(?:,|and|&|or|to|-)$/.test(list[k].text) && list[k - 1].kind === 'number')
    k -= 2;
  const { text } = list[Math.max(0, k)];
  if (k === i - 1) return CITES.has(text) || /^(?:sts?|stitch|stitches)$/.test(text);
  return /^(?:rounds|rnds|rows|sts|stitches)$/.test(text) || CITES.has(text);
}

/** Something else is counted: grams, hours, inches but not "8 in all". */
function measures(list: readonly Token[], at: number): boolean {
  const text = list[at]?.text ?? '';
  if (!OTHER_UNITS.has(text)) return false;
  return (
    text !== 'in' ||
    !/^(?:the|all|each|every|this|total|a|1|one|your)$/.test(list[at + 1]?.text ?? '')
  );
}

/** Nothing that is counted follows: the sentence goes on, or ends. */
function standsAlone(next: Token | undefined, within: boolean): boolean {
  if (!next || !within) return true;
  const { text } = next;
  if (next.kind !== 'word') return next.kind !== 'number';
  return (
    FILLERS.has(text) ||
    HELD.has(text) ||
    LOST.has(text) ||
    GAINED.has(text) ||
    MODALS.has(text) ||
    PRONOUNS.has(text) ||
    LEADS_ON.test(text) ||
    /^(?:apiece|still|per|remaining|left|stitches|altogether|already|only|between)$/.test(text)
  );
}

function stitchesTold(told: Told, before: Told | null): Counted[] {
  const { each } = told;
  const inherited = before !== null && !told.verb;
  const rounds: readonly Counted[] = before?.rounds === true ? [{ of: 'rounds', sort: null }] : [];
  const changes = told.change ? [true] : inherited && before.change ? [false, true] : [false];
  const share = told.share && !told.all;
  const shares = share ? [true] : inherited && before.share && !told.all ? [false, true] : [false];
  const those = changes.flatMap((change) =>
    shares.map((s): Counted => ({ of: 'stitches', share: s, change, each: each && change })),
  );
  return [...those, ...rounds];
}

const LOTS = /^(?:lots|x|times|groups|sets)$/;

/** "4 wedges of 20", "4 lots of 20", "4 x 18 and 2 edge sts"; 'each' for the number that was told with the one before. */
function productAt(list: readonly Token[], i: number, end: number): Counted | 'each' | null {
  const lots = (k: number): boolean =>
    LOTS.test(list[k]?.text ?? '') || PARTS.has(list[k]?.text ?? '');
  const OF = /^(?:of|with|at|x|having)$/;
  const back =
    OF.test(list[i - 1]?.text ?? '') && !/^(?:x|times)$/.test(list[i - 1].text) ? i - 2 : i - 1;
  if (
    back >= 1 &&
    lots(back) &&
    list[back - 1].kind === 'number' &&
    (back === i - 2 || LOTS.test(list[back].text))
  )
    return 'each';
  let at = i + 1;
  if (/^(?:equal|even)$/.test(list[at]?.text ?? '')) at++;
  if (at >= end || !lots(at)) return null;
  const timed = /^(?:x|times)$/.test(list[at].text);
  at++;
  if (!timed && !OF.test(list[at]?.text ?? '')) return null;
  if (!timed) at++;
  const each = list[at];
  if (each?.kind !== 'number') return null;
  if (measures(list, at + 1)) return null;
  return { of: 'product', each: each.value, extra: extraBehind(list, at + 1) };
}

/** "…, plus the 2 edge stitches", "and 1 spare stitch at each side" */
function extraBehind(list: readonly Token[], from: number): number {
  const at = list.findIndex(
    (t, k) =>
      k >= from &&
      k < from + 6 &&
      t.kind === 'number' &&
      list
        .slice(k + 1, k + 5)
        .some((w) =>
          /^(?:edge|seam|spare|extra|selvedge|selvage|over|left|border|lonely|corner)$/.test(
            w.text,
          ),
        ),
  );
  if (at < 0) return 0;
  const behind = list
    .slice(at, at + 9)
    .map((t) => t.text)
    .join(' ');
  const twice = /\b(?:each|either|both) (?:sides?|ends?|edges?)\b/.test(behind);
  return list[at].value * (twice ? 2 : 1);
}
