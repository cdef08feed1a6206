/**
 * The camera: orbit, zoom and fit by pointer, and the same by the handle that keys and buttons use.
 *
 * Frames are drawn on demand; a move asks for the frames that it needs. With reduced motion moves
 * jump instead of gliding.
 */
import { useFrame, useThree } from '@react-three/fiber';
import type { Ref } from 'react';
import { useEffect, useImperativeHandle, useMemo, useRef } from 'react';
import type { PerspectiveCamera } from 'three';
import { Box3, Spherical, Vector3 } from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';
import type { Positions } from '../fabric/surface.ts';
import { furthestRad } from '../fabric/surface.ts';

export interface CameraHandle {
  /** Whole piece in view, from where the camera is. */
  fit(): void;
  /** Back to the first look at it. */
  reset(): void;
  lookFrom(side: 'above' | 'side' | 'below'): void;
  /** Radians around and up. */
  rotate(aroundRad: number, upRad: number): void;
  /** Factor on the distance. */
  zoom(factor: number): void;
  /** The canvas as it is drawn now; to be read before the next frame. */
  picture(): HTMLCanvasElement;
  /** Draws the view on another canvas, at least so many pixels wide: for paper. */
  drawOn(target: HTMLCanvasElement, leastWidthPx: number): void;
}

export interface CameraRigProps {
  readonly ref?: Ref<CameraHandle>;
  /** Everything that is to be in view: positions of the pieces, mm. */
  readonly inView: readonly Positions[];
  readonly stillMotion: boolean;
  /** Changes when another piece is laid on the table: then the view is fitted again. */
  readonly pieceKey: string;
  /** Changes when a piece has come to rest; the view follows unless the user has taken it over. */
  readonly restKey?: string;
  /** Corners of the piece, 0 for none: a side is turned to the front. */
  readonly corners?: number;
  /** Share of the picture that the piece may fill. */
  readonly fill?: number;
  /** Where the first look comes from; from the front, well above the table, by default. */
  readonly firstLook?: { readonly polarRad: number; readonly aroundRad: number };
  /** Width over height of the part of the canvas that shows one piece. */
  readonly aspect?: number;
}

/** First look: from the front, well above the table. Angles from the z axis and from −y. */
const FIRST_POLAR_RAD = 0.78;
const FIRST_AROUND_RAD = 0.32;
const GLIDE_S = 0.35;
/** Pixels of a picture for paper to one of the screen, at most: a small window must not ask for a huge one. */
const MOST_RATIO = 4;
/** Share of the picture that the piece fills: room for the notes at its edges. Chosen. */
const FILL = 0.84;

interface Move {
  readonly from: Spherical;
  readonly to: Spherical;
  readonly fromTarget: Vector3;
  readonly toTarget: Vector3;
  at: number;
}

