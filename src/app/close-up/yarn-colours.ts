/** Linear RGB of the yarn and of the part that a place is about, which stands out from it. */
import { useMemo } from 'react';
import { planShades } from '../../paper/yarn-shades.ts';
import type { Plan } from '../../plan/plan.ts';
import { parseColour, toLinear } from '../../view/colour/colour-scale.ts';
import { usePage } from '../state/page-store.ts';
import type { Preferences } from '../state/preferences.ts';
import { shadeChoice } from '../state/square-colours.ts';

/** Weld, or fleece where the yarn itself is weld. */
const TOLD = '#d9a22e';
const TOLD_ON_YELLOW = '#efe8da';
/** Colours nearer to each other than this are told apart badly, linear RGB. Chosen. */
const APART = 0.3;

export function useYarnRgb(): readonly [yarn: readonly number[], told: readonly number[]] {
  const preferences = usePage((state) => state.preferences);
  const plan = usePage((state) => state.laid?.plan ?? null);
  const shade = useMemo(() => shadeAtHand(plan, preferences), [plan, preferences]);
  return useMemo(() => {
    const yarn = parseColour(shade).map(toLinear);
    const told = parseColour(TOLD).map(toLinear);
    const apart = Math.hypot(yarn[0] - told[0], yarn[1] - told[1], yarn[2] - told[2]);
    return [yarn, apart > APART ? told : parseColour(TOLD_ON_YELLOW).map(toLinear)] as const;
  }, [shade]);
}

/** The yarn that the plan is cast on with, where it tells colours; else the page's. */
function shadeAtHand(plan: Plan | null, preferences: Preferences): string {
  const { mainColour } = preferences;
  if (!plan?.colours) return mainColour;
  return planShades(plan, shadeChoice(preferences)).get(plan.colours.castOn) ?? mainColour;
}
