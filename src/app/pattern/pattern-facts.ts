/**
 * What the pattern is written from: the plan at hand, turned to the way asked for, and what the fabric
 * on the table tells of its size, gauge and yarn. Pure; failures are words for the user.
 */

import type { SeamStitches } from '../../draft/motif/seam-rows.ts';
import { needleTable, planNeedles, wayOfPlan } from '../../draft/needle-plan.ts';
import type { NeedleTable, NeedleWay } from '../../draft/needles.ts';
import { turnFlat, turnRound } from '../../draft/rework/turn-flat.ts';
import { drawSchematic } from '../../paper/pattern/schematic.ts';
import { sidesToMark } from '../../paper/pattern/sides-to-mark.ts';
import { finishedSize } from '../../paper/pattern/size-words.ts';
import { type WrittenPattern, writePattern } from '../../paper/pattern/written.ts';
import { writeSizes } from '../../paper/pattern/written-sizes.ts';
import { type YarnUse, yarnUse } from '../../paper/pattern/yarn-use.ts';
import type { ShadeChoice } from '../../paper/yarn-shades.ts';
import { parsePlan } from '../../plan/parse.ts';
import { hasErrors, type Plan } from '../../plan/plan.ts';
import { sizeNames } from '../../plan/size-names.ts';
import { measureOutline } from '../../report/outline.ts';
import type { Report } from '../../report/report.ts';
import { type Terms, termsOf } from '../../report/words/terms.ts';
import { liesFlat, turnsRound } from '../../report/words/verdict-words.ts';
import { seamLengthMm } from '../../report/yarn-estimate.ts';
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import { positiveNumber } from '../state/number-entry.ts';
import { type Units, unitOf } from '../state/units.ts';
import type { PatternChoices } from './pattern-choices.ts';
import { WAYS } from './pattern-choices.ts';

export interface PatternFacts {
  readonly plan: Plan;
  /** The plan at every size it is for, worked the way asked; itself alone, without a name, where it is for one. */
  readonly sizes: readonly { readonly name: string; readonly plan: Plan }[];
  /** The size that yarn, needles and schematic are of; '' where the plan is for one. */
  readonly followed: string;
  /** What could not be kept in turning the plan, in a knitter's words. */
  readonly notes: readonly string[];
  /** What the page tells its user beside them, and no knitter: not printed. */
  readonly aside: readonly string[];
  readonly written: WrittenPattern;
  /** SVG; null until the fabric is at rest. */
  readonly schematic: string | null;
  readonly terms: Terms;
  readonly hand: 'right' | 'left';
  readonly largePrint: boolean;
  /** Shades of the colours of rounds, those of the picture. */
  readonly shades: ShadeChoice;
  readonly use: YarnUse | null;
  readonly needles: NeedleTable | null;
  /** Round height over stitch width of the ground; null until the fabric is laid out. */
  readonly proportion: number | null;
}

export type PatternReading =
  | { readonly facts: PatternFacts; readonly trouble: null }
  | { readonly facts: null; readonly trouble: string };

export interface PatternInput {
  readonly plan: Plan | null;
  readonly laid: LaidSheet | null;
  readonly knitted: KnittedSheet | null;
  readonly choices: Pick<
    PatternChoices,
    | 'worked'
    | 'seam'
    | 'hand'
    | 'largePrint'
    | 'way'
    | 'allowancePercent'
    | 'ballGrams'
    | 'ballMetres'
  >;
  /** Left out: those that the plan is written in. */
  readonly terms?: Terms;
  readonly units: Units;
  readonly shades?: ShadeChoice;
  /** Reports of the plan's sizes as far as they are known; that of the size on the table is not asked for. */
  readonly sizeReports?: readonly (Report | null)[];
}

export function readPattern(input: PatternInput): PatternReading {
  const { plan, choices } = input;
  if (!plan || hasErrors(plan))
    return trouble('The pattern appears as soon as the plan has no mistakes.');
  if (plan.castOn === 0 || plan.rounds.length === 0)
    return trouble('The pattern appears with the first round of the plan.');
  try {
    const turned = turn(plan, choices.worked ?? plan.worked, choices.seam);
    return typeof turned === 'string'
      ? trouble(turned)
      : { facts: factsOf(turned, input), trouble: null };
  } catch (error) {
    return trouble(error instanceof Error ? error.message : String(error));
  }
}

function trouble(words: string): PatternReading {
  return { facts: null, trouble: words };
}

interface TurnedPlan {
  readonly plan: Plan;
  readonly notes: readonly string[];
}

function turn(plan: Plan, worked: 'round' | 'flat', seam: SeamStitches): TurnedPlan | string {
  if (plan.worked === worked) return { plan, notes: [] };
  const { text, notes } = worked === 'flat' ? turnFlat(plan, seam) : turnRound(plan);
  const other = parsePlan(text);
  const mistake = other.diagnostics.find((d) => d.severity === 'error');
  if (mistake)
    return `This plan cannot be worked ${worked === 'flat' ? 'flat' : 'in the round'}: ${mistake.message}`;
  return { plan: other, notes };
}

