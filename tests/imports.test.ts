/**
 * The direction of flow, read off the import lines: a stage imports `math` and earlier stages only,
 * the core stays free of React, three, the DOM and Node, and view never parses or solves.
 */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const SRC = resolve(import.meta.dirname, '../src');

/** What each folder may import besides itself and `math`. */
const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  math: [],
  plan: [],
  fabric: ['plan'],
  gauge: ['plan', 'fabric'],
  relax: ['plan', 'fabric', 'gauge'],
  rod: [],
  yarn: ['plan', 'fabric', 'gauge', 'relax', 'rod'],
  cell: ['plan', 'fabric', 'gauge', 'relax', 'rod', 'yarn'],
  report: ['plan', 'fabric', 'gauge', 'relax', 'rod', 'yarn', 'cell', 'draft'],
  draft: ['plan', 'fabric', 'gauge', 'report'],
  paper: ['plan', 'fabric', 'gauge', 'relax', 'rod', 'yarn', 'cell', 'report', 'draft'],
  flow: ['plan', 'fabric', 'gauge', 'relax', 'rod', 'yarn', 'cell', 'report', 'draft'],
  'knit.ts': ['plan', 'flow'],
};
const CORE = Object.keys(ALLOWED);
const FORBIDDEN_IN_CORE =
  /^(react|react-dom|three|@react-three|node:|zustand|radix-ui|@codemirror|idb|vite)/;

function filesUnder(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return filesUnder(path);
    return /\.tsx?$/.test(name) ? [path] : [];
  });
}

function importsOf(path: string): string[] {
  const text = readFileSync(path, 'utf8');
  return [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((m) => m[1]);
}

function stageOf(path: string): string {
  return relative(SRC, path).split('/')[0];
}

const files = filesUnder(SRC);

describe('imports', () => {
  it('finds the sources', () => {
    expect(files.length).toBeGreaterThan(40);
  });

  it('follow the flow within the core', () => {
    const wrong: string[] = [];
    for (const file of files) {
      const stage = stageOf(file);
      if (!CORE.includes(stage)) continue;
      for (const target of importsOf(file)) {
        if (!target.startsWith('.')) continue;
        const other = stageOf(resolve(dirname(file), target));
        const fine = other === stage || other === 'math' || ALLOWED[stage].includes(other);
        if (!fine) wrong.push(`${relative(SRC, file)} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('keep the core free of React, three, the DOM and Node', () => {
    const wrong = files
      .filter((f) => CORE.includes(stageOf(f)))
      .flatMap((f) =>
        importsOf(f)
          .filter((t) => FORBIDDEN_IN_CORE.test(t))
          .map((t) => `${f}: ${t}`),
      );
    expect(wrong).toEqual([]);
  });

  it('keep clocks, unseeded randomness and the console out of the core', () => {
    const wrong = files
      .filter((f) => CORE.includes(stageOf(f)))
      .filter((f) =>
        /\b(Math\.random|Date\.now|performance\.now|console\.)/.test(readFileSync(f, 'utf8')),
      );
    expect(wrong).toEqual([]);
  });

  it('keep parsing and solving out of the view', () => {
    const wrong = files
      .filter((f) => stageOf(f) === 'view')
      .flatMap((f) =>
        importsOf(f).filter((t) => /parse\.ts|relax-sheet\.ts|knit\.ts|flow\/|build-/.test(t)),
      );
    expect(wrong).toEqual([]);
  });

  it('form no circle', () => {
    // Types vanish when the program runs: only imported values can make a circle.
    const valuesOf = (f: string): string[] =>
      [
        ...readFileSync(f, 'utf8').matchAll(
          /(?:^|\n)(?:import|export)\s(?!type\b)[^;]*?'([^']+)'/g,
        ),
      ].map((m) => m[1]);
    const graph = new Map(
      files.map((f) => [
        f,
        valuesOf(f)
          .filter((t) => t.startsWith('.') && /\.tsx?$/.test(t))
          .map((t) => resolve(dirname(f), t)),
      ]),
    );
    const state = new Map<string, 'open' | 'done'>();
    const circle: string[] = [];
    const visit = (file: string, trail: string[]): void => {
      if (state.get(file) === 'done' || circle.length > 0) return;
      if (state.get(file) === 'open') {
        circle.push(...trail.slice(trail.indexOf(file)), file);
        return;
      }
      state.set(file, 'open');
      for (const next of graph.get(file) ?? []) visit(next, [...trail, file]);
      state.set(file, 'done');
    };
    for (const f of files) visit(f, []);
    expect(circle.map((f) => relative(SRC, f))).toEqual([]);
  });
});

/** What a file says to the world: `export function`, `export const`, …, at the start of a line. */
const VALUES = /^export (?:async )?(?:function\*?|const|let|class) ([A-Za-z_$][\w$]*)/gm;
const TYPES = /^export (?:interface|type) ([A-Za-z_$][\w$]*)/gm;

describe('exports', () => {
  const all = [...files, ...filesUnder(import.meta.dirname)].map((path) => {
    const text = readFileSync(path, 'utf8');
    return { path, text, names: new Set(text.match(/[A-Za-z_$][\w$]*/g)) };
  });
  const elsewhere = (name: string, path: string) =>
    all.some((file) => file.path !== path && file.names.has(name));

  it('are used by another file, or by their own where they are types', () => {
    const unused: string[] = [];
    for (const { path, text } of all) {
      if (!path.startsWith(SRC)) continue;
      for (const [, name] of text.matchAll(VALUES))
        if (!elsewhere(name, path)) unused.push(`${relative(SRC, path)}: ${name}`);
      for (const [, name] of text.matchAll(TYPES)) {
        const here = text.split(new RegExp(`\\b${name}\\b`)).length - 1;
        if (here < 2 && !elsewhere(name, path)) unused.push(`${relative(SRC, path)}: ${name}`);
      }
    }
    expect(unused).toEqual([]);
  });
});
