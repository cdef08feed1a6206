/**
 * Terms put literally into English out of another tongue (`lexicon/translators.ts`), read as those of the trade wherever they
 * stand: in heads, places, repeats, counts, glossaries, tables. In: the designer's text. Out: the same text in the trade's terms.
 * A word with another sense in plain English is read only where others of its tongue are used, or the text says that it is
 * translated.
 */
import { raw, regex } from '../lexicon/expression.ts';
import {
  CASTS_OFF,
  CASTS_ON,
  FABRICS,
  GAUGE_HEADS,
  GAUGE_ROWS,
  LABELS,
  NAMED,
  PLAIN,
  type Saying,
  SETS,
  THINGS,
  TONGUES,
} from '../lexicon/translators.ts';
import { explainedStitches, knownStitches } from './explained-stitches.ts';
import { type Replacement, valueOfWords } from './numbers.ts';
import { type Replaced, readInTurn } from './replaced.ts';
import { otherFrames, purposes } from './translated-frames.ts';
import { BEGINS, COUNT } from './wording.ts';

const STS_ANY = raw`(?:stitches|sts?\.?(?![a-z])|stitch|loops?|meshes|mesh|masks?|eyes?|points?|pts?\.?(?![a-z])|[mp]\.?(?![a-z]))`;
const N = `(?:${COUNT}|an?)`;
/** Where a stitch of a list ends. */
export const ENDS = raw`(?=[ ]?(?:[,;:.)*\]=|(\n]|$|[-–—] )| (?:and|then|on|at|over|until|till|\d+ times|[x×] ?\d|(?:four|six|eight) times|to (?:the )?(?:end|last)|in (?:the|every|each|alternation|turns?|change))\b)`;
const LISTED = '(?<=^|[,;:(*\\[|=>–—-] {0,3}|\\b(?:and|then|needle|side|section|knit|work|make) )';

/** A place where sayings of one kind stand: what comes before, and behind. */
interface Frame {
  readonly sayings: readonly Saying[];
  readonly before: string;
  readonly after: string;
  /** What stands before stays. */
  readonly keeps?: boolean;
  /** Null: not read here after all. `said`: the saying itself; `groups`: of the frame. */
  readonly as: (means: string, said: string, m: RegExpExecArray) => string | null;
}

interface Compiled extends Frame {
  readonly re: RegExp;
  readonly whole: readonly (readonly [RegExp, Saying])[];
}

function compile(frame: Frame): Compiled {
  const sources = [...frame.sayings].map((s) => s.source).sort((a, b) => b.length - a.length);
  return {
    ...frame,
    re: regex.gim`${frame.before}(?<said>${sources.join('|')})${frame.after}`,
    whole: frame.sayings.map((s) => [regex.i`^(?:${s.source})$`, s] as const),
  };
}

function lineAt(text: string, at: number): string {
  const end = text.indexOf('\n', at);
  const from = text.lastIndexOf('\n', at) + 1;
  return text.slice(Math.max(from, at - 120), end < 0 ? at + 120 : Math.min(end, at + 120));
}

/** So many of it: "2 times" behind what is more than one. */
function times(n: string | undefined): number {
  if (!n || /^an?$/i.test(n)) return 1;
  return /^\d/.test(n) ? Number(n) : valueOfWords(n);
}

const letter = (means: string): string => means[0];
const TWISTED = '(?:twisted|crossed)';

/** The noun, one or several of it; a full stop that ends the sentence stays. */
function noun(means: string, said: string, { input, index, 0: all }: RegExpExecArray): string {
  const before = input.slice(Math.max(0, index - 24), index + all.length - said.length);
  const several =
    /s$/i.test(said) || /(?:[2-9]|1\d|\d\d|\ball|\bthese|remaining)\W*(?:the )?$/i.test(before);
  const one = means === 'stitch' ? 'st' : means;
  return `${one}${several ? 's' : ''}`;
}

