/**
 * The needle plan in words: which needles, how long, when to change, how the stitches divide.
 * In: phases of `planNeedles` and the units. Out: sentences for the pattern, the page and the command.
 * No sentence begins with a round's number or "cast on": the pattern's text must read back.
 */
import { closesAfter, type NeedlePhase, needleTable, opensAfter } from '../../draft/needle-plan.ts';
import {
  divideNeedles,
  type NeedleTable,
  type NeedleWay,
  takesWholeSides,
} from '../../draft/needles.ts';
import { type Plan, stitchesAtEnd } from '../../plan/plan.ts';
import { counted, stitchCount } from '../../report/words/counts.ts';
import { type LengthUnit, needleLengthWords } from '../../report/words/length.ts';
import { joinNote, LADDERS } from './technique-notes.ts';

/** `circular needle, 60 cm (24 in)`: for the materials. */
export function needleNames(phases: readonly NeedlePhase[], unit: LengthUnit): string[] {
  const names = new Map<string, string>();
  for (const { kind, lengthMm, hold } of phases) {
    const long = needleLengthWords(lengthMm, unit);
    const name = {
      circular: `circular needle, ${long} long`,
      'double-pointed': `set of ${hold + 1} double-pointed needles, ${long} long`,
      'magic loop': `circular needle with a soft cord, ${long} long or longer, for a magic loop`,
      flat: `circular needle, ${long} long or longer, used to and fro, or straight needles that hold ${stitchCount(Math.max(...phases.map((p) => p.most)))}`,
    }[kind];
    names.set(`${kind} ${lengthMm}`, name);
  }
  return [...names.values()];
}

export function needleLines(
  phases: readonly NeedlePhase[],
  plan: Plan,
  unit: LengthUnit,
  sides: number,
): string[] {
  const word = plan.worked === 'flat' ? 'row' : 'round';
  const table = needleTable(plan, wayOf(phases), phases, sides);
  const lines = phases.map((phase, i) => {
    if (phase.kind === 'flat') return `Work on ${onWhat(phase, unit)}.`;
    const count = i === 0 ? phase.first : phases[i - 1].last;
    const parts = divided(phase, plan, sides);
    const what = onWhat(phase, unit);
    const begin = i === 0 ? 'Begin on' : `Once ${word} ${phase.from - 1} is worked, change to`;
    return `${begin} ${what} (${[stitchCount(count), parts].filter(Boolean).join(', ')}).`;
  });
  const last = phases[phases.length - 1];
  if (plan.worked === 'round' && last.kind === 'circular' && plan.ending === 'drawn-up')
    lines.push('When the stitches no longer reach round, change to double-pointed needles.');
  const shrinks = stitchesAtEnd(plan) < plan.castOn;
  const [first] = phases;
  const enough = first.kind === 'double-pointed' ? opensAfter(plan, first.hold) : null;
  if (!shrinks && enough !== null)
    lines.push(
      `Until ${word} ${enough} is worked there are fewer than two stitches to a needle: begin on fewer needles, or with a magic loop.`,
    );
  const close = shrinks && last.kind === 'double-pointed' ? closesAfter(plan, last.hold) : null;
  if (close !== null)
    lines.push(
      `From ${word} ${close} on there are fewer than two stitches to a needle: gather them on fewer needles to close.`,
    );
  if (table) lines.push(...atTheEnds(plan, phases, table, sides));
  return lines;
}

function onWhat({ kind, lengthMm, hold, most }: NeedlePhase, unit: LengthUnit): string {
  const long = needleLengthWords(lengthMm, unit);
  if (kind === 'circular') return `a circular needle, ${long} long`;
  if (kind === 'double-pointed')
    return `${hold} double-pointed needles of ${long}, knitting with one more`;
  if (kind === 'magic loop')
    return `a circular needle of ${long} or more as a magic loop, half of the stitches on each part`;
  return `a needle that holds ${stitchCount(most)}, ${long} or more; they bunch`;
}

/** `33 on each`, `33 or 34 on each`, `36, 18, 36 and 18`: as the table of needles has it when the phase begins. */
function divided(phase: NeedlePhase, plan: Plan, sides: number): string {
  const { kind, from } = phase;
  if (kind !== 'double-pointed' && kind !== 'magic loop') return '';
  const { castOn, rounds } = divideNeedles(plan, wayOf([phase]), sides);
  const shares = from < 2 ? castOn : rounds[from - 2].counts;
  const least = Math.min(...shares);
  const most = Math.max(...shares);
  if (least === most) return `${least} on each`;
  if (most === least + 1) return `${least} or ${most} on each`;
  return `${shares.slice(0, -1).join(', ')} and ${shares[shares.length - 1]}`;
}

/** The way that phases were planned for, as far as their needles tell. */
function wayOf(phases: readonly NeedlePhase[]): NeedleWay {
  if (phases.some(({ kind }) => kind === 'magic loop')) return { kind: 'magic loop' };
  const pointed = phases.find(({ kind }) => kind === 'double-pointed');
  return pointed
    ? { kind: 'double-pointed', hold: pointed.hold === 3 ? 3 : 4 }
    : { kind: 'one circular' };
}

/** Stitches that are moved are told one by one up to so many. Chosen. */
export const MOST_MOVES = 4;

/** What happens where one needle ends and the next begins. */
function atTheEnds(
  plan: Plan,
  phases: readonly NeedlePhase[],
  { straddles, way }: NeedleTable,
  sides: number,
): string[] {
  const lines: string[] = [];
  const needles = way.kind === 'double-pointed' ? way.hold : 1;
  const pointed = phases.some(({ kind }) => kind === 'double-pointed');
  if (pointed && takesWholeSides(plan.castOn, needles, sides))
    lines.push(
      'A marker at the end of a double-pointed needle would fall off: there the gap between the needles stands for it.',
    );
  if (straddles.length > MOST_MOVES)
    lines.push(
      `${counted(straddles.length, 'stitch', 'stitches')} would straddle two needles: before each, move its stitches on to one of them.`,
    );
  else lines.push(...straddles.map(({ words }) => words));
  return lines;
}

/**
 * What to mind while the needles are filled, as the pattern's notes say it. `lines`: which needles when, which tell
 * whether the stitches ever lie on several.
 */
export function needleAdvice(plan: Plan, lines: readonly string[]): string[] {
  const join = joinNote(plan);
  return [
    ...(join === null ? [] : [join]),
    'Place a marker of another colour for the start of the round.',
    ...(lines.some((line) => /double-pointed|magic loop/.test(line)) ? [LADDERS] : []),
  ];
}
