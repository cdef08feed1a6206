/** Header: the mark, what lies on the desk, the plan menu, units and light. */
import { DropdownMenu } from 'radix-ui';
import { type ComponentType, Suspense, useState } from 'react';
import type { Paper } from '../../paper/chart/chart.ts';
import { DEMOS } from '../demo/demos.ts';
import { choosePattern, PAPERS, usePattern } from '../pattern/pattern-choices.ts';
import { partFor, saidWhenLate } from '../state/awaited.ts';
import { useSmall } from '../state/media.ts';
import { setTheme, setUnits, usePage } from '../state/page-store.ts';
import { chooseFile, newPlan, openDemo, saveFile } from '../state/plan-actions.ts';
import type { Theme } from '../state/preferences.ts';
import { saveProject } from '../state/project-actions.ts';
import type { Units } from '../state/units.ts';
import { DownGlyph, MarkGlyph } from './icons.tsx';
import { lazyPart, PaneBoundary } from './pane-boundary.tsx';
import { Strip, StripItem } from './strip.tsx';
import { UndoButtons } from './undo-buttons.tsx';

const DIALOGS = {
  help: dialog('Help', () => import('../help/help-dialog.tsx')),
  link: dialog('The link', () => import('../dialogs/link-dialog.tsx')),
  'new-square': dialog('“New square”', () => import('../new-square/new-square-dialog.tsx')),
  resize: dialog('“Another size”', () => import('../dialogs/resize-dialog.tsx')),
  versions: dialog('“Earlier versions”', () => import('../dialogs/versions-dialog.tsx')),
};

type DialogPart = { default: ComponentType<{ readonly onClose: () => void }> };

function dialog(name: string, load: () => Promise<DialogPart>) {
  return lazyPart(() => saidWhenLate(`${name} is on its way.`, load()));
}

type DialogName = keyof typeof DIALOGS;

export function Header() {
  const title = usePage((state) => state.plan?.title ?? '');
  const fileName = usePage((state) => state.fileName);
  const units = usePage((state) => state.preferences.units);
  const [dialog, setDialog] = useState<DialogName | null>(null);
  const Shown = dialog && DIALOGS[dialog];
  const small = useSmall();
  return (
    <header className="head">
      <h1 className="mark">
        <MarkGlyph />
        <span>Lieflat</span>
      </h1>
      <p className="head-title">
        {title && <strong>{title}</strong>}
        {title && fileName && ' · '}
        {fileName}
      </p>
      <div className="head-tools">
        <UndoButtons />
        {!small && (
          <Strip
            aria-label="Units"
            value={units}
            onValueChange={(value) => value && setUnits(value as Units)}
          >
            <StripItem value="cm" aria-label="Centimetres">
              cm
            </StripItem>
            <StripItem value="in" aria-label="Inches">
              in
            </StripItem>
          </Strip>
        )}
        {!small && <LightMenu />}
        <PlansMenu onDialog={setDialog} />
        <button
          type="button"
          className="button head-help"
          aria-label="Help"
          title="How to begin, keys, and what every stitch and figure means"
          onClick={() => setDialog('help')}
        >
          <span>Help</span>
        </button>
      </div>
      {Shown && (
        <PaneBoundary name="This dialog">
          <Suspense fallback={null}>
            <Shown onClose={() => setDialog(null)} />
          </Suspense>
        </PaneBoundary>
      )}
    </header>
  );
}

async function saveShape(what: 'fabric' | 'yarn', format: 'obj' | 'glb'): Promise<void> {
  const part = await partFor(`Saving the ${what}`, () => import('../files/save-shape.ts'));
  if (what === 'fabric') part?.saveFabric(format);
  else part?.saveYarn(format);
}

const SHAPES = [
  { what: 'fabric', format: 'obj', name: 'Fabric as OBJ', note: 'for 3D programs' },
  { what: 'fabric', format: 'glb', name: 'Fabric as glTF', note: 'for AR viewers' },
  { what: 'yarn', format: 'obj', name: 'Yarn as OBJ', note: 'for 3D programs' },
  { what: 'yarn', format: 'glb', name: 'Yarn as glTF', note: 'for AR viewers' },
] as const;

