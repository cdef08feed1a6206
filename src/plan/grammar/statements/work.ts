/**
 * Sentences that ask for rounds in prose: repeats, plain rounds, shaping, named rounds, and chains of them.
 * Each clause is a verb and what is said of it in any order; a clause that says too little is none. In: a
 * cursor at the sentence. Out: the clauses, the cursor behind the last word understood; null otherwise.
 */

import type { Place } from '../../lex/source.ts';
import {
  DECREASE_WORDS,
  FILLERS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  KNIT_VERBS,
  LEADS,
  PURL_VERBS,
  REPEAT_VERBS,
  SIDE_WORDS,
  WORK_VERBS,
} from '../../lexicon/words.ts';
import { stitchKind } from '../../stitches/table.ts';
import type { RoundsRef, Shaping, WorkClause } from '../ast.ts';
import { readColour } from '../colours.ts';
import { eatStitches, isUnit, length, nameBeforeUnit, roundsRef, unit } from '../phrases.ts';
import { isHarmless } from '../prose.ts';
import { cycleOf, type Fabric, readFabric } from '../steps/patterns.ts';
import type { Step } from '../steps/steps.ts';
import { readStitch } from '../steps/stitch-words.ts';
import { readFewer, readManner } from '../tail/manner.ts';
import { emptyTail, type OpenTail } from '../tail/open-tail.ts';
import { readTailPart } from '../tail.ts';
import type { TokenCursor } from '../token-cursor.ts';

/** Most tokens of one clause. Chosen: a longer sentence is no instruction. */
const LONGEST = 160;
/** Most clauses of one chain. Chosen. */
const MOST_CLAUSES = 40;

type Verb = 'knit' | 'purl' | 'work' | 'go-on' | 'repeat' | 'shape' | 'none';

interface Slots {
  verb: Verb;
  rounds: number | null;
  mm: number | null;
  which: RoundsRef | null;
  name: string | null;
  fabric: Fabric | null;
  even: boolean;
  shaping: Shaping | null;
  colour: string | null;
  /** A marker after every so many stitches. */
  markersEvery: number | null;
  tail: OpenTail;
}

/** The clauses of a sentence that begins here. */
export function readWork(c: TokenCursor): WorkClause[] | null {
  return c.attempt(() => {
    const end = c.end;
    c.end = Math.min(end, c.i + LONGEST * 3);
    const out = sequence(c) ?? chain(c);
    c.end = end;
    return out;
  });
}

// ---- chains and sequences --------------------------------------------------------------------

/** `knit 1 round, then purl 1 round`, with a tail that holds for all of them. */
function chain(c: TokenCursor): WorkClause[] | null {
  const start = c.i;
  const first = clause(c, 'none');
  if (!first) return null;
  const out = [first];
  let carry = verbOf(first);
  while (out.length < MOST_CLAUSES) {
    const next = c.attempt(() => {
      if (!connector(c)) return null;
      return sequence(c)?.[0] ?? clause(c, carry);
    });
    if (!next) break;
    out.push(next);
    carry = verbOf(next);
  }
  const last = out[out.length - 1];
  if (out.length > 1 && last.kind === 'plain' && out.some((p) => p.kind !== 'plain')) {
    const { tail } = last;
    if (tail.times !== null || tail.untilStitches !== null) {
      const parts = [...out.slice(0, -1), { ...last, tail: emptyTail() }];
      return [{ kind: 'sequence', parts, tail, ...c.span(start) }];
    }
  }
  return out;
}

function isRef(c: TokenCursor): boolean {
  const { i } = c;
  const found = roundsRef(c) !== null;
  c.i = i;
  return found;
}

function verbOf(clause: WorkClause): Verb {
  if (clause.kind === 'repeat') return 'repeat';
  if (clause.kind === 'shape') return 'shape';
  if (clause.kind !== 'plain') return 'none';
  const step = clause.cycle[0]?.[0];
  return step?.kind === 'stitch' ? (step.name === 'p' ? 'purl' : 'knit') : 'work';
}