export function CameraRig(props: CameraRigProps) {
  const { ref, inView, stillMotion, pieceKey, restKey, aspect, corners = 0, fill = FILL } = props;
  const firstPolar = props.firstLook?.polarRad ?? FIRST_POLAR_RAD;
  const firstAround = props.firstLook?.aroundRad ?? FIRST_AROUND_RAD;
  const { radiusMm, middle, cornerRad } = useMemo(() => measureView(inView), [inView]);
  const camera = useThree((state) => state.camera) as PerspectiveCamera;
  const gl = useThree((state) => state.gl);
  const scene = useThree((state) => state.scene);
  const element = gl.domElement;
  const invalidate = useThree((state) => state.invalidate);
  const advance = useThree((state) => state.advance);
  const size = useThree((state) => state.size);
  const move = useRef<Move | null>(null);
  const shape = aspect ?? size.width / Math.max(1, size.height);

  /** True once the user has moved the camera since the piece was laid down. */
  const taken = useRef(false);

  const controls = useMemo(() => {
    camera.up.set(0, 0, 1);
    const made = new OrbitControls(camera, element);
    made.enableDamping = false;
    made.maxPolarAngle = Math.PI * 0.98;
    made.rotateSpeed = 0.8;
    return made;
  }, [camera, element]);
  useEffect(() => {
    const redraw = () => {
      move.current = null;
      taken.current = true;
      invalidate();
    };
    controls.addEventListener('start', redraw);
    controls.addEventListener('change', () => invalidate());
    return () => controls.dispose();
  }, [controls, invalidate]);

  /** Distance from which everything is in view, looking from a direction, and where to look. */
  const fitFrom = (phi: number, theta: number): { distance: number; target: Vector3 } => {
    const high = Math.tan(((camera.fov / 2) * Math.PI) / 180) * fill;
    const wide = high * shape;
    // Axes of the view: towards the eye, to its right, and up.
    const towards = new Vector3(
      Math.sin(phi) * Math.sin(theta),
      -Math.sin(phi) * Math.cos(theta),
      Math.cos(phi),
    );
    const right = new Vector3(Math.cos(theta), Math.sin(theta), 0);
    const up = new Vector3().crossVectors(towards, right);
    const target = middle.clone();
    let distance = 10;
    // Near parts look bigger, so the middle of the picture is found in a few rounds.
    for (let round = 0; round < 4; round++) {
      let low = Number.POSITIVE_INFINITY;
      let top = Number.NEGATIVE_INFINITY;
      const before = distance;
      distance = 10;
      for (const positions of inView) {
        for (let i = 0; i < positions.length; i += 3) {
          const x = positions[i] - target.x;
          const y = positions[i + 1] - target.y;
          const z = positions[i + 2] - target.z;
          const near = x * towards.x + y * towards.y + z * towards.z;
          const aside = Math.abs(x * right.x + y * right.y + z * right.z);
          const above = x * up.x + y * up.y + z * up.z;
          distance = Math.max(distance, near + aside / wide, near + Math.abs(above) / high);
          if (round > 0 && before > near) {
            low = Math.min(low, above / (before - near));
            top = Math.max(top, above / (before - near));
          }
        }
      }
      if (round > 0 && round < 3 && top > low) {
        target.addScaledVector(up, ((low + top) / 2) * before);
      }
    }
    return { distance, target };
  };

  /**
   * Angle from which a side faces the eye, turned on by `off`. Of the equal sides the one nearest to
   * where the camera is, so that it never swings round needlessly.
   */
  const facing = (off: number): number => {
    if (corners < 3) return off;
    const step = (2 * Math.PI) / corners;
    const theta = cornerRad + step / 2 + Math.PI / 2 + off;
    const now = inView.length > 0 && taken.current ? current().theta : 0.3;
    return theta + Math.round((now - theta) / step) * step;
  };

  const lookFrom = (phi: number, theta: number) => {
    const { distance, target } = fitFrom(phi, theta);
    go(new Spherical(distance, phi, theta), target);
  };

  const place = (spherical: Spherical) => {
    const { theta, phi, radius } = spherical;
    camera.position.set(
      controls.target.x + radius * Math.sin(phi) * Math.sin(theta),
      controls.target.y - radius * Math.sin(phi) * Math.cos(theta),
      controls.target.z + radius * Math.cos(phi),
    );
    camera.lookAt(controls.target);
    controls.update();
    invalidate();
  };

  const current = () => {
    const away = camera.position.clone().sub(controls.target);
    const radius = away.length();
    return new Spherical(
      radius,
      Math.acos(Math.max(-1, Math.min(1, away.z / (radius || 1)))),
      Math.atan2(away.x, -away.y),
    );
  };

  const go = (to: Spherical, target: Vector3 | null) => {
    to.phi = Math.max(0.02, Math.min(Math.PI * 0.97, to.phi));
    to.radius = Math.max(radiusMm * 0.12, Math.min(radiusMm * 12, to.radius));
    if (stillMotion) {
      if (target) controls.target.copy(target);
      place(to);
      return;
    }
    move.current = {
      from: current(),
      to,
      fromTarget: controls.target.clone(),
      toTarget: target ?? controls.target.clone(),
      at: 0,
    };
    invalidate();
  };

  useFrame((_, delta) => {
    const going = move.current;
    if (!going) return;
    going.at = Math.min(1, going.at + Math.min(delta, 0.05) / GLIDE_S);
    const eased = 1 - (1 - going.at) ** 3;
    controls.target.lerpVectors(going.fromTarget, going.toTarget, eased);
    place(
      new Spherical(
        going.from.radius + (going.to.radius - going.from.radius) * eased,
        going.from.phi + (going.to.phi - going.from.phi) * eased,
        going.from.theta + (going.to.theta - going.from.theta) * eased,
      ),
    );
    if (going.at >= 1) move.current = null;
    else invalidate();
  });

  useImperativeHandle(ref, () => ({
    fit: () => {
      const { phi, theta } = current();
      lookFrom(phi, theta);
    },
    reset: () => {
      taken.current = false;
      lookFrom(firstPolar, facing(firstAround));
    },
    lookFrom: (side) => {
      taken.current = true;
      // From below the piece is turned over like a page: its left edge comes to the right.
      if (side === 'below') lookFrom(Math.PI * 0.965, facing(Math.PI));
      else lookFrom(side === 'above' ? 0.02 : Math.PI / 2 - 0.06, facing(0));
    },
    rotate: (aroundRad, upRad) => {
      taken.current = true;
      const to = move.current?.to.clone() ?? current();
      to.theta += aroundRad;
      to.phi -= upRad;
      go(to, null);
    },
    zoom: (factor) => {
      taken.current = true;
      const to = move.current?.to.clone() ?? current();
      to.radius *= factor;
      go(to, null);
    },
    picture: () => {
      gl.render(scene, camera);
      return gl.domElement;
    },
    drawOn: (target, leastWidthPx) => {
      const before = gl.getPixelRatio();
      const wide = gl.domElement.clientWidth;
      gl.setPixelRatio(Math.max(before, Math.min(MOST_RATIO, leastWidthPx / Math.max(1, wide))));
      // Through the frame loop, as a view may draw several pieces in one frame.
      advance(performance.now());
      target.width = gl.domElement.width;
      target.height = gl.domElement.height;
      target.getContext('2d')?.drawImage(gl.domElement, 0, 0);
      gl.setPixelRatio(before);
      advance(performance.now());
    },
  }));

  // biome-ignore lint/correctness/useExhaustiveDependencies: only coming to rest moves the camera
  useEffect(() => {
    if (restKey && !taken.current) lookFrom(firstPolar, facing(firstAround));
  }, [restKey]);

  // Another piece, or a canvas of another shape: look at the whole of it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the radius changes while relaxing and must not move the camera
  useEffect(() => {
    move.current = null;
    taken.current = false;
    camera.near = Math.max(1, radiusMm * 0.02);
    camera.far = radiusMm * 40;
    camera.updateProjectionMatrix();
    const theta = facing(firstAround);
    const { distance, target } = fitFrom(firstPolar, theta);
    controls.target.copy(target);
    place(new Spherical(distance, firstPolar, theta));
  }, [pieceKey, shape, controls]);

  return null;
}

