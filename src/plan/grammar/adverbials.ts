/**
 * Adverbials of time, frequency and place, by how they are built: "now and then", "at intervals", "halfway up", "after the 5th
 * round", "just before the end". In: tokens of a clause. Out: where such words end and when they say that something is done.
 */
import type { Token } from '../lex/tokens.ts';
import { LEADS } from '../lexicon/words.ts';
import { saysAny } from './rules.ts';
import { TokenCursor } from './token-cursor.ts';

/** `some-time`: no round can be told by it; `end`: right before the piece is ended; `after`: behind so many rounds. */
export type When =
  | { readonly kind: 'some-time' | 'start' | 'end' }
  | { readonly kind: 'after'; readonly rounds: number };

export interface Adverbial {
  readonly when: When;
  /** The token behind it. */
  readonly end: number;
}

const NEARLY =
  'about|roughly|right|just|somewhere|only|very|shortly|soon|long|immediately|somewhat|even|still|every*';
const OFTEN =
  'sometimes|occasionally|frequently|seldom|rarely|sporadically|periodically|intermittently|regularly|randomly|sometime|someday|wherever|somewhere|anywhere|elsewhere';
const EARLIER = 'earlier|beforehand|previously|meanwhile|simultaneously|meantime|already';
/** What "the middle" is of: all of the work, and no side or round of it. */
const OF_ALL =
  'of|through|in|up|along|into|between* the|this|that|these|those|them|your|it|all|#* piece|work|square|rounds|rows|rnds|knitting|part|section|border|tube|body|stretch|way|there?';

/** Words that tell no round by themselves, however often or seldom it is done. */
const SOME_TIME: readonly string[] = [
  `${NEARLY} ${OFTEN}`,
  `${NEARLY} now|here|then|there|again|once and|or then|there|again|now|twice`,
  'time and|after time again?',
  'from time|place|round|row|point|day to time|place|time|point|day',
  'at|in|by|with a|the|your? regular|irregular|odd|random|short|long|equal|even|certain|several|some|various|other* intervals|random|places|spots|moments|times|leisure|will|whim|interval',
  `${NEARLY} so|too often`,
  `${NEARLY} 1|once in a while|blue moon`,
  'every once|now in|and a|again? while?',
  'as|so often|many|frequently|much|rarely|seldom times? as you|it|they|we like|want|please|need|wish|fancy|can',
  'whenever|wherever|however ~ ~ ~? ~? ~? ~?',
  'in? between|inbetween times|whiles|them|these|those|each|this|that|the|two* rounds|rows|ones?',
  `${NEARLY} halfway|midway|partway ${OF_ALL}`,
  `${NEARLY} half|part|mid way|point ${OF_ALL}`,
  `${NEARLY} in|at|around|near|about|towards|by|on|from|past|beyond the|its very|exact|dead|half|mid* halfway|midway|midpoint|middle|half|halfway point|mark|way|stage? ${OF_ALL}`,
  `${NEARLY} a|one|1|2|# %|third|quarter|thirds|quarters|half of the way ${OF_ALL}`,
  `${NEARLY} ${EARLIER} on?`,
  'in the meantime|meanwhile',
  'at the same time|moment',
  'in parallel',
  'all? along|during the? way|these|those|them|this|that all? rounds|rows|rnds?',
  `${NEARLY} before that|this|these|those|them|starting|beginning|joining|closing the? ring|round?`,
  `${NEARLY} before you start|begin|join|started|began|joined`,
  `${NEARLY} before @unit|the #|% @unit?`,
  `${NEARLY} before the last|first|next|previous|final #? @unit`,
  `${NEARLY} # @unit before|short|from|ahead|earlier|above|below|back of|the* end|start|edge|close|top|border|beginning|middle|centre|corner|last|cast*`,
  'first and? then? last|second',
];

const START: readonly string[] = [
  `${NEARLY} at|in|from|near the|its very* start|beginning|outset|bottom of|the|piece|work|square|all*`,
  'to begin|start with',
];

const END: readonly string[] = [
  `${NEARLY} at|towards|near|before|until the|its very* end|finish|close of|the|piece|work|square|all*`,
  `${NEARLY} before binding|casting|closing|finishing|fastening|drawing|ending off|up|the|yarn|ring|sts|it*`,
  `${NEARLY} before the|you bind|cast|close|finish off|it|up?`,
  'as? the? very? last|final thing|step|act|of all?',
];

const AFTER: readonly string[] = [
  `${NEARLY} after|following|behind|past these|those|the|your|all|first* # @unit`,
  `${NEARLY} after|following|behind|past @unit #`,
  `${NEARLY} after|following|behind|past the? % @unit`,
  `${NEARLY} # @unit in|later|on|along|up ,`,
  `${NEARLY} # @unit from|after|above|past|into the|your|its* start|beginning|edge|bottom|cast on? edge?`,
];

/** The adverbial that begins at the cursor, which then stands behind it; null and the cursor unmoved where none does. */
export function readAdverbial(c: TokenCursor): Adverbial | null {
  const start = c.i;
  const placed = (when: When): Adverbial => ({ when, end: c.i });
  const rounds = saysAny(c, AFTER)?.[0];
  if (rounds != null) return placed({ kind: 'after', rounds });
  c.i = start;
  // "at the beginning of each round", "in the middle of the needle": a place within them.
  for (const [kind, rules] of PLACES) {
    if (!saysAny(c, rules)) continue;
    if (!/^(?:of|on|in|at)$/.test(c.word(-1)) && !/^(?:of|on|each|every)$/.test(c.word()))
      return placed({ kind });
    c.i = start;
  }
  return null;
}

const PLACES = [
  ['some-time', SOME_TIME],
  ['start', START],
  ['end', END],
] as const;

/** Leads a clause without saying when: "now", "and then", "with the larger needle,". */
const LED = /^(?:and|but|or|so|then|,|-|:|\(|•|please|dear|note|nb|remember|tip)$/;

/** The adverbials in front of an order that begins with these tokens. */
export function frontAdverbials(tokens: readonly Token[]): readonly Adverbial[] {
  return frontOf(tokens).found;
}

/** What is ordered begins at token `next`. */
export function frontOf(tokens: readonly Token[]): { found: readonly Adverbial[]; next: number } {
  const c = new TokenCursor(tokens, '', 0, tokens.length);
  const found: Adverbial[] = [];
  while (!c.done) {
    const adverbial = readAdverbial(c);
    if (adverbial) found.push(adverbial);
    else if (!(LED.test(c.here()) || LEADS.has(c.here()) || c.peek()?.kind === 'line')) break;
    else c.i++;
  }
  return { found, next: c.i };
}

/** The words beside an order begin by saying that it is done at some other time; `but`: one that is none. */
export function placesElsewhere(tokens: readonly Token[], but?: 'start'): boolean {
  return frontAdverbials(tokens).some(({ when: { kind } }) => kind !== 'end' && kind !== but);
}
