/**
 * Wishes → plan text: a motif that closes, lies flat and comes nearest to the size asked.
 *
 * Output is text in the plan language, the wishes as completed, and `traded`: what was given up for
 * what, in a knitter's words. Where the piece would not lie flat with all its panels, the least of them
 * is given up that makes it lie flat.
 */
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import { type Draft, makeMotif, tellSize } from './motif/draft-motif.ts';
import { draftFlattest, type Flattest, type Measures } from './search/draft-flattest.ts';
import {
  completeWishes,
  type DraftWishes,
  type PanelWish,
  type WishesAsked,
} from './spec/draft-spec.ts';

export type { Draft } from './motif/draft-motif.ts';

/**
 * `measures` tell how wide the columns of a plan come out, how flat it lies and how big it is at rest; with
 * them the draft is mended until that is right. Without them cables narrow by the published figures.
 * `trying` hears of the wishes before each set of panels is tried.
 */
export function draftPlan(
  asked: WishesAsked,
  measures: Measures | null = null,
  trying?: (given: DraftWishes) => void,
): Draft {
  const wishes = completeWishes(asked);
  if (!measures || wishes.cablePullIn !== null) {
    const { draft } = makeMotif(wishes, null, null, null);
    return tellSize(draft, draft.sizeMm);
  }
  let best: Flattest | null = null;
  for (const { wishes: given, traded } of concessions(wishes)) {
    trying?.(given);
    const { draft, misfit } = draftFlattest(given, measures);
    // Nothing is given up that does not make the piece flatter.
    if (best === null || misfit < best.misfit)
      best = { draft: { ...draft, wishes, traded: [...traded, ...draft.traded] }, misfit };
    if (misfit <= DEFAULT_BANDS.blocking) break;
  }
  const { draft, misfit } = best as Flattest;
  if (misfit <= DEFAULT_BANDS.blocking || !Number.isFinite(misfit)) return draft;
  const told =
    'The decreases of this piece cannot be spaced so that it lies quite flat: look at its verdict before casting on.';
  return { ...draft, traded: [...draft.traded, told] };
}

/** The wishes, then the same with less and less of their panels: what is tried until the piece lies flat. */
function* concessions(wishes: DraftWishes): Generator<{ wishes: DraftWishes; traded: string[] }> {
  yield { wishes, traded: [] };
  const { panels } = wishes;
  const crossed = panels.filter((panel) => panel.crossEvery !== null);
  if (crossed.length > 0)
    yield {
      wishes: {
        ...wishes,
        panels: panels.map((panel) => ({ ...panel, crossEvery: seldom(panel) })),
      },
      traded: crossed.map(
        (panel) =>
          `The panel "${panel.stitches}" crosses every ${seldom(panel)} rounds instead of every ${panel.crossEvery}: crossed as often as asked, it would keep the piece from lying flat.`,
      ),
    };
  const without = (left: readonly PanelWish[]) => ({
    wishes: { ...wishes, panels: panels.filter((panel) => !left.includes(panel)) },
    traded: left.map(
      (panel) =>
        `The panel "${panel.stitches}" was left out: a piece of this size would not lie flat with it.`,
    ),
  });
  if (panels.length > 1) for (const panel of [...panels].reverse()) yield without([panel]);
  if (panels.length > 0) yield without(panels);
}

/** Rounds between crossings when a cable may cross only half as often. */
function seldom({ crossEvery }: PanelWish): number | null {
  return crossEvery === null ? null : 2 * crossEvery;
}
