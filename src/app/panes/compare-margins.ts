/** What words, buttons and tools take of each compared piece's place, so that no piece lies behind them. */
import { type RefObject, useLayoutEffect, useState } from 'react';
import type { Margins } from '../../view/scene/compare-view.tsx';

/** Between a piece and what it keeps clear of, px. */
const GAP = 4;

/** Margins of a place in px, measured on what `stage` holds; anew whenever any of it changes its size. */
export function useMargins(
  stage: RefObject<HTMLElement | null>,
  stacked: boolean,
  /** Changes when words or buttons come or go. */
  told: unknown,
): Margins {
  const [margins, setMargins] = useState<Margins>(NONE);
  // biome-ignore lint/correctness/useExhaustiveDependencies: other words are measured anew
  useLayoutEffect(() => {
    const element = stage.current;
    if (!element) return;
    const measure = () => {
      const next = marginsOf(element, stacked);
      setMargins((now) => (same(now, next) ? now : next));
    };
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    for (const part of element.querySelectorAll(PARTS)) watcher.observe(part);
    measure();
    return () => watcher.disconnect();
  }, [stage, stacked, told]);
  return margins;
}

const NONE: Margins = { top: 0, right: 0, bottom: 0, left: 0 };
/** Of a place. What tells of a piece that comes to rest has none to lie before. */
const BESIDE = '.compare-name, .compare-place > .button';
const PARTS = `${BESIDE}, .stage-tools, .legend`;

function marginsOf(stage: HTMLElement, stacked: boolean): Margins {
  let { top, right, bottom, left } = NONE;
  for (const place of stage.querySelectorAll('.compare-place')) {
    const room = place.getBoundingClientRect();
    for (const part of place.querySelectorAll(BESIDE)) {
      const box = part.getBoundingClientRect();
      // Beside each other: words stand below the pieces.
      if (!stacked) bottom = Math.max(bottom, room.bottom - box.top + GAP);
      else if (box.width > room.width / 2) top = Math.max(top, box.bottom - room.top + GAP);
      else left = Math.max(left, box.right - room.left + GAP);
    }
  }
  const room = stage.getBoundingClientRect();
  const tools = stage.querySelector('.stage-tools')?.getBoundingClientRect();
  if (tools && !stacked) top = tools.bottom - room.top + GAP;
  else if (tools && tools.height > tools.width) right = room.right - tools.left + GAP;
  const legend = stage.querySelector('.legend')?.getBoundingClientRect();
  if (legend && !stacked) top = Math.max(top, legend.bottom - room.top + GAP);
  return { top, right, bottom, left };
}

function same(a: Margins, b: Margins): boolean {
  return (['top', 'right', 'bottom', 'left'] as const).every(
    (side) => Math.abs(a[side] - b[side]) < 1,
  );
}
