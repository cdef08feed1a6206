/**
 * Between the cast-on and the first round: joining, markers, stitches shared over needles. In: a cursor where
 * such a sentence may begin. Out: true and the cursor behind its first words; `setUpOf` reads the rest.
 */
import { LEADS } from '../../lexicon/words.ts';
import type { Join, SetUp } from '../ast.ts';
import type { TokenCursor } from '../token-cursor.ts';

/** Words that set up, whatever stands behind them. */
const SETS_UP = [
  'being|be careful',
  'taking|take care',
  'make|making sure',
  'divide|distribute|arrange|spread|split|share|redistribute|dividing',
  'mark|marking|insert|inserting',
  'close|closing to|into|in|up? a|the? round|ring|circle|rnd',
  'close|closing the round|ring|circle|rnd',
  'do not twist|turn',
  "don't twist|turn",
  'without twisting',
  'form|forming a|into? ring|circle|round',
];

export function readSetUpHead(c: TokenCursor, inWork: boolean): boolean {
  return c.takes(() => {
    c.skip(LEADS);
    if (c.phrase('join|joining')) return colourAhead(c) ? null : true;
    if (c.anyPhrase(SETS_UP)) return true;
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
        'place|placing|put|add|hang a|the|stitch|another|your|one? stitch? marker|markers',
      ) ||
      null
    );
  });
}

function colourAhead(c: TokenCursor): boolean {
  return (
    /^(?:mc|cc\d?|contrast|contrasting|colou?r)$/.test(c.word()) ||
    (/^(?:in|the)$/.test(c.word()) && /^(?:mc|cc\d?|contrast|contrasting|colou?r)$/.test(c.word(1)))
  );
}

