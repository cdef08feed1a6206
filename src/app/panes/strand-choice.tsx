/** Whether the fabric is drawn as stitches on the sheet or as strands of yarn, and how that stands. */
import { ToggleGroup } from 'radix-ui';
import type { LaidSheet } from '../../worker/messages.ts';
import { type DrawnAs, drawAs, useStrands } from '../strands.ts';

export function StrandChoice({ laid, atRest }: { laid: LaidSheet; atRest: boolean }) {
  const { drawnAs, laying, trouble, yarn } = useStrands();
  const wrong = yarn?.curves.check.linksWrong ?? 0;
  let note = '';
  if (drawnAs === 'strands') {
    if (trouble) note = trouble;
    else if (laying) note = `Laying ${laid.graph.loops.toLocaleString('en')} loops of yarn…`;
    else if (!atRest) note = 'Yarn is laid once the fabric is at rest.';
    else if (wrong > 0) {
      note = `${wrong} of ${yarn?.curves.check.linksChecked} stitches crowd too much to be drawn rightly.`;
    }
  }
  const drawn = drawnAs === 'strands' && atRest && yarn !== null && !laying;
  return (
    <div className="strand-choice" data-drawn={drawn ? 'strands' : 'stitches'}>
      <ToggleGroup.Root
        type="single"
        className="strip"
        aria-label="Drawn as"
        value={drawnAs}
        onValueChange={(value) => value && drawAs(value as DrawnAs)}
      >
        <ToggleGroup.Item value="stitches" title="Stitches as a pattern on the fabric">
          Stitches
        </ToggleGroup.Item>
        <ToggleGroup.Item value="strands" title="Every loop as a strand, with its plies">
          Strands
        </ToggleGroup.Item>
      </ToggleGroup.Root>
      <span className="strand-note" role="status">
        {note}
      </span>
    </div>
  );
}
