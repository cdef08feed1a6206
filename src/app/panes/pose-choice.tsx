/** The choice of how the piece is shown: as it lies, picked up, or pinned flat; what cannot be chosen says why. */
import { useId } from 'react';
import { usePage } from '../state/page-store.ts';
import { choosePose, type Pose, usePose, whyNot } from '../state/pose.ts';
import { Strip, StripItem } from '../ui/strip.tsx';

const POSES: readonly { readonly pose: Pose; readonly name: string; readonly what: string }[] = [
  { pose: 'lying', name: 'As it lies', what: 'On the table, held down by its own weight' },
  { pose: 'lifted', name: 'Picked up', what: 'In the air and without weight: its own shape' },
  {
    pose: 'blocked',
    name: 'Pinned flat',
    what: 'Pinned out flat and dried, its pins still in; none pulls its sides straight',
  },
];

export function PoseChoice() {
  const { chosen, pressing, trouble } = usePose();
  const knitted = usePage((state) => state.knitted);
  const note = useId();
  const reasons = POSES.map(({ pose }) => whyNot(pose, knitted));
  const refused = POSES.findIndex(({ pose }) => pose === chosen && whyNot(pose, knitted) !== '');
  return (
    <div className="pose-choice">
      <Strip
        aria-label="Shown"
        value={chosen}
        onValueChange={(value) => value && choosePose(value as Pose)}
      >
        {POSES.map(({ pose, name, what }, k) => (
          <StripItem
            key={pose}
            value={pose}
            title={reasons[k] || what}
            aria-describedby={pose === chosen ? note : undefined}
          >
            {name}
          </StripItem>
        ))}
      </Strip>
      <span className="pose-note" role="status" id={note}>
        {pressing
          ? 'Pinning the piece out…'
          : trouble || (knitted && refused >= 0 ? `${reasons[refused]}: shown picked up.` : '')}
      </span>
    </div>
  );
}
