/** Linear RGB of the yarn and of the part that a place is about, which stands out from it. */
import { useMemo } from 'react';
import { parseColour, toLinear } from '../../view/colour/colour-scale.ts';
import { usePage } from '../state/page-store.ts';

/** Weld, or fleece where the yarn itself is weld. */
const TOLD = '#d9a22e';
const TOLD_ON_YELLOW = '#efe8da';
/** Colours nearer to each other than this are told apart badly, linear RGB. Chosen. */
const APART = 0.3;

export function useYarnRgb(): readonly [yarn: readonly number[], told: readonly number[]] {
  const mainColour = usePage((state) => state.preferences.mainColour);
  return useMemo(() => {
    const yarn = parseColour(mainColour).map(toLinear);
    const told = parseColour(TOLD).map(toLinear);
    const apart = Math.hypot(yarn[0] - told[0], yarn[1] - told[1], yarn[2] - told[2]);
    return [yarn, apart > APART ? told : parseColour(TOLD_ON_YELLOW).map(toLinear)] as const;
  }, [mainColour]);
}
