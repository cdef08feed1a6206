/**
 * The law of the reader, to be tried on many plans: a word of a right plan is garbled or taken out. In: texts
 * that are read without a mistake. Out: what went unnoticed: other loops, and no error about that place.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';

const FOLDERS = [
  join(import.meta.dirname, '../plans'),
  join(import.meta.dirname, '../plans/manners'),
];

/** Plans of the corpus, some of them with mistakes. */
export function planTexts(): string[] {
  return FOLDERS.flatMap((folder) =>
    readdirSync(folder)
      .filter((f) => f.endsWith('.txt'))
      .sort()
      .map((f) => readFileSync(join(folder, f), 'utf8').split(/^==>\n/m)[0]),
  );
}

/** Whether a plan is read without a mistake. */
export function isRight(text: string): boolean {
  return parsePlan(text).diagnostics.every((d) => d.severity !== 'error');
}

export interface Garbling {
  /** Which word, as a share of all of them. */
  readonly word: number;
  /** Which letters, as a share of the word. */
  readonly letter: number;
  readonly how: 'swap' | 'drop' | 'double' | 'delete' | 'nonsense';
}

export interface Garbled {
  readonly text: string;
  /** 1-based line of the garbled word. */
  readonly line: number;
  readonly was: string;
  readonly is: string;
}

/** The text with one word changed; null where the change changes nothing. Words stand below the cast-on's line. */
export function garble(text: string, { word, letter, how }: Garbling): Garbled | null {
  const plan = parsePlan(text);
  const lines = text.split('\n');
  const first = lines.slice(0, plan.castOnAt.line - 1).join('\n').length + 1;
  const words = [...text.matchAll(/[A-Za-z][A-Za-z0-9]+/g)].filter((m) => m.index >= first);
  if (words.length === 0) return null;
  const m = words[Math.min(words.length - 1, Math.floor(word * words.length))];
  const was = m[0];
  const at = Math.min(was.length - 2, Math.floor(letter * (was.length - 1)));
  const is = {
    swap: was.slice(0, at) + was[at + 1] + was[at] + was.slice(at + 2),
    drop: was.slice(0, at) + was.slice(at + 1),
    double: was.slice(0, at + 1) + was[at] + was.slice(at + 1),
    delete: '',
    nonsense: 'frobnicate',
  }[how];
  if (is === was) return null;
  const changed = text.slice(0, m.index) + is + text.slice(m.index + was.length);
  return { text: changed, line: text.slice(0, m.index).split('\n').length, was, is };
}

/** What may stand between two sentences instead of a full stop. */
export const JOINTS = [', ', '; ', ': ', ' - ', ' and ', ', then ', ', and then ', '.\n'] as const;

/** The text with the end of one sentence put otherwise; null where none ends. `place`: which, as a share of all of them. */
export function joinAnew(text: string, place: number, joint: string): Garbled | null {
  const ends = [...text.matchAll(/(?<=[a-z0-9)"]{2})\.\s+(?=[A-Z][a-z])/g)];
  if (ends.length === 0) return null;
  const { index, 0: was } = ends[Math.min(ends.length - 1, Math.floor(place * ends.length))];
  const rest = text.slice(index + was.length);
  const next = joint.startsWith('.') ? rest : rest[0].toLowerCase() + rest.slice(1);
  const changed = text.slice(0, index) + joint + next;
  return { text: changed, line: text.slice(0, index).split('\n').length, was, is: joint };
}

/** Words that change what is knitted, as a designer would put them behind an instruction. */
export const MODIFIERS = [
  ', except on needle 2',
  ' but not on the last side',
  ', omitting the last repeat',
  ', leaving 4 sts unworked',
  ' purling every third stitch',
  ', slipping the first stitch',
  ' over the first half',
  ' without the last stitch',
  ', skipping needle 3',
  ' (not on the last side)',
  ', always with the yarn in front',
  ', only over the first 10 sts',
  ' frobnicating',
  ' purlwise frobnicate',
] as const;

/** The text with words put behind the instruction that a round stands in; `round`: which, as a share of all. */
export function modify(text: string, round: number, words: string): Garbled | null {
  const { rounds } = parsePlan(text);
  const { to } = rounds[Math.floor(round * rounds.length)] ?? {};
  if (!to) return null;
  const lines = text.split('\n');
  const line = lines[to.line - 1];
  const end = line.slice(0, to.column - 1).replace(/[\s.;]+$/, '').length;
  if (end === 0) return null;
  lines[to.line - 1] = line.slice(0, end) + words + line.slice(end);
  return { text: lines.join('\n'), line: to.line, was: '', is: words };
}

/** True where an error tells of that line, or of one below it where the round is worked. */
export function isTold({ text, line }: Garbled): boolean {
  return parsePlan(text).diagnostics.some((d) => d.severity === 'error' && line <= d.to.line);
}

function loops(plan: Plan): string {
  const rounds = plan.rounds.map((r) => {
    let hash = 7;
    for (const id of r.works) hash = (hash * 31 + id) % 1_000_003;
    return `${r.before}>${r.after}:${hash}:${r.wrongSide ? 'w' : ''}`;
  });
  return `${plan.castOn} ${rounds.join(' ')} ${plan.ending} ${plan.kinds.map((k) => k.name).join(',')}`;
}

/** True where the change is noticed: an error about its line or one below it, or the same loops. */
export function isNoticed(before: string, garbled: Garbled): boolean {
  const after = parsePlan(garbled.text);
  const errors = after.diagnostics.filter((d) => d.severity === 'error');
  // Without a cast-on there is no line to point at.
  if (errors.some((d) => d.code === 'cast-on-missing')) return true;
  if (errors.some((d) => d.from.line <= garbled.line && garbled.line <= d.to.line)) return true;
  const was = parsePlan(before);
  if (loops(was) === loops(after)) return true;
  // Without its last instruction the piece is told to have no end; nothing else may have changed.
  const unended = after.diagnostics.some((d) => d.code === 'ending-missing');
  if (unended && loops({ ...was, ending: after.ending }) === loops(after)) return true;
  // A word taken out can leave words that are right in themselves: what follows no longer comes out.
  return errors.some((d) => d.from.line >= garbled.line);
}
