/**
 * Rounds told by a name alone ("Rnd 3  D - 88 sts", "2: dec = 72", "Rows 5-8: basket") as what the text explains the name by
 * (`names-told.ts`), above or below. In: the designer's text, tables made lines. Out: places, and what they are read as;
 * names that are explained in two ways.
 */
import { raw, regex } from '../lexicon/expression.ts';
import { namedPatterns } from './named-patterns.ts';
import { BARE, LABEL, LINE, namesTold, SIDE, stitchesTold, type Told } from './names-told.ts';
import type { Replacement } from './numbers.ts';
import { nameOf, SPREAD } from './told-bodies.ts';
import { toldShaping, type Way } from './told-shaping.ts';
import { WORK_UNIT } from './wording.ts';

/** Longest range of rounds that is told one by one. Chosen. */
const MOST_ROUNDS = 200;

const WORKS =
  "(?:(?:work|do|make|knit|then|now|again|another|a|an|the|one|1|as|with|=|like|use|using|follow|apply|is|are|will be|should be|just|this is|it's) ?){0,5}";
/** "dec*", its way told at the foot. */
const FOOTNOTE = '(?:[*†‡¹²³]{1,3}(?=[ ,.;:(]|$))?';
const PART =
  '(?:sides?|needles?|ndls?|sections?|quarters?|wedges?|sectors?|segments?|panels?|parts?)';
const ON_ALL = `(?<spread>,? (?:on|in|at|along|over) (?:all|each|every)(?: of)?(?: the| your)?(?: (?<parts>\\d{1,2}|two|three|four|five|six|seven|eight))? ${PART})?`;
const AGAIN =
  '(?:,? (?:again|as before|as above|as described|as explained|once more|as usual|as given))?';
const SEE = `(?:,? ?\\(?(?:see|as in|as per|according to|following|as described in|as explained in|like in)(?: the)?(?: (?<other>(?!above|below)[a-z][a-z' -]{2,30}?))?(?: (?:above|below))?\\)?)?`;
const COUNT_NEXT = raw`(?:[.!](?=[ \t]))?[ \t]*(?:[-–=>:→,;!(\[<]|->|\bto\b)*[ \t]*[([]?=?[ ]?(?=\d{1,5}(?: ?(?:sts?|stitches|m|in all|left|total|remain(?:ing)?)\b)?(?:[ ]*[)\].,;|!]|[ ]*\([^()\n]*\)|[ \t]*$))`;
const COUNT_AT_ONCE = `(?<count>${COUNT_NEXT})`;
const ENDS = `(?:${COUNT_AT_ONCE}|(?=[ ]?[.;!](?:\\s|$)|[ \\t]*$|[ \\t]*[\\ufdd0-\\ufdef]|[ ]?[=([]|[ ]?[-–] ))`;

interface Use {
  readonly at: number;
  readonly to: number;
  readonly told: readonly Told[];
  readonly text: string;
  /** Its label is a number alone. */
  readonly bare?: boolean;
}

