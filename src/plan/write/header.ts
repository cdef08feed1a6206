/**
 * Header lines of plan text, made from what a Plan holds (not from how it was worded).
 */
import { parsePlan } from '../parse.ts';
import type { GaugeStatement, Plan } from '../plan.ts';
import { stitchKind } from '../stitches/table.ts';
import { colourHeader } from './colours.ts';

/** What the header tells; a Plan, or a Plan with some of it changed. */
export type HeaderSource = Pick<
  Plan,
  | 'title'
  | 'yarn'
  | 'gauges'
  | 'needles'
  | 'worked'
  | 'join'
  | 'seam'
  | 'kinds'
  | 'sides'
  | 'colours'
>;

/** `inches`: gauges say four inches too. */
export function headerOf(plan: HeaderSource, inches = false): string[] {
  const lines: string[] = [];
  if (plan.title !== '') lines.push(`Title: ${plan.title}`);
  if (plan.yarn) lines.push(`Yarn: ${plan.yarn.text}`);
  for (const gauge of plan.gauges)
    lines.push(`Gauge: ${gaugeStatement(gauge, plan.worked, inches)}`);
  if (plan.needles) lines.push(`Needles: ${plan.needles.text}`);
  lines.push(workedHeader(plan.worked, plan.seam));
  const { method, halfTurns } = plan.join;
  if (plan.worked === 'round' && (method !== 'plain' || halfTurns > 0)) {
    const words = method === 'extra' ? 'extra stitch' : method;
    const turns = halfTurns === 1 ? '1 half turn' : `${halfTurns} half turns`;
    lines.push(`Join: ${halfTurns > 0 ? `${words}, twisted by ${turns}` : words}`);
  }
  const colours = colourHeader(plan);
  if (colours) lines.push(colours);
  if (plan.sides !== null && plan.sides !== undefined) lines.push(`Sides: ${plan.sides}`);
  for (const kind of plan.kinds)
    if (!stitchKind(kind.name))
      lines.push(`Abbreviation: ${kind.name} = works ${kind.consumes} makes ${kind.loops.length}`);
  return lines;
}

/** Gauges and yarn as the header's text reads back: a search works with the very figures that are written. */
export function readHeader(lines: readonly string[]): Pick<Plan, 'gauges' | 'yarn'> {
  const { gauges, yarn } = parsePlan(`${lines.join('\n')}\n`);
  return { gauges, yarn };
}

/** Exactly, so that it reads back: `22 sts and 30 rounds = 10 cm in stockinette`; in inches where that gives the rounder figures.
 * `also`: with the other span in brackets, which counts as the same where a swatch is measured (common practice). */
export function gaugeStatement(
  gauge: Omit<GaugeStatement, 'at'>,
  worked: 'round' | 'flat',
  also = false,
): string {
  const { stitchMm, roundMm } = gauge;
  const even = (lengthMm: number) =>
    isQuarter(lengthMm / stitchMm) && (roundMm === null || isQuarter(lengthMm / roundMm));
  const span = SPANS.find(({ lengthMm }) => even(lengthMm)) ?? SPANS[0];
  const per = (size: number) => String(Number((span.lengthMm / size).toPrecision(10)));
  const rounds =
    roundMm === null ? '' : ` and ${per(roundMm)} ${worked === 'round' ? 'rounds' : 'rows'}`;
  const like = also ? ` (${SPANS[span === SPANS[0] ? 1 : 0].words})` : '';
  return `${per(stitchMm)} sts${rounds} = ${span.words}${like}${fabricWords(gauge.fabric)}`;
}

const SPANS = [
  { lengthMm: 100, words: '10 cm' },
  { lengthMm: 101.6, words: '4 in' },
] as const;

function isQuarter(count: number): boolean {
  return Math.abs(count * 4 - Math.round(count * 4)) < 1e-6;
}

export function fabricWords(fabric: string | null): string {
  if (fabric === null) return '';
  const words = { reverse: 'reverse stockinette', garter: 'garter stitch', seed: 'seed stitch' };
  return ` in ${words[fabric as keyof typeof words] ?? fabric}`;
}

/** `Worked: flat, seam stitches 1 + 1 (beginning + end of RS rows)`. */
export function workedHeader(worked: 'round' | 'flat', seam: Plan['seam']): string {
  if (worked === 'round') return 'Worked: in the round';
  if (!seam) return 'Worked: flat, no seam';
  if (seam.begin + seam.end === 0) return 'Worked: flat, sewn edge to edge (seam stitches 0 + 0)';
  return `Worked: flat, seam stitches ${seam.begin} + ${seam.end} (beginning + end of RS rows)`;
}