function connector(c: TokenCursor): boolean {
  const start = c.i;
  c.eatMark(',');
  c.eatMark(';');
  for (let n = 0; n < 4 && c.phrase('and|then|now|next|finally|afterwards|followed'); n++)
    c.phrase('by');
  c.eatMark('&+,');
  return c.i > start;
}

/** `[knit 1 round, purl 1 round] 3 times`, `*knit 1 round, purl 1 round; rep from * twice` */
function sequence(c: TokenCursor): WorkClause[] | null {
  return c.attempt<WorkClause[]>(() => {
    const start = c.i;
    c.skip(LEADS);
    if (c.phrase('work|repeat|rep|knit')) c.eatMark(':');
    if (c.mark('([')) {
      const close = c.closing(LONGEST);
      if (close < 0) return null;
      const end = c.end;
      c.i++;
      c.end = close;
      const parts = inner(c);
      c.end = end;
      if (!parts || c.i !== close) return null;
      c.i++;
      return closed(c, parts, start);
    }
    if (!c.eatMark('*')) return null;
    const parts = inner(c);
    if (!parts) return null;
    c.eatMark(';,.');
    if (!c.eatMark('*') && !(c.phrase('rep|repeat') && c.phrase('from') && c.eatMark('*')))
      return null;
    if (c.phrase('rep|repeat')) c.phrase('from') && c.eatMark('*');
    return closed(c, parts, start);
  });
}

function inner(c: TokenCursor): readonly WorkClause[] | null {
  const parts: WorkClause[] = [];
  for (;;) {
    const ref = c.attempt(() => {
      const start = c.i;
      const which = roundsRef(c);
      return (
        which && {
          kind: 'repeat' as const,
          which,
          repeats: true,
          tail: { ...emptyTail(), times: 1 },
          ...c.span(start),
        }
      );
    });
    const name = ref
      ? null
      : c.attempt(() => {
          const start = c.i;
          c.phrase('the|a|one');
          const found = nameBeforeUnit(c);
          if (!found || !unit(c)) return null;
          return {
            kind: 'named' as const,
            name: found,
            repeats: true,
            tail: { ...emptyTail(), times: 1 },
            ...c.span(start),
          };
        });
    const got = ref ? [ref] : name ? [name] : chain(c);
    if (!got) return null;
    parts.push(...got);
    if (!c.attempt(() => connector(c) || null)) return parts.length > 0 ? parts : null;
    if (c.done || c.mark('*') || c.isWord(REPEAT_VERBS)) return parts;
  }
}

function closed(c: TokenCursor, parts: readonly WorkClause[], start: number): WorkClause[] | null {
  const tail = emptyTail();
  while (readTailPart(c, tail) || c.eatMark(','));
  if (c.word(-1) === ',') c.i--;
  if (
    tail.times === null &&
    tail.untilStitches === null &&
    tail.untilMm === null &&
    tail.forRounds === null
  )
    return null;
  return [{ kind: 'sequence', parts, tail, ...c.span(start) }];
}

// ---- one clause -------------------------------------------------------------------------------

function clause(c: TokenCursor, carry: Verb): WorkClause | null {
  return c.attempt(() => {
    const start = c.i;
    const slots: Slots = {
      verb: 'none',
      rounds: null,
      mm: null,
      which: null,
      name: null,
      fabric: null,
      even: false,
      shaping: null,
      colour: null,
      markersEvery: null,
      tail: emptyTail(),
    };
    const edge = bindsEdge(c, start) ?? stitchAtEdge(c, start);
    if (edge) return edge;
    if (roundsFirst(c, slots) || fabricFirst(c, slots)) {
      // The verb stands behind, or none does.
    } else if (carry === 'shape' && c.attempt(() => readTailPart(c, slots.tail) || null)) {
      // "every other round until 64 sts remain, then every round until 8 sts remain"
      slots.verb = 'go-on';
      slots.tail.follows = true;
    } else if (!opening(c, slots)) {
      // "knit 4 rounds, then 2 rounds in garter st", "rep rows 1-8 once, then rows 1-4"
      const goesOn = carry === 'repeat' ? isRef(c) : c.isNumber();
      if (carry === 'none' || carry === 'shape' || !goesOn) return null;
      slots.verb = carry;
    }
    const stop = Math.min(c.end, start + LONGEST);
    const end = c.end;
    c.end = stop;
    let filled = c.i;
    while (!c.done) {
      if (fill(c, slots, filled === c.i)) {
        filled = c.i;
        continue;
      }
      if (ends(c, slots) || !passes(c)) break;
    }
    c.i = filled;
    c.end = end;
    if (slots.tail.open) while (!c.done && !c.mark('.;')) c.i++;
    return finish(slots, c, start);
  });
}

