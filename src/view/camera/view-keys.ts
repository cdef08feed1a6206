/** Keys of a picture: arrows turn, with Shift they move, + and − zoom, F fits, R starts over, T, B and S look from
 * above, below and the side. True where the key was one of them. */
import type { CameraHandle } from './camera-rig.tsx';

/** One press: an eleventh of a half turn, a twelfth of the picture, a fifth nearer. Chosen. */
const TURN_RAD = Math.PI / 16;
const MOVE_SHARE = 1 / 12;
const ZOOM = 1.2;

export function handleViewKey(
  event: { readonly key: string; readonly shiftKey?: boolean },
  camera: CameraHandle | null,
): boolean {
  if (!camera) return false;
  const arrow = ARROWS[event.key];
  if (arrow) {
    const [x, y] = arrow;
    if (event.shiftKey) camera.move(x * MOVE_SHARE, y * MOVE_SHARE);
    else camera.rotate(x * TURN_RAD, y * TURN_RAD);
    return true;
  }
  switch (event.key.toLowerCase()) {
    case '+':
    case '=':
      camera.zoom(1 / ZOOM);
      return true;
    case '-':
    case '_':
      camera.zoom(ZOOM);
      return true;
    case 'f':
      camera.fit();
      return true;
    case 'r':
      camera.reset();
      return true;
    case 't':
      camera.lookFrom('above');
      return true;
    case 'b':
      camera.lookFrom('below');
      return true;
    case 's':
      camera.lookFrom('side');
      return true;
    default:
      return false;
  }
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
