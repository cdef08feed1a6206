import { Vector3 } from 'three';

/** Key light from the far left, low enough that stitches stand out: chosen. Unit vector towards it, world. */
export const KEY_LIGHT = new Vector3(-0.58, 0.3, 0.66).normalize();
