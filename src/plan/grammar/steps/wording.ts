/**
 * Turns of phrase in a round's stitches. In: rules written like those of sentences (`../rules.ts`). Out: sticky
 * expressions over the normalised text, with a group for each number.
 *
 * Besides the parts that `../rules.ts` knows, `{a b | c}` holds one of several turns of phrase; `?` and `*` behind the
 * brace mean the same as behind a word. `#` is a whole number, `%` an ordinal ("2nd", "second"); behind `~` stands the
 * source of an expression, without spaces.
 */
import { CLASSES } from '../../lexicon/classes.ts';
import { raw } from '../../lexicon/expression.ts';

const GAP = '(?:\\s*|(?<=[a-z0-9])-)';
/** In front of a line a hyphen marks a point of a list. */
const HYPHEN = '(?<!\\n)-';
/** Longer than seven digits is no count of stitches. */
const NUMBER = '(\\d{1,7}(?!\\d))';
const ORDINAL = raw`(\d{1,2}(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|seventh|eighth)(?![a-z])`;

function escaped(mark: string): string {
  return mark.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
}

/** Longest first, so that no word hides a longer one. */
function oneOf(words: Iterable<string>): string {
  return [...words]
    .sort((a, b) => b.length - a.length)
    .map(escaped)
    .join('|');
}

function classNamed(name: string): string {
  const words = CLASSES[name];
  if (!words) throw new RangeError(`no class of words is called "${name}"`);
  return `(?:${oneOf(words)})(?![a-z])${name === 'sts' ? '\\.?' : ''}`;
}

function alternative(name: string): string {
  if (name[0] === '@' && name.length > 1) return classNamed(name.slice(1));
  if (name === '#') return NUMBER;
  if (name === '%') return ORDINAL;
  if (name === '-') return HYPHEN;
  return name === '~' ? "[a-z']+" : escaped(name);
}

/** Source of a part of several words: what they end with parts them from what follows. */
function choice(names: readonly string[]): string {
  const plain = names.filter((n) => !'@#%~'.includes(n[0]) && /[a-z0-9]$/.test(n));
  const sources = names.filter((n) => !plain.includes(n)).map(alternative);
  const end = plain.some((n) => /\d$/.test(n)) ? '(?![a-z0-9])' : '(?![a-z])';
  if (plain.length > 0) sources.push(`(?:${oneOf(plain)})${end}`);
  return sources.length > 1 ? `(?:${sources.join('|')})` : sources[0];
}

/** One of several turns of phrase, as it is put together. */
interface Phrase {
  source: string;
  /** Something stands in it that must be there: what follows begins behind a gap. */
  begun: boolean;
}

/** Adds one part with how often it may stand; a gap lies between two parts, and none at either end. */
function add(to: Phrase, source: string, often: string): void {
  const many = often === '?' ? '?' : '{0,8}';
  if (often === '') to.source += to.begun ? GAP + source : source;
  else to.source += to.begun ? `(?:${GAP}${source})${many}` : `(?:${source}${GAP})${many}`;
  to.begun ||= often === '';
}

/** Regular-expression source of a rule. */
function wordingSource(rule: string): string {
  const open: Phrase[] = [{ source: '', begun: false }];
  for (const written of rule.split(' ')) {
    const top = open[open.length - 1];
    const raw = written.length > 1 && written[0] === '~';
    const often = written.length > 1 && !raw && /[?*]$/.test(written) ? written.slice(-1) : '';
    const bare = often ? written.slice(0, -1) : written;
    if (bare === '{') open.push({ source: '', begun: false });
    else if (bare === '}') {
      open.pop();
      add(open[open.length - 1], `(?:${top.source})`, often);
    } else if (bare === '|') {
      top.source += '|';
      top.begun = false;
    } else {
      add(top, raw ? bare.slice(1) : choice(bare.split('|')), often);
    }
  }
  return open[0].source;
}

/** A sticky expression; `behind`: source of an assertion about what stands behind it. */
export function wording(rule: string, behind = ''): RegExp {
  return new RegExp(wordingSource(rule) + behind, 'y');
}
