/**
 * How a clause of prose begins: leading phrases and its verb ("For the crown, continue"), or its rounds or fabric
 * in front ("2 rounds purl", "stocking stitch for 20 rounds"). In: a cursor and the slots of the clause. Out:
 * true where one stands here, with the slots it fills.
 */
import { regex } from '../../../lexicon/expression.ts';
import {
  DECREASE_WORDS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  KNIT_VERBS,
  LEADS,
  PURL_VERBS,
  REPEAT_VERBS,
  WORK_VERBS,
} from '../../../lexicon/words.ts';
import { stitchKind } from '../../../stitches/table.ts';
import { readAdverbial } from '../../adverbials.ts';
import { readColour } from '../../colours.ts';
import { isUnit, unit } from '../../phrases.ts';
import { says, saysAny } from '../../rules.ts';
import { readFabric, readKnits } from '../../steps/patterns.ts';
import { firstRoundSaid, readManner } from '../../tail/manner.ts';
import { emptyTail } from '../../tail/open-tail.ts';
import { readTailPart } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { asEarlier, fabricTold } from './fabric-clauses.ts';
import { edgesTold } from './shaping-place.ts';
import type { Slots, Verb } from './slots.ts';
import { overStitches } from './told-beside.ts';

/** "2 rounds purl", "1 rnd plain knit", "a purl round", "another round of knit" */
export function roundsFirst(c: TokenCursor, slots: Slots): boolean {
  const got = c.takes(() => {
    c.skip(LEADS);
    c.phrase('first');
    const many = c.number() ?? (c.phrase('a|another|one|final') ? 1 : null);
    if (many === null || !Number.isInteger(many)) return null;
    c.phrase('more|further|final');
    // A ridge is two rows or rounds.
    const ridges = says(c, 'garter? ridge|ridges') !== null;
    const n = ridges ? 2 * many : many;
    const even = c.phrase('plain|even|straight');
    const named = c.phrase('knit|purl') && isUnit(c) ? c.word(-1) : null;
    if (!ridges && !unit(c)) return null;
    if (named) {
      slots.verb = named === 'purl' ? 'purl' : 'knit';
      slots.rounds = n;
      c.phrase('more|again');
      says(c, COMPLETES);
      return c.done || c.mark('.,;&+)(*') || /^(?:and|then)$/.test(c.word()) || null;
    }
    // "one plain round"
    const alone = c.done || c.mark('.,;&+)(:=*') || /^(?:and|then|followed)$/.test(c.word());
    if (even && alone) {
      Object.assign(slots, { verb: 'work', even: true, rounds: n });
      return true;
    }
    // "1 round plain"
    if (
      !even &&
      c.takes(() => c.phrase('plain|straight') && (c.done || c.mark('.,;&+)(*') !== false))
    ) {
      Object.assign(slots, { verb: 'work', even: true, rounds: n });
      return true;
    }
    if (ridges && says(c, 'of|in|:*') && readFabric(c)?.rule !== 'garter') return null;
    if (ridges && (c.done || c.mark('.,;:&+)(') || /^(?:and|then)$/.test(c.word()))) {
      Object.assign(slots, { verb: 'work', fabric: { rule: 'garter' }, rounds: n });
      fabricTold(c, slots);
      return c.done || c.mark('.,;&+)(') || /^(?:and|then)$/.test(c.word()) || null;
    }
    says(c, ':|of|in|all|plain|is|are|get|gets|will|should|must|be|now|then|worked*');
    if (c.isWord(KNIT_VERBS) || c.isWord(PURL_VERBS)) {
      slots.verb = c.isWord(PURL_VERBS) ? 'purl' : 'knit';
      c.i++;
      c.phrase('plain');
      slots.colour = readColour(c);
    } else {
      slots.fabric = readFabric(c);
      slots.verb = 'work';
      slots.rounds = n;
      fabricTold(c, slots);
      if (!slots.fabric || slots.fabric.rule === 'set') return null;
      says(c, 'to start|begin|finish|end with?');
      while (readManner(c, slots.tail) || asEarlier(c, slots));
    }
    slots.rounds = n;
    return c.done || c.mark('.,;&+)(*') || /^(?:and|then)$/.test(c.word()) || null;
  });
  if (!got) Object.assign(slots, { verb: 'none', rounds: null, fabric: null, even: false });
  return got;
}

