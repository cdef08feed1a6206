/**
 * Sentences, and tails of sentences, that tell numbers and order nothing: "you've lost eight, so 72 now", "so two gone from each
 * needle", "at this point only 4 sts are left on each tip". In: their tokens. Out: whether every clause of them is such; the
 * numbers are held against the piece where they stand (`resolve/told-numbers.ts`).
 */
import type { Token } from '../../lex/tokens.ts';
import { CLASSES } from '../../lexicon/classes.ts';
import { EVERYDAY } from '../../lexicon/everyday.ts';
import { GAINED, HELD, LOST, OTHER_UNITS } from '../../lexicon/narration.ts';
import {
  CRAFT_NOUNS,
  DETERMINERS,
  EVERYDAY_VERBS,
  FABRIC_WORDS,
  FILLERS,
  LEADS,
  MODALS,
  PRONOUNS,
  STITCH_WORDS,
  WORK_FORMS,
} from '../../lexicon/words.ts';
import { hidesOrder } from '../hidden-orders.ts';
import { limitsWork } from '../limits.ts';
import { moodOf } from '../mood.ts';
import { tellsSharesAlone } from '../told-counts.ts';
import { toldOfEdges } from '../unknown-names.ts';
import { isHarmless, isSlip, isStitchWord, LEADS_ON } from '../word-law.ts';
import { ADJECTIVE, narratedClauses } from './clauses.ts';
import { readToldNumbers, type ToldNumber } from './told-numbers.ts';

/** Most tokens of such a sentence. Chosen: bounds the time. */
const LONGEST = 60;

/** What makes more of a clause than a telling: something is to come, or to be done so often. */
const ORDERS =
  /^(?:again|another|next|following|further|until|till|til|twice|thrice|repeat|repeats|repeated|rep|instead|except|otherwise|once|anew|afresh|must|should|shall|need|needs|want|wants|let|please|skip|omit|border|edging)$/;
/** Verbs that tell when they have a subject, and order when they begin a clause. */
const BARE =
  /^(?:lose|gain|leave|make|take|bring|get|drop|keep|put|add|hold|come|go|end|finish|start|begin|use|see|turn|remove|shed|reduce|grow|shrink|carry|give|form|find|work|change|reach|become|follow|double|halve|let|have|be|stand|sit|stay|stop|sacrifice|swallow|eat|decrease|increase|dec|inc|fall|set|cut|draw|pull|thread|pass|close)$/;
/** What is done has been done. */
const PERFECT = /^(?:have|has|had|been|was|were|already|just|so|now|then|all|got)$/;
const UNIT = CLASSES.unit;
const PARTS = CLASSES.shared;

const KNOWN: readonly ReadonlySet<string>[] = [
  HELD,
  LOST,
  GAINED,
  OTHER_UNITS,
  FILLERS,
  EVERYDAY,
  EVERYDAY_VERBS,
  CRAFT_NOUNS,
  DETERMINERS,
  MODALS,
  PRONOUNS,
  PARTS,
  UNIT,
  STITCH_WORDS,
];

/** "making 1 after the first stitch": a stitch is made there. "Making 1 side longer" tells. */
function makesOne(list: readonly Token[], { text }: Token, i: number): boolean {
  const [one, next] = [list[i + 1]?.text, list[i + 2]?.text ?? ''];
  return /^mak(?:e|ing)$/.test(text) && one === '1' && !A_THING.test(next);
}
const A_THING =
  /^(?:side|sides|round|rnd|row|ridge|total|pair|piece|square|whole|half|quarter|repeat|pattern|set|group|ring|hole|block|big|long|large|small|neat|continuous|decrease|increase|dec|inc|or|and|[.,;)])$/;