/** Middle of the box around all positions, its radius, and where the first piece reaches furthest. */
function measureView(inView: readonly Positions[]): {
  radiusMm: number;
  middle: Vector3;
  cornerRad: number;
} {
  const box = new Box3();
  const point = new Vector3();
  for (const positions of inView) {
    for (let i = 0; i < positions.length; i += 3) {
      box.expandByPoint(point.set(positions[i], positions[i + 1], positions[i + 2]));
    }
  }
  const middle = box.isEmpty() ? new Vector3() : box.getCenter(new Vector3());
  const radiusMm = Math.max(10, box.isEmpty() ? 10 : box.max.distanceTo(middle));
  return { radiusMm, middle, cornerRad: furthestRad(inView[0] ?? []) };
}

/** Keys of the picture: arrows turn, + and − zoom, F fits, R starts over, T, B and S look from above, below and the side. */
export function handleViewKey(event: { key: string }, camera: CameraHandle | null): boolean {
  if (!camera) return false;
  const step = Math.PI / 16;
  switch (event.key) {
    case 'ArrowLeft':
      camera.rotate(-step, 0);
      return true;
    case 'ArrowRight':
      camera.rotate(step, 0);
      return true;
    case 'ArrowUp':
      camera.rotate(0, step);
      return true;
    case 'ArrowDown':
      camera.rotate(0, -step);
      return true;
    case '+':
    case '=':
      camera.zoom(1 / 1.2);
      return true;
    case '-':
    case '_':
      camera.zoom(1.2);
      return true;
    case 'f':
    case 'F':
      camera.fit();
      return true;
    case 'r':
    case 'R':
      camera.reset();
      return true;
    case 't':
    case 'T':
      camera.lookFrom('above');
      return true;
    case 'b':
    case 'B':
      camera.lookFrom('below');
      return true;
    case 's':
    case 'S':
      camera.lookFrom('side');
      return true;
    default:
      return false;
  }
}