/** "2 rounds purl", "1 rnd plain knit" */
function roundsFirst(c: TokenCursor, slots: Slots): boolean {
  const got = c.attempt(() => {
    c.skip(LEADS);
    const n = c.number();
    if (n === null || !Number.isInteger(n)) return null;
    c.phrase('more|further|plain');
    if (!unit(c)) return null;
    c.phrase('of|in|all|plain');
    if (c.isWord(KNIT_VERBS) || c.isWord(PURL_VERBS)) {
      slots.verb = c.isWord(PURL_VERBS) ? 'purl' : 'knit';
      c.i++;
      c.phrase('plain');
    } else {
      slots.fabric = readFabric(c);
      if (!slots.fabric || !('rule' in slots.fabric) || slots.fabric.rule === 'set') return null;
      slots.verb = 'work';
    }
    slots.rounds = n;
    return c.done || c.mark('.,;&)') || /^(?:and|then)$/.test(c.word()) || null;
  });
  if (got !== true) Object.assign(slots, { verb: 'none', rounds: null, fabric: null });
  return got === true;
}

/** "Then stocking stitch for 20 rounds" */
function fabricFirst(c: TokenCursor, slots: Slots): boolean {
  const got = c.attempt(() => {
    c.skip(LEADS);
    slots.fabric = readFabric(c);
    if (!slots.fabric || !('rule' in slots.fabric) || slots.fabric.rule === 'set') return null;
    slots.verb = 'work';
    return /^(?:for|until|till)$/.test(c.word()) && readTailPart(c, slots.tail) ? true : null;
  });
  if (got !== true) Object.assign(slots, { verb: 'none', fabric: null, tail: emptyTail() });
  return got === true;
}

/** Leading words and the verb; false where no verb stands here. */
function opening(c: TokenCursor, slots: Slots): boolean {
  for (let n = 0; n < 6; n++) {
    if (verb(c, slots)) return true;
    if (c.eatWord(LEADS)) {
      c.eatMark(',');
      continue;
    }
    if (
      c.phrase('after|before that|this') ||
      c.phrase('from here|now on?') ||
      c.phrase('at this point|stage')
    ) {
      c.eatMark(',');
      continue;
    }
    // "On every other round, decrease 8 sts", "Until 8 sts remain, …"
    if (/^(?:on|every|each|until|for|in)$/.test(c.word())) {
      if (readTailPart(c, slots.tail)) {
        c.eatMark(',');
        continue;
      }
    }
    if (!leadPhrase(c, slots)) return false;
  }
  return false;
}

const LEAD_STARTS =
  /^(?:with|using|for|at|in|to|after|starting|beginning|beg|working|once|when|as|from|on|over|beginning|having|join|change|switch)$/;

