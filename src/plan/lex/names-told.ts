/**
 * What a text gives a name of its own: a round ("D = decrease round: …", "Decreasing (from the right side): …", "Rnd 2
 * [shrink]: …", "r2 p <- ridge!"), rounds by turns ("Basket: row 1 …; row 2 …"). In: the designer's text, tables made lines.
 * Out: names, what each stands for, and where that is told. `names-used.ts` puts it where the name stands.
 */
import { COLOUR_SHADES, COLOUR_WORDS } from '../lexicon/colour-words.ts';
import { raw, regex } from '../lexicon/expression.ts';
import { stitchKind } from '../stitches/table.ts';
import { ALONE, EXPLAINED, OF_PART, onlyListed, onlySays } from './names-explained.ts';
import { ORDINALS as ORDINALS_IN_WORDS, type Replacement } from './numbers.ts';
import {
  behindHeading,
  bodyOf,
  isStitch,
  nameOf,
  roundsIn,
  SPREAD,
  STITCHES,
  trimmedEnd,
} from './told-bodies.ts';
import { WORK_UNIT } from './wording.ts';

export interface Told {
  /** In one spelling each: see `nameOf`. */
  readonly names: readonly string[];
  /** What to work, of several rounds in turn one after another. */
  readonly rounds: readonly string[];
  /** The whole telling. */
  readonly from: number;
  readonly to: number;
  /** Where the words to work begin. */
  readonly at: number;
  /** A round of the piece bears the name, and is worked where it stands. */
  readonly worked: boolean;
  /** "D = …": it says what a name means, and is no round itself. */
  readonly means: boolean;
  /** Which of several rounds in turn it is; 0 where it is not said. */
  readonly nth: number;
  /** Its two rounds are those of right-side and wrong-side rows. */
  readonly sides?: boolean;
  /** "D = decrease round: …" says that it is a round, and what it is called. */
  readonly round?: string;
  /** "Each square is knit …": a sentence that may tell of anything. */
  readonly loose?: boolean;
  /** "on each needle: ", where that is told in front of the name. */
  readonly parts?: string;
  /** What stays of a telling that is worked where it stands, besides what follows its name. */
  readonly as?: string;
}

/** Most tellings of one text. Chosen: bounds the time. */
const MOST = 60;

const NUMBERS = '\\d{1,4}(?:(?:, ?and |, ?| ?& ?| and | ?[-–] ?| to | ?\\+ ?)\\d{1,4}){0,20}';
const ORDINALS = raw`\d{1,3}(?:st|nd|rd|th)(?:(?:, ?and |, ?| ?& ?| and | ?[-–] ?| to )\d{1,3}(?:st|nd|rd|th)){0,20}`;
export const SIDE = '(?: ?\\((?:rs|ws|right side|wrong side)\\))?';
/** "Rnd 3", "2nd and 4th rounds", "r4", and with `BARE` "3." at the beginning of a line. */
export const LABEL = `(?:(?:on |in |work )?(?:${WORK_UNIT}|turns?|laps?|r)\\.? ?(?:no\\.? ?)?${NUMBERS}|${ORDINALS} (?:${WORK_UNIT}|turns?|laps?)|next (?:${WORK_UNIT}|turn|lap))${SIDE}`;
export const BARE = `${NUMBERS}(?:st|nd|rd|th)?[.):]?`;
export const LINE = '^[ \\t>•*-]{0,8}(?:\\[ ?\\] ?)?';

const WORD = "[a-zà-ÿ][a-zà-ÿ']{0,20}";
const NAME = `["“]?[([]?(?<name>${WORD}(?:[ -](?:${WORD}|\\d{1,2})){0,3}?)[)\\]]?["”]?`;
const LONG =
  "(?:(?:the |an? |1 |one )?(?<long>(?!on |at |in |over |along |to |every |each |all |per |for |both |always |then |first |from |before |after |slip |knit |purl |work |k |p |sl |row 1|round 1|[^:]*\\b(?:before|after)\\b)[a-zà-ÿ][a-zà-ÿ' -]{2,40}?)(?:(?: ?\\([^()\\n]{1,40}\\))? ?(?::|(?<=round|rnd|row|crease|creasing),) ?(?=[*([a-z0-9])| ?\\((?=[^()\\n]{8,200}\\)[.;]?(?:[ ]|$))))?";
