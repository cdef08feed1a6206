/**
 * The project as a file, and the plan at hand as one of its squares.
 *
 * The reader (and the library that checks every field) is loaded when a project is first opened or
 * saved. A file that cannot be read changes nothing.
 */
import type { Project, SquareColours } from '../../paper/project-file.ts';
import { saveText } from '../files/save-files.ts';
import { keepVersion, writeKept } from './autosave.ts';
import { partFor, saidWhenLate } from './awaited.ts';
import { guarded, storage } from './kept.ts';
import { notify, page, putAway, setPreference, setUnits } from './page-store.ts';
import { titleOf } from './plan-title.ts';
import { changeProject, freeId, projects } from './project-store.ts';
import { type ColourChoice, chosenColours, keptColours } from './square-colours.ts';
import { firstText } from './start.ts';
import type { FormerProject } from './storage.ts';
import { writePlan } from './undo.ts';

/** Id of a plan that was in the editor without being a square of the project. */
const AT_HAND = 'at-hand';

/** Title of the text in the editor, also while it has not been read. */
function titleAtHand(): string {
  const { plan, text } = page.get();
  return plan?.text === text ? plan.title : titleOf(text) || plan?.title || '';
}

/** The project with the plan in the editor as its open plan. */
function projectToSave(): Project {
  const { project } = projects.get();
  const { text, preferences } = page.get();
  const units = preferences.units === 'cm' ? 'cm' : 'inch';
  const title = project.title || titleAtHand();
  const kept = project.plans.find((square) => square.text === text);
  if (kept || text.trim() === '') return { ...project, title, units, open: kept?.id ?? null };
  const colours = keptColours(preferences);
  const atHand = { id: AT_HAND, name: titleAtHand(), text, colours };
  return { ...project, title, units, plans: [...project.plans, atHand], open: AT_HAND };
}

export async function saveProject(): Promise<void> {
  const part = await partFor('Saving the project', async () => {
    await firstText();
    return import('../../paper/project-file.ts');
  });
  if (!part) return;
  const project = projectToSave();
  saveText(
    part.writeProject(project),
    project.title || 'project',
    'project.json',
    'application/json',
  );
}

