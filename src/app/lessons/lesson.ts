/**
 * What a lesson is: steps of one sentence each, and for every step the pieces to look at, made by the tool's own
 * models for the value that the slider stands at. No figure is written here; all come from what is shown.
 */
import type { KnittedSheet } from '../../worker/messages.ts';
import type { CloseUp, CloseUpAsked } from '../../worker/yarn-messages.ts';
import type { Units } from '../state/units.ts';

/** What a picture is made from. */
export type Shown =
  /** A place as yarn. */
  | { readonly kind: 'yarn'; readonly asked: Exclude<CloseUpAsked, { place: 'stitch' }> }
  /** A whole piece; `band` keeps its twist, which the sheet by itself would lose by passing through itself. */
  | {
      readonly kind: 'fabric';
      readonly text: string;
      readonly band: boolean;
      /** Whether the lesson needs to know which timing would lie flat. */
      readonly advise: boolean;
    };

export type Found =
  | { readonly kind: 'yarn'; readonly closeUp: CloseUp }
  | { readonly kind: 'fabric'; readonly knitted: Band };

/** A piece with where it lies; a band that was stopped before it passed through itself has no report. */
export interface Band extends Pick<KnittedSheet, 'plan' | 'graph' | 'cells' | 'gauge' | 'metric'> {
  readonly positions: Float32Array | Float64Array;
  readonly report: KnittedSheet['report'] | null;
  /** How often its two edges wind round each other; null unless it is a band with two edges. */
  readonly linked: number | null;
}

export interface Scene {
  /** What stands under the picture, e.g. “Joined plainly”. */
  readonly name: string;
  readonly shown: Shown;
}

/** What was found for a picture, or null while it is being worked out. */
export type FindScene = (shown: Shown) => Found | null;

export interface Step {
  /** One sentence; may use figures of what is shown once they are there. */
  readonly sentence: (value: number, find: FindScene, units: Units) => string;
  /** The first is what the step is about; a second stands beside it for comparing. */
  readonly scenes: (value: number, find: FindScene) => readonly Scene[];
}

export interface LessonSlider {
  readonly name: string;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly start: number;
  readonly words: (value: number, units: Units) => string;
}

export interface Lesson {
  readonly id: string;
  /** The question that it answers. */
  readonly title: string;
  readonly slider: LessonSlider;
  readonly steps: readonly Step[];
}

/** Whether the slider does anything in a step. */
export function usesSlider({ slider }: Lesson, step: Step): boolean {
  const nothing = () => null;
  const shows = (value: number) => JSON.stringify(step.scenes(value, nothing));
  return shows(slider.min) !== shows(slider.max);
}

export const sceneKey = (shown: Shown): string => JSON.stringify(shown);
