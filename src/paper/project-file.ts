/**
 * A whole project as one JSON document: plans with their colours, blanket, test-knit log, units.
 * Versioned: 0 was a single plan, 1 had no colours. Lengths are mm.
 *
 * `readProject(text)` never throws: it gives a project, or words for what is wrong and where, and
 * changes nothing. Plain plan text is taken as a project of one plan.
 */

import { z } from 'zod';
import { EASE_SHARE } from '../report/blanket.ts';

// The page's policy forbids made-up code: trying it would only leave an error in the browser's log.
z.config({ jitless: true });

const PROJECT_VERSION = 3;
/** Largest file that is read, characters: plans of up to 1 MB each and a log. Chosen. */
const MOST_CHARACTERS = 20_000_000;

const length = z.number().positive().finite();

/** Yarn colours of a square: one, or two in stripes. */
const coloursSchema = z.object({
  yarns: z
    .array(
      z.object({
        /** As the knitter calls it; yarn is added up by it. */
        name: z.string().max(200),
        /** As it is drawn. */
        hex: z.string().regex(/^#[0-9a-f]{6}$/i, 'must be a colour such as #5787a3'),
      }),
    )
    .min(1)
    .max(2),
  /** Rounds of each stripe; 0 where there is one yarn. */
  stripeRounds: z.number().int().min(0).max(20).default(0),
});

const planSchema = z.object({
  id: z.string().min(1),
  name: z.string(),
  /** The plan text, unchanged. */
  text: z.string().max(1_000_000),
  /** Null: as the plan's `Yarn:` line says. */
  colours: coloursSchema.nullable().default(null),
});

const testKnitSchema = z.object({
  id: z.string().min(1),
  yarn: z.string().min(1),
  note: z.string().default(''),
  predicted: z.object({ stitchMm: length, roundMm: length, sideMm: length }),
  measured: z.object({
    stitchMm: length.nullable(),
    roundMm: length.nullable(),
    sideMm: length.nullable(),
  }),
  counts: z.boolean().default(true),
});

const blanketSchema = z.object({
  /** Plan ids by row from the top, left to right; null is an empty place. */
  rows: z.array(z.array(z.string().nullable()).max(100)).max(100),
  targetMm: length.nullable().default(null),
  easeShare: z.number().min(0).max(0.2).default(EASE_SHARE),
});

const projectSchema = z.object({
  format: z.literal('lieflat-project'),
  version: z.literal(PROJECT_VERSION),
  title: z.string().default(''),
  units: z.enum(['cm', 'inch']).default('cm'),
  /** Left out: every plan in the terms that it is written in. */
  terms: z.enum(['british', 'american']).optional(),
  plans: z.array(planSchema).max(1000),
  /** Id of the plan that is open; null for none. */
  open: z.string().nullable().default(null),
  blanket: blanketSchema.default({ rows: [], targetMm: null, easeShare: EASE_SHARE }),
  testKnits: z.array(testKnitSchema).max(10_000).default([]),
});

export type Project = z.infer<typeof projectSchema>;
export type SquareColours = z.infer<typeof coloursSchema>;

export type ReadProject =
  | { readonly ok: true; readonly project: Project; readonly migratedFrom: number | null }
  | { readonly ok: false; readonly message: string };

/** A step from one version to the next; `MIGRATIONS[v]` takes a document of version v. */
export type Migration = (document: Record<string, unknown>) => Record<string, unknown>;

/**
 * Version 0 is the plain form: one plan as `{ "plan": text, "title"? }`, without format or version.
 */
const MIGRATIONS: Readonly<Record<number, Migration>> = {
  0: ({ plan, title, ...rest }) => ({
    ...rest,
    format: 'lieflat-project',
    version: 1,
    title: title ?? '',
    plans: [{ id: 'plan-1', name: typeof title === 'string' ? title : '', text: plan }],
    open: 'plan-1',
  }),
  /** Plans had no colours. */
  1: ({ plans, ...rest }) => ({
    ...rest,
    version: 2,
    plans: Array.isArray(plans)
      ? plans.map((plan) =>
          typeof plan === 'object' && plan !== null ? { ...plan, colours: null } : plan,
        )
      : plans,
  }),
  /** American terms stood in every project, chosen or not: now none are those of each plan. */
  2: ({ terms, ...rest }) => ({ ...rest, version: 3, ...(terms !== 'american' && { terms }) }),
};

export function writeProject(project: Project): string {
  return `${JSON.stringify(projectSchema.parse(project), null, 2)}\n`;
}

/** A project of one plan. */
export function projectOfPlan(text: string, name = ''): Project {
  return projectSchema.parse({
    format: 'lieflat-project',
    version: PROJECT_VERSION,
    title: name,
    plans: [{ id: 'plan-1', name, text, colours: null }],
    open: 'plan-1',
  });
}

const NO_PROJECT = 'This is not a project that Lieflat saved.';

export function readProject(text: string): ReadProject {
  if (text.length > MOST_CHARACTERS)
    return { ok: false, message: 'This file is larger than any project: it was not read.' };
  if (text.trim() === '') return { ok: false, message: 'This file is empty.' };
  if (isPlainPlan(text)) return { ok: true, project: projectOfPlan(text), migratedFrom: null };
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    return { ok: false, message: 'This file is cut short or damaged: was it copied whole?' };
  }
  if (typeof document !== 'object' || document === null || Array.isArray(document))
    return { ok: false, message: NO_PROJECT };
  return migrate(document as Record<string, unknown>);
}