export function onlyTells(tokens: readonly Token[]): boolean {
  const list = tokens.filter((t) => t.kind !== 'line');
  if (list.length === 0 || list.length > LONGEST) return false;
  if (!list.some((t) => t.kind === 'number' || t.kind === 'ordinal')) return false;
  if (list.some((t) => /^[*%]$/.test(t.text) || (isStitchWord(t) && !/^yos?$/.test(t.text))))
    return false;
  if (list.some((t, i) => makesOne(list, t, i))) return false;
  const clauses = narratedClauses(list);
  if (clauses.length === 0 || toldOfEdges(list.map((t) => t.text).join(' '))) return false;
  if (tellsSharesAlone(list.map((t) => t.text).join(' '))) return true;
  const numbers = readToldNumbers(list);
  const typed = new Set(numbers.map((n) => n.from));
  if (typed.size === 0 && !list.some((t) => OTHER_UNITS.has(t.text))) return false;
  let verb = false;
  /** What is judged by its verbs. */
  const acts: Token[] = [];
  for (const { from, end } of clauses) {
    const clause = list.slice(from, end);
    if (!clauseTells(clause, typed)) return false;
    const told = clause.some((t) => t.kind === 'word' && tells(t.text));
    verb ||= told;
    // "(16 sts) frobnicating"
    if (from > clauses[0].from && !clause.some((t) => t.kind !== 'word' || isKnown(t.text)))
      return false;
    // "20 on each of the frobble"
    const at = clause.findIndex((t) => /^(?:each|every|per)$/.test(t.text));
    const of =
      at < 0 ? undefined : clause.slice(at + 1).find((t) => !/^(?:of|the|your)$/.test(t.text));
    if (of?.kind === 'word' && !isKnown(of.text)) return false;
    // "72 sts frobnicating"
    const [noun, last] = clause.slice(-2);
    if (!told && last?.kind === 'word' && STITCH_WORDS.has(noun.text) && !isKnown(last.text))
      return false;
    // A count without a verb asks for nothing by itself.
    if (told || !clause.some((t) => typed.has(t.from))) acts.push(...list.slice(from, end + 1));
  }
  const said = list.map((t) => t.text).join(' ');
  // A number alone, or with what is no verb, may be part of a round; what it counts beside it makes it a telling.
  const nominal =
    numbers.some((n) => n.named && (list[0].text === '(' || n.counted[0].of !== 'ridges')) &&
    !list.some((t) => COLOURED.test(t.text));
  const other = list.some((t) => OTHER_UNITS.has(t.text));
  if (!verb && !SCOPED.test(said) && !nominal && !other) return false;
  // "the round 3 | that has 16 stitches"
  if (/^(?:that|who|with) (?:has|have|the|a|an|\d)\b/.test(said)) return false;
  if (MORE.test(said) && !GONE.test(said) && !numbers.some(isTotal)) return false;
  return (
    !limitsWork(said.replace(/\b(?:only|just|not) (?=\d)/g, '')) &&
    !hidesOrder(list) &&
    (acts.length === 0 || moodOf(acts) !== 'asks')
  );
}

/** "16 sts white" is worked. */
const COLOURED =
  /^(?:white|blue|red|green|grey|gray|black|pink|yellow|brown|cream|navy|rust|mc|cc|colou?rs?)$/;
const SCOPED =
  /=|\b(?:in all|altogether|total|per|each|every|apiece|left|to an?|an? (?:side|needle|quarter))\b/;
/** "you get rid of two more", "two more are to go": it is still to be done. */
const MORE = /\b(?:more|extra|new|plus)\b|\b(?:is|are|have|has) to\b/;
const GONE =
  /\b(?:gone|lost|gained|been|added|made|grown|than|have (?:now )?\d|has (?:now )?\d|(?:per|each|every) [a-z]+ (?:round|rnd|row|time))\b(?!.*\b(?:is|are) to\b)/;

/** Stitches that are there are told beside those that come or go. */
const isTotal = ({ counted: [first] }: ToldNumber): boolean =>
  first.of === 'stitch' || (first.of === 'stitches' && !first.change);

const isKnown = (word: string): boolean =>
  KNOWN.some((set) => set.has(word)) || LEADS_ON.test(word) || /^(?:me|us|my)$/.test(word);
const tells = (word: string): boolean => HELD.has(word) || LOST.has(word) || GAINED.has(word);

/** "stop to count", "give them a count" */
const COUNTS_UP =
  /^(?:(?:and|then|now|so|just|please) )*(?:stop|pause|give|do|take|have|make)\b(?: [a-z]+){0,3} (?:count|check|look|breath|break)$/;
