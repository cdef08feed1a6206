/**
 * What a visit begins with: the kept plan and project, and the last fabric with its picture, all asked for at
 * once, before anything is drawn. Out: the page's store with the first text and, where kept, its fabric.
 */
import { FIRST_DEMO } from '../demo/demos.ts';
import { loadKeptPlan } from './autosave.ts';
import { type KeptFabric, loadKeptFabric, loadKeptPicture } from './kept-fabric.ts';
import { page } from './page-store.ts';
import { posed } from './pose.ts';
import { loadKeptProject } from './project-autosave.ts';
import { recoverLeft } from './recover.ts';
import { expectText, relaxFirst } from './relax-on-edit.ts';

let begun: Promise<void> | null = null;

/** Done once the kept plan and project are on the page: what acts on them waits for it. */
export function firstText(): Promise<void> {
  begun ??= loadFirstText();
  return begun;
}

async function loadFirstText(): Promise<void> {
  expectText();
  const recovering = recoverLeft();
  const [kept, , fabric, picture] = await Promise.all([
    recovering.then(loadKeptPlan),
    recovering.then(loadKeptProject),
    loadKeptFabric(),
    loadKeptPicture(),
  ]);
  const text = kept ? kept.text : FIRST_DEMO.text;
  page.set({
    text,
    fileName: kept ? kept.fileName : '',
    keptPicture: picture?.text === text ? URL.createObjectURL(picture.picture) : null,
  });
  const same = fabric?.text === text ? fabric : null;
  if (same) showKept(same);
  if (!same?.advised) relaxFirst(text);
}

function showKept({ text, knitted, savedAt }: KeptFabric): void {
  page.set({
    knitted,
    knittedText: text,
    keptSince: savedAt,
    laid: knitted,
    positions: posed(knitted),
    plan: knitted.plan,
    work: { state: 'rest' },
  });
}