/** "With RS facing, …", "For the crown, …": up to the comma, where it asks for nothing itself. */
function leadPhrase(c: TokenCursor, slots: Slots): boolean {
  const got = c.attempt(() => {
    if (!LEAD_STARTS.test(c.word())) return null;
    const starts = c.phrase('starting|beginning|beg with');
    if (starts) {
      c.phrase('a|an');
      if (/^(?:knit|purl|k|p|rs|ws|right|wrong)$/.test(c.word())) {
        c.i++;
        c.phrase('side');
        if (!unit(c)) return null;
        return c.eatMark(',') !== null || c.phrase('and') || null;
      }
    }
    const change = c.attempt(() =>
      c.phrase('change|changing|switch|turn to') ? readFabric(c) : null,
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
        // "To finish knit 2 rounds": the verb ends the phrase.
        return n > 0 && (first === 'to' || first === 'with') ? true : null;
      }
      c.i++;
    }
    return null;
  });
  return got === true;
}

function verb(c: TokenCursor, slots: Slots): boolean {
  const t = c.peek();
  if (t?.kind !== 'word') return false;
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
  if (c.isWord(KNIT_VERBS)) return set('knit');
  if (c.isWord(PURL_VERBS)) return set('purl');
  if (c.isWord(WORK_VERBS)) {
    const w = c.word();
    const rest = /^(?:work|working|worked|rib|do)$/.test(w) ? 'work' : 'go-on';
    set(rest);
    if (w === 'carry' || w === 'go' || w === 'keep') c.phrase('on');
    if (w === 'rib') slots.fabric = { rule: 'set' };
    // "continue to work", "keep repeating"
    for (let n = 0; n < 3; n++) {
      if (c.phrase('to|on|and|in') && !verbWord(c)) {
        c.i--;
        break;
      }
      if (c.isWord(REPEAT_VERBS)) set('repeat');
      else if (c.isWord(KNIT_VERBS)) set('knit');
      else if (c.isWord(PURL_VERBS)) set('purl');
      else if (/^(?:work|working)$/.test(c.word())) c.i++;
      else break;
    }
    return true;
  }
  if ((c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS)) && !isUnit(c, 1)) {
    slots.verb = 'shape';
    return true;
  }
  return false;
}

function verbWord(c: TokenCursor): boolean {
  return (
    c.isWord(REPEAT_VERBS) ||
    c.isWord(KNIT_VERBS) ||
    c.isWord(PURL_VERBS) ||
    /^(?:work|working)$/.test(c.word())
  );
}

/** Reads one thing that is said of the verb. */
function fill(c: TokenCursor, slots: Slots, close: boolean): boolean {
  const { tail } = slots;
  if (slots.verb === 'none') return false;
  const acts = slots.verb !== 'shape';
  if (acts && slots.which === null && slots.rounds === null && slots.name === null) {
    if (slots.verb !== 'purl') {
      const which = roundsRef(c);
      if (which) {
        slots.which = which;
        return true;
      }
    }
    if (thisForRounds(c, slots) || repeatedShaping(c, slots)) return true;
  }
  if (slots.shaping === null && readShapingInto(c, slots)) return true;
  if (acts && slots.rounds === null && slots.mm === null && slots.which === null) {
    const n = roundsHere(c);
    if (n !== null) {
      slots.rounds = n;
      return true;
    }
    const mm = slots.name === null ? length(c) : null;
    if (mm !== null) {
      slots.mm = mm;
      return true;
    }
  }
  if (shapingPlace(c, slots) || placing(c, slots)) return true;
  if (readTailPart(c, tail)) return true;
  if (slots.fabric === null || ('rule' in slots.fabric && slots.fabric.rule === 'set')) {
    const fabric = readFabric(c);
    if (fabric) {
      slots.fabric = fabric;
      return true;
    }
  }
  if (
    c.phrase('even') ||
    c.phrase('without shaping|decreasing|increasing') ||
    c.phrase('straight')
  ) {
    slots.even = true;
    return true;
  }
  if (c.phrase('plain')) return true;
  if (slots.colour === null) {
    const colour = readColour(c);
    if (colour) {
      slots.colour = colour;
      return true;
    }
  }
  if (explanation(c)) return true;
  if (
    acts &&
    close &&
    slots.name === null &&
    slots.which === null &&
    slots.rounds === null &&
    slots.shaping === null
  ) {
    const name = c.attempt(() => {
      c.phrase('the|a|this|another|one');
      const found = nameBeforeUnit(c);
      return found && unit(c) ? found : null;
    });
    if (name) {
      slots.name = name;
      return true;
    }
  }
  return false;
}

