/** Above the table: what lies on it, and which colours the fabric wears. There before the table itself. */
import { ToggleGroup } from 'radix-ui';
import type { ColourMode } from '../../view/colour/colour-scale.ts';
import type { Area } from '../state/page-store.ts';
import { page, setColourMode, usePage } from '../state/page-store.ts';
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

/** As the page calls a part of the table. */
export function areaName(area: Area): string {
  const found = AREAS.find((entry) => entry.area === area);
  return found?.whole ?? found?.name ?? area;
}

export function AreaTabs() {
  const area = usePage((state) => state.area);
  const mode = usePage((state) => state.preferences.colourMode);
  return (
    <div className="pane-head">
      <h2 id="fabric-name" className="only-heard">
        Fabric
      </h2>
      <ToggleGroup.Root
        type="single"
        className="strip strip-areas"
        aria-label="What lies on the table"
        value={area}
        onValueChange={(value) => value && page.set({ area: value as Area })}
      >
        {AREAS.map(({ area: value, name, whole }) => (
          <ToggleGroup.Item key={value} value={value} aria-label={whole}>
            {name}
          </ToggleGroup.Item>
        ))}
      </ToggleGroup.Root>
      {(area === 'fabric' || area === 'compare') && (
        <div className="head-colours">
          <ToggleGroup.Root
            type="single"
            className="strip"
            aria-label="Colour by"
            value={mode}
            onValueChange={(value) => value && setColourMode(value as ColourMode)}
          >
            {MODES.map(({ mode: value, name }) => (
              <ToggleGroup.Item key={value} value={value}>
                {name}
              </ToggleGroup.Item>
            ))}
          </ToggleGroup.Root>
          <YarnMenu />
        </div>
      )}
    </div>
  );
}