/** Not the metres of the yarn, not pins to pin out with, not a stitch that is purled. */
function thing(means: string, said: string, m: RegExpExecArray): string | null {
  const before = m.input.slice(Math.max(0, m.index - 24), m.index);
  const after = m.input.slice(m.index + m[0].length, m.index + m[0].length + 5);
  const short = /^[mp]\b/i.test(said);
  // "2 k., 2 p.": purled.
  if (/^p\b/i.test(said) && /\b(?:\d{1,3} k\b|k\.? ?\d)/i.test(m.input)) return null;
  if (short && /(?:\bg\b|length|metres?|approx)[^\n]{0,8}\d+ ?$/i.test(before)) return null;
  if (
    short &&
    !/(?:\d|\b(?:all|the|these|remaining|last|next|first|following|each|every|per|edge|selv[a-z]*|border|corner|middle|cent[er]+|marked|other|slipped|loose|same)|\b(?:the|each|every) [a-z]{3,9})[ -]?$/i.test(
      before,
    )
  )
    return null;
  if (
    /^turns?$/i.test(said) &&
    /^ (?:over|about|around)\b/.test(m.input.slice(m.index + m[0].length))
  )
    return null;
  if (/^pins?$/i.test(said) && (/^ out\b/.test(after) || /\bwith (?:\w+ )?$/i.test(before)))
    return null;
  return noun(means, said, m);
}

const DETERMINED = raw`(?:\d{1,4}|one|two|three|four|five|six|eight|ten|each|every|all(?: the)?|the|these|those|remaining|last|next|first|following|marked|other|per|both|same|odd|even|plain|edge|selvedge|selvage|border|corner|middle|centre|center|slipped|loose|second|third|\d(?:st|nd|rd|th)|stocking|sock|(?:the|each|every) [a-z]{3,9})`;
const UNITS_BEFORE = raw`^[ \t•*-]{0,8}(?:(?:the )?(?:(?:\d{1,3}(?:st|nd|rd|th)|first|second|third|fourth|next|last)(?:,? (?:and|to|&) (?:the )?|, ?|[-–])?){1,4} )?`;

const FLAT_ONLY = /^(?:pin|iron|stick|wire)s?$/i;
const IN_A_RING =
  /\b(?:ring|rounds?|circle|dpns?|double[- ]pointed|sock|stocking|(?:each|every) (?:needle|pin|iron|stick|wire))\b(?! or\b)/i;