/** "A purl round completes the square" */
const COMPLETES =
  'completes|complete|finishes|finish|ends|end|closes|rounds off? the|this|your|our|it* square|piece|work|cloth|motif|tile|off|shape?';

/** "Then stocking stitch for 20 rounds" */
export function fabricFirst(c: TokenCursor, slots: Slots): boolean {
  const got = c.takes(() => {
    c.skip(LEADS);
    slots.fabric = readFabric(c);
    slots.verb = 'work';
    fabricTold(c, slots);
    if (!slots.fabric || slots.fabric.rule === 'set') return null;
    c.eatMark(',:');
    // "k2, p2 rib, 6 rounds"
    if (c.isNumber() && isUnit(c, 1)) {
      slots.rounds = c.number();
      unit(c);
      return c.done || c.mark('.,;(') || null;
    }
    // "In reverse stocking stitch, decrease 8 sts every other round"
    if (c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS)) return true;
    return /^(?:for|until|till)$/.test(c.word()) && readTailPart(c, slots.tail) ? true : null;
  });
  if (!got) Object.assign(slots, { verb: 'none', rounds: null, fabric: null, tail: emptyTail() });
  return got;
}

/** "alternate" stands among the next words. */
function alternates(c: TokenCursor): boolean {
  for (let n = 0; n < 5; n++) if (/^alternat/.test(c.word(n))) return true;
  return false;
}

/** Leading words and the verb; false where no verb stands here. */
export function opening(c: TokenCursor, slots: Slots): boolean {
  for (let n = 0; n < 6; n++) {
    // "And so on, until 16 sts remain"
    if (n === 0 && (says(c, 'and? so on|forth ,?') || says(c, 'and? etc .? ,?'))) {
      slots.verb = 'go-on';
      slots.tail.follows = true;
      return true;
    }
    // "Alternate decrease rounds and knit rounds", "continue to alternate a decrease round with a plain round"
    if (alternates(c) && ALTERNATES.some((rule) => says(c, rule))) {
      slots.verb = 'go-on';
      slots.tail.every = 2;
      slots.tail.follows = true;
      return true;
    }
    const knits = readKnits(c);
    if (knits) {
      slots.fabric = knits;
      slots.verb = 'work';
      return true;
    }
    if (verb(c, slots)) {
      // "Do this until …"
      if (slots.verb === 'work' && c.word(-1) === 'do' && c.phrase('this|so|it|likewise')) {
        if (c.word() === 'for') c.i--;
        else Object.assign(slots, { verb: 'go-on' });
      }
      return true;
    }
    // Whether it stands where that places it, `elsewhere.ts` tells.
    if (readAdverbial(c)) {
      c.eatMark(',');
      continue;
    }
    if (c.eatWord(LEADS) || c.phrase('always')) {
      c.eatMark(',');
      continue;
    }
    if (
      c.phrase('after that|this') ||
      c.phrase('from here|now on?') ||
      c.phrase('at this point|stage')
    ) {
      c.eatMark(',');
      continue;
    }
    // "On every other round, decrease 8 sts", "Until 8 sts remain, …"
    if (
      /^(?:on|every|each|until|for|in|leave|leaving|omit|omitting|skip|skipping|drop|dropping|without)$/.test(
        c.word(),
      )
    ) {
      if (readTailPart(c, slots.tail)) {
        c.eatMark(',');
        if (stitchesAtEnds(c, slots)) return true;
        continue;
      }
    }
    if (partFirst(c)) slots.onEach = true;
    else if (overStitches(c, slots)) c.eatMark(',:');
    else if (!leadPhrase(c, slots)) return false;
  }
  return false;
}

/** "Every 2nd round, k2tog at each end of every needle": the stitches are the verb. */
function stitchesAtEnds(c: TokenCursor, slots: Slots): boolean {
  const edges = slots.tail.every === null ? null : edgesTold(c);
  const kind = edges && stitchKind(edges[0]);
  if (!edges || !kind) return false;
  const decrease = kind.consumes > kind.loops.length;
  slots.verb = 'shape';
  slots.shaping = { decrease, count: null, where: 'sides', stitch: null, edges };
  return true;
}