/** Words as they may be spelled. */
function spelled(name: string): string {
  return name
    .split(' ')
    .map((w) => w.replace(/[^a-z0-9à-ÿ']/g, ''))
    .map((w) =>
      w === 'decrease' || w === 'increase'
        ? `${w.slice(0, 3)}(?:r(?:ease|easing|eases)?)?s?\\.?`
        : `${w}${w.length > 3 ? 's?' : ''}`,
    )
    .join('[ -]');
}

function usesOf(names: readonly string[]): RegExp {
  const any = [...names, 'decrease', 'increase']
    .sort((a, b) => b.length - a.length)
    .map(spelled)
    .join('|');
  return regex.gim`(?<label>(?:${LINE}|(?<=[.;!] {1,2}))(?:(?:and|now|then|on|in|for|the|your),? ){0,3}(?:${LABEL}|(?<=^[ \t>•*-]{0,8})${BARE}))(?<colour>[ \t]{0,16}(?:(?:\ufdd2|:? ?(?:in|with) )[a-z ]{1,24}?[ \t]*,?|:[A-H])(?=[ \t])|[\ufdd0\ufdd1][ \t]*)?[ \t]{0,16}[:.,-]?[ \t]{0,16}(?:${WORKS}["“]?[([]?(?<name>(?:${any})(?![a-z0-9]))[)\]]?["”]?(?:[ -]${WORK_UNIT})?${FOOTNOTE}(?:,? (?<nth>\d)(?:st|nd|rd|th) ${WORK_UNIT}|,? ${WORK_UNIT} (?<nr>\d)(?!\d))?${AGAIN}${ON_ALL}${AGAIN}${SEE})${ENDS}`;
}

/** Stitches by their name within a row: "Row 1: moss 4, k24, moss 4", each row its own of those that take turns. */
function piecesIn(text: string, told: readonly Told[]): readonly Use[] {
  // What stands above the cast-on is read with the abbreviations.
  const parts = told.filter(
    (t) =>
      !t.worked &&
      t.rounds.every(isPiece) &&
      (t.rounds.length > 1 || CASTS_ON.test(text.slice(0, t.from))),
  );
  if (parts.length === 0) return [];
  const any = parts.flatMap((t) => t.names.map(spelled)).join('|');
  const piece = regex.gim`(?<=[:,;*([] ?|\b(?:and|then|work|make|knit) )(?:in )?(?:(?<many>\d{1,2}|an?|the) )?(?<name>(?:${any})(?![a-z0-9]))(?=[ ]?(?:[,;.*)\]=]|$))`;
  return [...text.matchAll(ROWS)].flatMap(({ index, 0: row, 1: label, 2: side }) => {
    const numbers = (label.match(/\d+/g) ?? []).map(Number);
    return [...row.matchAll(piece)].flatMap((m) => {
      const found = parts.filter((t) => t.names.includes(nameOf(m.groups?.name ?? '')));
      const nth = (n: number): number => (n - 1) % (found[0]?.rounds.length ?? 1);
      if (found.length === 0 || numbers.some((n) => nth(n) !== nth(numbers[0]))) return [];
      const at = index + m.index;
      const bySide = found[0].sides === true;
      const flips = bySide && side === undefined && beginsWrong(text) ? 1 : 0;
      const which = bySide && side ? Number(/w/i.test(side)) : nth(numbers[0]) + flips;
      const body = found[0].rounds[which % found[0].rounds.length];
      const many = Number(m.groups?.many ?? 1) || 1;
      const said = many > 1 ? `(${body}) ${many} times` : body;
      return [{ at, to: at + m[0].length, told: found, text: said }];
    });
  });
}

const ROWS = regex.gim`^[ \t>•*-]{0,8}(${LABEL.replace(SIDE, '')})(?: ?\((rs|ws|right side|wrong side)\))?[^\n]*`;
const isPiece = (words: string): boolean =>
  /^(?:[([*]|[kp] ?\d|(?:knit|purl|slip|sl) ?\d|yo|ssk|k2tog)/i.test(words) &&
  !/\b(?:end|each|every|last|until|rep)\b/i.test(words);

/** Names of rounds that ask for nothing, used again or not. */
const OF_ANY_ROUND = /^(?:eyelet|lace|hole|picot|ridge|shaping|corner)s?$/;

export interface NamesRead {
  readonly words: Replacement[];
  /** Second explanations of a name that is used: where they stand, and the name. */
  readonly twice: readonly Twice[];
}

export interface Twice {
  readonly from: number;
  readonly to: number;
  readonly name: string;
}

export function namesUsed(text: string): NamesRead {
  const told = namesTold(text);
  const worked = told.filter((t) => t.worked && t.names.every((n) => OF_ANY_ROUND.test(n)));
  const words: Replacement[] = [
    ...worked.map(cut),
    ...told.flatMap((t) => standsFor(t, t.round)),
    ...stitchesTold(text),
  ];
  const names = [...new Set(told.flatMap((t) => t.names))];
  if (names.length === 0)
    return { words: [...words, ...namedPatterns(text, [], () => false)], twice: [] };
  const uses = [
    ...[...text.matchAll(usesOf(names))].flatMap((m) => useAt(m, told) ?? []),
    ...piecesIn(text, told),
  ];
  const used = new Set(uses.flatMap((u) => u.told));
  const read = readPlaces(text, uses, used);
  words.push(...told.flatMap((t) => (used.has(t) ? [] : onlyAsked(t, text, told))));
  const begun = text.search(CASTS_ON);
  const shaped: readonly Way[] = told
    .filter((t) => isForAll(t, text))
    .flatMap((t) =>
      t.names
        .filter((n) => /^[a-z]{3,}$/.test(n))
        .map((said) => ({ said, name: grammarName(t), words: t.rounds[0] })),
    );
  words.push(...namedPatterns(text, told, (at) => at < begun || read[at] === 1));
  words.push(
    ...toldShaping(text, shaped, (at) => at < begun || read[at] === 1 || insideTold(told, at)),
  );
  if (uses.length === 0) return { words, twice: [] };
  words.push(...uses.map(({ at, to, text: as }) => ({ from: at, to, text: as })));
  for (const t of used) if (!worked.includes(t)) words.push(...withoutTelling(t, text, uses, read));
  words.push(...headingsOf(text, [...used]), ...beside(text, uses));
  return { words, twice: toldTwice([...used], uses) };
}

/** The name that a round of the piece bears, and what parts it from the number. */
const cut = ({ from, to, at, as }: Told): Replacement => ({
  from,
  to,
  text: as ?? (to === at ? ': ' : ''),
});

/** "3 knit" among rounds that are told by their number and a name. */
function beside(text: string, uses: readonly Use[]): Replacement[] {
  const bare = uses.filter((u) => u.bare);
  if (bare.length === 0) return [];
  const first = Math.min(...bare.map((u) => u.at)) - BESIDE;
  const last = Math.max(...bare.map((u) => u.to)) + BESIDE;
  return [...text.matchAll(BARE_ROUND)]
    .filter(({ index }) => index > first && index < last)
    .filter(({ index, 0: all }) => !bare.some((u) => u.at === index + all.length))
    .map(({ index, 0: all }) => ({ from: index + all.length, to: index + all.length, text: ':' }));
}

/** Characters within which lines belong to one list. Chosen. */
const BESIDE = 400;
const BARE_ROUND =
  /^[ \t]{0,8}\d{1,3}(?: ?[-–] ?\d{1,3})?(?= (?:[*([]|[a-z]))(?! (?:sts?|stitches|rounds?|rnds?|rows?|cm|mm|g|grams?|balls?|skeins?|needles?|x|times|dpns|in|of|on|to|by)\b)/gim;

/** "Key", alone in its line above what is told. */
const HEADING =
  /^[ \t]*(?:the )?(?:key|legend|abbreviations|rounds used)(?: to (?:the )?(?:table|chart|rounds))?[ ]?:?[ \t]*\n(?=\s*\S)/gim;

function headingsOf(text: string, used: readonly Told[]): Replacement[] {
  return [...text.matchAll(HEADING)].flatMap(({ index, 0: said }) => {
    const to = index + said.length;
    const first = to + text.slice(to).search(/\S/);
    const below = text.slice(first).split('\n', 4).join('\n').length;
    return used.some((t) => !t.worked && t.from >= first && t.from <= first + below)
      ? [{ from: index, to: to - 1, text: '' }]
      : [];
  });
}

/** Explained in two ways before it is used. */
function toldTwice(used: readonly Told[], uses: readonly Use[]): readonly Twice[] {
  const out: Twice[] = [];
  const only = used.filter((t) => !t.worked);
  only.forEach((t, i) => {
    const first = only.slice(0, i).find((o) => o.names.some((n) => t.names.includes(n)));
    if (!first || first.rounds.join() === t.rounds.join()) return;
    const between = uses.some((u) => u.at > first.to && u.at < t.from && u.told.includes(t));
    if (!between)
      out.push({
        from: t.from,
        to: t.to,
        name: t.names.find((n) => first.names.includes(n)) ?? '',
      });
  });
  return out;
}

function useAt(m: RegExpMatchArray, told: readonly Told[]): Use | null {
  const {
    label = '',
    colour = '',
    name = '',
    spread,
    parts,
    other,
    count,
    nth,
    nr,
  } = m.groups ?? {};
  const start = m.index ?? 0;
  if (
    m[0].replace(/[^([]/g, '').length !== m[0].replace(/[^)\]]/g, '').length &&
    !/[([][ ]?$/.test(m[0])
  )
    return null;
  const asked = nameOf(other ?? name);
  const found = told.filter(
    (t) => t.names.includes(asked) && !(t.worked && within(start, m[0].length, t)),
  );
  const one = found.findLast((t) => t.to <= start) ?? found[0];
  if (!one) return null;
  const which = Number(nth ?? nr ?? 0);
  if (which > one.rounds.length) return null;
  const rounds = which ? [one.rounds[which - 1]] : one.rounds;
  const each = /[\ufdd0\ufdd1]/.test(colour);
  const bodies = rounds.map((body) => {
    const words = withoutCount(body, count);
    return each ? ofOnePart(words) : onAll(words, spread, parts);
  });
  if (bodies.includes(null)) return null;
  const bare = label.replace(/(?<=\d[a-z]{0,2})[.):]$/, '') + colour;
  const mark = colour === '' ? ': ' : ' ';
  const to = start + m[0].length;
  const joint = jointOf(count);
  if (bodies.length === 1)
    return {
      at: start + bare.length,
      to,
      told: found,
      bare: !/[a-z]/i.test(label),
      text: `${mark}${bodies[0]}${joint}`,
    };
  const first =
    one.sides && Number(/\d+/.exec(label)?.[0]) % 2 === Number(beginsWrong(m.input ?? ''));
  const lines = inTurn(label, first ? (bodies as string[]).toReversed() : (bodies as string[]));
  return lines === null ? null : { at: start, to, told: found, text: lines + joint };
}

/** "… (+8 sts, two in each quarter)" where the round says itself how many there are. */
function withoutCount(body: string, count: string | undefined): string {
  const plain = /^(?:[kp] ?\d{1,2}[, ]*){2,8}$/i.test(body) ? `*${body}; rep from * to end` : body;
  return count === undefined ? plain : plain.replace(/[ ]?\([=+-]?[ ]?\d[^()]*,[^()]*\)$/, '');
}

/** What parts the count behind a use from its stitches. */
const jointOf = (count: string | undefined): string =>
  count === undefined ? '' : /[([]/.test(count) ? ' (' : ' = ';

function within(from: number, length: number, t: Told): boolean {
  return t.from >= from && t.from <= from + length;
}

/** "… on all 4 sides" of what is told for one, or for all of them. */
function onAll(body: string, spread: string | undefined, parts: string | undefined): string | null {
  if (!spread) return body;
  if (/\b(?:each|every|all|times|x|rep|repeat|both)\b|\*/i.test(body)) {
    const told =
      /\b(?:all|each|every|rep\w*)(?: of)?(?: the)? (\d{1,2})\b|\b(\d{1,2}) times\b/i.exec(body);
    const n = told?.[1] ?? told?.[2];
    return !parts || !n || n === parts ? body : null;
  }
  return `${spread.replace(/^,? /, '')}: ${body}`;
}

/** What a table works on each of the parts in its head, told of one of them. */
function ofOnePart(body: string): string | null {
  const words = body.replace(
    /^(?:on |in |at )?(?:each|every|per)(?: of the \d)? [a-z]+(?: as follows)?[:,]? /i,
    '',
  );
  return /\b(?:each|every|all|per)\b|\*/i.test(words) ? null : words;
}

/** The first row is a wrong-side row. */
const beginsWrong = (text: string): boolean =>
  /\b(?:row|r) ?\d{0,2}[13579] ?\((?:ws|wrong)/i.test(text);

/** "Rows 5-8: basket" as a line each. */
function inTurn(label: string, bodies: readonly string[]): string | null {
  const numbers = [...label.matchAll(/(\d{1,4})(?: ?(?:[-–]|to) ?(\d{1,4}))?/g)].flatMap(
    ([, a, b]) => {
      const [first, last] = [Number(a), Number(b ?? a)];
      return last < first || last - first > MOST_ROUNDS
        ? []
        : Array.from({ length: last - first + 1 }, (_, i) => first + i);
    },
  );
  if (numbers.length === 0) return null;
  const unit = /row/i.test(label) ? 'Row' : 'Round';
  return numbers.map((n, i) => `${unit} ${n}: ${bodies[i % bodies.length]}`).join('\n');
}

/** The telling in words that the grammar knows for one, so that it works nothing by itself. */
function standsFor(t: Told, name: string | undefined): Replacement[] {
  const { from, at, rounds, parts = '' } = t;
  return name && rounds.length === 1
    ? [{ from, to: at, text: `The ${name} round stands for: ${parts}` }]
    : [];
}

/** The telling passed over; left as what the name means where it is asked for otherwise, or where it is worked as well. */
function withoutTelling(
  t: Told,
  text: string,
  uses: readonly Use[],
  read: Uint8Array,
): Replacement[] {
  if (t.worked) return isAskedFor(t, text, read) ? [] : [cut(t)];
  if (!isOnlyTold(t, text, uses)) return [];
  if (!isAskedFor(t, text, read)) return [{ from: t.from, to: t.to, text: '' }];
  return standsFor(t, grammarName(t));
}

/** A whole round that is told above the cast-on, or as what its name means. */
function isForAll(t: Told, text: string): boolean {
  if (
    t.worked ||
    t.loose ||
    t.rounds.length > 1 ||
    GLOSSARY.test(t.rounds[0]) ||
    !SPREAD.test(t.rounds[0])
  )
    return false;
  const before = text.slice(0, t.from);
  return t.means || !CASTS_ON.test(before) || ENDED.test(before);
}
/** "BOR – beginning of round; k – knit; …": a list of other things. */
const GLOSSARY = /[;,.] ?[a-z0-9()]{1,12} ?(?:=| [–-] )/i;
/** What stands at the foot of the text is told of all of it. */
const ENDED =
  /\b(?:bind off|cast off|fasten off|draw up|(?:thread|draw|pull) (?:the |your )?(?:yarn|end|wool|tail)|bo)\b/i;

const insideTold = (told: readonly Told[], at: number): boolean =>
  told.some((t) => at >= t.from && at < t.to);

/** A round that is asked for in sentences alone. */
function onlyAsked(t: Told, text: string, told: readonly Told[]): Replacement[] {
  if (t.round || !isForAll(t, text)) return [];
  if (!isAskedFor(t, text, readPlaces(text, [], told))) return [];
  return standsFor(t, grammarName(t));
}

const grammarName = (t: Told): string => t.names.find((n) => n.length > 2) ?? '';

/** The name stands in some sentence as well: "then work the decrease round until 8 sts remain". */
function isAskedFor({ names }: Told, text: string, read: Uint8Array): boolean {
  const any = names.map((n) => (n.length > 2 ? spelled(n) : `${n}(?=[ ]?,)`)).join('|');
  for (const { index } of text.matchAll(regex.gi`\b(?:${any})(?![a-z])`))
    if (!read[index]) return true;
  return false;
}

/** 1 where a name is told or its use is read. */
function readPlaces(text: string, uses: readonly Use[], told: Iterable<Told>): Uint8Array {
  const read = new Uint8Array(text.length);
  for (const { at, to } of uses) read.fill(1, at, to);
  for (const { from, to } of told) read.fill(1, from, to);
  return read;
}

const NUMBERED = regex.gim`^[ \t>•*-]{0,8}(?:${LABEL}|${BARE}(?=[ \t]))`;
const CASTS_ON = /\b(?:cast(?:ing)?[ -]on|co\b|set up \d|cast \d)/i;

/** It is not one of the rounds around it: those count on without it. */
function isOnlyTold(t: Told, text: string, uses: readonly Use[]): boolean {
  if (t.means) return true;
  const before = text.slice(0, t.from);
  if (!CASTS_ON.test(before)) return true;
  const last = [...before.matchAll(NUMBERED)].at(-1)?.[0].match(/\d+/g)?.at(-1);
  NUMBERED.lastIndex = t.to;
  const next = NUMBERED.exec(text)?.[0].match(/\d+/)?.[0];
  NUMBERED.lastIndex = 0;
  if (next === undefined) return uses.some((u) => u.at < t.from);
  if (last === undefined) return Number(next) === 1;
  return Number(next) === 1 || Number(next) === Number(last) + 1;
}
