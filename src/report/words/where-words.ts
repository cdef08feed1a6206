/**
 * Where a piece rises and where its edge waves, as sentences for those who don't see the picture.
 * In: `Where`, whether it is worked in rounds or rows, unit. Out: one to three sentences, of the shape measured alone.
 */
import type { Place, Span, Where } from '../where.ts';
import { type LengthUnit, lengthWords } from './length.ts';

/** Rise under this is said to be level, mm. Chosen: what a tape on a table shows. */
const LEVEL_MM = 2;
/** Part of the rise that a slope or a wave must make up to be told. As in the verdict. */
const NOTABLE = 0.25;

const PLACES: Record<Place, string> = {
  corner: 'towards a corner',
  side: 'by the middle of a side',
  between: 'between a corner and the middle of a side',
  right: 'towards the right edge',
  middle: 'in the middle of the width',
  left: 'towards the left edge',
  anywhere: '',
};

export function whereWords(where: Where, worked: 'round' | 'flat', unit: LengthUnit): string {
  const { riseMm, middleMm, waveMm, highest, closed } = where;
  const course = worked === 'flat' ? 'row' : 'round';
  if (riseMm < LEVEL_MM) return 'It lies level all over.';
  const told: string[] = [];
  const sloping = Math.abs(middleMm) > NOTABLE * riseMm;
  if (sloping && closed) {
    const above = lengthWords(Math.abs(middleMm), unit);
    told.push(
      `${middleMm > 0 ? 'The middle stands' : 'The edge stands'} ${above} above ${middleMm > 0 ? 'the edge' : 'the middle'}, most of it ${between(where.slope, course)}.`,
    );
  }
  const waving = waveMm > NOTABLE * riseMm;
  if (waving && closed) told.push(waveWords(where, course, unit));
  const regular = told.length > 0 && (!waving || new Set(where.hills).size === 1);
  if (!regular && !(highest.course === where.middle && middleMm > 0)) {
    const place = highest.nearEdge ? PLACES[highest.place] : '';
    told.push(`It is highest ${at(highest.course, course)}${place && `, ${place}`}.`);
  }
  return told.join(' ');
}

function waveWords({ waveMm, waving, hills, edge }: Where, course: string, unit: LengthUnit) {
  const touchesEdge = waving.from <= edge && edge <= waving.to;
  const what = touchesEdge ? 'The edge waves' : 'It waves';
  const many =
    !touchesEdge || hills.length === 0
      ? ''
      : hills.length === 1
        ? `, with one hill${placed(hills)}`
        : `, in ${hills.length} hills${placed(hills)}`;
  return `${what} up and down by ${lengthWords(waveMm, unit)}${many}; it does so ${between(waving, course)}.`;
}

/** Where the hills stand, if they all stand alike. */
function placed(hills: readonly Place[]): string {
  const [first] = hills;
  if (new Set(hills).size !== 1 || first === 'anywhere') return '';
  if (hills.length === 1) return ` ${PLACES[first]}`;
  if (first === 'corner') return ' at corners';
  return first === 'side' ? ' by the middles of sides' : ` ${PLACES[first]}`;
}

const at = (n: number, course: string) => (n === 0 ? 'at the cast-on edge' : `in ${course} ${n}`);

function between({ from, to }: Span, course: string): string {
  if (from === to) return at(from, course);
  if (from === 0) return `between the cast-on edge and ${course} ${to}`;
  return `between ${course}s ${from} and ${to}`;
}