const THUS =
  '(?:(?:always |all )?(?:worked|knitted|knit|made|done|told) )?(?:(?:like this|as follows|thus|so|this way) ?)?';
const SIGN = `(?<sign>[ \\t]{0,16}=[ \\t]{0,8}| ?: ?| [-–] (?!\\d)|,? (?:means?|stands for|is short for|goes|go|reads|runs|consists of|is|are) ?${THUS}:? ?|\\) (?=[^:\\n]{3,40}:))`;
const LEAD = `(?:(?:key|note|legend|abbreviations?|pattern|special rounds?|where|and)[:.,]? ?)?(?:(?:the|an?|for|on|about|how|we|i|you|my|our|each|every|one|in|to|make|work) ){0,4}`;
/** "Decrease round (D), always from the right side: …", "Rice grain, 1st round: …" */
const MORE = `(?<more>(?: ?[([](?<short>[^()\\n[\\]]{1,40})[)\\]](?: (?:stitch|st|pattern))?)?(?:, (?:always|worked|the same|on|in|from|done|made)[^:\\n=,]{2,50}(?=:))?(?:,? (?:(?<nth>\\d)(?:st|nd|rd|th) ${WORK_UNIT}|(?<word>first|second|third|fourth) ${WORK_UNIT}|${WORK_UNIT} (?<nr>\\d)))?)`;
const TELLING = new RegExp(`(?:[a-z0-9]\\) )?${LEAD}${NAME}${MORE}${SIGN}${LONG}`, 'imy');
/** "b) one turn without decreases: …" */
const LETTERED =
  /["“]?(?<name>[a-h])[).] (?<sign>)(?:the |an? |1 |one )?(?<long>[a-z][a-z' -]{3,40}?)(?<short>) ?: ?/iy;
/** "A  Knit.": columns. */
const COLUMNS =
  /(?<name>[a-h])(?: {2,8}|\t+)(?<sign>)(?<long>)(?<short>)(?=[*([]|knit|purl|[kp]\d|[kp]\b|on |each |every )/iy;
/** "[C] per needle: ssk, knit to last 2, k2tog" */
const IN_BRACKETS =
  /(?<=[([])(?<name>[a-z]{1,3})[)\]](?<sign>) (?<short>)(?<long>)(?=(?:knit|purl|k|p|on|each|every|per|ssk|k2tog|\*|k ?\d|p ?\d)\b|\*)/iy;
/** "Rnd 2 [shrink]: …", "Rnd 2 eyelets: …", "Row 3 Decrease row: …" */
const LABELLED = regex.gimy`(?:${LINE}|(?<=[.;] {1,2}))(?:${LABEL}|${BARE})(?<named>[ \t]{0,3}(?::[ \t]{1,3})?[([-]?[ ]?(?:(?:(?:i'll|we|i|i'd) )?(?:call(?:ed)?(?: (?:it|this))? ))?(?:=|the |called |my |a )?(?<name>${WORD}(?:[ -]${WORD}){0,2})[)\]]?)(?<colon>[ \t]{0,2}:[ \t]*)`;
/** "Rnd 2: Dec (*k2tog, k to last 2, ssk* each needle) [48]": told at its first use. */
const AT_ONCE = regex.gim`(?:${LINE}|(?<=[.;] {1,2}))(?:${LABEL}|${BARE})(?<by>[ \t:.-]{1,4}(?:work |do |make |a |the ){0,3}(?<name>${WORD}(?:[ -]${WORD}){0,2}) ?\((?:= ?|i\.?e\.? |that is,? )?(?=[*([]|on |at |each |k ?\d|p ?\d|k2tog|ssk|knit|purl|yo)(?<told>[^()\n]{5,140})\))(?![ ]?(?:\d{1,2} ?(?:x|times)|x ?\d|times))`;
/** "r2 p <- ridge!", "Rnd 4: *yo, k2tog* (I call this the lace round)" */
const BEHIND = regex.gim`^[ \t]{0,8}(?:${LABEL}|${BARE})[ \t:.-]{1,4}(?<told>[^\n<(]{1,120}?)(?<by>[ ]?(?:<[-=–]+|←|\/\/|[-–=]*> ?(?:that'?s|this is)|\((?:we |i )?(?:call(?:ed)?)(?: (?:it|this|that))?)[ ]?(?:the |a |my |our )?(?<name>${WORD}(?: ${WORD}){0,2})(?:[ -]${WORK_UNIT})?[)!. ]{0,3})$`;

/** Words that are no name of a round, whatever stands behind them. */
const NO_NAME =
  /^(?:.*\b(?:cast|gauge|tension|needles?|yarn|size|sizes|notes?|materials?|join|finish(?:ing)?|bind|set ?-?up|work|rep|repeat|every|each|all|other|others|alternate|even|odd|uneven|next|last|following|foll|until|till|when|after|before|between|then|now|and|with|marker|markers|colou?rs?|rounds? \d.*|rows? \d.*|rnds? \d.*|abbreviations?|key|legend|dimensions|there|here|you|we|it|this|that|these|those|remaining|rest|intermediate|from|as|to)\b.*|stitch(?:es)?|sts?|k|p|sl|m|rs|ws|rnd|round|row|rows|rounds|rnds|knit|purl|plain|straight|k2tog|ssk|skp|yo|front|back|start|end|begin|beginning|rs row|ws row|right side|wrong side)$/i;
/** Fabrics that everybody knows, whatever the text says of them. */
const KNOWN_FABRIC =
  /^(?:(?:reverse |rev )?(?:garter|stockinette|stocking|st|jersey|moss|seed|pearl)(?: (?:st|sts|stitch|pattern))?|stst|g st)$/i;
/** All that the text names, in the order of its places. */
export function namesTold(text: string): readonly Told[] {
  const out: Told[] = [];
  for (const told of labelled(text)) if (out.push(told) >= MOST) return out;
  let from = 0;
  while (from < text.length && out.length < MOST) {
    const end = text.indexOf('\n', from);
    const to = end < 0 ? text.length : end;
    out.push(...tellingsIn(text, from, to));
    from = to + 1;
  }
  return inTurn(out.sort((a, b) => a.from - b.from));
}

const INDENT = /[ \t>•*-]{0,8}(?:\d{1,2}[.] )?[([]?/y;
const MOST_OF_LINE = 12;
/** Behind a sentence, or before "B = ". */
const NEXT_TELLING =
  /[.;] {1,3}(?=["“(]?[a-z])|, (?:and )?(?=["“]?[a-z]{1,12}["”]? ?(?:=|(?<=["”] ?)(?:means|is|stands)\b))/gi;
const STARTS_LABEL = regex.iy`(?:${LABEL}|${BARE}(?=[ \t]))`;

interface Heading {
  readonly at: number;
  readonly groups: Readonly<Record<string, string | undefined>>;
  /** Where the words behind it begin. */
  readonly body: number;
}

/** Where one line tells several stitches: each may have a line of its own. */
export function stitchesTold(text: string): readonly Replacement[] {
  const out: Replacement[] = [];
  for (let from = 0; from < text.length && out.length < MOST; ) {
    const end = text.indexOf('\n', from);
    const to = end < 0 ? text.length : end;
    const heads = headingsOf(text, from, to);
    const ends = heads.map((_, i) => heads[i + 1]?.at ?? to);
    if (
      heads.length > 1 &&
      heads.every(
        ({ groups, body }, i) =>
          !NO_NAME.test(groups.name ?? '') && STITCHES.test(text.slice(body, ends[i])),
      )
    ) {
      for (const [i, { at, body }] of heads.entries()) {
        const before = /[\s.;,]*(?:and )?$/.exec(text.slice(0, at))?.[0].length ?? 0;
        const stitch = isStitch(trimmedEnd(text.slice(body, ends[i])));
        if (i > 0 && (stitch || isStitch(trimmedEnd(text.slice(heads[i - 1].body, at)))))
          out.push({ from: at - before, to: at, text: '\n' });
      }
    }
    from = to + 1;
  }
  return out;
}

/** Tellings of one line; they may stand one after another. */
function tellingsIn(text: string, from: number, to: number): readonly Told[] {
  const heads = headingsOf(text, from, to);
  return heads.flatMap((head, i) => {
    const last = i === heads.length - 1;
    const under = last && head.body >= to ? behindHeading(text, head.body) : null;
    // "Note on decreasing" over "All decreases are worked at the markers: …"
    const again = under && headingAt(text, under.at, under.to, [EXPLAINED]);
    const below = again ? { at: again.body, to: under.to } : under;
    const end = below?.to ?? heads[i + 1]?.at ?? to;
    return toldBy(text, head, below?.at ?? Math.min(head.body, to), end) ?? [];
  });
}

function headingsOf(text: string, from: number, to: number): readonly Heading[] {
  INDENT.lastIndex = from;
  const first = from + (INDENT.exec(text)?.[0].length ?? 0);
  const starts = [first];
  for (const m of text.slice(first, to).matchAll(NEXT_TELLING))
    starts.push(first + m.index + m[0].length);
  STARTS_LABEL.lastIndex = first;
  if (STARTS_LABEL.test(text)) return [];
  const heads = starts.slice(0, MOST_OF_LINE).flatMap((at) => headingAt(text, at, to) ?? []);
  return heads[0]?.at === first ? heads : [];
}

const HEADINGS = [EXPLAINED, LETTERED, COLUMNS, IN_BRACKETS, TELLING, ALONE];

function headingAt(text: string, at: number, to: number, all = HEADINGS): Heading | null {
  for (const re of all) {
    re.lastIndex = at;
    const m = re.exec(text);
    if (!m?.groups || at + m[0].length > to + 1) continue;
    const { lead = '', says, quoted, shaped, loose, long = '', sign = '' } = m.groups;
    if (says !== undefined && onlyListed(lead, says, loose)) continue;
    const name = m.groups.name ?? quoted ?? shaped ?? '';
    // "P = purl" parts what stands beside it.
    if (!NO_NAME.test(name) || isName(long) || /=|mean|stand/.test(sign)) {
      const means = says === undefined ? sign : onlySays(lead, says) ? ' means ' : ': ';
      return { at, groups: { ...m.groups, name, sign: means }, body: at + m[0].length };
    }
  }
  return null;
}

/** "knit every row", "knit round", "purl all the stitches" */
const PLAINLY =
  /^(knit|purl|k|p)(?:(?: (?:on )?(?:every|each|all|the|a))*(?: (?:rounds?|rnds?|rds?|rows?|stitch(?:es)?|sts?))?)?$/i;
const EVERY = /^(?:knit|purl|k|p)( (?:on )?(?:every|each|all)(?: the)? (?:rows?|rounds?|rnds?))$/i;

const ROUND_LAST = regex.i`(?:^|[ -])(?:${WORK_UNIT}|(?:de|in)creas[a-z]*)$`;

/** "decrease" of "D = decrease round: …", "dec rnd = …" */
function roundCalled({ name = '', long = '' }: Heading['groups']): string | undefined {
  const called = [long, name].find((n) => regex.i` ${WORK_UNIT}$`.test(n));
  return called && nameOf(called);
}

/** What is told of each part, in the words of a round. */
function onEach(words: string, spread: string | null): { words: string; parts?: string } {
  const said = words.replace(/\b(?:you|we) (?:(?:work|do|make|always) )?/gi, '');
  if (!spread || /\*|\b(?:on|in|at) (?:each|every|all)\b/i.test(said)) return { words: said };
  const parts = `on ${spread}: `;
  return { words: parts + said, parts };
}

/** Longest telling, in characters. Chosen: bounds the time. */
const LONGEST = 600;
/** Stitches that go across a cable needle are a stitch of the glossary, and no round. */
const CABLED = /\b(?:to|from|on) (?:the |a )?(?:cable needle|cn)\b/i;

/** "(squeeze = every needle ssk, k to last 2, k2tog)", "taper round (each needle: …)": a bracket that opens before it. */
function withoutBracket(words: string): string {
  const open = words.match(/[([]/g)?.length ?? 0;
  const closed = words.match(/[)\]]/g)?.length ?? 0;
  return closed > open ? words.replace(/[)\]](?=[\s.;,]*$)/, '') : words;
}

/** "slm: slip marker", "wyif = slip with yarn in front": no stitches are worked. */
const HANDLES =
  /^(?:slip|slipping|place|placing|move|pass|remove|take off|put)\b[^,;.]{0,30}\b(?:markers?|yarn|needle)\b[^,;.]{0,30}$/i;

function toldBy(text: string, { at, groups }: Heading, first: number, to: number): Told | null {
  if (to - first > LONGEST) return null;
  const said = bodyOf(withoutBracket(text.slice(first, to)));
  const part = OF_PART.exec(groups.spread ?? groups.each ?? groups.short ?? '');
  const { words, parts } = onEach(
    said,
    part && `each ${part[1] ? `of the ${part[1]} ` : ''}${part[2]}`,
  );
  const rounds = roundsIn(words.replace(PLAINLY, '$1'));
  if (!rounds || !STITCHES.test(words) || isStitch(words) || CABLED.test(words)) return null;
  if (HANDLES.test(words)) return null;
  const sign = groups.sign ?? '';
  const nth = Number(
    groups.nth ?? groups.nr ?? ORDINALS_IN_WORDS.get(groups.word?.toLowerCase() ?? '') ?? 0,
  );
  const names = namesOf(groups, words, rounds.length > 1 || nth > 0 || EVERY.test(words)).filter(
    // "ssp: slip 2 knitwise one by one, purl them together through the back"
    (name) => name.length < 3 || stitchKind(name) === null,
  );
  if (names.length === 0) return null;
  const means = sign === '' || !/^ ?:|^ [-–]/.test(sign);
  const sides = rounds.length === 2 && /^(?:on )?(?:the )?(?:rs|right[ -]side)\b/i.test(said);
  const round = /=/.test(sign) ? roundCalled(groups) : undefined;
  const { name = '' } = groups;
  const loose = /^,? (?:is|are|goe?s?|reads|runs) /i.test(sign) && !ROUND_LAST.test(name);
  return {
    names,
    rounds,
    sides,
    ...(parts && { parts }),
    ...(loose && { loose }),
    ...(round && { round }),
    from: at,
    to,
    at: first,
    worked: false,
    means,
    nth,
  };
}

/** "Rice grain, 1st round: …" and "Rice grain, 2nd round: …" are one. */
function inTurn(all: readonly Told[]): readonly Told[] {
  const out: Told[] = [];
  for (const t of all) {
    const before = out.at(-1);
    const goesOn =
      before && t.nth > 1 && before.nth === t.nth - 1 && before.names[0] === t.names[0];
    if (goesOn)
      out[out.length - 1] = {
        ...before,
        rounds: [...before.rounds, ...t.rounds],
        to: t.to,
        nth: t.nth,
      };
    else out.push(t);
  }
  return out;
}

function isName(name: string): boolean {
  return name !== '' && !NO_NAME.test(name) && !KNOWN_FABRIC.test(name);
}

/** Words that name a round with the word for one behind them: "plain round", "back row". */
const WITH_UNIT =
  /^(?:plain|straight|back|front|knit|purl|wrong side|right side|rs|ws) (?:rounds?|rnds?|rds?|rows?)$/i;

/** "Shaping: …" decreases or increases, as its stitches do. */
const SHAPES = /^(?:shaping|reduction|narrowing|reducing|widening)$/;
const shapedBy = (words: string): string =>
  /\b(?:yo|m1[lrp]?|kfb|pfb|make 1|inc[a-z]*|yarn[ -]?overs?)\b/i.test(words) &&
  !/tog|ssk|skp|psso/i.test(words)
    ? 'increase'
    : 'decrease';

/** A fabric that everybody knows is the text's own where it is told by several rounds, or by one for all. */
function namesOf(groups: Heading['groups'], words: string, ownFabric: boolean): string[] {
  const { short = '', long = '', sign = '' } = groups;
  const { name = '' } = groups;
  const glossed = /\b(?:rs|right side|wrong side|from|all|each|every|\d+)\b/i.test(short)
    ? ''
    : short;
  const names = [name, glossed, long]
    .filter(
      (n) =>
        isName(nameOf(n)) ||
        WITH_UNIT.test(n) ||
        (/=/.test(sign) && (/^plain$/i.test(n) || (/^[kp]$/i.test(n) && PLAINLY.test(words)))) ||
        (ownFabric && KNOWN_FABRIC.test(n)),
    )
    .map(nameOf)
    .flatMap((n) => (SHAPES.test(n) ? [n, shapedBy(words)] : [n]))
    .filter((n) => !/\d{2}/.test(n));
  // "s: …" is a line of anything.
  const defines =
    /=/.test(sign) || long + glossed !== '' || SPREAD.test(words) || /^[kp]\w*$/i.test(words);
  return [...new Set(names.filter((n) => n.length > 2 || defines))];
}

/** "Rnd 2 dark blue: …", "Rnd 3 A: …", "Rnd 4 MC: …" */
function isYarn(name: string): boolean {
  const said = name.toLowerCase().split(' ');
  return (
    /^(?:[a-z]|mc|cc\d?|yarn .*)$/i.test(name) ||
    said.every((w) => COLOUR_WORDS.has(w) || COLOUR_SHADES.has(w))
  );
}

/** Rounds of the piece that bear a name. */
function labelled(text: string): readonly Told[] {
  const out: Told[] = [];
  for (const m of text.matchAll(new RegExp(LABELLED.source, 'gim'))) {
    const { name = '', named = '' } = m.groups ?? {};
    const at = m.index + m[0].length;
    const end = text.indexOf('\n', at);
    const line = text.slice(at, end < 0 ? text.length : end);
    const words = bodyOf(line.replace(/\. .*$/, ''));
    const base = nameOf(name);
    const known = base === 'plain';
    if (!(isName(base) || known) || !STITCHES.test(words)) continue;
    if (isYarn(name) && !known) continue;
    if (STITCHES.test(name) && !known) continue;
    // "2. Make the corners: …"
    const behind = m.index + m[0].length - named.length - (m.groups?.colon ?? '').length;
    const from = behind - Number(/\d[.):]/.test(text.slice(behind - 2, behind)));
    const names = isName(base) ? [base] : [];
    out.push({
      names,
      rounds: [words],
      from,
      to: at,
      at,
      worked: true,
      means: false,
      nth: 0,
    });
  }
  for (const m of text.matchAll(AT_ONCE)) {
    const { told = '', by = '', name = '' } = m.groups ?? {};
    if (!isName(nameOf(name)) || STITCHES.test(name) || !SPREAD.test(told) || isStitch(told))
      continue;
    const to = m.index + m[0].length;
    const rounds = [bodyOf(told)];
    const from = to - by.length;
    out.push({
      names: [nameOf(name)],
      rounds,
      from,
      to,
      at: from,
      worked: true,
      means: false,
      nth: 0,
      as: `: ${told}`,
    });
  }
  for (const m of text.matchAll(BEHIND)) {
    const { told = '', by = '', name = '' } = m.groups ?? {};
    const base = nameOf(name);
    if (!isName(base) || !STITCHES.test(told)) continue;
    const from = m.index + m[0].length - by.length;
    out.push({
      names: [base],
      rounds: [bodyOf(told)],
      from,
      to: m.index + m[0].length,
      at: m.index,
      worked: true,
      means: false,
      nth: 0,
    });
  }
  return out;
}