/** `4 rounds`, `another 3 rnds`, `one more complete round`, `the next row` */
function roundsHere(c: TokenCursor): number | null {
  return c.attempt(() => {
    c.phrase('for|over');
    let one = false;
    if (c.phrase('the first') && isUnit(c)) return unit(c) && 1;
    while (c.phrase('the|a|another|next|following|further|additional') || c.phrase('an'))
      one = true;
    const n = c.number();
    if (n === null && !one) return null;
    if (n !== null && !Number.isInteger(n)) return null;
    while (
      c.phrase(
        'more|further|additional|plain|straight|even|complete|full|next|whole|knit|purl|garter|stockinette',
      )
    );
    c.eatMark('-');
    if (!unit(c)) return null;
    return n ?? 1;
  });
}

/** "(knit 1 round, purl 1 round)" behind a fabric only explains it. */
function explanation(c: TokenCursor): boolean {
  if (!c.mark('([')) return false;
  const close = c.closing(40);
  if (close < 0) return false;
  const text = c.slice(c.i + 1, close);
  if (!/\b(?:rounds?|rnds?|rows?|ridges?)\b/.test(text) && /\d/.test(text)) return false;
  if (/\b(?:ssk|k2tog|yo)\b/.test(text)) return false;
  c.i = close + 1;
  return true;
}

/** "working 1 decrease at each end of every needle": where the shaping told before is worked. */
function shapingPlace(c: TokenCursor, slots: Slots): boolean {
  const { shaping } = slots;
  if (!shaping || shaping.where !== null) return false;
  const got = c.attempt(() => {
    c.eatMark(',');
    if (!c.phrase('working|with|having')) return null;
    c.number();
    c.phrase('a|one');
    if (!c.isWord(DECREASE_WORDS) && !c.isWord(INCREASE_WORDS)) return null;
    c.i++;
    const where = besides(c);
    if (!where) return null;
    slots.shaping = { ...shaping, where };
    return true;
  });
  return got === true;
}

/** "placing a marker after every 3rd st" */
function placing(c: TokenCursor, slots: Slots): boolean {
  const got = c.attempt(() => {
    c.eatMark(',');
    c.phrase('and');
    if (!(c.phrase('placing|place a|stitch? marker|markers') || c.phrase('pm'))) return null;
    c.phrase('after');
    if (!c.phrase('every|each')) return null;
    const every = c.number() ?? c.ordinal();
    if (every === null || !eatStitches(c)) return null;
    slots.markersEvery = every;
    return true;
  });
  return got === true;
}

/** "Do this for 6 rounds": the last round, six times in all. */
function thisForRounds(c: TokenCursor, slots: Slots): boolean {
  if (slots.verb !== 'work' && slots.verb !== 'repeat') return false;
  const got = c.attempt(() => {
    if (!c.phrase('this|so for')) return null;
    const n = c.number();
    if (n === null || !Number.isInteger(n)) return null;
    const more = c.phrase('more|further');
    if (!unit(c)) return null;
    slots.which = { kind: 'last', count: 1 };
    Object.assign(slots.tail, { times: n, more, total: !more });
    return true;
  });
  return got === true;
}

/** "repeat the dec": the shaping before, once more. */
function repeatedShaping(c: TokenCursor, slots: Slots): boolean {
  if (slots.verb !== 'repeat' && slots.verb !== 'go-on') return false;
  const got = c.attempt(() => {
    if (!c.phrase('the|this|these|last|same')) return null;
    c.phrase('same|last');
    if (!c.isWord(DECREASE_WORDS) && !c.isWord(INCREASE_WORDS)) return null;
    const decrease = c.isWord(DECREASE_WORDS);
    c.i++;
    if (isUnit(c)) return null;
    c.attempt(() => {
      if (!c.phrase('of|from|in the? last|previous?')) return null;
      c.ordinal();
      if (!unit(c)) return null;
      c.number();
      return true;
    });
    slots.shaping = { decrease, count: null, where: null, stitch: null };
    return true;
  });
  return got === true;
}

