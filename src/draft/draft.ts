/**
 * Spec → plan text: a motif that closes, lies flat and comes nearest to the size asked.
 *
 * Output is text in the plan language, the spec as completed, and `compromises`: what was given up for
 * what, in a knitter's words. Where the piece would not lie flat with all its panels, the least of them
 * is given up that makes it lie flat.
 */
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import { type Draft, draftOf, makeMotif, withFinalSize } from './motif/draft-motif.ts';
import { readPanel } from './motif/side-pattern.ts';
import { draftFlattest, type Flattest } from './search/draft-flattest.ts';
import { type Measures, remembered } from './search/measures.ts';
import { type DraftSpec, type PanelSpec, resolveSpec, type SpecInput } from './spec/draft-spec.ts';

export type { Draft } from './motif/draft-motif.ts';

/**
 * `measures` tell how wide the columns of a plan come out, how flat it lies and how big it is at rest; with
 * them the draft is mended until that is right. Without them cables narrow by the published figures.
 * `onTrial` hears of the spec before each set of panels is tried.
 */
export function draftPlan(
  asked: SpecInput,
  measures: Measures | null = null,
  onTrial?: (given: DraftSpec) => void,
): Draft {
  const spec = resolveSpec(asked);
  if (!measures || spec.cablePullIn !== null) {
    const draft = draftOf(spec, makeMotif(spec, null, null, null));
    return withFinalSize(draft, draft.sizeMm);
  }
  const memory = remembered(measures);
  let best: Flattest | null = null;
  for (const { spec: given, compromises } of fallbacks(spec)) {
    onTrial?.(given);
    const { draft, flatnessError } = draftFlattest(given, memory);
    // Nothing is given up that does not make the piece flatter.
    if (best === null || flatnessError < best.flatnessError)
      best = {
        draft: { ...draft, spec, compromises: [...compromises, ...draft.compromises] },
        flatnessError,
      };
    if (flatnessError <= DEFAULT_BANDS.blocking) break;
  }
  const { draft, flatnessError } = best as Flattest;
  if (flatnessError <= DEFAULT_BANDS.blocking || !Number.isFinite(flatnessError)) return draft;
  return { ...draft, compromises: [...draft.compromises, CANNOT_LIE_FLAT] };
}

/** What a draft says of itself that no timing makes flat. */
export const CANNOT_LIE_FLAT =
  'The decreases of this piece cannot be spaced so that it lies quite flat: look at its verdict before casting on.';

/** The spec, then the same with less and less of their panels: what is tried until the piece lies flat. */
function* fallbacks(spec: DraftSpec): Generator<{ spec: DraftSpec; compromises: string[] }> {
  yield { spec, compromises: [] };
  const { panels } = spec;
  const crossed = panels.filter((panel) => panel.crossEvery !== null);
  if (crossed.length > 0)
    yield {
      spec: {
        ...spec,
        panels: panels.map((panel) => ({ ...panel, crossEvery: halvedCrossing(panel) })),
      },
      compromises: crossed.map(
        (panel) =>
          `The panel "${panel.stitches}" crosses every ${halvedCrossing(panel)} rounds instead of every ${panel.crossEvery}: crossed as often as asked, it would keep the piece from lying flat.`,
      ),
    };
  const without = (left: readonly PanelSpec[]) => ({
    spec: { ...spec, panels: panels.filter((panel) => !left.includes(panel)) },
    compromises: left.map((panel, i) => leftOut(spec, panel, left[i - 1])),
  });
  const groups = pairsOf(panels);
  if (groups.length > 1) for (const group of groups.toReversed()) yield without(group);
  if (panels.length > 0) yield without(panels);
}

/** `before`: the panel left out before it. */
function leftOut({ ground }: DraftSpec, panel: PanelSpec, before: PanelSpec | undefined): string {
  if (before && isTwin(panel, before))
    return `The mirror image of the panel "${panel.stitches}" was left out with it.`;
  const lower = ground === 'garter' || ground === 'seed';
  const knit = readPanel(panel).columns.some((column) => column === 'k' || column === 'ktbl');
  const why =
    lower && knit
      ? `, since its knit stitches are higher than the ${ground === 'garter' ? 'garter' : 'seed stitch'} beside them. Reverse stockinette as the ground is as high as they are`
      : '';
  return `The panel "${panel.stitches}" was left out: a piece of this size would not lie flat with it${why}.`;
}

const isTwin = (panel: PanelSpec, before: PanelSpec) =>
  panel.mirrored === true && !before.mirrored && before.stitches === panel.stitches;

/** Panels that are given up together: a panel with its mirror image. */
function pairsOf(panels: readonly PanelSpec[]): PanelSpec[][] {
  const groups: PanelSpec[][] = [];
  panels.forEach((panel, i) => {
    const twin = panels[i - 1];
    if (twin && isTwin(panel, twin)) groups[groups.length - 1].push(panel);
    else groups.push([panel]);
  });
  return groups;
}

/** Rounds between crossings when a cable may cross only half as often. */
function halvedCrossing({ crossEvery }: PanelSpec): number | null {
  return crossEvery === null ? null : 2 * crossEvery;
}
