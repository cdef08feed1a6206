/**
 * What is to be said of a ring closed with a twist. In: the plan as read, and whether its text names the turns. Out:
 * diagnostics. With every stitch on the needle both ends of the cast-on hang from it, so that the free edge goes round
 * the needle by whole turns (geometry); a half turn joins the edge to the stitches, which a cast-on must be made for.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { Plan } from '../plan.ts';

export function noteJoin(
  { worked, join, castOnAt }: Omit<Plan, 'diagnostics'>,
  assumed: boolean,
  found: DiagnosticList,
): void {
  if (worked !== 'round' || join.halfTurns === 0) return;
  const say = (code: string, message: string, hint: string) =>
    found.addAt({ severity: 'note', code, from: castOnAt, to: castOnAt, message, hint });
  if (assumed) {
    say(
      'twist-taken-as-full-turn',
      'twisted is taken as one full turn: with all stitches on the needle the edge goes round it by whole turns',
      'Write twisted by 2 full turns for more, or by 1 half turn for a Möbius cast-on.',
    );
  } else if (join.halfTurns % 2 !== 0) {
    say(
      'half-turn-needs-its-cast-on',
      'a half turn does not come about on the needle, where the edge goes round by whole turns: it takes a Möbius cast-on',
      'For a cast-on that was twisted by mistake, write twisted by 1 full turn.',
    );
  }
}
