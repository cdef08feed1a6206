/**
 * Rules of a sentence whose every word is accounted for. In: a cursor, rules, what has been said so far. Out: the
 * state filled, and the words that no rule has followed.
 *
 * A rule is written as the words it holds, parted by spaces: `a|b` either word, `@sts` a word of that class, `@ly` any adverb,
 * `~` any word that changes no work, `#` a number and `%` an ordinal (both are given to `means`), by a name where one stands behind (`#each`), `,` and other
 * marks themselves; `?` behind a part makes it optional, `*` lets it stand any number of times. Hyphens between words are
 * passed over.
 */
import type { Token } from '../lex/tokens.ts';
import { CLASSES } from '../lexicon/classes.ts';
import { words } from '../lexicon/words.ts';
import type { TokenCursor } from './token-cursor.ts';

/** Numbers and ordinals that a rule met, in order of the rule; null for an optional one that is missing. */
export type Numbers = readonly (number | null)[];

/** Numbers of a rule by the names it gives them, in order; an optional one that is missing is left out. */
export type Named = Readonly<Partial<Record<string, readonly number[]>>>;

export interface Rule<S> {
  readonly says: readonly string[];
  /** Keeps what was said; false where it does not hold after all. */
  readonly means?: (state: S, n: Numbers, c: TokenCursor, named: () => Named) => unknown;
}

interface Part {
  readonly words: ReadonlySet<string>;
  readonly classes: readonly ReadonlySet<string>[];
  readonly number: boolean;
  readonly ordinal: boolean;
  /** Any word. */
  readonly any: boolean;
  /** Any adverb: "loosely". */
  readonly adverb: boolean;
  readonly capture: number;
  /** Name of the number; empty without one. */
  readonly name: string;
  readonly least: number;
  readonly most: number;
}

const ADVERB = /^[a-z]{3,}ly$/;

/** Most words of a part with `*`. Chosen. */
const MOST_REPEATED = 8;

interface Compiled {
  readonly parts: readonly Part[];
  readonly captures: number;
  /** Names of the numbers, in order. */
  readonly names: readonly string[];
  /** What the rule may begin with. */
  readonly first: Beginning;
}

interface Beginning {
  readonly words: ReadonlySet<string>;
  readonly number: boolean;
  readonly ordinal: boolean;
  readonly any: boolean;
}

/** All parts up to the first that must stand there. */
function beginningOf(parts: readonly Part[]): Beginning {
  const words = new Set<string>();
  const seen = { number: false, ordinal: false, any: false };
  for (const part of parts) {
    for (const w of part.words) words.add(w);
    for (const k of part.classes) for (const w of k) words.add(w);
    seen.number ||= part.number;
    seen.ordinal ||= part.ordinal;
    seen.any ||= part.any || part.adverb;
    if (part.least > 0) break;
  }
  return { words, ...seen };
}

/** True where the rule may begin with the token. */
function mayBegin({ words, number, ordinal, any }: Beginning, t: Token): boolean {
  if (t.kind === 'number') return number;
  if (t.kind === 'word') return any || words.has(t.text);
  return words.has(t.text) || (t.kind === 'ordinal' && ordinal);
}

const compiled = new Map<string, Compiled>();