/** Nouns, verbs and heads, of one word for one. */
const WORDS: readonly Frame[] = [
  {
    sayings: LABELS,
    before: UNITS_BEFORE,
    after:
      '(?:(?= ?\\d{1,3}\\b[^\\n]{0,48}?[:.)|–-])|(?=[^\\n:]{0,40}:)(?<=\\d(?:st|nd|rd|th)? [a-z.]+|(?:first|second|third|fourth|next|last) [a-z.]+)|(?= {0,8}\\|))',
    // Needles are rows in a piece that lies on two of them.
    as: (means, said, { input }) =>
      FLAT_ONLY.test(said) && IN_A_RING.test(input)
        ? null
        : /^[^ ]*s$/i.test(said) && !/ss$/i.test(said)
          ? `${means}s`
          : means,
  },
  {
    sayings: GAUGE_ROWS,
    before: `(?<=${STS_ANY}[^\\n]{0,16}?(?:[x×,/&] ?|and |by )\\d{1,3} )`,
    after: '(?![a-z])',
    as: (means, _, { input, index }) =>
      /\b(?:cm|inch|inches)\b/i.test(lineAt(input, index)) ? means : null,
  },
  {
    sayings: THINGS,
    before: `(?<=\\b${DETERMINED}[ -]|\\d(?= ?[x×/])|/ ?|^[ \\t]{0,8})(?<!\\b(?:then|and|to|safety|marking) )`,
    after: '(?![a-z-])(?! (?:the )?work\\b)(?! ?[/=] ?\\d+ ?g\\b)',
    as: thing,
  },
  {
    sayings: THINGS.filter(({ sign }) => sign === '!'),
    before: '\\b',
    after: '(?![a-z-])(?! (?:off|away|down)\\b)',
    as: noun,
  },
  {
    sayings: THINGS.filter(({ means }) => means === 'round'),
    before: '\\b(?<=\\b(?:as|like|of|in|from|to|and|repeat|rep|after|before|the) )',
    after: '(?= \\d{1,3}\\b(?! (?:sts?|stitches|times)\\b))',
    as: noun,
  },
  {
    sayings: CASTS_ON,
    before: `(?:${BEGINS}|(?<=\\b(?:needle|needles|pins?|irons|yarn),? ))`,
    after: `(?= (?:with )?(?:${COUNT}) (?!more\\b)${STS_ANY}(?! (?:from|out of|in|along|twisted|crossed|of)\\b))`,
    as: (means, _, m) => (/\bcast(?:ing)?[ -]on\b|\bCO\b|\bc\/o\b/i.test(m.input) ? null : means),
  },
  {
    sayings: CASTS_OFF.filter(({ sign }) => sign === '!'),
    before: `(?:${BEGINS}|(?<=\\b(?:then|and|now) ))`,
    after: `(?=(?: off)?(?: [a-z]+ly| right| left)? (?:all |the |of the |remaining |last ){1,4}${STS_ANY}(?! (?:together|up|through)\\b)| [a-z]+ly (?:with|in) |[ ]?[.;]|$)`,
    as: (means, said, m) =>
      / (?:off|down|away)$/i.test(said) ||
      !/^[ ]?(?:[.;]|$)/m.test(m.input.slice(m.index + m[0].length, m.index + m[0].length + 2))
        ? means
        : null,
  },
  {
    sayings: CASTS_OFF.filter(({ sign }) => sign !== '!'),
    before: `(?:${BEGINS}|(?<=\\b(?:then|and|now) ))`,
    after: `(?=(?: off)?(?: [a-z]+ly| right| left)? (?:all (?:the |of the )?(?:remaining )?|the remaining )${STS_ANY}| [a-z]+ly (?:with|in) |[ ]${COUNT} ${STS_ANY} loosely)`,
    as: (means) => means,
  },
  { sayings: SETS, before: '\\b', after: '(?![a-z])', as: (means) => means },
  {
    sayings: GAUGE_HEADS,
    before: '^[ \\t•*-]{0,8}',
    after:
      '(?=(?:[ ]?[:=(.,]| ?\\d| in | with | of | over | measured )[^\\n]*\\b(?:cm|inch|inches|in)\\b)(?=[^\\n]*\\d[^\\n]*\\d)',
    as: (means, _, m) =>
      /^ ?[:=]/.test(m.input.slice(m.index + m[0].length)) ? means : `${means}: `,
  },
  {
    sayings: FABRICS,
    before: '\\b(?<!\\b(?:k|p)\\d* )',
    after: '(?![a-z-])',
    as: (means, said, m) =>
      /^(?:rice|elastic|always right)$/i.test(said) &&
      !/\b(?:in|of|work|knit|rounds?|rows?|:) ?$/i.test(
        m.input.slice(Math.max(0, m.index - 8), m.index),
      )
        ? null
        : means,
  },
];

/** "16 left" among other stitches; not "until there are 16 sts left". */
function isPurled({ input, index, 0: all }: RegExpExecArray): boolean {
  const before = /[^.;:\n]{0,60}$/.exec(input.slice(Math.max(0, index - 60), index))?.[0] ?? '';
  const after = /^[^.;:\n]{0,60}/.exec(input.slice(index + all.length))?.[0] ?? '';
  const told =
    /\b(?:until|till|there|are|is|have|has|with|only|just|leav\w+|remain\w*|gone|now|=)\b/i;
  return !told.test(before) && /\b(?:right|knit|k\d+|together|tog)\b/i.test(`${before} ${after}`);
}

const TOGETHER = 'tog(?:ether)?\\b\\.?';

