/**
 * What a button or a key does to a picture that is still on its way (its first frame, or a graphics card that dropped
 * it): done once the picture is there, and said where it does not come.
 */
import type { RefObject } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { notify, putAway } from '../state/page-store.ts';

/** A picture that is not there after so many frames does not come. Chosen: seconds, more than a dropped one takes; fewer frames a second on a slow machine. */
const MOST_FRAMES = 300;
/** A camera that has just come looks at its piece first; then it is moved. */
const FRAMES = 2;

export function withCamera(
  camera: RefObject<CameraHandle | null>,
  act: (there: CameraHandle) => void,
): void {
  if (camera.current) {
    act(camera.current);
    return;
  }
  let waited = 0;
  let frames = 0;
  const look = () => {
    if (camera.current && ++frames > FRAMES) {
      putAway('picture');
      act(camera.current);
    } else if (++waited > MOST_FRAMES) {
      notify('picture', 'There is no picture now that could be turned or saved.');
    } else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}
