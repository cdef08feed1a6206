/**
 * Names in one spelling, and what a name stands for: its words up to where they tell what to work, of one round or several in turn, and what the round
 * changes. In: the words behind a name. Out: the same in the shape in which they may stand behind a round's label.
 */
import { regex } from '../lexicon/expression.ts';
import { stitchWorked } from './explained-stitches.ts';
import { WORK_UNIT } from './wording.ts';

export const STITCHES =
  /(?:\b|(?<=\d))(?:knit|purl|knitting|purling|k ?\d*|p ?\d*|k2tog|k3tog|p2tog|ssk|skpo?|sk2p|cdd|yo|yfwd|m1[lr]?|kfb|pfb|tog|together|slip|sl|psso|tbl|garter|stockinette|moss|seed|yarn[ -]?overs?)\b/i;
/** "work into front and back of the stitch" */
const ONE_PART = /^[^,*([]{1,80}$/;
const INTO_ONE =
  /\b(?:in|into) (?:the |a )?(?:same |next |one |1 )?st(?:itch)?\b|\b(?:front|back) (?:loop|leg|of)|\bfront\b.*\bback\b/i;
/** A round is worked to its end, or over each of its parts. */
export const SPREAD =
  /\b(?:each|every|all|needles?|sides?|until|till|to (?:the )?(?:end|last|next|marker)|across|around|rounds?|rnds?|times|rep(?:eat)?|markers?)\b/i;

/** Rounds one after another: "row 1 …; row 2 …", "on RS rows …; on WS rows …". */
const IN_TURN = regex.gi`(?:^|[;.,] ?)(?:on |in )?(?:the )?(?:(?:${WORK_UNIT}|r) ?(\d)(?: ?(?:-|–|to|and|&|,|\+) ?(\d))?|(\d)(?:st|nd|rd|th)(?: (?:-|–|to|and|&) (\d)(?:st|nd|rd|th))? ${WORK_UNIT}|(rs|right[ -]side)(?: ${WORK_UNIT})?|(ws|wrong[ -]side)(?: ${WORK_UNIT})?)[:,]? `;

const PLAIN = `(knit|purl|k|p) (\\d|a|one|two|three|four) ${WORK_UNIT}`;
const NUMBERS = ['', 'one', 'two', 'three', 'four'];
/** "purl 1 round, knit 2 rounds" */
function plainRounds(body: string): readonly string[] | null {
  const list = new RegExp(`^${PLAIN}(?:(?:,| and|, and|,? then|;) ${PLAIN}){1,5}$`, 'i');
  if (!list.test(body)) return null;
  const out = [...body.matchAll(new RegExp(PLAIN, 'gi'))].flatMap(([, verb, many]) =>
    new Array<string>(Number(many) || NUMBERS.indexOf(many.toLowerCase()) || 1).fill(
      /^k/i.test(verb) ? 'knit' : 'purl',
    ),
  );
  return out.length <= 8 ? out : null;
}

/** What to work, in turn; null where the words number their rounds otherwise. */
export function roundsIn(body: string): readonly string[] | null {
  const plain = plainRounds(body);
  if (plain) return plain;
  const heads = [...body.matchAll(IN_TURN)];
  if (heads.length === 0 || heads[0].index > 0) return [body];
  if (heads.length < 2) return null;
  const out: string[] = [];
  for (const [i, m] of heads.entries()) {
    const first = Number(m[1] ?? m[3] ?? (m[5] ? 1 : 2));
    const last = Number(m[2] ?? m[4] ?? first);
    if (first !== out.length + 1 || last < first) return null;
    const words = body.slice(m.index + m[0].length, heads[i + 1]?.index ?? body.length);
    for (let n = first; n <= last; n++) out.push(trimmedEnd(words));
  }
  return out;
}

export const trimmedEnd = (words: string): string => words.replace(/[\s.;,!]+$/, '');

/** Counts of the whole round behind its stitches: those hold where it is told alone. */
const COUNT_BEHIND =
  /[\s]*(?:[-–=:;,.]|->|→)?[ ]?[([]?=?[ ]?\d{1,5}(?: ?(?:sts?|stitches|m))?(?: (?:left|remain(?:ing)?|in all|total|on the needles?))?[.)\]]*$/i;

/** "= 8 decreases in the round", ". 8 sts decreased", "-> -8": what one such round changes. */
const CHANGE_BEHIND =
  /[\s.,;:(=–>→-]*(?:(?<!\d )(?:=|->|→|this is|that is|that makes|so) ?)?(?:(\d{1,3}) ?(?:sts?|stitches)? ?(decreas|fewer|less|gone|lost|increas|more|gained|new)[a-z']*(?: sts| stitches)?(?: (?:in|per|on|each|every|all|the|round|rnd|row|time|total)){0,4}|([-–−+])(\d{1,3})(?: (?:sts?|stitches))?)[\s.)\]]*$/i;

function change(body: string): { readonly bare: string; readonly told: string } {
  const m = CHANGE_BEHIND.exec(body);
  if (!m || m.index < 3) return { bare: body, told: '' };
  const more = /^(?:inc|more|gain|new)/i.test(m[2] ?? '') || m[3] === '+';
  return {
    bare: body.slice(0, m.index),
    told: ` (${m[1] ?? m[4]} sts ${more ? 'in' : 'de'}creased)`,
  };
}

/** "k2tog, k to 2 before m, ssk, x4": all of it so often. */
const soOften = (words: string): string =>
  words.replace(/^([^*()[\]]+?),? (?:x ?(\d{1,2})|(\d{1,2}) ?(?:times|x))$/i, '($1) $2$3 times');

/** "a cutting round, in which you …" */
const IN_WHICH =
  /^(?:(?:in|on) which|where|when|during which|that is|i\.e\.)[,:]? (?:(?:you|we|one|i) )?(?:(?:work|do|make) (?=[*([]|k|ssk|on|at))?/i;

export function bodyOf(words: string): string {
  const { bare, told } = change(trimmedEnd(words).replace(IN_WHICH, ''));
  return `${soOften(withoutCount(bare))}${told}`;
}

function withoutCount(words: string): string {
  const body = trimmedEnd(words);
  const bare = body.replace(COUNT_BEHIND, '');
  // "k2tog, k 12": the number of the last stitches is no count.
  const behind = body.slice(bare.length);
  return /[-–=:;([→>]|\d\d ?(?:sts?|stitches)/.test(behind) && bare.length > 3
    ? trimmedEnd(bare)
    : body;
}

/** "sl 1, k1, psso", "knit 2 together": one stitch, and no round. */
export function isStitch(words: string): boolean {
  if (/^[kp] ?\d+$/i.test(words)) return false;
  if (
    /^(?:knit|purl|k|p|all|plain)\b[^,]{0,40}$|\*/i.test(words) &&
    !/\b(?:tog|together|front|back|twice|\d)\b/i.test(words)
  )
    return false;
  if (/\bturn\b/i.test(words)) return false;
  if (INTO_ONE.test(words) && !SPREAD.test(words)) return true;
  if (/[([]/.test(words)) return stitchWorked(words.replace(/[([].*/, '')) !== null;
  return stitchWorked(words) !== null || (ONE_PART.test(words) && !SPREAD.test(words));
}

/** "Decreasing", "dec rnd" and "the decrease-round" are one name. */
export function nameOf(words: string): string {
  return words
    .toLowerCase()
    .replace(/["“”.!]/g, '')
    .replace(/[ -]+/g, ' ')
    .replace(/^(?:the|a|an|1|one|my|our|your|to|make) /, '')
    .replace(/^(?:rounds?|rnds?|rds?|rows?) (?=[a-h]$)/, '')
    .replace(/^the /, '')
    .replace(/^(?:tips?|notes?|instructions?|how) (?:for|on|about|to) (?:the )?/, '')
    .replace(/ (?:rounds?|rnds?|rds?|rows?|turns?|laps?)$/, '')
    .replace(
      /\b(dec|inc)(?:r(?:ease|easing|eases|eased)?)?s?\b/g,
      (_: string, s: string) => `${s}rease`,
    )
    .replace(/(?<=[a-z]) (?:tips?|method|notes?|technique|instructions?)(?: \d{1,2})?$/, '')
    .replace(/(?<=[a-z]{3}[^s])s$/, '')
    .trim();
}

/** A heading alone in its line: the line below tells it. */
export function behindHeading(text: string, at: number): { at: number; to: number } | null {
  const m = /[ \t]*\n[ \t]*(?:[•-][ \t]*|\*[ \t]+(?![^\n]*\*))?(?=\S)/y;
  m.lastIndex = at;
  const found = m.exec(text);
  if (!found) return null;
  let from = at + found[0].length;
  const end = text.indexOf('\n', from);
  const to = end < 0 ? text.length : end;
  // "All decreases are worked from the right side." tells no stitch.
  for (let n = 0; n < 3; n++) {
    const stop = /^[^.\n]{4,120}\.[ ]+(?=\S)/.exec(text.slice(from, to))?.[0] ?? '';
    if (stop === '' || STITCHES.test(stop)) break;
    from += stop.length;
  }
  return { at: from, to };
}
