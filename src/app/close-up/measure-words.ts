/** What was measured on a close-up: in words, and as marks on its picture. */

import { cablePullIn } from '../../cell/cable-pull-in.ts';
import type { MeasureMark } from '../../view/marks/measure-marks.tsx';
import type { CloseUp, CloseUpAsked } from '../../worker/yarn-messages.ts';
import { fineLengthText, fineLengthTold, fixed, type Units } from '../state/units.ts';

/** Openings narrower than this are closed to the eye, mm. Chosen. */
export const CLOSED_MM = 0.15;

export const METHOD_NAMES = {
  plain: 'joined plainly',
  crossed: 'first and last stitch crossed',
  extra: 'an extra stitch worked together with the first',
  flat: 'worked flat and seamed',
} as const;

/** How far crossings draw a panel together; single stitches crossed often can set their columns apart instead. */
function drawnWords(
  { crossedMm, uncrossedMm, percent }: NonNullable<CloseUp['width']>,
  units: Units,
): string {
  const by = `${fineLengthText(Math.abs(uncrossedMm - crossedMm), units)}, ${fixed(Math.abs(percent), 0)} %`;
  return percent < 0 ? `set apart by ${by}` : `pulled in by ${by}`;
}

export function measureWords(closeUp: CloseUp, asked: CloseUpAsked, units: Units): string {
  const { opening, ordinary, width } = closeUp;
  const mm = (value: number) => fineLengthText(value, units);
  if (width) {
    const every = asked.place === 'cable' ? `, crossed every ${asked.everyRounds} rounds,` : '';
    return `The ${width.stitches} stitches${every} are ${mm(width.crossedMm)} wide, uncrossed ${mm(width.uncrossedMm)}: ${drawnWords(width, units)}.`;
  }
  if (!opening || !ordinary) return '';
  const name =
    asked.place === 'join'
      ? asked.method === 'flat'
        ? 'the seam'
        : 'the join'
      : asked.place === 'needles'
        ? 'the gap'
        : 'the stitch';
  const gap = `the ordinary gap between stitches is ${mm(ordinary.diameterMm)}`;
  if (opening.diameterMm < CLOSED_MM) return `No opening at ${name}; ${gap}.`;
  const told = (value: number) => fineLengthTold(value, units);
  const times = told(opening.diameterMm) / told(ordinary.diameterMm);
  const compared =
    !Number.isFinite(times) || times < 1.05
      ? 'no wider than the rest of the fabric'
      : `${fixed(times, 1)} times as wide`;
  const wider = closeUp.widerMm ?? 0;
  const broader =
    wider >= CLOSED_MM ? ` The slack makes every round ${mm(wider)} longer at each gap.` : '';
  return `The opening at ${name} is ${mm(opening.diameterMm)} across; ${gap}: ${compared}.${broader}`;
}

/** While a cable settles: how far it has drawn in, and what the table computed beforehand says. */
export function expectedWords(
  asked: CloseUpAsked,
  live: { readonly closeUp: CloseUp } | null,
): string {
  if (asked.place !== 'cable') return '';
  const { over, under, everyRounds, besides } = asked;
  const purlBeside = besides.filter((face) => face === -1).length / besides.length;
  const table = cablePullIn({ over, under, everyRounds, purlBeside });
  const own = live?.closeUp.width?.cablePercent;
  const changed = own === undefined ? '' : `${fixed(Math.abs(own), 0)} %`;
  const now =
    own === undefined
      ? ''
      : own < 0
        ? ` the cable stands ${changed} wider;`
        : ` the cable has lost ${changed} of its width;`;
  return `${now} a like one loses ${table.extrapolated ? 'roughly ' : ''}${fixed(table.pullInPercent, 0)} %`;
}

export function marksOf(
  closeUp: CloseUp,
  units: Units,
  colours: { readonly strong: string; readonly plain: string },
): MeasureMark[] {
  const { opening, ordinary, width, view } = closeUp;
  const [halfX, halfY] = view;
  const mm = (value: number) => fineLengthText(value, units);
  if (width) {
    const at = (y: number, wide: number) => ({ y, fromX: -wide / 2, toX: wide / 2 });
    return [
      {
        kind: 'width',
        ...at(-0.86 * halfY, width.crossedMm),
        words: `${mm(width.crossedMm)} crossed`,
        colour: colours.strong,
        dashed: false,
        wordsAt: [0, -0.86 * halfY],
      },
      {
        kind: 'width',
        ...at(-0.62 * halfY, width.uncrossedMm),
        words: `${mm(width.uncrossedMm)} uncrossed`,
        colour: colours.plain,
        dashed: true,
        wordsAt: [0, -0.62 * halfY],
      },
    ];
  }
  const marks: MeasureMark[] = [];
  if (opening && opening.diameterMm >= CLOSED_MM) {
    marks.push({
      kind: 'circle',
      ...opening,
      words: `opening ${mm(opening.diameterMm)}`,
      colour: colours.strong,
      dashed: false,
      wordsAt: [clamp(opening.x, 0.5 * halfX), -0.86 * halfY],
    });
  }
  if (ordinary && ordinary.diameterMm >= CLOSED_MM) {
    marks.push({
      kind: 'circle',
      ...ordinary,
      words: `ordinary gap ${mm(ordinary.diameterMm)}`,
      colour: colours.plain,
      dashed: true,
      // Not before the gap itself.
      wordsAt: [
        clamp(ordinary.x, 0.45 * halfX),
        ordinary.y > 0.5 * halfY ? ordinary.y - 0.4 * halfY : 0.86 * halfY,
      ],
    });
  }
  return marks;
}

const clamp = (value: number, most: number) => Math.max(-most, Math.min(most, value));
