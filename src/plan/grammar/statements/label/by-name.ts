/**
 * Labels that name rounds without a number: `Next 3 rounds`, `Set-up row:`, `1st dec rnd:`, `Row A:`, `Every round:`.
 * In: a cursor. Out: what it names, or null.
 */
import { LEADS, ROUND_WORDS, ROW_WORDS, STITCH_WORDS } from '../../../lexicon/words.ts';
import { isSlipOf, NAME_SLIPS } from '../../garbled.ts';
import { numberList } from '../../number-lists.ts';
import { isUnit, roundName, unit } from '../../phrases.ts';
import { ownName, ownRound } from '../../round-names.ts';
import { says, saysAny } from '../../rules.ts';
import { readStitch } from '../../steps/stitch-words.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { isStitchWord } from '../../word-law.ts';
import { type Head, head } from './head.ts';

/** `Next round`, `On the following 3 rounds` */
export function next(c: TokenCursor): Head | null {
  return c.attempt(() => {
    // "Work 1 more round, always knitting 2 sts together", "knit one round of k2tog"
    const told = c.attempt(() => {
      c.skip(LEADS);
      const start = c.i;
      const n = says(
        c,
        'work|knit|do|continue|cont|finish|end|with* next|another|the|for* #|a|one last|more|final|further? @unit ,|of|in|with|as|follows|thus|like|this|:*',
      );
      // "One more round, k2tog to the end"
      const more = n ?? says(c, '#|a|one|another last|more|final|further* @unit ,|:');
      if (!more || (!n && !/\b(?:last|more|final|further|another)\b/.test(c.slice(start, c.i))))
        return null;
      const repeat = more[0] ?? 1;
      // "Work 40 rows with 4 sts in garter st, 23 sts in moss st, …"
      if (c.isNumber() && c.isWord(STITCH_WORDS, 1))
        return head({ name: 'next', repeat, bare: true });
      const ahead = c.word() === 'always' ? 1 : 0;
      const stitch = /^(?:knitting|purling|slipping|k2tog|ssk|p2tog|skp|kfb)$/;
      return repeat === 1 && stitch.test(c.word(ahead)) ? head({ name: 'next', bare: true }) : null;
    });
    if (told) return told;
    const shaped = announced(c);
    if (shaped) return shaped;
    // "After that, on every needle knit 2 together, …"
    const { i } = c;
    if (says(c, AFTER_THAT)) {
      const at = c.i;
      const led = says(c, 'on|along|over each|every of? the? #? @side') !== null;
      c.i = led ? at : i;
      if (led) return head({ name: 'next', bare: true });
    }
    c.takes(() => says(c, AT_ONCE) !== null && /^(?:on|in)$/.test(c.word()));
    if (says(c, 'on|in the @unit after that|this|it ,|:'))
      return head({ name: 'next', bare: true });
    c.phrase('on|for|in|work');
    c.phrase('the very?');
    const w = c.word();
    if (
      !/^(?:next|following|foll|last|final|joining)$/.test(w) &&
      !(c.here() === 'first' && c.isNumber(1))
    )
      return null;
    c.i++;
    const repeat = c.number() ?? 1;
    const u = unit(c);
    if (!u || !Number.isInteger(repeat)) return null;
    return head({ name: /^foll/.test(w) || w === '' ? 'next' : w, repeat, unit: u });
  });
}

const AFTER_THAT = 'then|after|that|this|now|next|,*';
const AT_ONCE = 'then|now|and|immediately|straight|straightaway|right|away|after|this|that|,*';
const ONE_ROUND =
  'then|next|now|after|that|you|we* knit|work|purl|do? #|a|the next|more|plain|whole|last* @unit knit|plain? in|stockinette|stocking|stst|st|stitch|pattern|patt* ,|and|while|with|by|at|the|same|time|in|which|where|you|evenly|simultaneously|distribute|distributing|spread|make|making*';
const SHAPED = [
  'dec|decrease|decreasing|decreases|inc|increase|increasing at|the|same|time|by|in|it* # @sts?',
  '# @sts are|is|being? decreased|increased|lost|gained|added',
  '# decreases|increases|decs|incs',
];
const AS_FOLLOWS =
  'evenly|distributed|in|it|on|#|knit|next|spaced|spread|distributed|around|across|over|along|the|round|row|rnd|like|this|as|follows|thus|so|in|way|by|working|manner|following*';

