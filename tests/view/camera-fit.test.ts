import { vec3 } from 'gl-matrix';
import { describe, expect, it } from 'vitest';
import {
  facingRad,
  fitView,
  leavesPicture,
  measureView,
  nearestAhead,
  stillFramed,
} from '../../src/view/camera/camera-fit.ts';
import type { CameraHandle } from '../../src/view/camera/camera-rig.tsx';
import { handleViewKey } from '../../src/view/camera/view-keys.ts';

const SQUARE = Float64Array.from([-100, -100, 0, 100, -100, 0, 100, 100, 0, -100, 100, 30]);
const LENS = { fovRad: 0.5, aspect: 1.4, fill: 0.84 };

/** Where a point lies in the picture: shares of its half height and half width. */
function inPicture(point: ArrayLike<number>, polar: number, around: number) {
  const { middle } = measureView([SQUARE]);
  const { distanceMm, target } = fitView([SQUARE], middle, polar, around, LENS);
  const towards = vec3.fromValues(
    Math.sin(polar) * Math.sin(around),
    -Math.sin(polar) * Math.cos(around),
    Math.cos(polar),
  );
  const right = vec3.fromValues(Math.cos(around), Math.sin(around), 0);
  const up = vec3.cross(vec3.create(), towards, right);
  const off = vec3.subtract(vec3.create(), vec3.fromValues(point[0], point[1], point[2]), target);
  const deep = (distanceMm - vec3.dot(off, towards)) * Math.tan(LENS.fovRad / 2);
  return [vec3.dot(off, up) / deep, vec3.dot(off, right) / deep / LENS.aspect];
}

describe('fitting a view', () => {
  it('has every corner in the picture, and one at its allowed edge, from anywhere', () => {
    for (const [polar, around] of [
      [0.02, 0],
      [0.78, 0.32],
      [1.5, 2],
      [3, -1],
    ]) {
      let furthest = 0;
      for (let i = 0; i < SQUARE.length; i += 3) {
        const [high, wide] = inPicture(SQUARE.subarray(i, i + 3), polar, around);
        furthest = Math.max(furthest, Math.abs(high), Math.abs(wide));
      }
      expect(furthest).toBeLessThan(LENS.fill + 0.01);
      expect(furthest).toBeGreaterThan(LENS.fill - 0.06);
    }
  });

  it('keeps a frame while the piece fits it, and makes another where it has outgrown it or shrunk in it', () => {
    const { middle } = measureView([SQUARE]);
    const view = fitView([SQUARE], middle, 0.78, 0.32, LENS);
    const framed = (share: number) =>
      stillFramed([SQUARE.map((v) => share * v)], view, 0.78, 0.32, LENS);
    expect([0.7, 0.95, 1, 1.03, 1.2].map(framed)).toEqual([false, true, true, true, false]);
    const away = { ...view, target: vec3.fromValues(80, 0, 0) };
    expect(stillFramed([SQUARE], away, 0.78, 0.32, LENS)).toBe(false);
    // In a narrow picture there is room above and below: a piece put down on its table lies in the middle again.
    const narrow = { ...LENS, aspect: 0.7 };
    const there = fitView([SQUARE], middle, 0.78, 0.32, narrow);
    const sunk = (mm: number) => SQUARE.map((v, i) => (i % 3 === 2 ? v - mm : v));
    const stays = (mm: number) => stillFramed([sunk(mm)], there, 0.78, 0.32, narrow);
    expect([0, 10, 60].map(stays)).toEqual([true, true, false]);
  });

  it('follows a piece that grows only once it leaves the picture', () => {
    const { middle } = measureView([SQUARE]);
    const view = fitView([SQUARE], middle, 0.78, 0.32, LENS);
    const leaves = (share: number) =>
      leavesPicture([SQUARE.map((v) => share * v)], view, 0.78, 0.32, LENS);
    expect([0.3, 1, 1.1, 1.3].map(leaves)).toEqual([false, false, false, true]);
  });

  it('turns the nearest side to the front', () => {
    const quarter = Math.PI / 2;
    // Corners on the diagonals: sides face the eye at whole quarters.
    expect(facingRad(4, Math.PI / 4, 0, 0.3)).toBeCloseTo(0, 10);
    expect(facingRad(4, Math.PI / 4, 0, 2)).toBeCloseTo(quarter, 10);
    expect(facingRad(0, 1, 0.32, 5)).toBe(0.32);
  });
});

describe('keys of the picture', () => {
  it('turn, move, zoom and look, and leave other keys alone', () => {
    const did: unknown[] = [];
    const camera = new Proxy({} as CameraHandle, {
      get:
        (_, name) =>
        (...values: unknown[]) =>
          did.push([name, ...values]),
    });
    for (const key of ['ArrowLeft', '+', 'f', 'S'])
      expect(handleViewKey({ key }, camera)).toBe(true);
    expect(handleViewKey({ key: 'ArrowUp', shiftKey: true }, camera)).toBe(true);
    expect(handleViewKey({ key: 'x' }, camera)).toBe(false);
    expect(did.map((call) => (call as unknown[])[0])).toEqual([
      'rotate',
      'zoom',
      'fit',
      'lookFrom',
      'move',
    ]);
  });
});

describe('how near the eye is', () => {
  it('is told by the nearest vertex before it, of whichever piece; what lies behind does not count', () => {
    const pieces = [Float64Array.of(0, 0, 0, 30, 0, -40), Float64Array.of(0, 0, 12)];
    const down = { x: 0, y: 0, z: -1 };
    expect(nearestAhead(pieces, { x: 0, y: 0, z: 20 }, down)).toBe(8);
    expect(nearestAhead(pieces, { x: 0, y: 0, z: 10 }, down)).toBe(10);
    expect(nearestAhead(pieces, { x: 0, y: 0, z: -50 }, down)).toBe(Number.POSITIVE_INFINITY);
  });
});
