/**
 * How a sentence begins that ends the piece: "bind off", "draw the yarn through", "leave the stitches on a holder". In: a
 * cursor where one may begin. Out: true and the cursor behind its first words.
 */
import { LEADS } from '../../lexicon/words.ts';
import { colourName } from '../colours.ts';
import { eatStitches, isUnit } from '../phrases.ts';
import { says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { drawsByThings } from './drawing-up.ts';

/** "After round 14:" */
export const AFTER_ROUND =
  'after|following|behind|finishing|completing|working the? @unit #after is|has? been? done|worked|finished|complete|completed? :|,|;|-?';

/** "The yarn is cut", "the remaining stitches are cast off" */
const SETS =
  'the|these|both|2|all|sts|stitches|sets|halves|needles|of|them|it|remaining|live|edges';
/** "join them with a 3-needle bind-off" */
export const JOINED_OFF = `join|joining|close|closing|seam|work|finish ${SETS}* together? with|by|using|in a|the|an* # - needle bind|cast off`;

const PASSIVE_ENDS = [
  JOINED_OFF,
  'finish|finished|finishing|end|ended|ending|finally by|with a|an|the|@ly|knitwise|purlwise|stretchy* binding|casting|bind|cast off',
  'slip|place|put|pass the|all|these|remaining|rem|last|#* @sts onto|on|to the|a|tail|end|of|working* yarn|thread|wool|tail|end',
  'close|gather|draw the|up* centre|center|middle|hole|top|opening|circle by|with drawing|threading|running|pulling|passing',
  'with|using the|a|your|tail|end|of|yarn|darning|tapestry|sewing|needle|,* sew|thread|draw|run|pass|pull|weave the|yarn|tail|end|it|thread|up|wool|needle* through|thru',
  'draw|pull|gather|tighten the|your|remaining|rem|last|all|these|those|#* @sts firmly|tight|tightly|up* together',
  'draw|pull|gather together the|your|remaining|rem|last|all|these|those|#* @sts',
  'the|your* yarn|wool|thread|tail|end through|thru ,|.|;|&|and',
  'thread|string|gather|collect the|your|remaining|rem|last|all|these|those|#* @sts ,|.|;|&|and',
  'the|your|working* yarn|wool|thread|end|tail|cotton through|thru all|the|these|your|last|remaining|rem|#* @sts',
  'the|your|working* yarn|wool|thread|end|tail|cotton is|should|be|then|now* cut|broken|drawn|pulled|threaded|run|passed|fastened|taken|led',
  'the|all|these|those|remaining|rem|last|other|#* @sts are|is|was|were|should|be|then|now|all|loosely* bound|cast off',
  'the|all|these|those|remaining|rem|last|#* @sts are|is|should|be|then|now|all* gathered|drawn|threaded|closed',
];

export const TAIL =
  'a|an|the|long|short|good|generous|about|around|approx|approximately|at|least|enough|some|of*';

const TAIL_LEFT = `leave|leaving ${TAIL} #? @length|m|"? long|short|of? tail|end|yarn of? about? #? @length|"?`;
export const FOR_GRAFTING =
  'for|to|enough|the|a|it|later* graft|grafting|join|joining|seam|seaming #? @shared?';

/** The sentence that begins here ends the piece. */
export function readEndHead(c: TokenCursor): boolean {
  return c.takes(() => {
    says(c, 'after|with that|this|these ,?');
    says(c, AFTER_ROUND);
    c.skip(LEADS);
    if (says(c, TAIL_LEFT)) {
      says(c, FOR_GRAFTING);
      c.eatMark(',');
      c.skip(LEADS);
    }
    if (PASSIVE_ENDS.some((rule) => says(c, rule))) return true;
    // "When 8 sts remain, break the yarn …": the end begins behind the count that it waits for.
    if (!/^(?:when|once|as)$/.test(c.word()) && drawsByThings(c)) {
      c.i++;
      return true;
    }
    if (c.attempt(() => (LEADS_OFF.test(c.word()) ? offLater(c) : null))) return true;
    if (keepsOn(c)) return true;
    for (let n = 0; n < 3 && c.eatWord(HOW); n++);
    if (c.phrase('bind|binding|bound|cast|casting off') || c.phrase('bo') || c.slashed('b', 'o')) {
      return notAtEdge(c) || null;
    }
    if (says(c, OFF_PARTED)) return true;
    if (c.word() === 'b' && c.here(1) !== '&' && c.word(1) !== 'and') return null;
    if (c.phrase('break|cut|snip|trim|b')) {
      if (
        c.attempt(() => {
          c.phrase('off');
          c.phrase('the');
          return colourName(c);
        })
      )
        return c.attempt(() => drawsOn(c)) ? true : null;
      if (c.eatMark('&') || c.phrase('and')) return c.phrase('draw|thread|t|pull') || null;
      c.phrase('off');
      c.phrase('the|your');
      // "Cut at 30 cm."
      if (says(c, 'at|after|to|with about|some? # @length|"')) return true;
      if (c.attempt(() => drawsOn(c))) return true;
      return (
        c.phrase('yarn|wool|cotton|strand|string|working|thread|tail|end') ||
        c.done ||
        c.mark('.,;') ||
        (c.phrase('it') && c.mark('.')) ||
        null
      );
    }
    if (c.phrase('draw|thread|run|pull|pass|take|lead|bring')) {
      const yarn = /^(?:take|lead|bring)$/.test(c.word(-1));
      if (c.word() === 'up' && (c.isNumber(1) || /^(?:a|another|new)$/.test(c.word(1))))
        return null;
      if (c.phrase('up')) return true;
      if (c.phrase('it|them? tight|tightly|snug|snugly|closed|shut|together')) {
        // "Pull tight on the first stitch" is advice.
        const goesOn =
          /^(?:and|then|to|as)$/.test(c.word()) && !/^(?:avoid|keep|prevent)$/.test(c.word(1));
        return c.done || c.mark('.,;!&') || goesOn || null;
      }
      if (
        c.phrase('the|it hole|gap|opening|centre|center|middle|loop? tight|tightly|closed|shut|up')
      )
        return true;
      for (let n = 0; n < 12 && !c.done && !c.mark('.'); n++) {
        // "Pull the cable through": how a long needle is used.
        if (/^(?:cable|cord|tip|loop)$/.test(c.word())) return null;
        if (
          c.word() === 'needle' &&
          !/^(?:yarn|darning|tapestry|sewing|wool|blunt|the|a)$/.test(c.word(-1))
        )
          return null;
        if (c.phrase('through|thru') || c.phrase('by the'))
          return (
            !yarn ||
            /\b(?:sts|stitches|loops)\b/.test(c.slice(c.i, Math.min(c.end, c.i + 6))) ||
            null
          );
        c.i++;
      }
      return null;
    }
    // "Finish off with 3 rounds of moss stitch" is work.
    if (c.phrase('fasten|finish|tie|close off')) return says(c, 'with|by # ~* @unit') === null;
    // "Close up the centre."
    if (
      c.takes(
        () =>
          says(c, 'close up|off? the|your centre|center|middle up|off|tightly|well?') !== null &&
          (c.done || c.mark('.,;!') !== false),
      )
    )
      return true;
    if (c.phrase('gather')) {
      c.phrase('up');
      return c.phrase('the|remaining|rem|last|sts|all') || null;
    }
    if (c.phrase('leave|slip|place|put|transfer')) return held(c, true) || null;
    if (c.phrase('move|keep|hold|rest|park|slide')) return held(c, false) || null;
    return null;
  });
}

/** "Cut B, run the end through …": the yarn is cut to end the piece. */
function drawsOn(c: TokenCursor): true | null {
  c.eatMark(',');
  c.phrase('and|then');
  c.phrase('then');
  return c.phrase('draw|thread|run|pull|pass|fasten|weave|cut|break|snip') ? true : null;
}

/** "cast them off", "bind the last 4 sts off" */
export const OFF_PARTED =
  'bind|binding|bound|cast|casting them|these|those|it|all|the|your|last|remaining|rem|final|of|everything|#|@sts|@ly|not|too|very|quite|rather|fairly* off';

/** Words that say how before what: "Change to a 5 mm needle and cast off". */
const LEADS_OFF =
  /^(?:using|with|in|change|changing|switch|take|work|working|use|make|do|for|by|going)$/;
const HOW: ReadonlySet<string> = new Set(
  'loosely carefully evenly knitwise purlwise very fairly rather quite neatly'.split(' '),
);

/** "Using a stretchy method, bind off", "Work a sewn bind-off". */
function offLater(c: TokenCursor): true | null {
  for (let n = 0; n < 16 && !c.done && !c.mark('.'); n++) {
    if (c.phrase('bind|binding|cast|casting off') || c.phrase('bo'))
      return isUnit(c) || /^(?:edge|row|round)$/.test(c.word()) ? null : notAtEdge(c) || null;
    const size = c.isNumber() && /^(?:sizes?|mm|cm|us|uk|needles?)$/.test(c.word(1));
    const sized = /^(?:size|no|us|uk)$/.test(c.word(-1));
    if (c.isNumber() && !size && !sized) return null;
    if (
      /^(?:knit|purl|k|p|until|till|round|rnd|row|rounds|rnds|rows|st|sts|stitches)$/.test(c.word())
    )
      return null;
    c.i++;
  }
  return null;
}

const NOT =
  "do|does|you|they|these|the|sts|stitches|will|should|must|but|have|been|and|is|are|be|now|yet* not|never|don't|aren't|isn't|won't|without|instead|rather";
const OFF = 'of|than|to|be|being|having|them|it|the|yet* bind|binding|bound|cast|casting off';

export const NOT_OFF = [`${NOT} ${OFF}`, `${NOT} of|than|to|the* bo`, `${NOT} ${OFF_PARTED}`];

/** "Do not bind off": the stitches stay, where it is not how tightly that is told. */
function keepsOn(c: TokenCursor): boolean {
  return c.takes(() => {
    if (!NOT_OFF.some((rule) => says(c, rule))) return null;
    return (
      !/^(?:too|so|very|tightly|firmly|tight|yet|until|till|before|in)$/.test(c.word()) &&
      !c.isNumber()
    );
  });
}

/** Binding everything off; "bind off 3 sts, k to end" only begins a row. */
function notAtEdge(c: TokenCursor): boolean {
  const start = c.i;
  c.phrase('the?');
  c.phrase('first|next');
  let edge = false;
  if (c.number() !== null) {
    eatStitches(c);
    c.eatMark(',;');
    for (let n = 0; n < 3 && c.phrase('then|and|work'); n++);
    edge =
      /^(?:at|k|p|knit|purl|rib|patt|pattern)$/.test(c.word()) ||
      /^(?:[kp]\d|ss|k2|p2|yo|sl)/.test(c.word()) ||
      c.mark('*(');
  }
  c.i = start;
  return !edge;
}

/** "Place remaining sts on a holder"; `needles`: on the needles will do. */
function held(c: TokenCursor, needles: boolean): boolean {
  for (let n = 0; n < 6; n++) {
    if (c.phrase('the|all|of|remaining|rem|live|these|those|last|your|open') || c.number() !== null)
      continue;
    break;
  }
  const them = c.phrase('them|it|everything');
  if (!them && !c.phrase('sts|stitches|st|loops|stitch')) return false;
  const { i } = c;
  for (let n = 0; n < 10 && !c.done && !c.mark('.'); n++) {
    // "Slip 2 sts to a cable needle and hold in front" crosses them.
    if (/^(?:each|every|cable|cn)$/.test(c.word())) return false;
    if (c.phrase('holder|waste|live|scrap|thread|holders|spare|hold|string|unworked|unbound'))
      return true;
    c.i++;
  }
  return needles && /\bon\s+(?:the\s+)?needles?\b/.test(c.slice(i, c.i));
}
