/**
 * Yarn as a file, made away from the page: a piece has a million faces. One request, one answer; the
 * page ends the worker afterwards.
 */
import type { YarnCurves } from '../yarn/yarn-curves.ts';
import type { SheetAtRest } from './yarn-messages.ts';

export interface ShapeRequest {
  readonly job: number;
  readonly sheet: SheetAtRest;
  /** Its yarn where that is there already, brought to rest; null: it is laid. */
  readonly curves: YarnCurves | null;
  readonly title: string;
  readonly format: 'obj' | 'glb';
  /** [3·loops] sRGB bytes. */
  readonly loopColours: Uint8Array;
}

export type ShapeAnswer =
  | { readonly type: 'shape'; readonly job: number; readonly file: Uint8Array<ArrayBuffer> }
  | { readonly type: 'shape-failed'; readonly job: number; readonly message: string };