/** Whether a text is meant as a project rather than a plan. */
export function looksLikeProject(text: string): boolean {
  return /^\s*[{[]/.test(text);
}

/** Opens a project beside the one on the page, which is kept among the earlier versions; undo brings it back. */
export async function openProject(text: string, fileName: string): Promise<void> {
  const part = await partFor(`Opening “${fileName}”`, async () => {
    await firstText();
    return import('../../paper/project-file.ts');
  });
  if (!part) return;
  const read = part.readProject(text);
  if (!read.ok) throw new Error(`“${fileName}”: ${read.message} Nothing was changed.`);
  const occasion = `before opening ${fileName}`;
  const [, former] = await saidWhenLate(
    `“${fileName}” opens once the project from before is kept.`,
    Promise.all([keepVersion(occasion), keepProject(occasion)]),
  );
  putAway('opened');
  const put = () => {
    const undo = { name: 'Undo', run: putProject(read.project, fileName) };
    const from = read.migratedFrom === null ? '' : ', saved by an older Lieflat,';
    page.set({ announcement: `The project ${fileName}${from} is open.` });
    putAway('file');
    if (former) notify('opened', `“${fileName}” is open. ${former.whereNow}`, undo);
  };
  if (!former || former.kept) return put();
  notify('opened', `“${fileName}” is not open, and nothing was changed. ${former.whereNow}`, {
    name: 'Open it all the same',
    run: put,
  });
}

/** Opens a project that was kept when another took its place. */
export async function bringBackProject(former: FormerProject): Promise<void> {
  try {
    await openProject(JSON.stringify(former.project), former.name);
  } catch (error) {
    notify('file', error instanceof Error ? error.message : String(error));
  }
}

/** Unchecked, as it was kept: also what could not be read. */
export function saveFormerProject({ name, project }: FormerProject): void {
  saveText(`${JSON.stringify(project, null, 2)}\n`, name, 'project.json', 'application/json');
}

/** The project as it is now, before another takes its place. */
interface Former {
  /** False where the storage did not take it. */
  readonly kept: boolean;
  /** What it holds and where it is to be found. */
  readonly whereNow: string;
}

/** Keeps the project as it is now; null where it is empty. */
async function keepProject(occasion: string): Promise<Former | null> {
  const { plans, testKnits } = projects.get().project;
  if (plans.length === 0 && testKnits.length === 0) return null;
  const project = projectToSave();
  const name = project.title || 'Untitled project';
  const kept = await guarded(() =>
    storage.keepProject({ name, savedAt: Date.now(), occasion, project }),
  );
  const before = `The project from before, ${projectWords(project)},`;
  const whereNow = kept
    ? `${before} is kept under “Earlier versions”.`
    : `${before} could not be kept among the earlier versions: save it to a file first. Undo brings it back too, while this page stays open.`;
  return { kept, whereNow };
}

function projectWords({ plans, testKnits }: Pick<Project, 'plans' | 'testKnits'>): string {
  const count = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`;
  return `${count(plans.length, 'square')} and ${count(testKnits.length, 'test knit')}`;
}

/** Puts a project on the page and its open plan in the editor; gives what takes both back. */
function putProject(project: Project, fileName: string): () => void {
  const before = { page: page.get(), projects: projects.get() };
  const open = project.plans.find((square) => square.id === project.open) ?? project.plans[0];
  const laid = new Set(project.blanket.rows.flat());
  const plans = project.plans.filter(({ id }) => id !== AT_HAND || laid.has(id));
  const blanket =
    project.blanket.rows.length > 0
      ? project.blanket
      : {
          ...project.blanket,
          rows: projects.get().project.blanket.rows.map((r) => r.map(() => null)),
        };
  changeProject(`opened ${fileName}`, { ...project, plans, blanket, open: null });
  projects.set({
    squareAtHand: plans.some(({ id }) => id === open?.id) ? (open?.id ?? null) : null,
  });
  setUnits(project.units === 'inch' ? 'in' : 'cm');
  if (open) void writePlan(open.text, `opening ${fileName}`);
  if (open?.colours) wear(open.colours);
  page.set({ fileName });
  return () => {
    const { text, preferences, fileName: name } = before.page;
    changeProject(`went back from ${fileName}`, before.projects.project);
    projects.set({ squareAtHand: before.projects.squareAtHand });
    setPreference(preferences);
    if (page.get().text !== text) void writePlan(text, `going back from ${fileName}`);
    page.set({ fileName: name, announcement: 'The project from before is back.' });
    putAway('opened');
  };
}

/** Keeps the plan at hand as another square of the project. */
export function keepAsSquare(): void {
  const { project } = projects.get();
  const { text, preferences } = page.get();
  if (project.plans.length >= 1000) {
    notify('project', 'A project holds 1000 squares at most.');
    return;
  }
  const id = freeId('square', project.plans);
  const name = titleAtHand() || `Square ${project.plans.length + 1}`;
  changeProject(`kept ${name}`, {
    plans: [...project.plans, { id, name, text, colours: keptColours(preferences) }],
  });
  projects.set({ squareAtHand: id });
}

/** Puts the plan at hand in the place of the square it came from. */
export function updateSquare(id: string): void {
  const { project } = projects.get();
  const { text, preferences } = page.get();
  const colours = keptColours(preferences);
  const title = titleAtHand();
  changeProject(`changed ${title || 'a square'}`, {
    plans: project.plans.map((square) =>
      square.id === id ? { ...square, name: title || square.name, text, colours } : square,
    ),
  });
  projects.set({ squareAtHand: id });
}

export async function openSquare(id: string): Promise<void> {
  const square = projects.get().project.plans.find((plan) => plan.id === id);
  if (!square) return;
  const written = writeKept(square.text, `before opening ${square.name}`);
  await saidWhenLate(`${square.name} opens once the plan before is kept.`, written);
  if (square.colours) wear(square.colours);
  page.set({ fileName: '' });
  projects.set({ squareAtHand: id });
}

/** Changes the yarn colours of a square; the fabric on the table wears them where it is that square's. */
export function colourSquare(id: string, change: Partial<ColourChoice>): void {
  const { project } = projects.get();
  const { text, preferences } = page.get();
  const square = project.plans.find((plan) => plan.id === id);
  if (!square) return;
  const before = square.colours ? chosenColours(square.colours, preferences) : preferences;
  const colours = keptColours({ ...before, ...change });
  changeProject(
    `coloured ${square.name}`,
    { plans: project.plans.map((plan) => (plan.id === id ? { ...plan, colours } : plan)) },
    true,
  );
  if (square.text === text) wear(colours);
}

function wear(colours: SquareColours): void {
  setPreference(chosenColours(colours, page.get().preferences));
}

/** Takes the square out of the project and off the blanket. */
export function removeSquare(id: string): void {
  const { project } = projects.get();
  const name = project.plans.find((plan) => plan.id === id)?.name ?? 'a square';
  changeProject(`took ${name} away`, {
    plans: project.plans.filter((plan) => plan.id !== id),
    blanket: {
      ...project.blanket,
      rows: project.blanket.rows.map((row) => row.map((place) => (place === id ? null : place))),
    },
  });
}
