/**
 * Notes on technique and finishing for the written pattern: only those that this plan needs, with the
 * usual cautions.
 *
 * Joining, ladders and cord lengths: common practice, sources in `draft/needles.ts` and here:
 * knitoasis.com (extra stitch), dontbesuchasquare.com (crossed), lanagrossa (mattress stitch).
 */
import type { Plan } from '../../plan/plan.ts';
import { bothUnits, type LengthUnit } from '../../report/words/length.ts';
import type { Terms } from '../../report/words/terms.ts';

export interface Writing {
  readonly plan: Plan;
  readonly terms: Terms;
  readonly units: LengthUnit;
  /** Null: whatever suits the plan. */
  readonly way: 'double-pointed' | 'magic loop' | 'one circular' | null;
}

/** Shortest cord for a magic loop, mm (knittingtips.net/en/beginner/techniques/magic-loop). */
const MAGIC_LOOP_MM = 800;

export function notes(writing: Writing): string[] {
  const { plan, units, way } = writing;
  const lines: string[] = [];
  if (plan.worked === 'round') {
    lines.push(joinNote(plan));
    if (way === 'magic loop')
      lines.push(
        `For a magic loop the needle should measure ${bothUnits(MAGIC_LOOP_MM, units)} or more: half of the stitches on each part.`,
      );
    else if (way === 'double-pointed')
      lines.push('Divide the stitches evenly over the needles, a whole number of sides on each.');
    else if (way === 'one circular')
      lines.push(
        'Change to double-pointed needles or a magic loop when the stitches no longer reach round the needle.',
      );
    lines.push(
      'At each change of needle tug on the second stitch, not the first: this keeps ladders away.',
    );
  } else {
    lines.push('Right-side rows are odd, wrong-side rows even.');
    if (plan.seam) lines.push('The edge stitches disappear in the seam.');
  }
  if (plan.kinds.some((kind) => kind.crossing))
    lines.push(
      'Cables: a/b means a stitches pass over b; LC leans left (cable needle in front), RC leans right (cable needle at the back).',
    );
  if (plan.gauges.length > 0)
    lines.push('Check your stitches to 10 cm on a washed and dried sample before you begin.');
  lines.push(
    'Long knitting can strain hands, wrists and neck: rest often, and ask a professional if pain stays.',
  );
  return lines;
}

function joinNote(plan: Plan): string {
  const lay = 'Lay the edge flat, inside all the way round, before you close the ring.';
  if (plan.join.halfTurns > 0)
    return `The ring is closed with ${plan.join.halfTurns} half turn(s) on purpose: it cannot be undone later.`;
  if (plan.join.method === 'extra')
    return `${lay} One more stitch is made at the edge and worked together with the first, which closes the gap.`;
  if (plan.join.method === 'crossed')
    return `${lay} The first and last stitch change places, which closes the gap.`;
  return `${lay} A twist cannot be undone later.`;
}

export function finishing(writing: Writing): string[] {
  const { plan } = writing;
  const lines: string[] = [];
  if (plan.ending === 'drawn-up')
    lines.push(
      'Pull the end tight, pass it through the loops once more and fasten it on the wrong side.',
    );
  if (plan.seam)
    lines.push(
      'Sew the two edges together with mattress stitch, a whole stitch in from each edge, course to course.',
    );
  lines.push('Weave in all ends well: loose ends and loops are a danger to babies.');
  lines.push(
    'Wash as the yarn label says, lay flat, ease to size and let it dry. Pin with rust-proof pins, count them before and after, and keep them away from children and pets.',
  );
  lines.push(
    'If you steam, follow the yarn label, do not press the iron on the fabric, and keep hands out of the steam.',
  );
  return lines;
}
