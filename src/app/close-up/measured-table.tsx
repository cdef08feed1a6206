/** Settings of the place that were measured so far, side by side: what a change does. */
import type { CloseUpAsked } from '../../worker/yarn-messages.ts';
import { usePage } from '../state/page-store.ts';
import { fineLengthText, fixed, type Units } from '../state/units.ts';
import { type Place, useCloseUp } from './close-up-state.ts';
import { METHOD_NAMES } from './measure-words.ts';
import type { Setting } from './setting.ts';

/** Newest rows that fit under the controls. Chosen. */
const MOST_ROWS = 8;

export function MeasuredTable({ place, setting }: { place: Place; setting: Setting }) {
  const measured = useCloseUp((state) => state.measured);
  const units = usePage((state) => state.preferences.units);
  const { asked } = setting;
  if (!asked || (place !== 'join' && place !== 'needles' && place !== 'cable')) return null;
  const rows = measured
    .filter(
      (entry) =>
        entry.asked.place === asked.place &&
        entry.asked.place !== 'stitch' &&
        asked.place !== 'stitch' &&
        entry.asked.stitchMm === asked.stitchMm &&
        entry.asked.loopMm === asked.loopMm,
    )
    .slice(-MOST_ROWS);
  if (rows.length < 2) return null;
  const cable = place === 'cable';
  return (
    <table className="close-up-table">
      <caption>Measured so far</caption>
      <thead>
        <tr>
          <th scope="col">Setting</th>
          <th scope="col">{cable ? 'Pulled in' : 'Opening'}</th>
          {!cable && <th scope="col">Ordinary</th>}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ asked: of, closeUp }) => (
          <tr key={JSON.stringify(of)} data-current={JSON.stringify(of) === setting.key}>
            <td>{settingWords(of, units)}</td>
            <td>
              {closeUp.width
                ? `${fineLengthText(closeUp.width.uncrossedMm - closeUp.width.crossedMm, units)}, ${fixed(closeUp.width.percent, 0)} %`
                : fineLengthText(closeUp.opening?.diameterMm ?? 0, units)}
            </td>
            {!cable && <td>{fineLengthText(closeUp.ordinary?.diameterMm ?? 0, units)}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function settingWords(asked: CloseUpAsked, units: Units): string {
  switch (asked.place) {
    case 'join':
      return `${METHOD_NAMES[asked.method]}, slack ${fineLengthText(asked.slackMm, units)}`;
    case 'needles': {
      const tug = ['', ', first stitch tugged', ', second stitch tugged'][asked.tugged];
      return `slack ${fineLengthText(asked.slackMm, units)}${tug}${asked.tugged ? ` by ${fineLengthText(asked.tugMm, units)}` : ''}`;
    }
    case 'cable':
      return `every ${asked.everyRounds} rounds`;
    case 'stitch':
      return '';
  }
}
