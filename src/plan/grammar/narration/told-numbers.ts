/**
 * Numbers that a sentence tells, each with what it may count: stitches in all or on each part, stitches lost or gained, rounds
 * so far, the number of a round. In: the tokens of a sentence that asks for nothing. Out: every number that counts something
 * of the fabric; those of grams, hours or pages are none.
 */
import type { Place } from '../../lex/source.ts';
import type { Token } from '../../lex/tokens.ts';
import { CLASSES } from '../../lexicon/classes.ts';
import { CITES, GAINED, HELD, LOST, OTHER_UNITS } from '../../lexicon/narration.ts';
import { FILLERS, MODALS, PRONOUNS, STITCH_WORDS } from '../../lexicon/words.ts';
import { LEADS_ON } from '../word-law.ts';
import { ADJECTIVE, narratedClauses, type Told, toldIn } from './clauses.ts';

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
  /** `nth`: of the rounds of its sort; `last`: it is the one that has come out last. */
  | { readonly of: 'round'; readonly sort: RoundSort; readonly last: boolean }
  | { readonly of: 'rounds'; readonly sort: RoundSort }
  | { readonly of: 'times' }
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
}

/** Somebody else's piece, a size that is not this one. */
const ELSEWHERE =
  /^(?:if|whenever|unless|would|other|another|larger|bigger|version|sizes?|sample|mine|i|my|she|he|her|his|people|some|readers?|knitters?|testers?|book|printing|leaflet|edition|swatch|gauge|tension|blanket|row-ends)$/;

const UNIT = CLASSES.unit;
const PARTS = CLASSES.shared;
const SORTS: readonly (readonly [RegExp, RoundSort])[] = [
  [/^(?:decrease|dec|decreasing|narrowing|shaping)$/, 'decrease'],
  [/^(?:increase|inc|increasing|widening)$/, 'increase'],
  [/^(?:purl|purled)$/, 'purl'],
  [/^(?:knit|knitted)$/, 'knit'],
];
const WORKED =
  /\b(?:worked|done|made|knitted|finished|complete|completed|so far|behind|in all|altogether|in total|total|have been|all told|by now|that (?:is|was|makes)|this (?:is|was|makes))\b/;
const AT_LAST =
  /\b(?:last|end|ends|ended|ending|finish|finishes|finished|stop|stops|close|closes|just (?:worked|done))\b|\b(?:that|this|which) (?:is|was)\b|\b(?:you|we) are\b/;

