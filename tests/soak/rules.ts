/** What must hold of any text, project file, link and whole flow. Each rule throws where it does not. */
import { strict as assert } from 'node:assert';
import { planFragment, planOfFragment } from '../../src/app/files/plan-link.ts';
import { knit } from '../../src/knit.ts';
import { drawChart } from '../../src/paper/chart/chart.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { readProject, writeProject } from '../../src/paper/project-file.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';

/** Longest message that a page or a terminal can show. Chosen. */
const MESSAGE_MOST = 600;

export const RULES = { readsText, readsProject, readsLink, goesThrough };
export type RuleName = keyof typeof RULES;

function readsText(text: string): void {
  diagnosticsInPlace(parsePlan(text));
}

/** Every diagnostic lies in the text and says something, without repeating a long word whole. */
function diagnosticsInPlace({ text, diagnostics }: Plan): void {
  const lines = text.split(/\r\n|\r|\n/);
  for (const { from, to, message, hint, code } of diagnostics) {
    const at = `${code} at ${from.line}:${from.column} to ${to.line}:${to.column}`;
    for (const { line, column } of [from, to]) {
      assert.ok(line >= 1 && line <= lines.length, `${at}: no such line of ${lines.length}`);
      const width = lines[line - 1].length + 1;
      assert.ok(column >= 1 && column <= width, `${at}: no such column of ${width}`);
    }
    assert.ok(from.line < to.line || (from.line === to.line && from.column <= to.column), at);
    assert.ok(message.trim() !== '', `${at}: says nothing`);
    const length = message.length + (hint?.length ?? 0);
    assert.ok(length <= MESSAGE_MOST, `${at}: a message of ${length} characters`);
  }
}

function readsProject(text: string): void {
  const read = readProject(text);
  if (!read.ok) {
    assert.ok(read.message.length > 5 && read.message.length <= MESSAGE_MOST, read.message);
    return;
  }
  const again = readProject(writeProject(read.project));
  assert.deepEqual(again, { ok: true, project: read.project, migratedFrom: null });
}

async function readsLink(fragment: string): Promise<void> {
  let text: string | null;
  try {
    text = await planOfFragment(fragment);
  } catch (error) {
    assert.match((error as Error).message, /^The plan in this link is (damaged|larger)/);
    return;
  }
  if (text === null) return;
  assert.equal(await planOfFragment(await planFragment(text)), text);
}

/** Text to fabric, verdict, pattern and chart: numbers everywhere, or mistakes that are told. */
function goesThrough(text: string): void {
  const { plan, knitted } = knit(text, { maxIterations: 400 });
  diagnosticsInPlace(plan);
  if (!knitted) return;
  const { report, sheet } = knitted;
  for (const [name, value] of Object.entries(report)) {
    assert.ok(typeof value !== 'number' || Number.isFinite(value), `${name} is ${value}`);
  }
  assert.ok(sheet.positions.every(Number.isFinite), 'a stitch has no place');
  const { text: pattern } = writePattern(plan, {
    terms: 'american',
    units: 'cm',
    sizeMm: report.sideMm,
    shape: report.shape,
  });
  assert.ok(pattern.length > 0);
  assert.match(drawChart(plan), /^<svg /);
}