/** Half turns named in a join: `twisted by 1 half turn`, `a full twist`. Numbers in digits. */
export function readJoin(text: string): Join | null {
  let halfTurns = 0;
  // "being careful not to twist" is the opposite of a twist.
  const clean = text.replace(
    /(?:not\s+(?:to\s+(?:be\s+|get\s+|let\s+)?|be\s+)?|without\s+|no\s+|never\s+|un|isn't\s+|aren't\s+|don't\s+|(?:is|are)\s+not\s+|avoid(?:ing)?\s+(?:any\s+)?)(?:(?:the|your)\s+)?(?:(?:sts|stitches|cast-?on|edge)\s+)?(?:is\s+|are\s+)?(?:twist\w*)/g,
    ' ',
  );
  if (/\btwist|half[\s-]*turns?|m[oö]bius|moebius/.test(clean)) {
    const half = /(\d+)\s*(?:x\s*)?half[\s-]*(?:turns?|twists?)/.exec(clean);
    const full = /(?:(\d+)|a)\s*full\s*(?:turns?|twists?)/.exec(clean);
    if (half) halfTurns = Number(half[1]);
    else if (full) halfTurns = 2 * (full[1] ? Number(full[1]) : 1);
    else halfTurns = 1;
    if (!(halfTurns <= 100)) halfTurns = 1;
  }
  if (
    /\bcross(?:ed|ing)?\b|swap|(?:exchange|trade|switch)\b.*(?:first|last)|(?:first|last)\b.*\bover\b.*(?:first|last)/.test(
      clean,
    )
  ) {
    return { method: 'crossed', halfTurns };
  }
  if (/\bextra\b|1\s+more\s+st/.test(clean)) return { method: 'extra', halfTurns };
  if (halfTurns > 0 || /plain|simple|normal|usual|not\s+to|careful|join/.test(text)) {
    return { method: 'plain', halfTurns };
  }
  return null;
}

/** A marker for the beginning of the round. */
export const ROUND_MARKER =
  /\bpm\b|plac(?:e|ing)\s+(?:a\s+)?(?:stitch\s+)?marker|\b(?:bor|eor|beginning)\s+marker|\bmarker\s+(?:at|for|to mark)\s+(?:the\s+)?(?:beg|start|bor|end of (?:the )?(?:round|rnd)|cent(?:re|er) back)/;
const PLACES =
  '(?:plac(?:e|ing)|put(?:ting)?|hang(?:ing)?|add(?:ing)?|with|pm(?![a-z])|mark(?:er)?s?)';
const EVERY = new RegExp(
  `${PLACES}[^.]{0,40}?(?:every|each)\\s+(?:of\\s+the\\s+)?(\\d+)(?:th|st|nd|rd)?\\s*(?:sts?|stitch(?:es)?)`,
);
const LISTED = new RegExp(
  `(?:${PLACES}[^.\\d]{0,40}?)after\\s+(?:the\\s+)?(?:st(?:itche)?s?\\s+)?(\\d+(?:th|st|nd|rd)?(?:\\s*,\\s*(?:and\\s+)?\\d+(?:th|st|nd|rd)?)*(?:\\s+(?:and|&)\\s+\\d+(?:th|st|nd|rd)?)?)(?:\\s*(?:sts?|stitch(?:es)?))?`,
);
const AT_CORNERS =
  /(?:plac(?:e|ing)|put(?:ting)?|hang(?:ing)?|pm(?![a-z])|mark(?:ing)?(?![a-z])|markers?)[^.]{0,50}?(?:(?:at|in|for|on|after|between|to\s+mark|mark(?:ing)?)\s+(?:each|every|all|the|both)?\s*(?:of\s+the\s+|the\s+)?(?:\d+\s+)?(?:corners?|sides?|sections?|segments?|wedges?|needles?))(?![a-z])/;
const PER_NEEDLE =
  /(\d+)\s*(?:sts?|stitch(?:es)?)?\s*(?:on|onto|per|to|for)\s+(?:each|every)?\s*(?:of\s+)?(?:the\s+)?(?:(\d+)\s+)?(?:dpns?|double|needles?)/;
const OVER_NEEDLES =
  /(?:over|on|onto|between|across|among|to)\s+(?:your\s+|the\s+)?(\d+)\s*(?:double|dpns?|needles?)/;

/** Markers that the text places, numbers in digits; null where it places none but that of the round. */
export function markersOf(text: string): SetUp['markers'] {
  const every = EVERY.exec(text);
  if (every) return { every: Number(every[1]) };
  const between =
    /(\d+)\s*(?:sts?|stitch(?:es)?)\s+between\s+(?:each|every|them|the)/.exec(text) ??
    /parts?\s+of\s+(\d+)\s*(?:sts?|stitch(?:es)?)[^.]*marker/.exec(text);
  if (between) return { every: Number(between[1]) };
  const listed = LISTED.exec(text);
  if (listed) {
    const at = (listed[1].match(/\d+/g) ?? []).map(Number);
    if (at.length > 0 && at.every((n, i) => i === 0 || n > at[i - 1])) return { at };
  }
  return AT_CORNERS.test(text) || /plac(?:e|ing)\s+\d+\s+(?:\w+\s+)?markers/.test(text)
    ? 'corners'
    : null;
}

/** What the sentence says, numbers in digits. */
export function setUpOf(text: string): SetUp {
  const each = PER_NEEDLE.exec(text);
  const over = OVER_NEEDLES.exec(text);
  const named = /\bn(?:eedle\s*)?1\b[^.]*?\bn(?:eedle\s*)?(\d)\b(?![^.]*\bn\d)/.exec(text);
  const single = /\bon\s+(?:1|one)\s+needle/.test(text);
  return {
    join: /\bjoin|twist|m[oö]bius|moebius/.test(text) ? readJoin(text) : null,
    joins: /\bjoin/.test(text),
    roundMarker: ROUND_MARKER.test(text),
    markers: markersOf(text),
    perNeedle: each && !single && /each|every|per/.test(each[0]) ? Number(each[1]) : null,
    needles: named
      ? Number(named[1])
      : each?.[2]
        ? Number(each[2])
        : over && /divid|distribut|spread|arrang|split|share|even|equal/.test(text)
          ? Number(over[1])
          : null,
  };
}
