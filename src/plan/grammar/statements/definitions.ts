/**
 * Stitches that a text explains itself, in whatever layout: a list ("DD = sl 2 tog, k1, p2sso; rnd = round"), a table, a
 * sentence ("by DD is meant: …", "the double decrease (DD) is worked like this: …"), brackets at their first use ("4
 * overcasts (slip 1, k1, psso)"). In: a line of the normalised text. Out: the names, and the words that tell one stitch,
 * with their places in the line.
 */
import { raw, regex } from '../../lexicon/expression.ts';
import { readStitch } from '../steps/stitch-words.ts';

export interface Definition {
  readonly names: readonly { readonly text: string; readonly at: number }[];
  /** Words that tell one stitch. */
  readonly told: string;
  readonly at: number;
  /** Nothing but the explanation stands in the line. */
  readonly alone: boolean;
}

const LEAD = raw`(?:(?:notes?|n\.?b\.?|special (?:stitch(?:es)?|abbreviations?)|abbreviations?|abbrevs?\.?|abbr\.?|key|legend|stitch guide|throughout|here|in (?:this|the) pattern)[:,.]? ?)*(?:(?:by|for|to (?:make|work)|the|an?|1|each|every|term) )*`;
const NAME = raw`["']?(?<name>[a-z][a-z0-9/&+-]*(?:\.(?= ?[=:]))?(?: [a-z0-9][a-z0-9/&+-]*){0,4}?)["']?`;
const SHORT = raw`(?: ?[([] ?=? ?["']?(?<short>[a-z][a-z0-9/+-]{0,9}(?: [a-z0-9-]{1,12}){0,3})\.?["']? ?[)\]]|(?:,| or|,? abbreviated(?: as| to)?:?) ["']?(?<other>[a-z][a-z0-9]{0,7})["']?(?= ?[=:]| is )| ?/ ?(?<also>[a-z]+(?: [a-z]+){0,3})(?= ?[=:]))?\.?`;
const SIGN = raw`(?: ?[=:]+ ?| - |,? (?:means|stands for|is short for|denotes)[:,]? |,? (?:is|are) (?:meant|made|worked|knitted|done|formed|told)[^:.;,]{0,24}: ?|,? (?:is|are) (?:always )?)`;
const TOLD = raw`(?:(?<long>(?:[a-z-]+ ){0,2}(?:de|in)crease) ?[:=,] ?)?(?<told>\S.*)$`;
const CLAUSE = regex.y`${LEAD}${NAME}${SHORT}${SIGN}${TOLD}`;
/** "double decrease (dd = …)", "dd (double decrease = …)" */
const INSIDE = regex.y`${LEAD}(?<name>[a-z][a-z0-9-]*(?: [a-z0-9-]+){0,3}?) ?[([] ?(?<short>[a-z][a-z0-9]{0,7}) ?[=:] ?(?<told>[^()[\]]+)[)\]]`;
/** "(DD = sl 2 tog, k1, p2sso)", its bracket open */
const BRACKETED = /(?<name>[a-z][a-z0-9-]{0,11}) ?[=:] ?(?<told>[^()[\]]{6,140})[)\]]/y;
/** "4 double overcasts (slip 1, …)", "DD [that is, sl 2, …]": at its first use. */
const IN_BRACKETS =
  /(?:(?:\d{1,2}|an?|work|make|with|as) )*(?<name>[a-z][a-z0-9-]*(?: [a-z0-9-]+){0,3}?) ?[([] ?(?:(?:=|i\.?e\.?|that is|this is|which is|meaning|(?:[a-z-]+ ){0,2}(?:de|in)crease ?[:=])[,:]? ?)?(?<told>[^()[\]]{6,140})[)\]]/y;
/** "For the left increase you lift …" */
const YOU = regex.y`(?:for|to (?:make|work)) (?:the |an? )?(?<name>(?:[a-z-]+ ){0,2}(?:de|in)crease),? (?:you |we )${TOLD}`;
/** "DD  sl 2 tog, k1, p2sso": a table, or columns. */
const COLUMNS = regex.y`(?<name>[a-z][a-z0-9]{0,7})(?<short>)  ?${TOLD}`;
/** Key lists may part the name from its words by a comma. */
const KEYED = regex.y`(?:key|abbr[a-z]*\.?):? (?<name>[a-z][a-z0-9]{0,5}), ${TOLD}`;

