/**
 * What is to be said of a plan's short rows: turns that leave a hole, wraps that no row picks up, rows that no
 * whole one closes, and the join that they cannot stand on. In: the plan as read. Out: diagnostics, each said once.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { Plan, PlanRound, Severity } from '../plan.ts';
import { isUnworked } from '../stitches/stitch-kind.ts';

/** The text speaks of working wraps with their stitches: `pick up the wraps`, `lifting each wrap`, `hide wraps`. */
const PICKED_UP =
  /\b(?:pick|lift|knit|purl|work|hid|clos|collect)\w*\b[^.;\n]{0,60}\bwraps?\b|\bwraps?\b[^.;\n]{0,40}\b(?:together|with)\b/i;

export function noteShortRows(plan: Omit<Plan, 'diagnostics'>, found: DiagnosticList): void {
  const { rounds } = plan;
  const turned = rounds.filter((round) => round.shortRow && round.shortRow.turnedAt !== null);
  if (turned.length === 0) return;
  const say = (
    severity: Severity,
    code: string,
    { from, to }: PlanRound,
    message: string,
    hint: string,
  ) => found.addAt({ severity, code, from, to, message, hint });
  if (plan.join.halfTurns !== 0) {
    say(
      'error',
      'short-rows-twisted',
      turned[0],
      'short rows on a twisted join cannot be followed: turned back, the work would come to its other side',
      'Join without a twist, or leave out the short rows.',
    );
  }
  const idle = turned.find((r) => r.works.every((id) => isUnworked(plan.kinds[id])));
  if (idle) {
    say(
      'error',
      'turn-without-stitch',
      idle,
      'this turns before a stitch is worked',
      'Say how many stitches are worked before the turn: k10, w&t.',
    );
  }
  const open = turned.find((r) => r.shortRow?.style === 'plain' && !slipsAfter(plan, r));
  if (open) {
    say(
      'note',
      'turn-leaves-hole',
      open,
      'turned without a wrap or a double stitch: a small hole stays at the turn',
      'Write w&t and pick up the wraps later, or slip the first stitch after turning (a double stitch).',
    );
  }
  const wrapped = turned.find((r) => r.shortRow?.style === 'wrap');
  if (wrapped && !PICKED_UP.test(plan.text)) {
    say(
      'note',
      'wraps-not-picked-up',
      wrapped,
      'no row picks up the wraps: each lies as a bar across its stitch',
      'Say in the row that works over them: picking up the wraps and knitting them with their sts.',
    );
  }
  const last = rounds[rounds.length - 1];
  if (plan.ending !== 'bound-off' && last.works.some((id) => isUnworked(plan.kinds[id]))) {
    say(
      'note',
      'short-rows-not-closed',
      last,
      'no row is worked over all stitches after the last turn, so the gap there stays open',
      'Work one whole row over the short rows.',
    );
  }
}

/** The row after the turn begins with a slipped or double stitch, which closes the gap. */
function slipsAfter(plan: Pick<Plan, 'rounds' | 'kinds'>, { n }: PlanRound): boolean {
  const next = plan.rounds[n];
  const first = next?.works.find((id) => !isUnworked(plan.kinds[id]));
  return first !== undefined && plan.kinds[first].slipped !== 0;
}