const SHAPES = 'dec|decrease|decreasing|shaping|inc|increase|increasing';
const SHAPED_ROUND = `a|the|#* ${SHAPES} @unit`;
const PLAIN_ROUND = 'a|the|#* plain|knit|even|knitted|straight @unit';
const ALTERNATES = [
  `continue|cont|keep|go|carry|to|on|and* alternate|alternating|alternately between? ${SHAPED_ROUND} and|with|, ${PLAIN_ROUND}`,
  `continue|cont|keep|go|carry|to|on|and* alternate|alternating|alternately between? ${PLAIN_ROUND} and|with|, ${SHAPED_ROUND}`,
];

/** "On every needle, …": what is told behind it is told of one part. */
function partFirst(c: TokenCursor): boolean {
  return c.takes(
    () =>
      says(c, 'on|at|in|along|over|for|across each|every|all|both of? the? #? @side|@corner') !==
        null && c.eatMark(',:') !== null,
  );
}

const LEAD_STARTS =
  /^(?:with|using|for|at|in|to|after|starting|beginning|beg|working|once|when|as|from|on|over|beginning|having|join|change|switch|go|move|pass)$/;

/** "With RS facing, …", "For the crown, …": up to the comma, where it asks for nothing itself. */
function leadPhrase(c: TokenCursor, slots: Slots): boolean {
  return c.takes(() => {
    if (!LEAD_STARTS.test(c.word())) return null;
    const starts = c.phrase('starting|beginning|beg with');
    if (starts) {
      c.phrase('a|an');
      if (/^(?:knit|purl|k|p|rs|ws|right|wrong)$/.test(c.word())) {
        const said = firstRoundSaid(c.word());
        c.i++;
        c.phrase('side');
        if (!unit(c)) return null;
        slots.tail.startWith = said;
        return c.eatMark(',') !== null || c.phrase('and') || null;
      }
    }
    // "In moss stitch, work 4 rounds"
    const within = c.attempt(() => {
      const found = c.word() === 'in' ? readFabric(c) : null;
      return found && found.rule !== 'set' && c.eatMark(',:') ? found : null;
    });
    if (within) {
      slots.fabric = within;
      return true;
    }
    const change = c.attempt(() =>
      says(c, 'change|changing|switch|turn|go|move|pass over|on? to') ? readFabric(c) : null,
    );
    if (change) {
      slots.fabric = change;
      c.eatMark(',');
      return c.phrase('and|then') ? true : null;
    }
    const colour = readColour(c);
    if (colour) {
      slots.colour = colour;
      c.eatMark(',:');
      c.phrase('and|then');
      return true;
    }
    const first = c.word();
    c.i++;
    for (let n = 0; n < 9; n++) {
      if (c.eatMark(',:')) return true;
      const t = c.peek();
      if (!t || t.kind === 'number' || t.kind === 'line' || (t.kind === 'mark' && t.text !== '-'))
        return null;
      if (INSTRUCTING_VERBS.has(c.word()) && !/ing$/.test(c.word())) {
        // "To finish knit 2 rounds", "At the widest part I knit 2 rows": the verb ends the phrase.
        const who = /^(?:i|you|we|always)$/.test(c.word(-1));
        return n > 0 && (who || /^(?:to|with|for)$/.test(first)) ? true : null;
      }
      c.i++;
    }
    return null;
  });
}

const EDGING = 'border|edge|edging|frame|rim|hem|band';
const AN =
  'a|an|the|it|this|square|piece|work|cloth|narrow|little|small|simple|final|outer|neat|garter|rib|moss*';
/** What leads to rounds, at either end of the piece. */
const WITH_ROUNDS = [
  'begin|start|end|ending|finish|finishing off? as|you|we began|begun|started|did with|by?',
  'begin|start|end|ending|finish|finishing off? with|in|by',
  `edge|border|frame ${AN} off? with|in`,
  `work|make|add|knit|do|give|form ${AN} ${EDGING} of|with|in|by|:`,
  `the|your|a? ${AN} border|edging|edge|frame|band is|are|consists|takes|has of?`,
];
const ROUND_KINDS =
  'more|plain|knit|purl|garter|moss|seed|rib|ribbed|stocking|stockinette|st|stitch';