function readShapingInto(c: TokenCursor, slots: Slots): boolean {
  const got = c.attempt(() => {
    if (slots.verb !== 'shape') c.phrase('and|to|by|but|with');
    // "with 6 increases every 2nd round"
    const ahead = c.word(-1) === 'with' && c.isNumber() ? c.number() : null;
    const decrease = c.isWord(DECREASE_WORDS);
    if (!decrease && !c.isWord(INCREASE_WORDS)) return null;
    c.i++;
    if (isUnit(c)) return null;
    c.phrase('by');
    let count: number | null = ahead;
    if (count === null && c.isNumber()) {
      count = c.number();
      if (!eatStitches(c)) {
        const t = c.peek();
        const known =
          !t ||
          t.kind === 'mark' ||
          FILLERS.has(t.text) ||
          /^(?:evenly|even|until|as|every)$/.test(t.text);
        if (!known || c.phrase('times|time') || isUnit(c)) return null;
      }
    } else if (c.phrase('a st|stitch')) count = 1;
    let where: Shaping['where'] = null;
    const place = (): boolean => {
      if (c.phrase('evenly|even|equally')) {
        c.phrase('spaced|distributed|spread');
        if (c.isNumber() && count === null) {
          count = c.number();
          eatStitches(c) || c.phrase('times');
        }
        acrossRound(c);
        where = 'evenly';
        return true;
      }
      const ends: Shaping['where'] = besides(c) ?? atEdge(c);
      if (ends) where = ends;
      return ends !== null;
    };
    while (place());
    const after = c.peek();
    if (
      after?.kind === 'word' &&
      !FILLERS.has(after.text) &&
      after.text !== 'like' &&
      isHarmless(after)
    )
      return null;
    if (count === null && c.isNumber() && where === null) return null;
    const stitch = c.attempt(() => {
      if (!c.phrase('by|using|with')) return null;
      c.phrase('working|a|knitting');
      const t = c.peek();
      if (!t) return null;
      const read = readStitch(c.text, t.from);
      if (!read || read.name.length < 2) return null;
      while (!c.done && c.from() < read.end) c.i++;
      c.phrase('each time');
      return read.name;
    });
    slots.shaping = { decrease, count, where, stitch };
    return true;
  });
  return got === true;
}

function acrossRound(c: TokenCursor): void {
  c.attempt(() => {
    if (!c.phrase('across|around|over|along|in|on')) return null;
    c.phrase('the|this|whole|entire|all');
    if (/^(?:round|rnd|row|sts|stitches|needles)$/.test(c.word())) {
      c.i++;
      return true;
    }
    return /^(?:across|around)$/.test(c.word(-1)) || null;
  });
}

/** `at each end`, `each side of every marker`, `at both ends of each needle`, `at each corner` */
function besides(c: TokenCursor): 'ends' | 'sides' | null {
  return c.attempt(() => {
    c.phrase('at|on|to|in');
    const before = c.phrase('before and after|on');
    if (!before && !c.phrase('each|both|either|every')) return null;
    if (before || c.phrase('end|ends|side|sides|edge|edges')) {
      const of = c.attempt(() => {
        if (!before && !c.phrase('of')) return null;
        c.phrase('each|every|all|the|both|marked');
        c.phrase('of');
        c.phrase('the');
        c.isNumber() && c.i++;
        if (
          c.peek()?.kind === 'word' &&
          !c.isWord(SIDE_WORDS) &&
          /^(?:markers?|m|corners?)$/.test(c.word(1))
        )
          c.i++;
        if (!(c.isWord(SIDE_WORDS) || /^(?:markers?|m|mkrs?)$/.test(c.word()))) return null;
        c.i++;
        c.phrase('st|stitch|sts|marker|markers|thread|threads');
        return true;
      });
      if (of) return 'sides';
      if (before) return null;
      c.attempt(() =>
        c.phrase('of') &&
        !/^(?:next|every|each|foll|following|this|the|alternate|alt)$/.test(c.word())
          ? null
          : true,
      );
      return 'ends';
    }
    if (/^(?:corners?|markers?|m|sides?|needles?|sections?)$/.test(c.word())) {
      c.i++;
      return 'sides';
    }
    return null;
  });
}

