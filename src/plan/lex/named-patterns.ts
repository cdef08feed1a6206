/**
 * Patterns of several rounds that a text gives a name and asks for in sentences: "work the ridge pattern twice", "basket,
 * 2nd round", "6 rounds in wave". In: the designer's text, what it names. Out: places, and what they are read as: each
 * round of the pattern a round by a name of its own.
 */
import { regex } from '../lexicon/expression.ts';
import { LABEL, type Told } from './names-told.ts';
import type { Replacement } from './numbers.ts';
import { bodyOf, isStitch, nameOf, STITCHES } from './told-bodies.ts';
import { WORK_UNIT } from './wording.ts';

interface Pattern {
  readonly names: readonly string[];
  readonly rounds: readonly string[];
  readonly from: number;
  /** Behind the telling; as `from` where its rounds stay as they stand. */
  readonly to: number;
  /** Behind all that tells it. */
  readonly end: number;
}

const WORD = "[a-zà-ÿ][a-zà-ÿ']{0,20}";
/** "Wave pattern (worked over 2 rounds):" over lines that number its rounds from 1. */
const BLOCK = regex.gim`^[ \t]{0,8}["“]?(?<name>${WORD}(?:[ -]${WORD}){0,2}?)["”]?(?: (?:pattern|stitch|st|patt))?(?: ?\([^()\n]{1,40}\))?[ ]?[:.]?[ \t]*\n(?<lines>(?:[ \t]{0,8}${LABEL}[ ]?[:.–-][^\n]*(?:\n|$)){2,8})`;
const NO_NAME =
  /^(?:.*\b(?:cast|abbreviations?|notes?|materials?|rounds?|rows?|square|instructions?|method|border|set[ -]?up|to make|knitting|begin|key)\b.*|pattern|the pattern|stitch pattern)$/i;
const CASTS_ON = /\b(?:cast(?:ing)?[ -]on|co\b|set up \d|cast \d)/i;
const LINE_LABEL = regex.i`^[ \t]*${LABEL}[ ]?[:.–-][ ]?`;

function blocksIn(text: string): Pattern[] {
  const stop = CASTS_ON.exec(text)?.index ?? 0;
  return [...text.slice(0, stop).matchAll(BLOCK)].flatMap((m) => {
    const { name = '', lines = '' } = m.groups ?? {};
    if (NO_NAME.test(name)) return [];
    const all = lines.trimEnd().split('\n');
    const numbers = all.map((line) => Number(/\d+/.exec(line)?.[0]));
    const rounds = all.map((line) => bodyOf(line.replace(LINE_LABEL, '')));
    if (numbers.some((n, i) => n !== i + 1) || !rounds.every((r) => STITCHES.test(r))) return [];
    return [
      { names: [nameOf(name)], rounds, from: m.index, to: m.index, end: m.index + m[0].length },
    ];
  });
}

function toldIn(text: string, told: readonly Told[]): Pattern[] {
  return told
    .filter(
      (t) =>
        !t.worked &&
        t.rounds.length > 1 &&
        t.rounds.length <= MOST &&
        !t.sides &&
        !t.rounds.some(isStitch) &&
        (t.means || !CASTS_ON.test(text.slice(0, t.from))),
    )
    .map(({ names, rounds, from, to }) => ({ names, rounds, from, to, end: to }));
}

/** Most rounds of one pattern. Chosen. */
const MOST = 8;
const UNIT_NAMES = 'abcdefgh';

/** `taken`: places that are read otherwise. */
export function namedPatterns(
  text: string,
  told: readonly Told[],
  taken: (at: number) => boolean,
): Replacement[] {
  const patterns = [...toldIn(text, told), ...blocksIn(text)];
  return patterns.flatMap((pattern) => {
    const inside = (at: number): boolean => patterns.some((p) => at >= p.from && at < p.end);
    const uses = usesOf(text, pattern).filter((u) => !taken(u.from) && !inside(u.from));
    if (uses.length === 0) return [];
    const { rounds, from, to } = pattern;
    const lines = rounds.map((words, i) => `The ${called(pattern, i)} round stands for: ${words}`);
    return [...uses, { from, to, text: `${lines.join('\n')}${to === from ? '\n' : ''}` }];
  });
}

const called = ({ names }: Pattern, i: number): string =>
  `${names[0].replace(/[^a-z]/g, '')}${UNIT_NAMES[i]}`;

