/** `--size`: which size of a plan for several a command is to follow. */
import type { Command } from 'commander';
import { parsePlan } from '../plan/parse.ts';
import type { Plan } from '../plan/plan.ts';
import { sizeNames } from '../plan/size-names.ts';
import { UsageError } from './usage-error.ts';

export interface SizeChoice {
  /** Its name in the plan, or its number from 1 on. */
  readonly size?: string;
}

export function addSizeOption(command: Command): Command {
  return command.option(
    '--size <size>',
    'of a plan for several sizes the one to follow: name or number',
  );
}

/** The plan at the size asked; as it was read where none is. */
export function atSize(plan: Plan, { size }: SizeChoice): Plan {
  if (size === undefined) return plan;
  const names = sizeNames(plan);
  if (names.length === 0) throw new UsageError('--size is for a plan for several sizes');
  const word = size.trim().toLowerCase();
  const named = names.findIndex((name) => name.toLowerCase() === word);
  const index = named < 0 && /^\d+$/.test(word) ? Number(word) - 1 : named;
  if (index < 0 || index >= names.length)
    throw new UsageError(`there is no size "${size.trim()}": give ${names.join(', ')}`);
  return parsePlan(plan.text, index);
}

/** The plan at every size; itself alone where it is for one. */
export function allSizes(plan: Plan): Plan[] {
  return plan.sizes ? plan.sizes.castOns.map((_, k) => parsePlan(plan.text, k)) : [plan];
}

/** What is said where a picture can show one size only; null for a plan for one. */
export function followedSize(plan: Plan): string | null {
  const { sizes } = plan;
  if (!sizes) return null;
  const names = sizeNames(plan);
  const others = names.filter((_, k) => k !== sizes.chosen);
  return `This is the size ${names[sizes.chosen]}; --size gives another: ${others.join(', ')}.`;
}
