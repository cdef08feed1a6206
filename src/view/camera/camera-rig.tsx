/**
 * The camera: turned, moved and zoomed by pointer and touch (camera-controls), and by the handle that keys and
 * buttons use.
 *
 * Frames are drawn on demand; a move asks for the frames that it needs. With reduced motion moves
 * jump instead of gliding.
 */
import { useFrame, useThree } from '@react-three/fiber';
import CameraControls from 'camera-controls';
import { vec3 } from 'gl-matrix';
import type { Ref } from 'react';
import { useEffect, useImperativeHandle, useLayoutEffect, useMemo, useRef } from 'react';
import type { PerspectiveCamera } from 'three';
import {
  Box3,
  Matrix4,
  Quaternion,
  Raycaster,
  Sphere,
  Spherical,
  Vector2,
  Vector3,
  Vector4,
} from 'three';
import type { Positions } from '../fabric/surface.ts';
import {
  facingRad,
  fitView,
  leavesPicture,
  measureView,
  nearestAhead,
  stillFramed,
} from './camera-fit.ts';

CameraControls.install({
  THREE: { Box3, Matrix4, Quaternion, Raycaster, Sphere, Spherical, Vector2, Vector3, Vector4 },
});

export interface CameraHandle {
  /** Whole piece in view, from where the camera is. */
  fit(): void;
  /** Back to the first look at it. */
  reset(): void;
  lookFrom(side: 'above' | 'side' | 'below'): void;
  /** Radians around and up. */
  rotate(aroundRad: number, upRad: number): void;
  /** Shares of the picture's height by which the eye moves to the right and up. */
  move(right: number, up: number): void;
  /** Factor on the distance. */
  zoom(factor: number): void;
  /** Tells one view from another: where the camera is and looks, and how large its picture is. */
  view(): string;
  /** The canvas as it is drawn now; to be read before the next frame. */
  picture(): HTMLCanvasElement;
  /** Draws the view as it stands after the last move on another canvas of the same size: for a film. */
  filmOn(target: HTMLCanvasElement): void;
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
  /** The eye comes no nearer to what it looks at, mm: nearer by, yarn has no more to show. */
  readonly leastMm?: number;
  /** Width over height of the part of the canvas that shows one piece. */
  readonly aspect?: number;
}

/** First look: from the front, well above the table. Angles from the z axis and from −y. */
const FIRST_POLAR_RAD = 0.78;
const FIRST_AROUND_RAD = 0.32;
/** Time constants of gliding after a command and while dragging, s. Chosen: a third of a second in all. */
const GLIDE_S = 0.1;
const DRAG_S = 0.04;
/** Longest step of a glide, s: after a pause the first frame must not jump. */
const MOST_STEP_S = 0.05;
/** Pixels of a picture for paper to one of the screen, at most: a small window must not ask for a huge one. */
const MOST_RATIO = 4;
/** A piece that has turned by less while it came to rest is seen from the same side. Chosen. */
const SAME_SIDE_RAD = 0.1;
/** Share of the picture that the piece fills: room for the notes at its edges. Chosen. */
const FILL = 0.84;

/** Nearer than this to where it goes a glide is over, mm. Chosen: far less than a pixel. */
const ARRIVED_MM = 1e-3;
const now = new Vector3();
const atEnd = new Vector3();

/** Whether the camera is, and looks, where its last command sends it. */
function arrived(controls: CameraControls): boolean {
  const eye = controls.getPosition(now, false).distanceTo(controls.getPosition(atEnd, true));
  const target = controls.getTarget(now, false).distanceTo(controls.getTarget(atEnd, true));
  return eye + target < ARRIVED_MM;
}