/** "K2tog at the beginning of every row until 2 sts remain" */
function stitchAtEdge(c: TokenCursor, start: number): WorkClause | null {
  return c.attempt(() => {
    c.skip(LEADS);
    c.phrase('work|continue|to?');
    const t = c.peek();
    const read = t && readStitch(c.text, t.from);
    const kind = read ? stitchKind(read.name) : null;
    if (!read || !kind || kind.loops.length === kind.consumes) return null;
    while (!c.done && c.from() < read.end) c.i++;
    const where = atEdge(c);
    if (!where) return null;
    const tail = emptyTail();
    while (readTailPart(c, tail) || c.eatMark(','));
    if (c.here(-1) === ',') c.i--;
    if (tail.every === null && tail.untilStitches === null) return null;
    const shaping: Shaping = {
      decrease: kind.loops.length < kind.consumes,
      count: Math.abs(kind.loops.length - kind.consumes),
      where,
      stitch: read.name,
    };
    return { kind: 'shape' as const, shaping, tail, ...c.span(start) };
  });
}

/** "at the beginning of", "at the end of": only the words before "every row". */
function atEdge(c: TokenCursor): 'begin' | 'end' | null {
  return c.attempt(() => {
    if (!c.phrase('at|on|in the? beg|beginning|start|end')) return null;
    const where = c.word(-1) === 'end' ? 'end' : 'begin';
    c.phrase('of');
    return /^(?:every|each|next|the|foll|following|alternate)$/.test(c.word()) ? where : null;
  });
}

/** "Bind off 3 sts at the beginning of the next 2 rows" */
function bindsEdge(c: TokenCursor, start: number): WorkClause | null {
  return c.attempt(() => {
    c.skip(LEADS);
    if (!(c.phrase('bind|cast|binding|casting off') || c.phrase('bo'))) return null;
    const count = c.number();
    if (count === null) return null;
    eatStitches(c);
    if (!c.phrase('at the? beg|beginning|start')) return null;
    if (!c.phrase('of the? next|following|foll|every|each')) return null;
    const rows = c.number() ?? 1;
    if (!unit(c)) return null;
    const tail = emptyTail();
    while (readTailPart(c, tail));
    return { kind: 'edge' as const, count, rows, tail, ...c.span(start) };
  });
}

// ---- where it ends ---------------------------------------------------------------------------

/** The sentence or clause ends here. */
function ends(c: TokenCursor, slots: Slots): boolean {
  const t = c.peek();
  if (!t || (t.kind === 'mark' && '.;!?:*)]}'.includes(t.text))) return true;
  const start = c.i;
  const joins = c.eatMark(',&') !== null || c.phrase('and|then') || c.eatMark('-') !== null;
  if (!joins) return false;
  const then = c.here() === 'then' || c.here(-1) === 'then';
  for (let n = 0; n < 4 && c.phrase('and|then|now'); n++);
  if (c.attempt(() => readManner(c, emptyTail()) || readFewer(c, emptyTail()) || null)) {
    c.i = start;
    return false;
  }
  const bounded = slots.tail.untilStitches !== null || slots.tail.times !== null;
  if (then && bounded && /^(?:every|each|on)$/.test(c.word())) {
    c.i = start;
    return true;
  }
  const whole =
    slots.rounds !== null || slots.mm !== null || slots.which !== null || slots.name !== null;
  const next = { ...slots, tail: emptyTail() };
  const verbNext = c.attempt(() => (verb(c, next) ? next.verb : null));
  const participle =
    /ing$/.test(c.word()) && !/^(?:working|knitting|purling|repeating)$/.test(c.word());
  c.i = start;
  if (verbNext === null) return false;
  if (verbNext === 'shape') return whole && !participle && slots.verb !== 'go-on';
  return !(participle && !whole);
}