const BEGINS = '(?<=^[ \\t•*-]{0,8}|[.;:!,(] {1,3}|\\b(?:and|then) )';
const VERB = '(?:(?:work|knit|do|make|repeat|rep|then|now|next|again|continue|and) ){0,3}';
const PART = `(?:${WORK_UNIT}) (\\d)(?: ?(?:and|&|to|-|–|\\+|,) ?(\\d))?`;
const NTH = `(\\d|fir|seco|thi|four)(?:st|nd|rd|th) (?:${WORK_UNIT})`;
const ENDS =
  '(?=[ ]?(?:[.,;!)]|$|=|[(] ?\\d)| (?:once|twice|\\d|until|till|for|again|and|then)\\b)';
const ORDINALS = ['', 'fir', 'seco', 'thi', 'four'];

function usesOf(text: string, pattern: Pattern): Replacement[] {
  const any = pattern.names
    .map((n) => n.replace(/[^a-z0-9à-ÿ' ]/g, '').replaceAll(' ', '[ -]'))
    .join('|');
  const name = `(?:in )?(?:the |our |your |this )?["“]?(?:${any})s?["”]?(?: (?:pattern|stitch|st|patt|motif))?`;
  const many = pattern.rounds.length;
  const part = (first: number, last: number): string | null =>
    first < 1 || last > many || last < first
      ? null
      : Array.from({ length: last - first + 1 }, (_, i) => i + first - 1)
          .map((i) => `work 1 ${called(pattern, i)} round`)
          .join(', ');
  const all = `[${part(1, many)}]`;
  const several = (m: RegExpExecArray, first: number, last: number): string | null => {
    const parts = part(first, last);
    const told = /^ (?:once|twice|\d|until|till|for)\b/.test(m.input.slice(m.index + m[0].length));
    return parts && `[${parts}]${told ? '' : ' 1 times'}`;
  };
  const ways: readonly (readonly [string, (m: RegExpExecArray) => string | null])[] = [
    [
      `${BEGINS}${VERB}(?:the )?${PART} (?:of|from|in) ${name}${ENDS}`,
      (m) => (m[2] ? several(m, Number(m[1]), Number(m[2])) : part(Number(m[1]), Number(m[1]))),
    ],
    [
      `${BEGINS}${VERB}(?:both|all(?: the)?|the (?:\\d|two|three|four)|all (?:\\d|three|four))(?: of the)? (?:${WORK_UNIT}) (?:of|from|in) ${name}`,
      (m) =>
        `${all}${/^,? (?:once|twice|\d|for|until)/.test(m.input.slice(m.index + m[0].length)) ? '' : ' 1 times'}`,
    ],
    [
      `${BEGINS}${VERB}(?:the )?${NTH} (?:of|from|in) ${name}${ENDS}`,
      (m) => part(numberOf(m[1]), numberOf(m[1])),
    ],
    [
      `${BEGINS}${VERB}${name},? (?:${PART}|${NTH})${ENDS}`,
      (m) => {
        const n = numberOf(m[3] ?? m[1]);
        return m[2] ? several(m, n, Number(m[2])) : part(n, n);
      },
    ],
    [
      `${BEGINS}(?:work|knit|do|make|repeat|continue)(?: (?:another|the next|a further|a total of))? (\\d{1,3})(?: more| further)? (?:${WORK_UNIT}) (?:of|in) ${name}${ENDS}`,
      (m) => `${all} for ${m[1]} rounds`,
    ],
    [
      `${BEGINS}(?:work|knit|do|make|repeat|continue)(?: (?:another|the next|1|one))? ${name}(?: all round| throughout)?(?= (?:once|twice|\\d{1,3} (?:more )?times|for \\d|until|till))`,
      () => all,
    ],
    [
      `${BEGINS}(?:work|knit|do|make|repeat)(?: (?:another|the next|1|one))? ${name}(?=[ ]?(?:[.,;!(]|$))`,
      () => `${all} 1 times`,
    ],
  ];
  return ways.flatMap(([source, as]) =>
    [...text.matchAll(new RegExp(source, 'gim'))].flatMap((m) => {
      const read = as(m as RegExpExecArray);
      return read === null ? [] : [{ from: m.index, to: m.index + m[0].length, text: read }];
    }),
  );
}

function numberOf(said: string): number {
  return /^\d/.test(said) ? Number(said) : ORDINALS.indexOf(said.toLowerCase());
}