export function CameraRig(props: CameraRigProps) {
  const { ref, inView, stillMotion, pieceKey, restKey, aspect, corners = 0, fill = FILL } = props;
  const { leastMm = 0 } = props;
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
  const shape = aspect ?? size.width / Math.max(1, size.height);
  const glides = !stillMotion;

  /** True once the user has moved the camera since the piece was laid down. */
  const taken = useRef(false);

  const controls = useMemo(() => {
    camera.up.set(0, 0, 1);
    const made = new CameraControls(camera);
    made.minPolarAngle = 0.02;
    made.maxPolarAngle = Math.PI * 0.97;
    made.azimuthRotateSpeed = 0.8;
    made.polarRotateSpeed = 0.8;
    return made;
  }, [camera]);
  useEffect(() => {
    const redraw = () => invalidate();
    const take = () => {
      taken.current = true;
      invalidate();
    };
    controls.connect(element);
    controls.addEventListener('controlstart', take);
    for (const name of ['control', 'transitionstart'] as const) {
      controls.addEventListener(name, redraw);
    }
    return () => {
      controls.removeAllEventListeners();
      controls.disconnect();
    };
  }, [controls, element, invalidate]);
  useEffect(() => {
    controls.smoothTime = glides ? GLIDE_S : 0;
    controls.draggingSmoothTime = glides ? DRAG_S : 0;
    // The place under the pointer stays there; where several pieces share the canvas it means another one.
    controls.dollyToCursor = aspect === undefined;
    controls.minDistance = radiusMm * 0.06;
    controls.maxDistance = radiusMm * 12;
  }, [controls, glides, aspect, radiusMm]);

  const lens = { fovRad: (camera.fov * Math.PI) / 180, aspect: shape, fill };
  const lookFrom = (polarRad: number, aroundRad: number, isGliding = glides) => {
    const { distanceMm, target } = fitView(inView, middle, polarRad, aroundRad, lens);
    controls.normalizeRotations();
    void controls.setTarget(target[0], target[1], target[2], isGliding);
    void controls.rotateTo(aroundRad, polarRad, isGliding);
    void controls.dollyTo(distanceMm, isGliding);
    if (!isGliding) controls.update(0);
    invalidate();
  };

  const facing = (offRad: number): number =>
    facingRad(corners, cornerRad, offRad, taken.current ? controls.azimuthAngle : firstAround);

  useFrame((_, delta) => {
    // Where it has arrived, one more frame would be this one again.
    if (controls.update(Math.min(delta, MOST_STEP_S)) && !arrived(controls)) invalidate();
    if (leastMm === 0) return;
    const eye = camera.position;
    const nearest = nearestAhead(inView, eye, camera.getWorldDirection(now));
    if (nearest >= leastMm) return;
    void controls.dollyTo(controls.distance + leastMm - nearest, false);
    controls.update(0);
  }, -1);

  useImperativeHandle(ref, () => ({
    fit: () => lookFrom(controls.polarAngle, controls.azimuthAngle),
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
      void controls.rotate(aroundRad, -upRad, glides);
      invalidate();
    },
    move: (right, up) => {
      taken.current = true;
      const { radius } = controls.getSpherical(new Spherical());
      const highMm = 2 * radius * Math.tan((camera.fov * Math.PI) / 360);
      void controls.truck(right * highMm, -up * highMm, glides);
      invalidate();
    },
    zoom: (factor) => {
      taken.current = true;
      const { radius } = controls.getSpherical(new Spherical());
      void controls.dollyTo(radius * factor, glides);
      invalidate();
    },
    view: () => {
      const places = [controls.getPosition(new Vector3()), controls.getTarget(new Vector3())];
      const numbers = places.flatMap(({ x, y, z }) => [x, y, z].map((mm) => mm.toFixed(1)));
      return [...numbers, element.width, element.height].join(' ');
    },
    picture: () => {
      gl.render(scene, camera);
      return gl.domElement;
    },
    filmOn: (target) => {
      advance(performance.now());
      target.width = gl.domElement.width;
      target.height = gl.domElement.height;
      target.getContext('2d')?.drawImage(gl.domElement, 0, 0);
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

  const is = (how: typeof stillFramed): boolean => {
    const at = controls.getTarget(new Vector3());
    const view = { distanceMm: controls.distance, target: vec3.fromValues(at.x, at.y, at.z) };
    return how(inView, view, controls.polarAngle, controls.azimuthAngle, lens);
  };
  // A frame that still holds the piece stays as it is: no jump at the end.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only coming to rest moves the camera
  useEffect(() => {
    if (!restKey || taken.current) return;
    const around = facing(firstAround);
    const turned = Math.abs(controls.azimuthAngle - around) > SAME_SIDE_RAD;
    if (turned || !is(stillFramed)) lookFrom(firstPolar, around);
  }, [restKey]);

  // Another piece, or a canvas of another shape: look at the whole of it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the radius changes while relaxing and must not move the camera
  useEffect(() => {
    taken.current = false;
    camera.near = Math.max(1, radiusMm * 0.02);
    camera.far = radiusMm * 40;
    camera.updateProjectionMatrix();
    lookFrom(firstPolar, facing(firstAround), false);
  }, [pieceKey, shape, controls]);

  // On its way to rest a piece may grow out of the picture, and when it is put down on its table it is somewhere else at
  // once: the eye goes with it, before it is drawn there.
  const lastMiddle = useRef(middle);
  // biome-ignore lint/correctness/useExhaustiveDependencies: only the piece's own moves
  useLayoutEffect(() => {
    const by = vec3.subtract(vec3.create(), middle, lastMiddle.current);
    lastMiddle.current = middle;
    if (taken.current || !is(leavesPicture)) return;
    const at = controls.getTarget(new Vector3());
    void controls.moveTo(at.x + by[0], at.y + by[1], at.z + by[2], false);
    controls.update(0);
    if (is(leavesPicture)) lookFrom(controls.polarAngle, controls.azimuthAngle);
    else invalidate();
  }, [inView]);

  return null;
}