/** Knit and purl: words of position in the sentence, so that "right" is no side and no direction. */
const STITCHES: readonly Frame[] = [
  {
    sayings: PLAIN,
    before: `\\b(?<!\\b(?:over|cross|crossed|rounds?|rnds?|rows?|cable|twist|make|m|of|/) )(?:(?:knit|work|take) )?(?<n>${N})(?: ${STS_ANY})?(?: (?<early>${TWISTED}))? `,
    after: `(?: (?<late>${TWISTED}))?(?: ${STS_ANY})? ${TOGETHER}(?: (?<last>${TWISTED}))?`,
    as: (means, _, m) => together(m, means),
  },
  {
    sayings: PLAIN,
    before: `\\b(?:(?:knit|work|take) )?(?<n>[2-9]|two|three|four)(?: ${STS_ANY})? ${TOGETHER} (?<early>${TWISTED} )?`,
    after: `(?! side)(?: (?<late>${TWISTED}))?(?:${ENDS}|(?= with (?:an? |the )?(?:slant|slope|lean|incl|tilt)))`,
    // "2 together to the left" slants so; "left together" is purled.
    as: (means, said, m) =>
      /\b(?:right|left)$/i.test(said) && /^to/i.test(said) ? null : together(m, means),
  },
  {
    sayings: PLAIN,
    before: `\\b(?<!\\b(?:over|cross|crossed|cable|twist|marker|make|m|of|/) |(?<!\\d )\\b(?:rounds?|rnds?|rows?) )(?<!\\d/)(?:(?:knit|work) )?(?<n>${N})(?: ${STS_ANY})?(?: (?<early>${TWISTED}))? `,
    after: `(?: (?<late>${TWISTED}))?(?: ${STS_ANY})?(?:${ENDS}|(?= rib| ?/))`,
    as: (means, said, m) =>
      said === 'left' && !isPurled(m)
        ? null
        : `${letter(means)}${times(m.groups?.n)}${m.groups?.early || m.groups?.late ? ' tbl' : ''}`,
  },
  {
    sayings: PLAIN,
    before: `(?:(?<=: ?|\\| ?|\\d[.)] )|(?<=[,;] )(?=all\\b|always\\b|everything\\b)|^(?=[ ]*all\\b))(?:(?:knit|work|all|always|only|entirely|everything(?: in)?|completely|every|each|${STS_ANY})[ ])*`,
    after: `(?: (?:${STS_ANY}|rounds?|rnds?|rds?|rows?|laps?|turns?|tours?|omg\\.?))?(?=[ ]?(?:[.;,(=|)]|$|[-–—] )|[ ]{1,60}(?:\\||$))(?! ?side)`,
    as: (means) => means,
  },
  {
    // "right until 2 remain", "the remaining stitches left"
    sayings: PLAIN,
    before: '(?<=[:,;*(] ?|\\b(?:and|then) )',
    after:
      '(?= (?:until|till|up to|as far as|all (?:the )?(?:stitches|sts?)|to (?:(?:the )?(?:last|end|next|following|marker)|\\d+))\\b)',
    as: (means) => means,
  },
  {
    sayings: PLAIN,
    before: `(?<=[:,;] ?|\\band )(?:(?:all|the|these|those|(?:the )?(?:other|remaining|rest of the)) ){1,3}${STS_ANY} `,
    after: '(?=[ ]?(?:[.;,(=)]|$))',
    as: (means, _, m) => (/remaining|other|rest/i.test(m[0]) ? `${means} to end` : means),
  },
  {
    sayings: PLAIN,
    before: '\\b(?:knit|work|weave) ',
    after:
      '(?=(?: (?:all|the|these|every|each|until|till|to the (?:end|last)|across|round)\\b|[ ]?(?:[.;,(=)]|$)))',
    as: (means) => means,
  },
  {
    sayings: PLAIN,
    before: `\\b(?:knit|work|weave) (?<what>(?:(?:the|all|these|next|last|first|following|other|remaining|every|each|${COUNT}|${STS_ANY}) ?){1,5}) `,
    after: '(?=[ ]?(?:[.;,(=)]|$)| and )',
    as: (means, _, m) => `${means} ${m.groups?.what}`,
  },
  {
    sayings: PLAIN,
    before: `(?<=\\b(?:${COUNT}|an?|the (?:next|first|last|following)) (?:rounds?|rnds?|rds?|rows?) )`,
    after: `(?: ${STS_ANY})?(?=[ ]?(?:[.;,(=)]|$)| (?:and|without|alternating|in|by|over) )`,
    as: (means, said, m) =>
      /^stocking/i.test(said) && /st\w*$/i.test(m[0].slice(said.length)) ? null : means,
  },
];

function together({ groups }: RegExpExecArray, means: string): string {
  const twisted = groups?.early || groups?.late || groups?.last;
  return `${letter(means)}${times(groups?.n)}tog${twisted ? ' tbl' : ''}`;
}

/** What is done with the yarn and with stitches, unless so many of it are told. */
const NUMBERED_ONLY =
  /^(?:wraps?|turn[ -]?(?:about|over|around)s?|over[ -]?cast(?:ing)?|(?:pass|slip|draw|lift|pull|put|take|lay)[ -]?over)$/i;