const IS_SO = /^(?:be|have|now|still|then|only|see|count|get|find|hold|show|end)$/;
/** "i.e. 14 sts", "namely 8" */
const SAID_AGAIN = /^(?:ie|namely|viz|thus)$/;

function clauseTells(clause: readonly Token[], typed: ReadonlySet<number>): boolean {
  let at = 0;
  while (
    at < clause.length &&
    (LEADS.has(clause[at].text) ||
      SAID_AGAIN.test(clause[at].text) ||
      /^(?:and|so|but|or|which|plus|that|thus|by|with)$/.test(clause[at].text))
  )
    at++;
  const first = clause[at];
  if (COUNTS_UP.test(clause.map((t) => t.text).join(' '))) return true;
  // "you lose", but not "lose"
  const subject = clause.slice(0, at).some((t) => /^(?:you|we|which|that)$/.test(t.text));
  if (first && !subject && BARE.test(first.text)) return false;
  return clause.every((t, i) => {
    if (t.kind === 'mark') return true;
    if (t.kind !== 'word') return counted(clause, t, i, typed);
    const next = clause[i + 1]?.text ?? '';
    if (SAID_AGAIN.test(t.text) || /^(?:x|rem|dec'd|inc'd|decd|incd)$/.test(t.text)) return true;
    // "twice as many now"
    if (t.text === 'twice' && next === 'as') return true;
    if (t.text === 'time' && clause[i - 1]?.kind === 'ordinal') return true;
    // "there should be 16"
    if (/^(?:should|must|shall)$/.test(t.text) && IS_SO.test(next)) return true;
    if (ORDERS.test(t.text) || FABRIC_WORDS.has(t.text)) return false;
    if (WORK_FORMS.has(t.text) || (UNIT.has(next) && ADJECTIVE.test(t.text)))
      return isNamed(clause, t, i) || (tells(t.text) && i > at);
    if (isKnown(t.text)) return true;
    if (/^(?:rs|ws|yarn|wool|st|pin|pins|spare|seam|tip|tips|corner|corners)$/.test(t.text))
      return true;
    return isHarmless(t) && !isSlip(t.text) && !UNIT.has(next);
  });
}

/** "purl rounds", "have been worked": no verb, or one of what is done. */
function isNamed(clause: readonly Token[], t: Token, i: number): boolean {
  const next = clause[i + 1]?.text ?? '';
  if (UNIT.has(next) || /^(?:sts|stitches|stitch|side|edge)$/.test(next)) return true;
  // "the cast-on sts"
  if (t.text === 'cast' && next === '-') return true;
  if (!/ed$|^knit$|^cast$/.test(t.text)) return false;
  return clause.slice(Math.max(0, i - 3), i).some((w) => /^(?:have|has|had|been)$/.test(w.text))
    ? true
    : PERFECT.test(clause[i - 1]?.text ?? '') &&
        /^(?:was|were|just|already)$/.test(clause[i - 1].text);
}

/** The number is one of those that are held against the piece, or counts something else. */
function counted(
  clause: readonly Token[],
  t: Token,
  i: number,
  typed: ReadonlySet<number>,
): boolean {
  if (typed.has(t.from)) return true;
  if (isProduct(clause, i)) return true;
  const behind = clause.slice(i + 1, i + 4).map((w) => w.text);
  if (t.kind === 'ordinal') return !behind.some((w) => UNIT.has(w));
  if (behind.some((w) => OTHER_UNITS.has(w) && w !== 'times')) return true;
  if (behind.some((w) => UNIT.has(w) || w === 'times' || STITCH_WORDS.has(w)))
    return t.value === 1 && !UNIT.has(behind[0] ?? '');
  return (
    t.value === 1 ||
    behind.some((w) => PARTS.has(w) || /^(?:markers?|ends|edges)$/.test(w)) ||
    UNIT.has(clause[i - 1]?.text ?? '') ||
    (clause[i - 1]?.text === 'after' && i === clause.length - 1) ||
    PARTS.has(clause[i - 1]?.text ?? '')
  );
}

function isProduct(clause: readonly Token[], i: number): boolean {
  return /^(?:of|x|at|with|lots)$/.test(clause[i - 1]?.text ?? '');
}
