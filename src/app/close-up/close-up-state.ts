/**
 * State of the close-up: the chosen place and its controls, what the yarn worker is doing, and what it
 * found. Answers are kept, so that going back to a setting shows it at once.
 */
import { create } from 'zustand';
import { YarnClient } from '../../worker/yarn-client.ts';
import type { CloseUp, CloseUpAsked, CloseUpJoin } from '../../worker/yarn-messages.ts';
import { RelaxProgress } from '../state/relax-progress.ts';

export type Place = 'join' | 'needles' | 'cable' | 'decrease' | 'stitch';

export interface CloseUpControls {
  readonly place: Place;
  readonly method: CloseUpJoin;
  readonly slackMm: number;
  readonly gapSlackMm: number;
  readonly tugged: 0 | 1 | 2;
  readonly tugMm: number;
  /** Null: as in the plan. */
  readonly everyRounds: number | null;
  /** Yarn in one stitch, mm; null: the usual for the gauge. */
  readonly loopMm: number | null;
  readonly decrease: string;
  readonly loop: number;
}

export type Settlement =
  | { readonly state: 'idle' }
  | { readonly state: 'settling' /** Of the way to rest, 0 … 1. */; readonly share: number }
  | { readonly state: 'shown' }
  | { readonly state: 'stopped' }
  | { readonly state: 'trouble'; readonly message: string };

/** A measured setting, for comparing. */
export interface Measured {
  readonly asked: CloseUpAsked;
  readonly closeUp: CloseUp;
}

interface CloseUpState {
  readonly controls: CloseUpControls;
  readonly settlement: Settlement;
  /** The last picture that came to rest, and the setting that it belongs to. */
  readonly picture: (Measured & { readonly key: string }) | null;
  /** The yarn of the asked setting on its way to rest. */
  readonly moving: (Measured & { readonly key: string }) | null;
  readonly measured: readonly Measured[];
}

export const useCloseUp = create<CloseUpState>(() => ({
  controls: {
    place: 'join',
    method: 'plain',
    slackMm: 4,
    gapSlackMm: 2,
    tugged: 0,
    tugMm: 1,
    everyRounds: null,
    loopMm: null,
    decrease: '',
    loop: -1,
  },
  settlement: { state: 'idle' },
  picture: null,
  moving: null,
  measured: [],
}));

export function setControls(change: Partial<CloseUpControls>): void {
  useCloseUp.setState(({ controls }) => ({ controls: { ...controls, ...change } }));
}

const client = new YarnClient();
const kept = new Map<string, Measured>();
/** Pictures that are kept: some megabytes. Chosen. */
const MOST_KEPT = 30;
/** Force, B/d², at which a close-up looks settled: its bar stands at the end while the last stops are compared. Chosen. */
const SMALL_FORCE = 1e-3;
/** A slider moves on within this pause. Chosen. */
const PAUSE_MS = 260;
let pause: ReturnType<typeof setTimeout> | undefined;
let wanted = '';
let frame = 0;
/** Pictures of moving yarn follow each other no faster for who wants little motion. Chosen. */
const STILL_PAUSE_MS = 1000;
let movedAt = Number.NEGATIVE_INFINITY;

/** Shows the newest of the pictures that came since the screen was last drawn. */
function showMoving(key: string, asked: CloseUpAsked, closeUp: CloseUp): void {
  const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  if (still && performance.now() - movedAt < STILL_PAUSE_MS) return;
  cancelAnimationFrame(frame);
  frame = requestAnimationFrame(() => {
    if (wanted !== key || useCloseUp.getState().settlement.state !== 'settling') return;
    movedAt = performance.now();
    useCloseUp.setState({ moving: { key, asked, closeUp } });
  });
}

/** Shows a setting: from memory, or by asking the worker once the controls stand still. */
export function showCloseUp(key: string, asked: CloseUpAsked): void {
  if (wanted === key) return;
  leaveCloseUp();
  wanted = key;
  const before = kept.get(key);
  if (before) {
    useCloseUp.setState({ picture: { ...before, key }, settlement: { state: 'shown' } });
    return;
  }
  const progress = new RelaxProgress(SMALL_FORCE);
  // The first movement of a setting is always shown.
  movedAt = Number.NEGATIVE_INFINITY;
  useCloseUp.setState({ settlement: { state: 'settling', share: 0 } });
  pause = setTimeout(() => {
    client.closeUp(asked, {
      onProgress: (_step, residual, moving) => {
        const { share } = progress.next(residual);
        useCloseUp.setState({ settlement: { state: 'settling', share } });
        showMoving(key, asked, moving);
      },
      onDone: (closeUp) => {
        const found = { asked, closeUp };
        kept.set(key, found);
        const oldest = kept.keys().next().value;
        if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
        useCloseUp.setState({
          picture: { ...found, key },
          moving: null,
          settlement: { state: 'shown' },
          measured: [...kept.values()],
        });
      },
      onFailed: (message) =>
        useCloseUp.setState({
          picture: null,
          moving: null,
          settlement: { state: 'trouble', message },
        }),
    });
  }, PAUSE_MS);
}

/** The user has seen enough of waiting. */
export function stopCloseUp(): void {
  const asked = wanted;
  const { moving } = useCloseUp.getState();
  leaveCloseUp();
  wanted = asked;
  // The yarn stays in sight where it was stopped.
  useCloseUp.setState({ moving, settlement: { state: 'stopped' } });
}

/** Nobody looks any more. */
export function leaveCloseUp(): void {
  clearTimeout(pause);
  cancelAnimationFrame(frame);
  movedAt = Number.NEGATIVE_INFINITY;
  client.stop();
  wanted = '';
  useCloseUp.setState({ moving: null });
}
