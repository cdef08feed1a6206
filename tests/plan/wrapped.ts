/** Plans as mail programs and printers break them: sentences in lines of a width. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';

const PLANS = join(import.meta.dirname, '../plans');

export const WIDTHS = [50, 64, 72, 80, 90] as const;
export const INDENTS = ['', '  ', '    '] as const;

/** The text with lines of at most `width` characters, broken at spaces; lines of columns stay. `indent`: of what goes on. */
export function wrapped(text: string, width: number, indent: string): string {
  return text
    .split('\n')
    .map((line) =>
      line.length <= width || /[|\t]|\S {3,}\S/.test(line) ? line : broken(line, width, indent),
    )
    .join('\n');
}

function broken(line: string, width: number, indent: string): string {
  const lead = /^\s*/.exec(line)?.[0] ?? '';
  const [first, ...words] = line.trim().split(/ +/);
  const out = [`${lead}${first}`];
  for (const word of words) {
    const last = out.length - 1;
    if (out[last].length + 1 + word.length > width) out.push(`${lead}${indent}${word}`);
    else out[last] += ` ${word}`;
  }
  return out.join('\n');
}

/** Texts of the corpus by their file's name, its wordings apart. */
export function corpusTexts(): [string, string][] {
  return ['', 'manners'].flatMap((folder) =>
    readdirSync(join(PLANS, folder))
      .filter((f) => f.endsWith('.txt'))
      .sort()
      .map((f): [string, string] => [
        join(folder, f),
        readFileSync(join(PLANS, folder, f), 'utf8').split(/^==>\n?/m)[0],
      ]),
  );
}

export interface WrappedCase {
  readonly file: string;
  readonly plain: string;
  readonly text: string;
  readonly width: number;
}

/** Every right plan of the corpus at every width and indent that breaks a line of it. */
export function wrappedCases(): WrappedCase[] {
  return corpusTexts().flatMap(([file, plain]) =>
    WIDTHS.flatMap((width) =>
      INDENTS.map((indent) => ({ file, plain, text: wrapped(plain, width, indent), width })),
    ).filter(({ text }) => text !== plain),
  );
}

/** `alike`: the same rounds; `refused`: with an error where the plan has none; `otherwise`: other rounds in silence. */
export function readWrapped({
  plain,
  text,
}: WrappedCase): 'alike' | 'refused' | 'otherwise' | null {
  const plan = parsePlan(plain);
  if (plan.diagnostics.some((d) => d.severity === 'error')) return null;
  const other = parsePlan(text);
  if (other.diagnostics.some((d) => d.severity === 'error')) return 'refused';
  const told = (p: Plan): string =>
    [p.castOn, p.worked, p.ending, ...p.rounds.map((r) => r.after)].join(' ');
  return told(other) === told(plan) ? 'alike' : 'otherwise';
}
