/**
 * How the piece ends: bound off, drawn up, or left live on a holder. In: a cursor where such a sentence may
 * begin. Out: true and the cursor behind its first words; `readEnding` reads all of it.
 */

import { LEADS } from '../../lexicon/words.ts';
import type { Ending } from '../../plan.ts';
import type { EndWords } from '../ast.ts';
import { colourName } from '../colours.ts';
import { eatStitches } from '../phrases.ts';
import { followAll, type Rule, type Stretch, says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';

/** "The yarn is cut", "the remaining stitches are cast off" */
const PASSIVE_ENDS = [
  'finish|finishing|end|ending|finally by|with binding|casting off',
  'slip|place|put|pass the|all|these|remaining|rem|last|#* @sts onto|on|to the|a|tail|end|of|working* yarn|thread|wool|tail|end',
  'close|gather|draw the|up* centre|center|middle|hole|top|opening|circle by|with drawing|threading|running|pulling|passing',
  'with|using the|a|your|tail|end|of|yarn|darning|tapestry|sewing|needle|,* sew|thread|draw|run|pass|pull|weave the|yarn|tail|end|it|thread|up|wool|needle* through|thru',
  'the|your|working* yarn|wool|thread|end|tail|cotton is|should|be|then|now* cut|broken|drawn|pulled|threaded|run|passed|fastened|taken|led',
  'the|all|these|those|remaining|rem|last|other|#* @sts are|is|should|be|then|now|all|loosely* bound|cast off',
  'the|all|these|those|remaining|rem|last|#* @sts are|is|should|be|then|now|all* gathered|drawn|threaded|closed',
];

/** The sentence that begins here ends the piece. */
export function readEndHead(c: TokenCursor): boolean {
  return c.takes(() => {
    c.skip(LEADS);
    if (PASSIVE_ENDS.some((rule) => says(c, rule))) return true;
    if (c.attempt(() => (/^(?:using|with)$/.test(c.word()) ? offLater(c) : null))) return true;
    c.phrase('loosely|carefully');
    if (c.phrase('bind|binding|cast|casting off') || c.phrase('bo') || c.slashed('b', 'o')) {
      return notAtEdge(c) || null;
    }
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
      if (c.attempt(() => drawsOn(c))) return true;
      return c.phrase('yarn|wool|working|thread|tail') || c.done || c.mark('.,;') || null;
    }
    if (c.phrase('draw|thread|run|pull|pass|take|lead|bring')) {
      const yarn = /^(?:take|lead|bring)$/.test(c.word(-1));
      if (c.phrase('up')) return true;
      for (let n = 0; n < 12 && !c.done && !c.mark('.'); n++) {
        // "Pull the cable through": how a long needle is used.
        if (/^(?:cable|cord|needle|tip|loop)$/.test(c.word())) return null;
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
    if (c.phrase('fasten|finish|tie|close off')) return true;
    if (c.phrase('gather')) {
      c.phrase('up');
      return c.phrase('the|remaining|rem|last|sts|all') || null;
    }
    if (c.phrase('leave|slip|place|put|transfer')) return held(c) || null;
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

/** "Using a stretchy method, bind off". */
function offLater(c: TokenCursor): true | null {
  for (let n = 0; n < 14 && !c.done && !c.mark('.'); n++) {
    if (c.phrase('bind|cast off') || c.phrase('bo')) return true;
    if (c.isNumber() || /^(?:knit|purl|k|p)$/.test(c.word())) return null;
    c.i++;
  }
  return null;
}

/** Binding everything off; "bind off 3 sts, k to end" only begins a row. */
function notAtEdge(c: TokenCursor): boolean {
  const start = c.i;
  c.phrase('the?');
  c.phrase('first|next');
  const n = c.number();
  let edge = false;
  if (n !== null) {
    eatStitches(c);
    edge =
      c.mark(',;') || /^(?:at|then|and|k|p|knit|purl)$/.test(c.word()) || /^[kp]\d/.test(c.word());
  }
  c.i = start;
  return !edge;
}

/** "Place remaining sts on a holder". */
function held(c: TokenCursor): boolean {
  for (let n = 0; n < 6; n++) {
    if (c.phrase('the|all|remaining|rem|live|these|last|your') || c.number() !== null) continue;
    break;
  }
  if (!c.phrase('sts|stitches|st|loops|stitch')) return false;
  for (let n = 0; n < 10 && !c.done && !c.mark('.'); n++) {
    if (/^(?:each|every)$/.test(c.word())) return false;
    if (c.phrase('holder|waste|live|scrap|thread|holders|spare')) return true;
    c.i++;
  }
  return /\bon\s+(?:the\s+)?needles?\b/.test(c.slice(Math.max(0, c.i - 6), c.i));
}

type EndRule = Rule<EndWords>;

const YARN = 'yarn|wool|thread|tail|end|ends|cotton|it|string|working';
const STAY =
  'centre|center|middle|the|all|of|those|these|them|your|which|remaining|rem|last|final|live|left|open|resulting';
const TAKES = `onto|over|sewn|sew|by|the|your|a|an|of|with|up|back|once|twice|double|doubled|long|darning|tapestry|wool|sewing|needle|then|${YARN}`;
const DRAWS =
  'draw|drawing|thread|threading|threaded|slip|fastened|led|taken|run|running|pull|pulling|pass|passing|take|taking|lead|leading|bring|bringing|slide|sliding|weave|weaving|draw|put|putting|feed|feeding|drawn|pulled|threaded|passed|run';

/** "… and sew the seam": what is done with the piece afterwards. */
const AFTERWARDS: EndRule = {
  says: [
    'sew|seam|graft|weave|stitch|fold|press|block|wash|steam|darn|crochet|attach|mattress|leave|let|turn ~',
    'sew|seam|block|press|wash',
    'ta da',
    'done|finished|hooray|voila',
  ],
  means: (_, _n, c) => {
    while (
      !c.done &&
      !c.mark('.;!') &&
      !(c.isNumber() && /^(?:rounds?|rnds?|rows?|times)$/.test(c.word(1))) &&
      !/^(?:knit|purl|repeat|rep|work|then)$/.test(c.word())
    )
      c.i++;
  },
};

const END_RULES: readonly EndRule[] = [
  {
    says: ['bind|binding|bound|cast|casting off', 'bo', 'b / o', 'close|closing off? all'],
    means: (e) => {
      e.binds = true;
    },
  },
  {
    says: [`b & t the? ${YARN}?`, `break|cut & t|thread|draw ${YARN}?`],
    means: (e) => {
      e.draws = true;
      e.breaks = true;
    },
  },
  {
    says: [
      `break|breaking|cut|cutting|snip|trim|broken off? the|your|all|working* ${YARN}|a|b|c|d|mc|cc off?`,
      'break|breaking|cut|cutting|snip off?',
    ],
    means: (e) => {
      e.breaks = true;
    },
  },
  {
    says: [
      `${DRAWS}|sew? ${TAKES}* through|thru|by ${STAY}* # remaining|rem|live|left? @sts? twice|once?`,
      `${DRAWS} ${TAKES}* into|in|onto|on ${STAY}* # remaining|rem|live|left? @sts? twice|once?`,
    ],
    means: (e, [n]) => {
      e.draws = true;
      e.through = true;
      e.count ??= n;
    },
  },
  {
    says: [
      `${DRAWS}|sew? ${TAKES}* through|thru ${STAY}* @sts? twice|once?`,
      `${DRAWS} ${TAKES}* into|in|onto|on ${STAY}* @sts`,
    ],
    means: (e) => {
      e.draws = true;
      e.through = true;
    },
  },
  {
    says: [
      `${DRAWS} it|them|the|this|up|${YARN}|tight|tightly|together|in|down|snug|snugly|closed|shut|firmly|gently|well|hole|gap|opening|middle|centre|center|circle|loop*`,
      'fasten|fastening|finish|finishing|tie|tying|close|closing|secure|securing|tighten|tightening|squeeze|cinch|cinching|gather|gathering|knot off|up|it|them|the|all|hole|gap|centre|center|well|firmly|securely|together|end|middle*',
    ],
    means: (e) => {
      e.draws = true;
    },
  },
  {
    says: [
      `slip|place|put ${STAY}|#* @sts onto|on|to the|a|tail|end|of|working* yarn|thread|wool|tail|end`,
    ],
    means: (e) => {
      e.draws = true;
      e.through = true;
    },
  },
  {
    says: [
      `leave|leaving|slip|slipping|place|placing|put|putting|transfer|transferring|keep|keeping|hold ${STAY}|#* @sts #? live|on|onto|to|over|there|for|now|later*`,
      '@sts holder|holders',
      'leave|leaving them|it|live|resting|unworked there|live|resting|unworked|as|they|are*',
      'a|an|the* holder|holders',
      'a|an|the* spare|stitch|safety|waste|scrap holder|holders|needle|needles|cable|pin|pins',
      'a|an|the|length|piece|some|of* waste|scrap|spare yarn|thread|wool|cotton|needle',
    ],
    means: (e) => {
      e.holds = true;
    },
  },
  AFTERWARDS,
  {
    says: [
      'remaining|rem|last|all|these|the|those|final|both # live|remaining|rem|left* @sts',
      '# live|remaining|rem|left* @sts remain|left?',
      'gather|take|up|in* # @sts',
    ],
    means: (e, [n]) => {
      e.count ??= n;
    },
  },
  {
    says: [
      'leaving|leave a|an long|short|good* tail|end of? about|at|least|approx* #? @length?',
      'leaving|leave a|an about|approx* # @length|" long|short? tail|end|length?',
      'long|short|good tail|end',
      '# @length|" tail|end|long?',
      '# @length|"',
    ],
  },
  {
    says: [
      'in|on|from|over|with|as the|a? rib|ribbing|patt|pattern|pat|purl|knit|garter|reverse|rs|ws|set|established|moss|seed st|stitch?',
      'on|from|to the|right|wrong|outer|inner* side|edge|rs|ws|round|row',
      'remove|removing|drop|dropping|discard|discarding|take|taking the|all|any|your|each|every|stitch* @marker out|off|away|as|you|go|come|to|them|when|reach*',
      'knitwise|purlwise|kwise|pwise|loosely|tightly|firmly|securely|evenly|snugly|neatly|very|not|too|tight|loose|quite|gently|together',
      'all of? the? @sts',
      'every|each st|stitch',
      '@sts',
      'knit|purl wise',
      'that|which are|is|remain|remains|left|still|you|have',
      'both|two sides|edges together?',
      'the|your|working* yarn|wool|thread|end|tail is|are|then|now|should|be*',
      'is|are|should|be|then|now',
      '# - needle',
      'the|a|an # - needle method|bind|cast|off*',
      'using|with|by the|a|an|any|your* ~* method|bind|bo|cast|technique off?',
      'with|using a|an|the|your|darning|tapestry|sewing|yarn|wool|blunt|larger|bigger|smaller|spare* needle|needles # sizes|size larger|bigger|smaller',
      'with|using a|an|the|your|darning|tapestry|sewing|yarn|wool|blunt|larger|bigger|smaller|spare* needle|needles',
      'knitting|purling|working every|each|all|the|them|these|in|st|stitch|sts|stitches|pattern*',
      'on|from the|your|all* needle|needles|dpns',
      'finish|end by|with',
      'if you tend to',
      'that is|was all|it',
      'with|in|using @yarn @yarn?',
      '@yarn',
      'wise',
      'as you go|work',
      '@filler',
      'to|for|from|into|round|rem|remaining|last|off|up|hole|end|ends',
    ],
  },
  { says: [',', '-', ':', '(', ')', '[', ']', '.', ';', '!', '&', '"', "'", '*'] },
];

/** All that the sentence says, and the words that no rule follows. */
export function readEnding(c: TokenCursor): { words: EndWords; unread: Stretch[] } {
  const words: EndWords = {
    binds: false,
    draws: false,
    breaks: false,
    through: false,
    holds: false,
    count: null,
  };
  const unread = followAll(c, END_RULES, words);
  return { words, unread };
}

/** `before`: the ending so far. `endingFollows`: the next sentence ends the piece too. Null leaves it to that one. */
export function endingOf(e: EndWords, before: Ending, endingFollows: boolean): Ending | null {
  if (e.binds || before === 'bound-off') return 'bound-off';
  if (e.holds && !e.through) return 'live';
  if (!e.draws && !e.breaks && before !== 'live') return before;
  // Broken yarn alone: the next sentence says how the loops are held.
  return e.breaks && !e.draws && endingFollows ? null : 'drawn-up';
}