/** "Change to needle no. 4 and": on which needles. */
const ON_NEEDLES =
  'then|now|next* change|changing|switch|switching|swap|go|move|with|using|take to|over|back* the|your|a|set|of|to|short|long|circular|double|pointed|larger|bigger|thicker|smaller|thinner|size|us|no|number|.* #? mm? circular|circ|double|pointed* needle|needles|dpns size|us|no|number|.* #? mm? again? ,|:|and|then|you|now*';

/** "Knit 1 round and at the same time decrease 12 sts evenly like this:" leads to the stitches of that round. */
function announced(c: TokenCursor): Head | null {
  return c.attempt(() => {
    says(c, ON_NEEDLES);
    const rounds = says(c, ONE_ROUND);
    if ((rounds?.[0] ?? 1) !== 1) return null;
    const { i } = c;
    const n = saysAny(c, SHAPED)?.[0];
    if (n == null) return null;
    const less = /\b(?:dec|lost)/.test(c.slice(i, c.i));
    if ((says(c, AS_FOLLOWS)?.[0] ?? 1) !== 1) return null;
    // "Increase 8 sts evenly in one knit round:"
    const told = rounds !== null || /\b(?:round|rnd|row)\b/.test(c.slice(i, c.i));
    if (!told || !c.eatMark(':')) return null;
    const stated = { total: null, perSide: null, change: less ? -n : n };
    return head({ name: 'next', bare: true, stated });
  });
}