/** Where a definition may begin within a line. */
const BEGINS = /^[\s•*|(-]*|[;.:,(*|] *(?=[a-z"'0-9])/g;
/** Most clauses of a line. Chosen: bounds the time. */
const MOST_CLAUSES = 24;
/** Names that are no stitch's: labels, and words of every day. */
const NO_NAME =
  /\b(?:rounds?|rnds?|rds?|rows?|needles?|ndls?|sides?|steps?|cast|gauge|tension|size|yarn|next|last|first|end|corner|edge|border|set|then|and|or|until|to|from|on|in|it|them|sts|knit|purl|work|rep|repeat|of|each|every|all|place|close|finish|pattern)\b/;

/** All explanations in a line. `opened`: stitches have been cast on, so that a line may work what it tells. */
export function definitionsIn(line: string, opened: boolean): Definition[] {
  const out: Definition[] = [];
  let clauses = 0;
  let behind = 0;
  for (const { index, 0: lead } of line.matchAll(BEGINS)) {
    const from = index + lead.length;
    if (from < behind) continue;
    if (clauses++ >= MOST_CLAUSES) break;
    const ways = opened
      ? [
          ...(index === 0 ? [CLAUSE] : []),
          IN_BRACKETS,
          INSIDE,
          ...(/[([]/.test(lead) ? [BRACKETED] : []),
        ]
      : [CLAUSE, INSIDE, YOU, KEYED, IN_BRACKETS, ...(index === 0 ? [COLUMNS] : [])];
    for (const re of ways) {
      const found = readAt(re, line, from, index === 0 && !/\d$/.test(lead), opened);
      if (!found || (opened && re === CLAUSE && !found.alone)) continue;
      out.push(found);
      behind = found.at + found.told.length;
      break;
    }
  }
  return out;
}

function readAt(
  re: RegExp,
  line: string,
  from: number,
  first: boolean,
  opened: boolean,
): Definition | null {
  re.lastIndex = from;
  const { name, short, other, also, long, told } = re.exec(line)?.groups ?? {};
  const words = told && stitchTold(told, re === COLUMNS, !opened && re === CLAUSE);
  if (!words) return null;
  const names = [name, short, other, also, long]
    .filter((n): n is string => n !== undefined && n !== '' && isName(n))
    .map((n) => ({ text: n.replace(/\.$/, ''), at: line.indexOf(n, from) }));
  if (names.length === 0) return null;
  const at = line.indexOf(told, from);
  const rest = line.slice(at + words.length).replace(/\([^()]*\)/g, '');
  return { names, told: words, at, alone: first && /^[\s.;)\]|]*$/.test(rest) };
}

function isName(name: string): boolean {
  if (NO_NAME.test(name.replace(/\b(?:de|in)crease\b/g, ''))) return false;
  const known = readStitch(name, 0);
  return known === null || known.end < name.length || known.amount === null;
}

/** "Corner dec = k2tog, k1, ssk (2 sts dec'd)": counted stitches one after another, of more words than one. */
export function sequenceTold(line: string): { name: string; at: number; told: string } | null {
  const m = SEQUENCE.exec(line);
  if (!m?.groups) return null;
  const { name, told } = m.groups;
  if (/\b(?:rounds?|rnds?|rds?|rows?|needles?|sides?|gauge|tension|size|border|rib)\b/.test(name))
    return null;
  const parts = told.split(/,\s*(?:then |and )?/);
  const counted = parts.every((part) => {
    const read = readStitch(part, 0);
    if (!read || read.end !== part.length) return false;
    return read.name.length > 1 || (read.amount !== null && 'times' in read.amount);
  });
  return counted && parts.length > 1 ? { name, at: line.indexOf(told), told } : null;
}
const SEQUENCE =
  /^[\s•*-]*["']?(?<name>[a-z][a-z0-9-]*(?: [a-z0-9-]+){1,2})["']?(?: ?=| ?:| means:?| -) ?(?<told>[a-z0-9][a-z0-9, ]+?)[ ]?(?:\([^()]*\))?[ .;]*$/;

/**
 * The words up to where they tell one stitch that shapes; null where they tell something else. `whole`: to the
 * end; `turns`: a bobble may be told too. */
function stitchTold(told: string, whole: boolean, turns: boolean): string | null {
  const sentence = told.replace(/[.|]\s.*$/, '');
  for (const said of whole ? [sentence] : [sentence, sentence.replace(/;.*$/, '')]) {
    const stripped = said.replace(/[\s.;|]+$/, '');
    const words = (/[([]/.test(stripped) ? stripped : stripped.replace(/[)\]\s.;]+$/, '')).replace(
      /\s*\([^()]*\)$|,?\s+(?:so|making|this|which|thus|leaving|the (?:st|stitch|one) (?:obtained|made|worked|knitted))\b.*$/,
      '',
    );
    if (/\bturn\b/.test(words) && turns) return words;
    const stitch = readStitch(words, 0);
    if (stitch && stitch.end === words.length && stitch.name.length > 1) return words;
  }
  return null;
}
