/** What the close-up shows: the controls and the piece → a request with a key, or why there is none. */
import { useMemo } from 'react';
import { loopAt } from '../../fabric/stitch-graph.ts';
import type { Positions } from '../../view/fabric/surface.ts';
import type { LaidSheet } from '../../worker/messages.ts';
import type { CloseUpAsked } from '../../worker/yarn-messages.ts';
import type { CloseUpControls } from './close-up-state.ts';
import { type CablePlace, type DecreasePlace, findCable, findDecreases } from './places.ts';

export interface Places {
  readonly cable: CablePlace | null;
  readonly decreases: readonly DecreasePlace[];
}

export function usePlaces(laid: LaidSheet | null): Places {
  return useMemo(
    () =>
      laid
        ? { cable: findCable(laid), decreases: findDecreases(laid) }
        : { cable: null, decreases: [] },
    [laid],
  );
}

export interface Setting {
  readonly key: string;
  readonly asked: CloseUpAsked | null;
  /** Why nothing is asked, for the user. */
  readonly why: string;
}

/** Rounds between crossings where the plan crosses only once. Common practice for a cable of four. */
const USUAL_ROUNDS = 6;
const MOST_ROUNDS = 12;

/** Interval of the plan's cable, or the usual one. */
export function plannedRounds(cable: CablePlace): number {
  return Math.max(2, Math.min(MOST_ROUNDS, cable.everyRounds ?? USUAL_ROUNDS));
}

export function settingOf(
  laid: LaidSheet,
  positions: Positions | null,
  atRest: boolean,
  controls: CloseUpControls,
  { cable, decreases }: Places,
): Setting {
  const knitting = {
    stitchMm: laid.gauge.sizes.stockinette.stitchMm,
    loopMm: controls.loopMm,
  };
  const none = (why: string): Setting => ({ key: '', asked: null, why });
  const plain = (asked: CloseUpAsked): Setting => ({ key: JSON.stringify(asked), asked, why: '' });
  switch (controls.place) {
    case 'join': {
      const { method, slackMm } = controls;
      return plain({ place: 'join', method, slackMm, ...knitting });
    }
    case 'needles': {
      const { gapSlackMm, tugged, tugMm } = controls;
      return plain({
        place: 'needles',
        slackMm: gapSlackMm,
        tugged,
        tugMm: tugged ? tugMm : 0,
        ...knitting,
      });
    }
    case 'cable': {
      if (!cable) return none('This plan crosses no cable.');
      const { over, under, lean, besides } = cable;
      const everyRounds = controls.everyRounds ?? plannedRounds(cable);
      return plain({ place: 'cable', over, under, lean, everyRounds, besides, ...knitting });
    }
    case 'decrease':
    case 'stitch': {
      const loop =
        controls.place === 'stitch' ? stitchOf(laid, controls) : decreaseOf(controls, decreases);
      if (loop < 0) return none('This plan decreases nowhere.');
      if (!atRest || !positions) {
        return none('A stitch of the piece is shown once its fabric is at rest.');
      }
      const { graph, cells } = laid;
      return {
        key: `${controls.place} ${sheetNumber(positions)} ${loop}`,
        asked: { place: 'stitch', sheet: { graph, cells, positions }, loop },
        why: '',
      };
    }
  }
}

function decreaseOf({ decrease }: CloseUpControls, decreases: readonly DecreasePlace[]): number {
  return (decreases.find(({ name }) => name === decrease) ?? decreases[0])?.loop ?? -1;
}

/** The chosen loop, or one in the middle of a course half way up. */
export function stitchOf({ graph }: LaidSheet, { loop }: CloseUpControls): number {
  if (loop >= 0 && loop < graph.loops) return loop;
  const course = Math.floor(graph.courses / 3);
  const count = graph.start[course + 1] - graph.start[course];
  return loopAt(graph, course, Math.floor(count / 5));
}

const numbers = new WeakMap<Positions, number>();
let sheets = 0;
function sheetNumber(positions: Positions): number {
  const number = numbers.get(positions) ?? ++sheets;
  numbers.set(positions, number);
  return number;
}
