/**
 * How the piece at rest is shown: as it lies on the table, picked up and weightless, or pinned flat.
 * In: the finished sheet. Out: its places in the pose chosen, and the pose that places are of.
 */
import { create } from 'zustand';
import type { Metric } from '../../gauge/metric.ts';
import { turnsRound } from '../../report/words/verdict-words.ts';
import type { Positions } from '../../view/fabric/surface.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { PressClient } from '../../worker/press-client.ts';
import { page } from './page-store.ts';

export type Pose = 'lying' | 'lifted' | 'blocked';

interface PoseState {
  readonly chosen: Pose;
  readonly pressing: boolean;
  /** Why the piece cannot be shown pinned flat, for the user. */
  readonly trouble: string;
}

export const usePose = create<PoseState>(() => ({
  chosen: 'lying',
  pressing: false,
  trouble: '',
}));

const client = new PressClient();
const pressed = new WeakMap<Metric, Float64Array>();

/** The finished sheet as chosen, or in the nearest pose that there is of it; asks for what takes working out. */
export function posed(knitted: KnittedSheet): Float64Array {
  const { chosen } = usePose.getState();
  const { sheet, metric } = knitted;
  if (chosen === 'blocked' && whyNot('blocked', knitted) === '') {
    const flat = pressed.get(metric);
    if (flat) return flat;
    press(knitted);
  }
  return chosen === 'lifted' ? sheet.positions : (sheet.lying?.positions ?? sheet.positions);
}

/** The pose that places of the finished sheet are in. */
export function poseOf(knitted: KnittedSheet, positions: Positions | null): Pose {
  if (positions && positions === knitted.sheet.lying?.positions) return 'lying';
  return positions && positions === pressed.get(knitted.metric) ? 'blocked' : 'lifted';
}

/** Why a piece is not shown so; empty where it is. */
export function whyNot(pose: Pose, knitted: KnittedSheet | null): string {
  if (!knitted) return 'Once the fabric is at rest';
  if (pose === 'lying' && !knitted.sheet.lying) {
    return knitted.report.tube
      ? 'A tube is not laid down flat'
      : 'How this piece lies by its own weight was not worked out';
  }
  if (pose === 'blocked' && !turnsRound(knitted.report)) {
    return 'Only a piece that turns round a centre is pinned out flat';
  }
  return '';
}

export function choosePose(chosen: Pose): void {
  usePose.setState({ chosen, trouble: '' });
  const { knitted, work } = page.get();
  if (chosen !== 'blocked') {
    client.stop();
    usePose.setState({ pressing: false });
  }
  if (knitted && work.state === 'rest') page.set({ positions: posed(knitted) });
}

function press(knitted: KnittedSheet): void {
  usePose.setState({ pressing: true, trouble: '' });
  client.press(knitted.metric, {
    onDone: (positions) => {
      usePose.setState({ pressing: false });
      pressed.set(knitted.metric, positions);
      const now = page.get();
      if (now.knitted?.metric !== knitted.metric || now.work.state !== 'rest') return;
      if (usePose.getState().chosen === 'blocked') page.set({ positions });
    },
    onFailed: (trouble) => usePose.setState({ pressing: false, trouble }),
  });
}
