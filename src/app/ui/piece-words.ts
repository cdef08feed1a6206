/** The piece in words, for those who don't see the picture. */
import { joinStitches, type Plan } from '../../plan/plan.ts';
import { whereItStands } from '../../report/where.ts';
import { castOnWords } from '../../report/words/counts.ts';
import { lengthWords } from '../../report/words/length.ts';
import { tubeWords } from '../../report/words/size-fact.ts';
import { blockedWords, riseWords } from '../../report/words/table-words.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { whereWords } from '../../report/words/where-words.ts';
import type { Positions } from '../../view/fabric/surface.ts';
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import { poseOf } from '../state/pose.ts';
import { type Units, unitOf } from '../state/units.ts';

/** Of a plan that is too large to be followed not the rounds, since only some were. */
export function planSummary(plan: Plan): string {
  if (plan.castOn === 0) return '';
  if (plan.diagnostics.some(({ code }) => code === 'plan-too-big'))
    return `${plan.castOn} sts cast on`;
  const rounds = plan.rounds.length;
  const word = plan.worked === 'flat' ? 'row' : 'round';
  const more = joinStitches(plan);
  const castOn = more > 0 ? `${plan.castOn} sts and ${more} for the join` : `${plan.castOn} sts`;
  return `${castOn} cast on · ${rounds} ${rounds === 1 ? word : `${word}s`}`;
}

/** What the picture shows: the piece in the pose it is drawn in, how it stands, and where it rises. */
export function describePiece(
  laid: LaidSheet,
  knitted: KnittedSheet | null,
  positions: Positions | null,
  units: Units,
): string {
  const { plan } = laid;
  const rounds = plan.rounds.length;
  const word = plan.worked === 'flat' ? 'rows' : 'rounds';
  const castOn = castOnWords(plan.castOn, joinStitches(plan));
  const piece = `${plan.title || 'The piece'}: ${castOn} cast on, ${rounds} ${word}.`;
  if (!knitted || knitted.graph !== laid.graph) return `${piece} Still relaxing.`;
  const { report } = knitted;
  const unit = unitOf(units);
  const verdict = `${VERDICT_HEADLINES[report.verdict]}.`;
  const pose = poseOf(knitted, positions);
  if (pose === 'blocked') {
    const size = report.corners >= 3 ? 'each side' : 'its diameter';
    return `${piece} ${verdict} Shown pinned flat, dried: ${size} ${blockedWords(report, unit)}.`;
  }
  if (report.tube)
    return `${piece} ${verdict} Shown standing, without weight: ${tubeWords(report.tube, (mm) => lengthWords(mm, unit))}.`;
  const where = whereItStands(
    laid.graph,
    positions ?? knitted.sheet.positions,
    report.shape === 'disc' ? 0 : report.corners,
  );
  const rise = pose === 'lying' ? riseWords(report, unit) : lengthWords(where.riseMm, unit);
  const shown =
    pose === 'lying'
      ? 'Shown as it lies on the table'
      : report.lying
        ? 'Shown picked up, without weight'
        : 'Shown without weight';
  return `${piece} ${verdict} ${shown}: it rises ${rise}. ${whereWords(where, report.worked, unit)}`;
}

/** “today at 14:05” or “on 3 March at 14:05”. */
export function whenWords(at: number): string {
  const then = new Date(at);
  const time = then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  const day = then.toLocaleDateString('en-GB', { day: 'numeric', month: 'long' });
  const today = then.toDateString() === new Date().toDateString();
  return `${today ? 'today' : `on ${day}`} at ${time}`;
}