function PlansMenu({ onDialog }: { readonly onDialog: (name: DialogName) => void }) {
  const sized = usePage(
    ({ knitted: sheet, work, text }) => work.state === 'rest' && sheet?.plan.text === text,
  );
  const knitted = usePage((state) => state.knitted !== null);
  const small = useSmall();
  return (
    <DropdownMenu.Root modal={false}>
      <DropdownMenu.Trigger className="button">
        Plans <DownGlyph />
      </DropdownMenu.Trigger>
      <DropdownMenu.Content className="menu" align="end" sideOffset={6} collisionPadding={8}>
        <Item onSelect={() => onDialog('new-square')} name="New square…" note="from wishes" />
        <Item onSelect={() => void newPlan()} name="New plan" note="to write" />
        <Item
          onSelect={() => onDialog('resize')}
          why={sized ? '' : 'once at rest'}
          name="Another size or gauge…"
        />
        <Item onSelect={() => void chooseFile()} name="Open a file…" />
        <Item onSelect={() => onDialog('link')} name="Link to this plan…" />
        <Item onSelect={() => onDialog('versions')} name="Earlier versions…" />
        <DropdownMenu.Separator className="menu-line" />
        <DropdownMenu.Label className="menu-label">Save</DropdownMenu.Label>
        <Item onSelect={() => void saveFile()} name="Plan as text" />
        <Item onSelect={() => void saveProject()} name="Whole project" note="to open again" />
        {SHAPES.map(({ what, format, name, ...shape }) => (
          <Item
            key={name}
            onSelect={() => void saveShape(what, format)}
            why={knitted ? '' : 'once there is a fabric'}
            name={name}
            {...shape}
          />
        ))}
        <DropdownMenu.Separator className="menu-line" />
        <PrintItems />
        {small && <SmallScreenItems />}
        <DropdownMenu.Separator className="menu-line" />
        <DropdownMenu.Label className="menu-label">From the Saltmarsh blanket</DropdownMenu.Label>
        {DEMOS.map((demo) => (
          <Item
            key={demo.id}
            onSelect={() => void openDemo(demo)}
            name={demo.name}
            note={demo.what}
          />
        ))}
      </DropdownMenu.Content>
    </DropdownMenu.Root>
  );
}

/** What the header has no room for. */
function SmallScreenItems() {
  const units = usePage((state) => state.preferences.units);
  return (
    <>
      <DropdownMenu.Separator className="menu-line" />
      <DropdownMenu.Label className="menu-label">Lengths</DropdownMenu.Label>
      <DropdownMenu.RadioGroup value={units} onValueChange={(value) => setUnits(value as Units)}>
        {(['cm', 'in'] as const).map((unit) => (
          <DropdownMenu.RadioItem key={unit} value={unit} className="menu-item">
            {unit === 'cm' ? 'Centimetres' : 'Inches'}
            {units === unit && <small>chosen</small>}
          </DropdownMenu.RadioItem>
        ))}
      </DropdownMenu.RadioGroup>
      <DropdownMenu.Separator className="menu-line" />
      <DropdownMenu.Label className="menu-label">Theme</DropdownMenu.Label>
      <LightItems />
    </>
  );
}

/** Prints what lies on the table; the paper is the same for every sheet. */
function PrintItems() {
  const paper = usePattern((choices) => choices.paper);
  return (
    <>
      <Item
        onSelect={() => setTimeout(() => window.print())}
        name="Print what is on the table…"
        note={paper}
      />
      <DropdownMenu.RadioGroup
        value={paper}
        onValueChange={(value) => choosePattern({ paper: value as Paper })}
      >
        {PAPERS.map((size) => (
          <DropdownMenu.RadioItem
            key={size}
            value={size}
            className="menu-item"
            onSelect={(event) => event.preventDefault()}
          >
            On {size}
            {paper === size && <small>chosen</small>}
          </DropdownMenu.RadioItem>
        ))}
      </DropdownMenu.RadioGroup>
    </>
  );
}

/** An item that cannot be taken yet stays within reach of the keys, and its note says why. */
function Item(props: {
  readonly name: string;
  readonly note?: string;
  readonly why?: string;
  readonly onSelect: () => void;
}) {
  return (
    <DropdownMenu.Item
      className="menu-item"
      aria-disabled={Boolean(props.why) || undefined}
      onSelect={(event) => (props.why ? event.preventDefault() : props.onSelect())}
    >
      {props.name}
      {(props.why || props.note) && <small>{props.why || props.note}</small>}
    </DropdownMenu.Item>
  );
}

const LIGHTS: readonly { readonly theme: Theme; readonly name: string; readonly short: string }[] =
  [
    { theme: 'light', name: 'Light', short: 'light' },
    { theme: 'dark', name: 'Dark', short: 'dark' },
    { theme: 'system', name: 'As the device has it', short: 'device' },
  ];

function LightMenu() {
  const theme = usePage((state) => state.preferences.theme);
  return (
    <DropdownMenu.Root modal={false}>
      <DropdownMenu.Trigger className="button">
        Theme: {LIGHTS.find((light) => light.theme === theme)?.short} <DownGlyph />
      </DropdownMenu.Trigger>
      <DropdownMenu.Content className="menu" align="end" sideOffset={6} collisionPadding={8}>
        <LightItems />
      </DropdownMenu.Content>
    </DropdownMenu.Root>
  );
}

function LightItems() {
  const theme = usePage((state) => state.preferences.theme);
  return (
    <DropdownMenu.RadioGroup value={theme} onValueChange={(value) => setTheme(value as Theme)}>
      {LIGHTS.map((light) => (
        <DropdownMenu.RadioItem key={light.theme} value={light.theme} className="menu-item">
          {light.name}
          {theme === light.theme && <small>chosen</small>}
        </DropdownMenu.RadioItem>
      ))}
    </DropdownMenu.RadioGroup>
  );
}
