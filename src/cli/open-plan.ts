/**
 * Reads a plan that must be without errors; prints the errors and says so with exit code 1 where it
 * is not (as JSON: the counts and diagnostics that `check` gives).
 */
import { parsePlan } from '../plan/parse.ts';
import { isSimulable, type Plan } from '../plan/plan.ts';
import { printJson, type Session } from './command.ts';
import { checkPlan } from './plan-document.ts';
import { readPlanText } from './plan-input.ts';
import { atSize, type SizeChoice } from './plan-size.ts';
import { EXIT_PLAN_ERRORS } from './usage-error.ts';
import { diagnosticLines, NOTHING_WRITTEN } from './words.ts';

export async function openPlan(
  path: string,
  { io, exitWith }: Session,
  options: SizeChoice & { readonly json?: boolean },
): Promise<Plan | null> {
  const plan = atSize(parsePlan(await readPlanText(path, io)), options);
  if (isSimulable(plan)) return plan;
  exitWith(EXIT_PLAN_ERRORS);
  const { document, broken } = checkPlan(plan);
  if (options.json) {
    printJson(io, document);
    return null;
  }
  if (plan.text.trim() === '') {
    io.out(NOTHING_WRITTEN);
    return null;
  }
  const head = `${document.title || 'Untitled plan'}\n\n`;
  io.out(
    broken
      ? `${head}The plan has mistakes; put them right first:\n\n${diagnosticLines(document.diagnostics)}`
      : `${head}The plan only casts on: there is no round yet.\n`,
  );
  return null;
}