/** "Begin with 6 rounds of rib", "work a border of 6 rounds in garter stitch", "edge with a purl round": rounds, or a fabric. */
function beginsWith(c: TokenCursor): boolean {
  return c.takes(() => {
    const { i: start } = c;
    if (!saysAny(c, WITH_ROUNDS)) return null;
    const { i } = c;
    const framed = FRAMED.test(c.slice(start, i));
    const n = c.number() ?? (c.phrase('a|an|another') ? 1 : 0);
    for (let k = 0; k < 3 && c.phrase(ROUND_KINDS); k++);
    const many = isUnit(c) && (n > 1 || (n === 1 && (framed || c.word(1) === 'of')));
    c.i = i;
    const fabric = !many && readFabric(c) !== null;
    c.i = i;
    return many || fabric;
  });
}
const FRAMED = regex.plain`\b(?:${EDGING})\b`;

export function verb(c: TokenCursor, slots: Slots): boolean {
  const t = c.peek();
  if (t?.kind !== 'word') return false;
  if (beginsWith(c)) {
    slots.verb = 'work';
    return true;
  }
  const set = (v: Verb): boolean => {
    slots.verb = v;
    c.i++;
    return true;
  };
  const tight = /^([kp])\d{1,4}$/.exec(t.text);
  if (tight && isUnit(c, 1)) {
    slots.verb = tight[1] === 'k' ? 'knit' : 'purl';
    slots.rounds = Number(t.text.slice(1));
    c.i++;
    unit(c);
    return true;
  }
  if (c.isWord(REPEAT_VERBS)) return set('repeat');
  // "Alternate these 2 rounds"
  if (/^(?:alternate|alternating)$/.test(c.word())) {
    const next = c.word(1) === 'between' ? 2 : 1;
    if (!/^(?:the|these|those|rounds?|rnds?|rows?|r|last|both|points?|steps?)$/.test(c.word(next)))
      return false;
    if (next === 2) c.i++;
    return set('repeat');
  }
  // "Make 2 more decrease rounds"
  if (makesRounds(c)) return set('work');
  if (c.isWord(KNIT_VERBS)) return set('knit');
  if (c.isWord(PURL_VERBS)) return set('purl');
  if (c.isWord(WORK_VERBS)) {
    const w = c.word();
    const rest = /^(?:work|working|worked|rib|do)$/.test(w) ? 'work' : 'go-on';
    set(rest);
    if (w === 'carry' || w === 'go' || w === 'keep') c.phrase('on');
    if (w === 'rib') slots.fabric = { rule: 'rib' };
    // "continue to work", "keep repeating"
    for (let n = 0; n < 3; n++) {
      if (c.phrase('to|on|and|in') && !verbWord(c)) {
        c.i--;
        break;
      }
      if (c.isWord(REPEAT_VERBS)) set('repeat');
      else if (/^alternat(?:e|ing)$/.test(c.word()) && isUnit(c, 1)) set('repeat');
      else if (c.isWord(KNIT_VERBS)) set('knit');
      else if (c.isWord(PURL_VERBS)) set('purl');
      else if (/^(?:work|working|doing)$/.test(c.word())) c.i++;
      else break;
    }
    return true;
  }
  // "every other round loses 8 stitches" only describes.
  const describes = /^(?:loses|gains|reduces|decreases|increases)$/.test(c.word());
  if (!describes && (c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS)) && !isUnit(c, 1)) {
    slots.verb = 'shape';
    return true;
  }
  return false;
}

function makesRounds(c: TokenCursor): boolean {
  const rule = `make|making|add|adding #|a|another|the more|further|other|last|final* ${SHAPES} @unit`;
  return c.ahead(() => says(c, rule) !== null);
}

function verbWord(c: TokenCursor): boolean {
  return (
    c.isWord(REPEAT_VERBS) ||
    c.isWord(KNIT_VERBS) ||
    c.isWord(PURL_VERBS) ||
    /^(?:work|working)$/.test(c.word())
  );
}
