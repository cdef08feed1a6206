/** Takes the fabric back to any round, as it sits in the finished piece; opens the section. */
import { Slider } from 'radix-ui';
import { courseName } from '../../report/words/course-name.ts';
import type { LaidSheet } from '../../worker/messages.ts';
import { page, usePage } from '../state/page-store.ts';

export function RoundSlider({ laid }: { readonly laid: LaidSheet }) {
  const throughCourse = usePage((state) => state.throughCourse);
  const sectionShown = usePage((state) => state.sectionShown);
  const last = laid.graph.courses - 1;
  const shown = Math.min(throughCourse ?? last, last);
  const { plan } = laid;
  const label = shown === 0 ? 'cast-on' : courseName(plan, shown);
  const stitches = shown === 0 ? plan.castOn : plan.rounds[shown - 1]?.after;
  return (
    <div className="stage-bar">
      <span
        id="back-to"
        className="stage-bar-name"
        title="The rounds so far, as they sit in the finished piece"
      >
        Knitted up to
      </span>
      <Slider.Root
        className="slider"
        min={0}
        max={last}
        step={1}
        value={[shown]}
        onValueChange={([value]) => page.set({ throughCourse: value >= last ? null : value })}
      >
        <Slider.Track className="slider-track">
          <Slider.Range className="slider-range" />
        </Slider.Track>
        <Slider.Thumb
          className="slider-thumb"
          aria-labelledby="back-to"
          aria-valuetext={`${label}, ${stitches} stitches`}
        />
      </Slider.Root>
      <output>
        {label} · {stitches} sts
      </output>
      <button
        type="button"
        className="button button-small"
        aria-pressed={sectionShown}
        onClick={() => page.set({ sectionShown: !sectionShown })}
      >
        {sectionShown ? 'Close section' : 'Section'}
      </button>
    </div>
  );
}