function factsOf({ plan, notes }: TurnedPlan, input: PatternInput): PatternFacts {
  const { choices, units } = input;
  // Of a plan that was turned its own text tells, not the one that was made of it.
  const terms = input.terms ?? termsOf(input.plan ?? plan);
  const text = input.plan?.text;
  const laid = input.laid?.plan.text === text ? input.laid : null;
  const knitted = input.knitted?.plan.text === text ? input.knitted : null;
  const report = knitted?.report ?? null;
  const gauge = laid?.gauge ?? knitted?.gauge ?? null;
  const allowance = Number(choices.allowancePercent.replace(',', '.')) / 100;
  const yarnOf = (one: Plan) =>
    gauge
      ? yarnUse(one, {
          stitchMm: gauge.sizes.stockinette.stitchMm,
          tex: gauge.tex,
          seamMm: seamLengthMm(one, gauge.groundSize.roundMm),
          allowance: allowance >= 0 && allowance <= 1 ? allowance : 0.1,
          ballGrams: positiveNumber(choices.ballGrams) ?? one.yarn?.ballGrams ?? null,
          ballMetres: positiveNumber(choices.ballMetres) ?? one.yarn?.ballMetres ?? null,
        })
      : null;
  const use = yarnOf(plan);
  const common = {
    terms,
    units: unitOf(units),
    way: plan.worked === 'round' ? WAYS[choices.way] : null,
    stitchMm: gauge?.groundSize.stitchMm ?? null,
    ground: gauge ? { fabric: gauge.ground, ...gauge.groundSize } : null,
    hand: choices.hand,
  };
  const options = {
    ...common,
    yarnUse: use,
    ...(report && finishedSize(report)),
  };
  const others = otherSizes(plan, input);
  const written = others
    ? writeSizes(
        others.plans.map((one, k) =>
          k === others.followed
            ? { name: others.names[k], plan, options }
            : {
                name: others.names[k],
                plan: one,
                options: {
                  ...common,
                  yarnUse: sameGauge(one, plan) ? yarnOf(one) : null,
                  ...sizeOf(input.sizeReports?.[k]),
                },
              },
        ),
      )
    : writePattern(plan, options);
  const needles = gauge ? needlesOf(plan, common.way, gauge.groundSize.stitchMm) : null;
  const warnings = report ? posture(report) : [];
  const proportion = gauge ? gauge.groundSize.roundMm / gauge.groundSize.stitchMm : null;
  const followed = others ? others.names[others.followed] : '';
  const schematic =
    report && knitted
      ? drawSchematic(plan, report, measureOutline(knitted.graph, knitted.sheet.positions), {
          units: unitOf(units),
          terms,
          largePrint: choices.largePrint,
          size: followed,
        })
      : null;
  const { hand, largePrint } = choices;
  const unknown = others?.plans.some((_, k) => k !== others.followed && !input.sizeReports?.[k]);
  const aside = others
    ? [
        `${unknown ? 'Size and verdict' : 'Schematic, needles and yarn'} are those of ${others.names[others.followed]}, the size that the plan follows; a line such as "Size: 2" in it follows another.`,
      ]
    : [];
  const sizes = others
    ? others.plans.map((one, k) => ({ name: others.names[k], plan: one }))
    : [{ name: '', plan }];
  const told = { notes: [...warnings, ...notes], aside, followed };
  const facts = { plan, sizes, ...told, written, use, needles, proportion };
  const { shades = {} } = input;
  return { ...facts, schematic, terms, hand, largePrint, shades };
}

function sizeOf(report: Report | null | undefined) {
  return report ? finishedSize(report) : null;
}

/** As the pattern's own needle plan has them. */
function needlesOf(plan: Plan, way: NeedleWay | null, stitchMm: number): NeedleTable | null {
  const { sides } = sidesToMark(plan);
  const asked = way ?? wayOfPlan(plan);
  return needleTable(plan, asked, planNeedles(plan, asked, stitchMm, sides), sides);
}

/** The yarn of another size is known where its gauge is that of the fabric laid out. */
function sameGauge(a: Plan, b: Plan): boolean {
  const words = ({ gauges }: Plan) => gauges.map(({ stitchMm, roundMm }) => [stitchMm, roundMm]);
  return JSON.stringify(words(a)) === JSON.stringify(words(b));
}

/** All sizes of a plan for several, worked the same way; null for one size, or where they cannot be told together. */
function otherSizes(
  followed: Plan,
  { plan, choices }: PatternInput,
): {
  readonly names: readonly string[];
  readonly plans: readonly Plan[];
  readonly followed: number;
} | null {
  const sizes = plan?.sizes;
  if (!plan || !sizes) return null;
  const plans: Plan[] = [];
  for (let k = 0; k < sizes.castOns.length; k++) {
    if (k === sizes.chosen) {
      plans.push(followed);
      continue;
    }
    const one = parsePlan(plan.text, k);
    const turned = hasErrors(one) ? '' : turn(one, followed.worked, choices.seam);
    if (typeof turned === 'string') return null;
    plans.push(turned.plan);
  }
  const alike = new Set(plans.map(({ seam }) => JSON.stringify(seam))).size === 1;
  return alike ? { names: sizeNames(plan), plans, followed: sizes.chosen } : null;
}

/** A pattern must not promise a flat piece that the fabric does not make. */
function posture(report: Report): string[] {
  if (!report.relaxation.converged)
    return ['The fabric did not come to rest: size and yarn are not sure.'];
  if (liesFlat(report.verdict) || !turnsRound(report)) return [];
  return [
    `Knitted as written, this piece does not lie flat (${report.verdict}): see the verdict before you knit it.`,
  ];
}
