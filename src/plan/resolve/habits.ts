/**
 * Habits of every round or row that are told above the cast-on: "slip the first stitch of every row", "decreases are worked
 * on every fourth row". In: how far the text stands above it, the piece once it is worked. Out: a note where the rounds, which are worked
 * as they are told, do not keep a habit of single stitches; an error where they shape at other distances.
 */
import { nthOf } from '../lex/numbers.ts';
import type { Place } from '../lex/source.ts';
import { regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import type { PlanRound } from '../plan.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { shapes } from './rounds-told.ts';

const EVERY = /\b(?:every|each|all|always|throughout|both)\b/;
/** What is left open, is said of a time, or explains a word. */
const OPEN =
  /[=:]|\b(?:if|when|whenever|may|might|can|could|optional\w*|some|prefer\w*|like|want|wish|unless|except|but|not|never|don't|instead|swatch|gauge|tension|sample|means?|until|before|after|marker)\b/;
const ST = '(?:edge |border |selvedge )?(?:sts?|stitch|stitches)';
const WHICH = '(?:the )?(?:very )?(first|1st|last)(?: and(?: the)? (last|first))?';
const ACTIVE = regex.plain`^(?:and |also |please |always |note |that |remember to )*(slip|sl|knit|k|purl|p)\b (?:purlwise |knitwise )?${WHICH} ${ST}\b`;
const EDGES =
  /^(?:the |all |always )*(?:edge|selvedge|selvage|border) (?:sts?|stitch|stitches) (?:is|are|gets?) (?:always |then |also |just |to be )*(slipped|knitted|knit|purled)\b/;
const PASSIVE = regex.plain`^(?:and |also |always |note |that |(?:in|on|at) (?:every|each|all) ${UNIT},? )*${WHICH} ${ST}\b(?: (?:of|in|on|at) [a-z- ]{1,24}?)? (?:is|are|gets?) (?:always |then |also |just |to be )*(slipped|knitted|knit|purled)\b`;
/** "Work a yarn over at the start of every needle" */
const OVERS =
  /^(?:always |please |you |we )*(?:work|make|knit|do|put) (?:a|an|1) (?:yo|yarn ?over)\b.*\b(?:start|beginning|end|corner|side|needle|round|row)s?\b/;
const TWISTED =
  /\b(?:twist (?:every|each|all)|(?:every|each|all) (?:the )?(?:knit )?(?:sts?|stitch|stitches) (?:is|are) (?:worked|knitted|knit|twisted)(?: through the back| tbl|$)|(?:knit|work) (?:every|each|all) (?:the )?(?:knit )?(?:sts?|stitch|stitches) (?:through the back|tbl))/;
const PURLED =
  /^(?:always )?purl (?:the |all |your )*(?:corner|middle|cent(?:re|er)|marked) (?:sts?|stitch|stitches)\b/;
/** "you decrease on every third round", "decreases are worked on every 4th row" */
const SHAPED = regex.plain`^(?:here |so |in this \w+ |note that )*(?:(?:you|we|i|one) (?:always )?(?:decrease|increase|dec|inc)s?|(?:the |all )?(?:decreases|increases|decs|incs|shaping) (?:is|are) (?:always )?(?:worked|made|done|placed)|(?:the |all )?(?:decreases|increases|shaping) (?:comes?|falls?|happens?)) (?:\d+ (?:sts?|stitches) )?(?:on|in|at) (?:every|each) (?:single )?(?:(other|second|alternate|third|fourth|fifth|sixth|\d+(?:st|nd|rd|th)) )?${UNIT}\b(?! \d)`;
const SIDED = /\b(?:(rs|right[ -]side)|(ws|wrong[ -]side))\b/;
/** Most characters of a sentence that is judged. Chosen: bounds the time. */
const LONGEST = 200;

/** Tells whether a round keeps the habit. */
type Kept = (names: readonly string[], r: PlanRound) => boolean;

/** `end`: where the cast-on is done. */
export function checkHabits(end: number, piece: WorkedPiece): void {
  if (piece.rounds.length === 0 || piece.counts.believed.active) return;
  for (const at of sentences({ from: 0, to: end }, piece.source.norm)) check(at, piece);
}

function sentences({ from, to }: Place, norm: string): Place[] {
  const out: Place[] = [];
  for (const m of norm.slice(from, to).matchAll(/[^.!?;\n]+/g)) {
    const lead = /^[\s•*#-]*(?:notes?:?\s+)?/.exec(m[0])?.[0].length ?? 0;
    const said = m[0].slice(lead).trimEnd();
    if (said && said.length <= LONGEST)
      out.push({ from: from + m.index + lead, to: from + m.index + lead + said.length });
  }
  return out;
}

function check(at: Place, piece: WorkedPiece): void {
  const words = piece.source.norm.slice(at.from, at.to);
  if (OPEN.test(words)) return;
  const shaped = SHAPED.exec(words);
  if (shaped) {
    checkShaped(shaped[1], at, piece);
    return;
  }
  const kept = EVERY.test(words) ? habitOf(words) : null;
  if (!kept || piece.rounds.every((r) => kept(piece.namesOf(r), r))) return;
  piece.found.note(
    'habit-not-kept',
    at,
    'the rounds are worked as they are told below, and do not do this',
    'Write it in the rounds that it is meant for, or take it out.',
  );
}

function habitOf(words: string): Kept | null {
  const edges = EDGES.exec(words);
  const both = edges && !/\b(?:start|beginning)\b/.test(words) && !/^sl/.test(edges[1]);
  const told = edges
    ? ['', edges[1], 'first', both ? 'last' : undefined]
    : (ACTIVE.exec(words) ?? PASSIVE.exec(words));
  const side = SIDED.exec(words);
  const of = (r: PlanRound): boolean => !side || r.wrongSide === (side[2] !== undefined);
  if (told) {
    const list = told.slice(1).filter((w) => w !== undefined);
    const verb = list.find((w) => !/^(?:first|1st|last)$/.test(w)) ?? '';
    const places = list.filter((w) => /^(?:first|1st|last)$/.test(w));
    return (names, r) =>
      !of(r) || places.every((p) => isSo(names.at(p === 'last' ? -1 : 0) ?? '', verb));
  }
  if (OVERS.test(words)) return (names, r) => !shapes(r) || names.includes('yo');
  if (TWISTED.test(words)) return (names) => !names.includes('k');
  if (PURLED.test(words)) return (names, r) => !of(r) || names.includes('p');
  return null;
}

function isSo(name: string, verb: string): boolean {
  if (verb.startsWith('s')) return name.startsWith('sl');
  if (verb.startsWith('p')) return /^p(?!s)/.test(name);
  return !/^(?:p|sl)/.test(name);
}

/** Some two rounds that shape lie so far apart. */
function checkShaped(nth: string | undefined, at: Place, piece: WorkedPiece): void {
  const every = nth === undefined ? 1 : nthOf(nth) || 2;
  const shaped = piece.rounds.filter(shapes).map((r) => r.n);
  const apart = shaped.slice(1).map((n, i) => n - shaped[i]);
  if (apart.length === 0 || apart.includes(every)) return;
  piece.found.error(
    'told-otherwise',
    at,
    `this tells shaping in every ${every === 1 ? '' : `${every}th `}round, but the rounds that shape lie ${apart[0]} apart`,
    'Change the one or the other.',
  );
}
