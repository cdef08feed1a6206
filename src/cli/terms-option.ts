/** The option of every command that writes what knitters read: whose terms it is told in. */
import type { Command } from 'commander';
import type { Plan } from '../plan/plan.ts';
import { type Terms, termsOf } from '../report/words/terms.ts';
import { parseTerms } from './option-values.ts';

export interface TermsChoice {
  readonly terms?: Terms;
}

export function addTermsOption(command: Command): Command {
  return command.option(
    '--terms <terms>',
    'american or british (as the plan is written)',
    parseTerms,
  );
}

export function chosenTerms({ terms }: TermsChoice, plan: Plan): Terms {
  return terms ?? termsOf(plan);
}
