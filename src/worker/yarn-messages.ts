/**
 * What the page and the yarn worker tell each other: yarn laid on the whole sheet, all of it or a small
 * place brought to rest. Every job has a number; the page drops answers to jobs it no longer wants.
 *
 * `LayRequest` is answered by one of `Laid` or `YarnFailed`; `CloseUpRequest` by any number of `Settling`,
 * perhaps a `BaseReached`, and then one of `CloseUpShown` or `YarnFailed`; `RestRequest` by any number of
 * `ComingToRest` and then one of `Rested` or `YarnFailed`; `LookRequest` by one of `LookedAt` or `YarnFailed`.
 */

import type { JoinBase } from '../cell/join-opening.ts';
import type { PanelGround } from '../cell/relax-panel.ts';
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { YarnRelaxation } from '../rod/yarn-material.ts';
import type { YarnCurves } from '../yarn/yarn-curves.ts';

/** A sheet at rest. */
export interface SheetAtRest {
  readonly graph: StitchGraph;
  readonly cells: Cells;
  /** [3·vertices] mm. */
  readonly positions: Float32Array | Float64Array;
}

export interface LayRequest {
  readonly type: 'lay';
  readonly job: number;
  readonly sheet: SheetAtRest;
  readonly segmentsPerStitch: number;
}

/** How the close-up's fabric is knitted. */
export interface Knitting {
  /** Width of a plain stitch, mm: gives the thickness of the yarn. */
  readonly stitchMm: number;
  /** Yarn in one stitch, mm; null for the usual of that width. */
  readonly loopMm: number | null;
}

export type CloseUpJoin = 'plain' | 'crossed' | 'extra' | 'flat';

export type CloseUpAsked =
  | ({ readonly place: 'join'; readonly method: CloseUpJoin; readonly slackMm: number } & Knitting)
  | ({
      readonly place: 'needles';
      readonly slackMm: number;
      /** Which stitch after the gap is tugged tight, 0 for none, and how much yarn that takes. */
      readonly tugged: 0 | 1 | 2;
      readonly tugMm: number;
    } & Knitting)
  | ({
      readonly place: 'cable';
      readonly over: number;
      readonly under: number;
      readonly lean: 1 | -1;
      readonly everyRounds: number;
      /** Faces of the stitches beside the cable, +1 knit, −1 purl: right and left of it. */
      readonly besides: readonly [1 | -1, 1 | -1];
    } & Knitting)
  | { readonly place: 'stitch'; readonly sheet: SheetAtRest; readonly loop: number };

/** What a close-up came to on its way that another setting of the same place can start from. */
export interface CloseUpBase {
  /** Place, method and yarn that it is good for. */
  readonly key: string;
  readonly from: JoinBase | PanelGround;
}

export interface CloseUpRequest {
  readonly type: 'close-up';
  readonly job: number;
  readonly asked: CloseUpAsked;
  /** The last base that was told, if any: used where its key fits. */
  readonly base: CloseUpBase | null;
}

/** All the yarn of a piece, from where it was laid. */
export interface RestRequest {
  readonly type: 'rest';
  readonly job: number;
  readonly graph: StitchGraph;
  readonly curves: YarnCurves;
}

/** Yarn that was stopped on its way: only measured and checked, where `points` are now. */
export interface LookRequest {
  readonly type: 'look';
  readonly job: number;
  readonly graph: StitchGraph;
  readonly curves: YarnCurves;
  /** [3·points] mm. */
  readonly points: Float32Array;
}

export interface HoleMark {
  readonly x: number;
  readonly y: number;
  readonly diameterMm: number;
}

/** A place as yarn, at rest or on its way there, in its own frame: x to the right, y up the wales, z towards the eye (RS). */
export interface CloseUp {
  readonly place: CloseUpAsked['place'];
  /** [3·points] mm. */
  readonly points: Float32Array;
  readonly strandStart: Int32Array;
  /** [points] 1 where the yarn is the one the place is about, 2 in a tugged stitch. */
  readonly told: Uint8Array;
  readonly radiusMm: number;
  /** Half width and half height of what is to be looked at, mm; centred at 0. */
  readonly view: readonly [number, number];
  /** Width of a stitch and height of a round here, mm. */
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Largest hole at the place, and that of ordinary stitches. */
  readonly opening: HoleMark | null;
  readonly ordinary: HoleMark | null;
  /** Width of the repeat with its crossings and without, mm. */
  readonly width: {
    readonly crossedMm: number;
    readonly uncrossedMm: number;
    readonly percent: number;
    readonly cablePercent: number;
    readonly stitches: number;
  } | null;
  /** By how much a needle gap makes every round wider, mm. */
  readonly widerMm?: number;
  readonly loopMm: number;
  readonly yarnMm: number;
  readonly steps: number;
}

export interface Laid {
  readonly type: 'laid';
  readonly job: number;
  readonly curves: YarnCurves;
}

export interface Settling {
  readonly type: 'settling';
  readonly job: number;
  readonly step: number;
  /** Largest force left, in units of the yarn's bending stiffness over its diameter squared. */
  readonly residual: number;
  /** The place as it is now, to be seen moving: nothing on it is measured but the widths of a cable. */
  readonly moving: CloseUp;
}

export interface ComingToRest {
  readonly type: 'coming';
  readonly job: number;
  readonly step: number;
  /** As in `Settling`. */
  readonly residual: number;
  /** [3·points] mm; transferred. */
  readonly points: Float32Array;
}

export interface Rested {
  readonly type: 'rested';
  readonly job: number;
  readonly curves: YarnCurves;
  readonly relaxation: YarnRelaxation;
}

export interface LookedAt {
  readonly type: 'looked-at';
  readonly job: number;
  readonly curves: YarnCurves;
}

export interface BaseReached {
  readonly type: 'base';
  readonly job: number;
  readonly base: CloseUpBase;
}

export interface CloseUpShown {
  readonly type: 'shown';
  readonly job: number;
  readonly closeUp: CloseUp;
}

export interface YarnFailed {
  readonly type: 'yarn-failed';
  readonly job: number;
  /** For the user: what is impossible, with its limits, or that nothing came to rest. */
  readonly message: string;
}

export type ToYarnWorker = LayRequest | CloseUpRequest | RestRequest | LookRequest;
export type FromYarnWorker =
  | Laid
  | Settling
  | BaseReached
  | CloseUpShown
  | ComingToRest
  | Rested
  | LookedAt
  | YarnFailed;
