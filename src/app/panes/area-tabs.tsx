/** Above the table: what lies on it, and which colours the fabric wears. There before the table itself. */
import type { ColourMode } from '../../view/colour/colour-scale.ts';
import { useSmall } from '../state/media.ts';
import type { Area } from '../state/page-store.ts';
import { page, setColourMode, usePage } from '../state/page-store.ts';
import { Strip, StripItem } from '../ui/strip.tsx';
import { YarnMenu } from './yarn-menu.tsx';

const AREAS: readonly { readonly area: Area; readonly name: string; readonly whole?: string }[] = [
  { area: 'fabric', name: 'Fabric' },
  { area: 'close-up', name: 'Close-up' },
  { area: 'compare', name: 'Compare', whole: 'Compare rates' },
  { area: 'pattern', name: 'Pattern' },
  { area: 'blanket', name: 'Blanket' },
  { area: 'test-knits', name: 'Test knits' },
  { area: 'lessons', name: 'Lessons' },
];

const MODES: readonly { readonly mode: ColourMode; readonly name: string }[] = [
  { mode: 'fabric', name: 'Yarn' },
  { mode: 'rounds', name: 'Rounds' },
  { mode: 'strain', name: 'Stretch' },
  { mode: 'bend', name: 'Bend' },
];

const LIES = 'What lies on the table';
const COLOUR_BY = 'Colour by';

/** As the page calls a part of the table. */
export function areaName(area: Area): string {
  const found = AREAS.find((entry) => entry.area === area);
  return found?.whole ?? found?.name ?? area;
}

const chooseArea = (area: string) => area && page.set({ area: area as Area });

const chooseMode = (mode: string) => mode && setColourMode(mode as ColourMode);

/** On a phone areas and colours share one row: eleven tabs would take three. */
function SmallList(props: {
  readonly name: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, name: string])[];
  readonly onChoose: (value: string) => void;
}) {
  const { name, value, options, onChoose } = props;
  return (
    <select
      className="button small-list"
      aria-label={name}
      value={value}
      onChange={(event) => onChoose(event.target.value)}
    >
      {options.map(([option, words]) => (
        <option key={option} value={option}>
          {words}
        </option>
      ))}
    </select>
  );
}

export function AreaTabs() {
  const small = useSmall();
  const area = usePage((state) => state.area);
  const mode = usePage((state) => state.preferences.colourMode);
  return (
    <div className="pane-head">
      <h2 id="fabric-name" className="only-heard">
        Fabric
      </h2>
      {small ? (
        <SmallList
          name={LIES}
          value={area}
          options={AREAS.map(({ area: value, name }) => [value, name])}
          onChoose={chooseArea}
        />
      ) : (
        <Strip
          className="strip strip-areas"
          aria-label={LIES}
          value={area}
          onValueChange={chooseArea}
        >
          {AREAS.map(({ area: value, name, whole }) => (
            <StripItem key={value} value={value} aria-label={whole}>
              {name}
            </StripItem>
          ))}
        </Strip>
      )}
      {(area === 'fabric' || area === 'compare') && (
        <div className="head-colours">
          {small ? (
            <SmallList
              name={COLOUR_BY}
              value={mode}
              options={MODES.map(({ mode: value, name }) => [value, name])}
              onChoose={chooseMode}
            />
          ) : (
            <Strip aria-label={COLOUR_BY} value={mode} onValueChange={chooseMode}>
              {MODES.map(({ mode: value, name }) => (
                <StripItem key={value} value={value}>
                  {name}
                </StripItem>
              ))}
            </Strip>
          )}
          <YarnMenu />
        </div>
      )}
    </div>
  );
}