const NOT_NAMES =
  /^(?:once|twice|thrice|again|another|repeat|rep|work|knit|purl|k|p|these|those|every|each|all|until|for|cont|continue|bind|cast|join|turn|in|at|of|to|from|with|and|between|same|as|note|a|when|after|before|by|you|if|count|worked|on|start|starting|beg|begin|beginning|using|the|this|dec'd|now|then|finally|next|last)$/;

const TOLD_THUS =
  'is|goes|reads|runs|works|= always? worked|made|done|knitted? as|like|this|so|thus|follows*';

const DESCRIBES =
  'in|each|and|so|now|then|here|next|comes|come|for|is|it|time|we|start|begin|with|work|a|an|the|my|your|our|this|that|what|i|you|call|called|first|one*';
const MEANS =
  'is|goes|go|are|means|reads|runs|works always? worked|made|done|knitted? as|like|this|so|thus|follows*';

/** "you do this on every needle", ", on each side": what the round is follows. */
function onEach(c: TokenCursor): boolean {
  return c.takes(() => {
    says(c, ',|you|we|i|just|simply|do|work|this|so|it|as|follows|thus*');
    return /^(?:on|at|along)$/.test(c.word()) && /^(?:each|every|all)$/.test(c.word(1));
  });
}

/** "My shrinky round goes like this:", "Now comes a decrease round:", "corner round = …", "A shrink means:" */
export function ownNamed(c: TokenCursor): Head | null {
  if (!c.own?.roundNames.size) return null;
  return c.attempt(() => {
    const { i } = c;
    says(c, DESCRIBES);
    const led = c.slice(i, c.i);
    const name = ownRound(c) ?? (/\b(?:an?|my|one)$/.test(led) ? ownName(c) : null);
    if (name === null) return null;
    const row = c.isWord(ROW_WORDS, -1);
    if (/\b(?:in|for)\b/.test(led) && onEach(c))
      return head({ name, unit: row ? 'row' : 'round', bare: true, means: true });
    if (says(c, 'stands for') && c.mark(':'))
      return head({ name, unit: row ? 'row' : 'round', means: 'only' });
    const means = c.takes(() => says(c, MEANS) !== null && c.mark(':(*['));
    const defines = means || c.mark('=') || /\b(?:my|call|called)\b/.test(led);
    if (!(c.mark(':=-([') || means) || (c.mark('-') && !c.peek()?.spaced)) return null;
    const bare = means && !c.mark(':');
    return head({ name, unit: row ? 'row' : 'round', bare, ...(defines ? { means: true } : null) });
  });
}

/** `Decrease round`, `Set-up rows 1 and 2`, `1st dec rnd`; only before a colon or dash. */
export function named(c: TokenCursor): Head | null {
  return c.attempt(() => {
    // "Work a decrease round:"
    c.attempt(() =>
      says(c, 'work? a|the|one|your') && /^(?:dec|inc|decrease|increase|set|plain)$/.test(c.word())
        ? true
        : null,
    );
    // "1 decrease round: …"
    const several = c.isNumber() && c.peek(1)?.kind === 'word' && !isUnit(c, 1) ? c.number() : null;
    const start = c.i;
    if (/^(?:set|setup|foundation|edging|border|preparation|preparatory)$/.test(c.word())) {
      const set = c.attempt(() => {
        c.i++;
        c.eatMark('-');
        c.phrase('up');
        if (c.phrase('for')) for (let n = 0; n < 4 && c.peek()?.kind === 'word'; n++) c.i++;
        // "Border: work 6 rows in rib" heads them.
        const rounds = says(c, ': work|knit|purl #') !== null && isUnit(c);
        if (rounds) return null;
        return c.mark(':') ? roundName(c.slice(start, c.i).replace(/set ?-? ?up/, 'set-up')) : null;
      });
      if (set) return head({ name: set });
    }
    let words = 0;
    for (;;) {
      const t = c.peek();
      if (!t) return null;
      if (words > 0 && isUnit(c)) break;
      if (t.kind === 'ordinal' && words === 0) {
        c.i++;
        words++;
        continue;
      }
      if (t.kind !== 'word' || words >= 4) return null;
      if (words === 0 && (NOT_NAMES.test(t.text) || isSlipOf(t.text, NAME_SLIPS))) return null;
      // "First purl a round." is no name.
      if (/^(?:a|an|the|we|you|i|on|in|at|from|of|to|with)$/.test(t.text)) return null;
      if (isStitchWord(t) || /^(?:all|around|across|end)$/.test(t.text)) return null;
      c.i++;
      words++;
      for (
        let k = 0;
        k < 4 && c.mark('-/') && c.peek(1)?.kind === 'word' && !c.peek(1)?.spaced;
        k++
      )
        c.i += 2;
    }
    const name = roundName(c.slice(start, c.i));
    const isRound = c.isWord(ROUND_WORDS);
    c.i++;
    // "The decrease round is worked like this: …"
    c.takes(() => says(c, TOLD_THUS) !== null && c.mark(':'));
    const suffix = numberList(c) ?? [];
    if (
      several !== null &&
      (suffix.length > 0 || several < 1 || !Number.isInteger(several) || !c.mark(':'))
    )
      return null;
    const repeat = several ?? Math.max(1, suffix.length);
    return head({ name, suffix, repeat, unit: isRound ? 'round' : 'row' });
  });
}

/** `Row A:` */
export function lettered(c: TokenCursor): Head | null {
  return c.attempt(() => {
    const u = unit(c);
    const letter = /^[a-h]$/.exec(c.word());
    if (!u || !letter) return null;
    c.i++;
    return c.mark(':.-') ? head({ name: letter[0], unit: u }) : null;
  });
}

/** `Every round:` */
export function every(c: TokenCursor): Head | null {
  return c.attempt(() => {
    says(c, 'from|now|here|after|that|on|in|at|then|next|and|so|,*');
    says(c, 'you|we|i|should|will* start|begin|work|make|do on?');
    says(c, 'the next|following @unit and on|in?');
    const starts = says(c, 'at|the|each|every* start|beginning of') !== null;
    if (!says(c, 'every|each|all of? the|single|following|further|new*')) return null;
    const u = unit(c);
    says(c, 'after that|this|it');
    says(c, 'from here|now|then|there on?');
    says(
      c,
      ',|you|we|simply|just|is|are|goes|go|begins|begin|starts|start|reads|worked|made|all|now|then|alike|the|same|as|follows|like|this|thus|with|way|manner*',
    );
    const t = c.peek();
    // "every row is kfb, knit to end", "on every row knit 1, …", "at the beginning of every row k2tog, …"
    const verb = /^(?:knit|purl|k|p|work|inc|increase|slip)$/.test(t?.text ?? '');
    const told = t !== null && (isStitchWord(t) || (verb && isStitchAt(c)));
    const marked = !starts && c.mark(':=');
    return u && (told || marked) ? head({ name: 'next', unit: u, every: true }) : null;
  });
}

/** Tokens that tell which stitch begins here. Chosen: "increase 1 by knitting into the front and back". */
const STITCH_AHEAD = 14;

/** A stitch that says what it is worked over: "knit 1", "knit twice into the first stitch". */
function isStitchAt(c: TokenCursor): boolean {
  const read = readStitch(c.slice(c.i, Math.min(c.end, c.i + STITCH_AHEAD)), 0);
  return (
    read !== null && (read.name.length > 1 || (read.amount !== null && 'times' in read.amount))
  );
}
