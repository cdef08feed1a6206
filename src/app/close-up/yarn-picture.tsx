/** A place at the level of yarn in the page's colours, with its measures in the user's units. */
import { type RefObject, useMemo } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { DARK_ROOM, LIGHT_ROOM } from '../../view/fabric/surface.ts';
import { CloseUpView } from '../../view/scene/close-up-view.tsx';
import type { CloseUp } from '../../worker/yarn-messages.ts';
import { useDark, useStillMotion } from '../state/media.ts';
import { usePage } from '../state/page-store.ts';
import { marksOf } from './measure-words.ts';
import { useYarnRgb } from './yarn-colours.ts';

export function YarnPicture(props: {
  readonly closeUp: CloseUp;
  readonly camera: RefObject<CameraHandle | null>;
  /** Changes when the yarn has come to rest. */
  readonly restKey: string;
  /** What a control takes of the upper right corner, px. */
  readonly cornerPx?: number;
}) {
  const { closeUp, camera, restKey, cornerPx = 0 } = props;
  const units = usePage((state) => state.preferences.units);
  const dark = useDark();
  const still = useStillMotion();
  const [yarnRgb, toldRgb] = useYarnRgb();
  const strong = (dark ? DARK_ROOM : LIGHT_ROOM).section;
  const plain = dark ? '#ece9e2' : '#22272a';
  const marks = useMemo(
    () => marksOf(closeUp, units, { strong, plain }),
    [closeUp, units, strong, plain],
  );
  return (
    <CloseUpView
      ref={camera}
      yarn={closeUp}
      told={closeUp.told}
      yarnRgb={yarnRgb}
      toldRgb={toldRgb}
      view={closeUp.view}
      stitchMm={closeUp.stitchMm}
      marks={marks}
      plate={dark ? '#1b1f21e6' : '#fffdf9e6'}
      cornerPx={cornerPx}
      stillMotion={still}
      pieceKey={closeUp.place}
      restKey={restKey}
    />
  );
}