export function readToldNumbers(list: readonly Token[]): ToldNumber[] {
  if (!list.some((t) => t.kind === 'number' || t.kind === 'ordinal')) return [];
  if (list.some((t) => t.text === '?')) return [];
  const out: ToldNumber[] = [];
  let before: Told | null = null;
  let elsewhere = false;
  for (const { from, end } of narratedClauses(list)) {
    const clause = list.slice(from, end);
    const told = toldIn(clause, before);
    const conditional =
      /^(?:if|for|unless)$/.test(clause[0].text) && !/^for$/.test(clause[1]?.text ?? '');
    const other = clause.some((t) => ELSEWHERE.test(t.text));
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
  let sort: RoundSort = null;
  let at = i + 1;
  while (at < end && at < i + 5 && ADJECTIVE.test(list[at].text)) {
    const { text } = list[at];
    sort ??= SORTS.find(([re]) => re.test(text))?.[1] ?? null;
    at++;
  }
  const noun = at < end ? list[at].text : '';
  // "32 of the 48 sts are gone"
  const past =
    wasSo(list, i, end) || (list[i - 2]?.text === 'of' && /^(?:the|your|our)$/.test(prior));
  const make = (counted: readonly Counted[]): ToldNumber | null =>
    counted.length === 0
      ? null
      : {
          value: t.value,
          counted,
          when: past ? 'before' : told.when,
          round: told.round,
          from: t.from,
          to: t.to,
        };
  if (t.kind === 'ordinal') {
    // "The last decrease round is the 16th."
    const named =
      UNIT.has(noun) || (at >= end && /\blast (?:[a-z]+ )?(?:round|rnd|row)\b/.test(told.text));
    const last = AT_LAST.test(told.text);
    return named && t.value > 1 ? make([{ of: 'round', sort, last }]) : null;
  }
  if (!Number.isInteger(t.value) || /^[-/.£$€#+]$/.test(prior)) return null;
  const glued = list[i + 1];
  if (glued && /^[-/%"]$/.test(glued.text) && !glued.spaced && !list[i + 2]?.spaced) return null;
  if (UNIT.has(prior) && list[i - 2]?.kind !== 'ordinal') {
    if (/s$/.test(prior) || (told.round === t.value && told.text.includes('after'))) return null;
    return make([
      { of: 'round', sort: null, last: AT_LAST.test(told.text) && !told.change && i - 1 > from },
    ]);
  }
  if (cited(list, i) || listed(list, i)) return null;
  const product = productAt(list, i, end);
  if (product === 'each') return null;
  if (product) return make([product]);
  if (UNIT.has(noun))
    return WORKED.test(told.verb ? told.text : list.map((w) => w.text).join(' ')) && !told.each
      ? make([{ of: 'rounds', sort }])
      : null;
  if (noun === 'times')
    return /\b(?:have|has|been|so far|by now|up to here)\b/.test(told.text)
      ? make([{ of: 'times' }])
      : null;
  if (measures(list, i + 1) || measures(list, at)) return null;
  if (PARTS.has(noun)) return null;
  const sts = STITCH_WORDS.has(noun) || (i + 1 < end && STITCH_WORDS.has(list[i + 1].text));
  if (!sts && !standsAlone(list[at], at < end)) return null;
  // "the clever one", "one of them"
  if (t.value === 1 && !(sts && told.change && told.share)) return null;
  // "one more knit stitch before the kfb each time"
  if ((told.each || t.value === 1) && BESIDE.test(told.text)) return null;
  // "a round or two", "after every ten stitches"
  if ((prior === 'or' && UNIT.has(list[i - 2].text)) || /^(?:every|each|over)$/.test(prior))
    return null;
  // "the round 3 that has 16 sts": one of several
  if (DIVIDES.test(told.text) || /\b(?:round|rnd|row) \d+ (?:that|which|with)\b/.test(told.text))
    return null;
  const brief = list.slice(from, end).filter((w) => !IDLE.test(w.text)).length <= 2;
  if (!(sts || told.change || told.share || told.all || brief || TALLIES.test(told.text)))
    return null;
  const to = /^(?:to|into)$/.test(prior) || (prior === 'from' && told.change);
  return make(
    past
      ? [HAD, { ...HAD, share: true }]
      : to
        ? [HAD, { ...HAD, share: true }]
        : stitchesTold(told, before),
  );
}

const BESIDE = /\b(?:before|between|after|beside)\b/;
const DIVIDES = /\b(?:split|divide|distribute|arrange|share|spread|slide|put|place)\b/;
const IDLE =
  /^(?:so|and|now|then|which|is|that|still|just|only|or|ie|thus|but|to|the|from|down|up|left)$/;
/** A count is told, whatever it is called. */
const TALLIES =
  /\b(?:(?:you|we|one|1) (?:(?:now|will|should|still|then|only|just) )*(?:have|had|count|counts|get|see|are|end|got|stand)|there (?:is|are|was|were|remain)|(?:count|total|tally|number (?:of|is))|to go on with|(?:that|this|which|it) (?:leaves|makes|brings|takes|is|was|gives)|leaving|making|remain|remains|remaining|left|what was|(?:down|up|back) to|from \d+|turned into|become|became|(?:doubled|halved) to|twice as many)\b/;

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
    list[mark]?.text === ',' && list[number]?.kind === 'number';
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
