/**
 * Between the cast-on and the first round: joining, markers, stitches shared over needles. In: a cursor where
 * such a sentence may begin. Out: true and the cursor behind its first words; `readSetUp` reads all of it.
 */
import { LEADS } from '../../lexicon/words.ts';
import type { SetUp } from '../ast.ts';
import { colourName } from '../colours.ts';
import { markersHung } from '../markers-hung.ts';
import { followAll, type Stretch, says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { endsJoined } from './opening/end-stitches.ts';
import { joinOfWords, NOT_JOINED, RING } from './opening/joins.ts';
import { HUNG, markersTold } from './opening/markers.ts';
import { emptyOpening, sharesOf } from './opening/opening.ts';
import { OPENING_RULES } from './opening/rules.ts';

/** Words that set up, whatever stands behind them. */
const SETS_UP = [
  'being|be careful',
  'it|this|the|piece|square|is* work|worked|working|knit|knitted|knitting it|this? back and forth',
  'it|this|the|piece|square|is* work|worked|working|knit|knitted|knitting it|this? to and fro',
  'it|this|the|piece|square|is* work|worked|working|knit|knitted|knitting it|this? flat',
  'it|this|the|piece|square|is* work|worked|working|knit|knitted|knitting it|this? in rows',
  'taking|take care',
  'make|making sure',
  'divide|distribute|arrange|spread|split|share|redistribute|dividing',
  'mark|marking|insert|inserting',
  'close|closing to|into|in|up? a|the? round|ring|circle|rnd',
  'do not twist|turn',
  "don't twist|turn",
  'without twisting',
  'form|forming a|into? ring|circle|round',
];

const SEAM_EDGES = [
  'join|joining the|both|your|two|#* seam|seams|rowends',
  'join|joining the|both|your|two|#* row|side|straight|seam? ends|edges',
];
const ON_NEEDLE = 'on|onto|to|the|your|right|left|hand|needle';

export function readSetUpHead(c: TokenCursor, inWork: boolean): boolean {
  return c.takes(() => {
    c.skip(LEADS);
    if (worksRows(c)) return null;
    // "Join the row ends with mattress stitch": sewn up once it is knitted.
    if (inWork && saysAny(c, SEAM_EDGES)) return null;
    if (c.phrase('join|joining')) return colourAhead(c) ? null : true;
    if (joinsRing(c)) return true;
    if (SETS_UP.some((rule) => says(c, rule))) return true;
    if (!inWork && endsJoined(c) !== null) return true;
    if (!inWork && (marks(c) || worksRound(c) || shares(c) || checks(c))) return true;
    // "Put 24 sts on each needle and join"
    const shared = c.attempt(() => {
      if (!c.phrase('put|place|slip|transfer|have|with|there|you|move')) return null;
      for (let n = 0; n < 14 && !c.done && !c.mark('.;'); n++) {
        if (c.phrase('on|onto|to|over|per each|every|needle')) return true;
        if (
          c.phrase('needles|needle|dpns') &&
          /\d|each|divid|even/.test(c.slice(Math.max(0, c.i - 8), c.i))
        )
          return true;
        if (/^(?:holder|waste|scrap)$/.test(c.word())) return null;
        c.i++;
      }
      return null;
    });
    if (shared) return true;
    if (inWork) {
      if (hungAlone(c) || HUNG.some((rule) => says(c, rule))) return true;
      // "As you knit, slip a marker on to the needle after every 24 sts"
      const every = c.attempt(() => {
        if (!says(c, 'as|while you|we? knit|knitting|work|working|go ,?')) return null;
        return says(c, `@place a? stitch? @marker ${ON_NEEDLE}* after each|every #`);
      });
      if (every) return true;
      const joins = c.attempt(() => {
        if (!(c.phrase('pm') || c.phrase('place a|the? stitch? marker'))) return null;
        for (let n = 0; n < 12 && !c.done && !c.mark('.'); n++) {
          if (c.phrase('join|joining')) return true;
          if (/^(?:co|cast|rep|repeat)$/.test(c.word())) return null;
          c.i++;
        }
        return null;
      });
      return joins;
    }
    return (
      c.phrase('pm') ||
      c.phrase(
        'place|placing|put|add|hang|set|use a|an|the|stitch|another|your|one|coloured|colored|removable? stitch? marker|markers',
      ) ||
      null
    );
  });
}

const AS_YOU_WORK = /\b(?:as|while|when) (?:you|your|the|it)\b[^,.;]*/g;
const WORKS_ON = /\b(?:[kp] ?\d+|ssk|k2tog|knit|purl|rib|work|rep|repeat|st st)\b/;

/** "Mark the 13th, 37th, 61st and 85th sts": markers hung between rounds, and no round. */
function hungAlone(c: TokenCursor): boolean {
  return c.takes(() => {
    if (!markersHung(c)) return null;
    const { i } = c;
    while (!c.done && !c.mark('.;:!')) c.i++;
    return !WORKS_ON.test(c.slice(i, c.i).replace(AS_YOU_WORK, ' '));
  });
}

/** "Work back and forth in garter stitch for 20 rows": rows to work, and not only in what manner. */
function worksRows(c: TokenCursor): boolean {
  return (
    c.attempt(() => {
      if (
        !says(c, 'work|worked|working|knit|knitting it|this? back|to|flat|in and|rows? forth|fro?')
      )
        return null;
      for (let n = 0; n < 16 && !c.done && !c.mark('.;!'); n++) {
        if (says(c, 'for # rows|row') || says(c, 'until|till|til ~* #|measures|measure|reaches'))
          return true;
        c.i++;
      }
      return null;
    }) === true
  );
}

/** "Marker at beg of round", "The last marker shows where the round begins" */
function marks(c: TokenCursor): boolean {
  return (
    says(
      c,
      'a|the|your|last|final|%* @marker at|for|to|after|is|shows|marks|indicates|goes|sits|stands',
    ) !== null
  );
}

/** "48 sts on each half" */
function shares(c: TokenCursor): boolean {
  return says(c, '# @sts? each? on|onto|per|over each|every|either|the|a? @shared') !== null;
}

/** "Check that every needle has 26" */
function checks(c: TokenCursor): boolean {
  return (
    says(c, 'check|confirm|verify|count|see again? ,|that|and|to|see* each|every|you|there|all') !==
    null
  );
}

/** "and work in the round": in what manner, and no round. */
function worksRound(c: TokenCursor): boolean {
  // "Knit round, with the beginning of the round between needles 4 and 1."
  if (says(c, 'knit|work round|around , with the? beginning|start')) return true;
  return c.takes(() => {
    if (
      !says(c, 'begin|start|now|knit|knitting|work|working* in the|a? round|rounds|rnd|rnds|circle')
    )
      return null;
    return c.done || c.mark('.,;!') || /^(?:and|with|without|on|using|placing)$/.test(c.word());
  });
}

/** "Gather the work to a ring", "make into a circle": joining, whatever verb says it. */
export function joinsRing(c: TokenCursor): boolean {
  return RING.some((rule) => says(c, rule) !== null);
}

function colourAhead(c: TokenCursor): boolean {
  return c.ahead(() => {
    c.phrase('in');
    return colourName(c) !== null;
  });
}

/** All that the sentence says, and the words that no rule follows. */
export function readSetUp(c: TokenCursor): { setUp: SetUp; unread: Stretch[] } {
  const text = c.slice(c.i, c.end);
  const o = emptyOpening();
  const unread = followAll(c, OPENING_RULES, o);
  const all = o.listed.reduce((a, b) => a + b, 0);
  const [first] = o.listed;
  const alike = o.listed.length > 1 && o.listed.every((n) => n === first);
  const shared = o.shares.find((s) => s.parts !== null);
  const each = o.shares.find((s) => s.parts === null);
  const setUp: SetUp = {
    join: joinOfWords(text) ?? o.join,
    joins: o.joins || /\bjoin/.test(text.replace(NOT_JOINED, ' ')),
    takesExtra: o.takesLast,
    roundMarker: o.roundMarker,
    markers: o.markers,
    hungIn: o.hungIn,
    markersTold: markersTold(text),
    perNeedle: shared?.each ?? each?.each ?? null,
    needles: shared?.parts ?? o.parts ?? (alike ? o.listed.length : null),
    totals: [...o.totals, ...(o.listed.length > 1 ? [all] : [])],
    shares: sharesOf(o),
  };
  return { setUp, unread };
}
