/** What the drafter is trying, in words: the stitches, the timing of the decreases, what it does without. */
import { type PanelSpec, resolvePanels, type SpecInput } from '../../draft/spec/draft-spec.ts';
import type { DraftTrial } from '../../knit.ts';

export function trialWords({ castOn, timings, relaxed, doing }: DraftTrial): string {
  return doing === 'timing'
    ? `${castOn} stitches cast on: timing ${timings} of the shaping`
    : `${castOn} stitches cast on: trial ${relaxed} comes to rest, to see its size`;
}

/** What is tried without, if not all panels could be kept; empty where every wish is still kept. */
export function withoutWords(spec: SpecInput, { panels }: DraftTrial): string {
  const wished = resolvePanels(spec.panels ?? []);
  if (panels.length === wished.length) {
    const halvedCrossing = panels.some(({ crossEvery }, i) => crossEvery !== wished[i].crossEvery);
    return halvedCrossing
      ? 'It did not lie flat; now tried with cables crossed half as often.'
      : '';
  }
  // What is left stands in the order of the wishes.
  const missing: string[] = [];
  let kept = 0;
  for (const panel of wished) {
    if (kept < panels.length && samePanel(panels[kept], panel)) kept++;
    else missing.push(`“${panel.stitches}”`);
  }
  return `It did not lie flat with every panel; now tried without ${missing.join(' and ')}.`;
}

function samePanel(a: PanelSpec, b: PanelSpec): boolean {
  return a.stitches === b.stitches && samePlace(a.place, b.place) && a.crossEvery === b.crossEvery;
}

function samePlace(a: PanelSpec['place'], b: PanelSpec['place']): boolean {
  return typeof a === 'object' && typeof b === 'object' ? a.share === b.share : a === b;
}
