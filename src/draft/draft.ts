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
  const trials = new Map<DraftSpec, number>();
  let best: Flattest | null = null;
  for (const { spec: given, told } of fallbacks(spec)) {
    onTrial?.(given);
    const found = draftFlattest(given, memory);
    const flatnessError = settled(found, given, memory);
    trials.set(given, flatnessError);
    // Nothing is given up that does not make the piece flatter.
    if (best === null || flatnessError < best.flatnessError) {
      const { draft } = found;
      const compromises = [...told(trials.get(spec) ?? Number.NaN, memory), ...draft.compromises];
      best = { draft: { ...draft, spec, compromises }, flatnessError };
    }
    if (flatnessError <= BLOCKING) break;
  }
  const { draft, flatnessError } = best as Flattest;
  if (flatnessError <= BLOCKING || !Number.isFinite(flatnessError)) return draft;
  return { ...draft, compromises: [...draft.compromises, CANNOT_LIE_FLAT] };
}

const BLOCKING = DEFAULT_BANDS.blocking;

/**
 * Off flat by more than this share of a turn no piece with panels is laid on the table to see whether it lies level there.
 * Chosen: of 31 such drafts with a cable in garter or seed 12 did, the worst at 0.067, and of 14 beyond 0.07 none.
 */
const MAY_SETTLE = 0.07;

/** How far from flat it is; what its own weight lays level is blocked flat, so as little as that at most. */
function settled(
  { draft, flatnessError }: Flattest,
  { panels }: DraftSpec,
  { settles }: Measures,
): number {
  const doubtful = flatnessError > BLOCKING && flatnessError <= MAY_SETTLE && panels.length > 0;
  return doubtful && settles?.(draft.text) ? BLOCKING : flatnessError;
}

/** What a draft says of itself that no timing makes flat. */
export const CANNOT_LIE_FLAT =
  'The decreases of this piece cannot be spaced so that it lies quite flat: look at its verdict before casting on.';

interface Fallback {
  readonly spec: DraftSpec;
  /** What is said of it; `asked`: how far from flat the piece is with all that was asked, share of a turn. */
  readonly told: (asked: number, measures: Measures) => string[];
}

/** The spec, then the same with less and less of their panels: what is tried until the piece lies flat. */
function* fallbacks(spec: DraftSpec): Generator<Fallback> {
  yield { spec, told: () => [] };
  const { panels } = spec;
  const crossed = panels.filter((panel) => panel.crossEvery !== null);
  if (crossed.length > 0)
    yield {
      spec: {
        ...spec,
        panels: panels.map((panel) => ({ ...panel, crossEvery: halvedCrossing(panel) })),
      },
      told: () =>
        crossed.map(
          (panel) =>
            `The panel "${panel.stitches}" crosses every ${halvedCrossing(panel)} rounds instead of every ${panel.crossEvery}: crossed as often as asked, it would keep the piece from lying flat.`,
        ),
    };
  const without = (left: readonly PanelSpec[]): Fallback => ({
    spec: { ...spec, panels: panels.filter((panel) => !left.includes(panel)) },
    told: (asked, measures) => [
      ...left.map((panel, i) => leftOut(spec, panel, left[i - 1], asked)),
      ...keptAtCorner(spec, measures),
    ],
  });
  const groups = pairsOf(panels);
  if (groups.length > 1) for (const group of groups.toReversed()) yield without(group);
  if (panels.length > 0) yield without(panels);
}

/** `before`: the panel left out before it. */
function leftOut(
  { ground }: DraftSpec,
  panel: PanelSpec,
  before: PanelSpec | undefined,
  asked: number,
): string {
  if (before && isTwin(panel, before))
    return `The mirror image of the panel "${panel.stitches}" was left out with it.`;
  const why = isTaller(ground, panel)
    ? `, since its knit stitches are higher than the ${ground === 'garter' ? 'garter' : 'seed stitch'} beside them. Reverse stockinette as the ground is as high as they are`
    : '';
  const by = Number.isFinite(asked)
    ? `Pressed flat with all that was asked, it is strained as by a rim ${(100 * asked).toFixed(0)} % off; blocking evens out ${(100 * BLOCKING).toFixed(0)} %.`
    : '';
  return `The panel "${panel.stitches}" was left out: a piece of this size would not lie flat with it${why}. ${by}`.trim();
}

/** Whether a panel in the ground shows knit stitches that are higher than its own. */
function isTaller(ground: DraftSpec['ground'], panel: PanelSpec): boolean {
  if (ground !== 'garter' && ground !== 'seed') return false;
  return readPanel(panel).columns.some((column) => column === 'k' || column === 'ktbl');
}

/**
 * Where the one panel of garter or seed, too high for it along the middle of a side, lies along the corners: there a round
 * rises by √2 of its height in a square, and knit stitches are a third higher than garter.
 */
function keptAtCorner(spec: DraftSpec, measures: Measures): string[] {
  const [panel, ...others] = spec.panels;
  if (others.length > 0 || panel.place === 'corner' || !isTaller(spec.ground, panel)) return [];
  if (spec.shape === 'disc') return [];
  const moved = { ...spec, panels: [{ ...panel, place: 'corner' as const }] };
  if (settled(draftFlattest(moved, measures), moved, measures) > BLOCKING) return [];
  return [
    `Along the corners (${CORNER_WISH}) the same panel lies flat in this piece, or can be blocked flat.`,
  ];
}

/** How a panel along the corners is wished for. */
const CORNER_WISH = 'panel at “corner”';

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