/** Words, not a JSON value such as `null` or a number. */
function isPlainPlan(text: string): boolean {
  if (/^\s*[{[]/.test(text)) return false;
  try {
    JSON.parse(text);
    return false;
  } catch {
    return true;
  }
}

/** A message never repeats a long word whole. */
function clipped(text: string, most = 60): string {
  return text.length > most ? `${text.slice(0, most - 1)}…` : text;
}

function migrate(document: Record<string, unknown>): ReadProject {
  let current = document;
  const found = versionOf(document);
  if (found === null) return { ok: false, message: NO_PROJECT };
  if (found > PROJECT_VERSION)
    return {
      ok: false,
      message: `This project was saved by a newer Lieflat (version ${found}; this one reads up to ${PROJECT_VERSION}).`,
    };
  for (let version = found; version < PROJECT_VERSION; version++) {
    const step = MIGRATIONS[version];
    if (!step) return { ok: false, message: `Projects of version ${version} cannot be read.` };
    current = step(current);
  }
  const parsed = projectSchema.safeParse(current);
  if (!parsed.success) {
    const { path, message } = parsed.error.issues[0];
    return { ok: false, message: `This project is damaged: ${damageWords(path, message)}.` };
  }
  const problem = looseEnds(parsed.data);
  if (problem) return { ok: false, message: problem };
  return {
    ok: true,
    project: parsed.data,
    migratedFrom: found === PROJECT_VERSION ? null : found,
  };
}

/** What of a project cannot be read, in words, and its place in the file for who mends it by hand. */
function damageWords(path: readonly PropertyKey[], message: string): string {
  const [part, number] = path;
  const place = clipped(path.join('.'));
  const at = typeof number === 'number' ? ` ${number + 1}` : '';
  const what = { plans: `plan${at}`, testKnits: `test knit${at}`, blanket: 'its blanket' };
  const words = what[part as keyof typeof what] ?? 'a part of it';
  // Words of this file's own; the others speak of programs.
  const own = message.startsWith('must be') ? `: ${clipped(message, 160)}` : '';
  return `${at || part !== 'plans' ? words : 'its plans'} cannot be read${place && ` (${place}${own})`}`;
}

function versionOf(document: Record<string, unknown>): number | null {
  if (document.format === undefined && typeof document.plan === 'string') return 0;
  if (document.format !== 'lieflat-project') return null;
  const { version } = document;
  return typeof version === 'number' && Number.isInteger(version) && version >= 1 ? version : null;
}

/** References that lead nowhere, or ids used twice. */
function looseEnds(project: Project): string | null {
  const ids = new Set<string>();
  for (const plan of project.plans) {
    if (ids.has(plan.id))
      return `This project is damaged: two plans share the id "${clipped(plan.id)}".`;
    ids.add(plan.id);
  }
  if (project.open !== null && !ids.has(project.open))
    return `This project is damaged: its open plan "${clipped(project.open)}" is missing.`;
  for (const id of project.blanket.rows.flat())
    if (id !== null && !ids.has(id))
      return `This project is damaged: its blanket uses a plan "${clipped(id)}" that is missing.`;
  return null;
}