/** Names of stitches among the stitches of a round. */
const NAMES: readonly Frame[] = [
  {
    sayings: NAMED,
    before: `(?:(?<!\\b(?:slip|sl|knit|k|purl|p|(?:rounds?|rows?|rnds?)(?: \\d{1,3},?(?: and| &| to)?)?) )\\b(?:(?:make|do|work|knit|take) )?(?<n>${N}|the) |${LISTED})`,
    after: `${ENDS}(?! ?[:=] ?[a-z(]| ?\\([a-z.]{1,6}\\) ?[:=])`,
    as: (means, said, m) => {
      const { n } = m.groups ?? {};
      if (NUMBERED_ONLY.test(said) && (!n || n === 'the')) return null;
      if (/^throws?$/i.test(said) && !n && !/^[ ]?[,*;]/.test(m.input.slice(m.index + m[0].length)))
        return null;
      const often = times(n === 'the' ? '1' : n);
      return often === 1 ? means : often < 20 ? `${means} ${often} times` : null;
    },
  },
];

const FRAMES = {
  words: WORDS.map((f) => compile({ ...f, keeps: true })),
  stitches: STITCHES.map(compile),
  names: NAMES.map(compile),
};

const SAYS_SO = regex.i`\b(?:translat\w+|original(?:ly)?|version|from(?: the)?|after(?: an?)?|out of(?: the)?)\b[^.\n]{0,24}\b(${Object.keys(TONGUES).join('|')})\b|\b(${Object.keys(TONGUES).join('|')}) (?:original|pattern|text|version|leaflet|magazine)\b`;
const VOTES = { '!': 2, '+': 1, '?': 1, '-': 0 } as const;
/** Votes of one tongue that make a text a translation: one saying without another sense, or two that have one. Chosen. */
const ENOUGH = 2;

function sayingOf(frame: Compiled, said: string): Saying | undefined {
  return frame.whole.find(([re]) => re.test(said))?.[1];
}

/** Which sayings are read in this text. */
function guardOf(text: string): (saying: Saying) => boolean {
  const votes = new Map<string, number>();
  const declared = SAYS_SO.exec(text);
  if (declared) votes.set(TONGUES[(declared[1] ?? declared[2]).toLowerCase()], ENOUGH);
  const seen = new Set<string>();
  for (const frame of Object.values(FRAMES).flat())
    for (const m of text.matchAll(frame.re)) {
      const said = m.groups?.said.toLowerCase() ?? '';
      if (seen.has(said)) continue;
      const saying = sayingOf(frame, said);
      if (!saying || VOTES[saying.sign] === 0) continue;
      if (frame.as(saying.means, said, m as RegExpExecArray) === null) continue;
      seen.add(said);
      for (const tongue of saying.tongues)
        votes.set(tongue, (votes.get(tongue) ?? 0) + VOTES[saying.sign]);
    }
  return ({ sign, tongues }) =>
    sign === '!' ||
    sign === '+' ||
    (sign === '?' && declared !== null) ||
    tongues.some((tongue) => (votes.get(tongue) ?? 0) >= ENOUGH);
}

/** A capital letter or the line's end. */
const ENDS_THERE = /^[ \t]{0,6}(?:[A-Z\n]|$)/;

function inFrames(
  text: string,
  frames: readonly Compiled[],
  holds: (saying: Saying) => boolean,
): Replacement[] {
  return frames.flatMap((frame) =>
    [...text.matchAll(frame.re)].flatMap((m) => {
      const said = m.groups?.said ?? '';
      const saying = frame.whole.find(([re, s]) => re.test(said) && holds(s))?.[1];
      const as = saying ? frame.as(saying.means, said, m as RegExpExecArray) : null;
      // A full stop that ends the sentence is none of "M.".
      const stop =
        /\.$/.test(m[0]) &&
        !as?.endsWith('.') &&
        ENDS_THERE.test(text.slice(m.index + m[0].length, m.index + m[0].length + 8));
      const to = m.index + m[0].length - (stop ? 1 : 0);
      return as === null
        ? []
        : [{ from: frame.keeps ? m.index + m[0].length - said.length : m.index, to, text: as }];
    }),
  );
}

/** The text in the trade's terms, and where each of its characters stood. */
export function translated(text: string): Replaced {
  const holds = guardOf(text);
  return readInTurn(text, [
    (t) => inFrames(t, FRAMES.words, holds),
    (t) => inFrames(t, FRAMES.stitches, holds),
    explainedStitches,
    (t) => [...inFrames(t, FRAMES.names, holds), ...otherFrames(t)],
    knownStitches,
    purposes,
  ]);
}