/** Words of place and manner within a clause, besides fillers. Any other word ends what was followed. */
const PASSED: ReadonlySet<string> = new Set(
  'last end into back together front centre center wraps side sides corner corners between through across them going outside inside middle method forth flat firmness tension'.split(
    ' ',
  ),
);

/** Passes a word or mark that asks for nothing. */
function passes(c: TokenCursor): boolean {
  const t = c.peek();
  if (!t) return false;
  if (t.kind === 'mark') {
    if (!',-&"\''.includes(t.text)) return false;
    c.i++;
    return true;
  }
  if (t.kind !== 'word') return false;
  if (!FILLERS.has(c.word()) && !PASSED.has(c.word())) return false;
  c.i++;
  return true;
}

/** The first round of the cycle with markers placed in it. */
function markedCycle(cycle: Step[][], every: number | null, at: Place): Step[][] {
  const [first] = cycle[0];
  if (every === null || first?.kind !== 'stitch') return cycle;
  const span = { from: at.from, to: at.to };
  const steps: Step[] = [
    { kind: 'stitch', name: first.name, amount: { times: every }, ...span },
    { kind: 'marker', action: 'place', ...span },
  ];
  const amount = { kind: 'rest', count: 0 } as const;
  return [[{ kind: 'group', steps, amount, otherTimes: null, eachSide: false, ...span }], ...cycle];
}

/** The clause that the slots make; null where they say too little. */
function finish(slots: Slots, c: TokenCursor, start: number): WorkClause | null {
  const { verb: v, which, name, shaping, rounds, mm, tail, fabric } = slots;
  const at = c.span(start);
  const repeats = v === 'repeat';
  const timed = tail.times !== null;
  const bounded = timed || tail.untilStitches !== null || tail.untilRounds !== null || tail.open;
  if (which) return { kind: 'repeat', which, repeats, tail, ...at };
  const plainVerb = v === 'knit' ? 'knit' : v === 'purl' ? 'purl' : 'work';
  const count = rounds ?? tail.forRounds ?? tail.untilRounds;
  const lengthMm = mm ?? tail.untilMm;
  if (shaping) {
    const spread = shaping.where === 'evenly' && count !== null && tail.every === null && !bounded;
    if (!spread) {
      if (shaping.count === null && shaping.where === null) {
        // "decreasing as set" of rounds, or a go-on that nothing ends.
        if (!bounded) return null;
        return {
          kind: 'shape',
          shaping: null,
          tail: { ...tail, more: tail.more || !tail.total },
          ...at,
        };
      }
      const goesOn = v === 'go-on' && shaping.where === null;
      if (goesOn && !bounded) return null;
      return { kind: 'shape', shaping, tail, ...at };
    }
  }
  if (name !== null && v !== 'knit' && v !== 'purl')
    return { kind: 'named', name, repeats, tail, ...at };
  if (count !== null || lengthMm !== null) {
    if (v === 'shape' || name !== null) return null;
    if (repeats && fabric === null && !slots.even) return null;
    return {
      kind: 'plain',
      cycle: markedCycle(
        cycleOf(plainVerb, fabric, slots.even || tail.follows, at),
        slots.markersEvery,
        at,
      ),
      rounds: count,
      lengthMm: count === null ? lengthMm : null,
      last: shaping,
      colour: slots.colour,
      tail,
      ...at,
    };
  }
  if (
    (v === 'go-on' || repeats || v === 'work') &&
    (tail.follows || v === 'go-on') &&
    bounded &&
    !tail.open
  ) {
    return { kind: 'shape', shaping: null, tail, ...at };
  }
  return null;
}