function compile(rule: string): Compiled {
  let captures = 0;
  const parts = rule.split(' ').map((written): Part => {
    const optional = written.length > 1 && written.endsWith('?');
    const star = written.length > 1 && written.endsWith('*');
    const names = (optional || star ? written.slice(0, -1) : written).split('|');
    const number = names.some((n) => n[0] === '#');
    const ordinal = names.some((n) => n[0] === '%');
    return {
      words: new Set(names.filter((n) => !'@#%~'.includes(n[0]))),
      classes: names.filter((n) => n[0] === '@' && n !== '@ly').map((n) => classNamed(n.slice(1))),
      number,
      ordinal,
      any: names.includes('~'),
      adverb: names.includes('@ly'),
      capture: number || ordinal ? captures++ : -1,
      name: /^[#%]([a-z]+)$/.exec(names.at(-1) ?? '')?.[1] ?? '',
      least: optional || star ? 0 : 1,
      most: star ? MOST_REPEATED : 1,
    };
  });
  const names = parts.filter((p) => p.capture >= 0).map((p) => p.name);
  const done = { parts, captures, names, first: beginningOf(parts) };
  compiled.set(rule, done);
  return done;
}

function classNamed(name: string): ReadonlySet<string> {
  const found = CLASSES[name];
  if (!found) throw new RangeError(`no class of words is called "${name}"`);
  return found;
}

function holds(part: Part, t: Token): boolean {
  if (t.kind === 'number') return part.number;
  if (t.kind === 'ordinal') return part.ordinal || part.words.has(t.text);
  if (t.kind === 'word') {
    if ((part.any && !CHANGES_WORK.has(t.text)) || (part.adverb && ADVERB.test(t.text)))
      return true;
    return part.words.has(t.text) || part.classes.some((k) => k.has(t.text));
  }
  return part.words.has(t.text);
}

/** No word of a name, nor of what is only passed over: they change what is worked. */
const CHANGES_WORK = words(
  'every each half only without except skip skipping omit omitting repeat rep until till twice thrice times',
);

/** Reads the rule here; the numbers it holds, or null and the cursor unmoved. */
export function says(c: TokenCursor, rule: string): Numbers | null {
  if (c.i >= c.end) return null;
  const { parts, captures, first } = compiled.get(rule) ?? compile(rule);
  if (!mayBegin(first, c.tokens[c.i])) return null;
  const found: (number | null)[] = new Array<number | null>(captures).fill(null);
  const { tokens, end, i: start } = c;
  const run = (p: number, at: number, times: number): number => {
    if (p === parts.length) return at;
    const part = parts[p];
    if (times < part.most) {
      let next = at;
      // A hyphen within "cast-on".
      if (at > start && at < end && tokens[at].text === '-' && !part.words.has('-')) next++;
      const t = next < end ? tokens[next] : null;
      if (t && holds(part, t)) {
        const before = part.capture < 0 ? null : found[part.capture];
        if (part.capture >= 0 && t.kind !== 'word') found[part.capture] = t.value;
        const to = run(
          times + 1 < part.most ? p : p + 1,
          next + 1,
          times + 1 < part.most ? times + 1 : 0,
        );
        if (to >= 0) return to;
        if (part.capture >= 0) found[part.capture] = before;
      }
    }
    return times >= part.least ? run(p + 1, at, 0) : -1;
  };
  const to = run(0, start, 0);
  if (to <= start) return null;
  c.i = to;
  return found;
}

/** The numbers of the first rule that holds here; null and the cursor unmoved where none does. */
export function saysAny(c: TokenCursor, rules: readonly string[]): Numbers | null {
  for (const rule of rules) {
    const n = says(c, rule);
    if (n) return n;
  }
  return null;
}

/** One wording of a rule. */
interface Way<S> {
  readonly rule: Rule<S>;
  readonly says: string;
}

/** The wordings of a list of rules, in order, by the token that they may begin with. */
class Ways<S> {
  readonly #all: readonly Way<S>[];
  /** Every word that some wording begins with. */
  readonly #words = new Set<string>();
  readonly #byToken = new Map<string, readonly Way<S>[]>();

  constructor(rules: readonly Rule<S>[]) {
    this.#all = rules.flatMap((rule) => rule.says.map((says) => ({ rule, says })));
    for (const { says } of this.#all) for (const w of beginning(says).words) this.#words.add(w);
  }

  beginningWith(t: Token): readonly Way<S>[] {
    const text = t.kind === 'number' || !this.#words.has(t.text) ? '' : t.text;
    const key = `${t.kind} ${text}`;
    const known = this.#byToken.get(key);
    if (known) return known;
    const found = this.#all.filter(({ says }) => mayBegin(beginning(says), t));
    this.#byToken.set(key, found);
    return found;
  }
}

function beginning(rule: string): Beginning {
  return (compiled.get(rule) ?? compile(rule)).first;
}

const waysOf = new WeakMap<object, unknown>();

/** The first rule that holds here, its meaning kept; null where none does. */
function followOne<S>(c: TokenCursor, rules: readonly Rule<S>[], state: S): Rule<S> | null {
  const start = c.i;
  let ways = waysOf.get(rules) as Ways<S> | undefined;
  if (!ways) {
    ways = new Ways(rules);
    waysOf.set(rules, ways);
  }
  for (const { rule, says: way } of ways.beginningWith(c.tokens[start])) {
    const n = says(c, way);
    if (!n) continue;
    if (rule.means?.(state, n, c, () => namedOf(way, n)) !== false) return rule;
    c.i = start;
  }
  return null;
}

function namedOf(rule: string, n: Numbers): Named {
  const out: Record<string, number[]> = {};
  (compiled.get(rule) ?? compile(rule)).names.forEach((name, i) => {
    const value = n[i];
    if (value === null || name === '') return;
    out[name] ??= [];
    out[name].push(value);
  });
  return out;
}

/** Words that no rule has followed: the first token and the one behind the last. */
export interface Stretch {
  readonly first: number;
  readonly end: number;
  /** The first word that no rule holds; idle ones stand before it. */
  readonly core: number;
  /** The sentence that they stand in, where that says nothing of what is read; null in one that does. */
  readonly apart: { readonly first: number; readonly end: number } | null;
}

/** A mark or word that parts one clause from the next. */
function parts(t: Token): boolean {
  return (t.kind === 'mark' && !'-\'"'.includes(t.text)) || /^(?:and|then)$/.test(t.text);
}

/**
 * Follows all the words up to the cursor's end; gives those that no rule holds for. A stretch holds the idle words
 * around it, up to what parts clauses or says something.
 */
export function followAll<S>(c: TokenCursor, rules: readonly Rule<S>[], state: S): Stretch[] {
  const out: Stretch[] = [];
  let from = -1;
  let core = -1;
  let idle = c.i;
  const push = (first: number, end: number, at: number): void =>
    void out.push({ first, end, core: at, apart: null });
  const sentence = { first: c.i, stretches: 0, said: JSON.stringify(state), more: false };
  const closeSentence = (end: number): void => {
    const said = JSON.stringify(state);
    const { first, stretches, more } = sentence;
    if (more && said === sentence.said)
      for (let k = stretches; k < out.length; k++) out[k] = { ...out[k], apart: { first, end } };
    Object.assign(sentence, { first: end + 1, stretches: out.length, said, more: true });
  };
  while (!c.done) {
    const { i } = c;
    if (--c.budget.left < 0) {
      push(from < 0 ? i : from, c.end, from < 0 ? i : core);
      c.i = c.end;
      return out;
    }
    const t = c.tokens[i];
    const apart = parts(t);
    const rule = followOne(c, rules, state);
    if (rule?.means || apart) {
      if (from >= 0) push(from, i, core);
      from = -1;
      if (!rule) c.i++;
      idle = c.i;
      if (t.kind === 'mark' && '.!?'.includes(t.text)) closeSentence(i);
    } else if (!rule) {
      if (from < 0) [from, core] = [idle, i];
      c.i++;
    }
  }
  if (from >= 0) push(from, c.end, core);
  closeSentence(c.end);
  return out;
}
