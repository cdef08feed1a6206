/** The pattern: written, charted, on the needles, and its yarn; to print and to save. */
import { DropdownMenu, ToggleGroup } from 'radix-ui';
import { useDeferredValue, useMemo } from 'react';
import type { Paper } from '../../paper/chart/chart.ts';
import { saveText } from '../files/save-files.ts';
import { usePage } from '../state/page-store.ts';
import { changeProject, useProject } from '../state/project-store.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { DownGlyph } from '../ui/icons.tsx';
import { ChartView, chartOf } from './chart-view.tsx';
import { NeedleView } from './needle-view.tsx';
import {
  choosePattern,
  PAPERS,
  type PatternChoices,
  type Sheet,
  usePattern,
} from './pattern-choices.ts';
import { type PatternFacts, readPattern } from './pattern-facts.ts';
import { PatternPrint } from './print-sheet.tsx';
import { SvgPicture } from './svg-picture.tsx';
import { WrittenView } from './written-view.tsx';
import { YarnView } from './yarn-view.tsx';

const NOT_YET = 'once it can be written';

const SHEETS: readonly (readonly [Sheet, string])[] = [
  ['written', 'Written'],
  ['chart', 'Chart'],
  ['schematic', 'Schematic'],
  ['needles', 'Needles'],
  ['yarn', 'Yarn'],
];

export default function PatternPanel() {
  const facts = useFacts();
  const sheet = usePattern((choices) => choices.sheet);
  return (
    <div className="bench">
      <div className="bench-bar">
        <ToggleGroup.Root
          type="single"
          className="strip"
          aria-label="Part of the pattern"
          value={sheet}
          onValueChange={(value) => value && choosePattern({ sheet: value as Sheet })}
        >
          {SHEETS.map(([value, name]) => (
            <ToggleGroup.Item key={value} value={value}>
              {name}
            </ToggleGroup.Item>
          ))}
        </ToggleGroup.Root>
        <Way />
        <TermsChoice />
        <span className="push" />
        <PrintTools facts={facts.facts} />
      </div>
      {/* Scrolls, so the keyboard must reach it. */}
      <section
        className="bench-sheet"
        aria-label="Pattern"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region takes the keys that scroll it
        tabIndex={0}
      >
        {facts.facts ? (
          <Shown sheet={sheet} facts={facts.facts} />
        ) : (
          <p className="wait">{facts.trouble}</p>
        )}
      </section>
      {facts.facts && <PatternPrint facts={facts.facts} />}
    </div>
  );
}

function useFacts() {
  const plan = useDeferredValue(usePage((state) => state.plan));
  const laid = usePage((state) => state.laid);
  const knitted = usePage((state) => state.knitted);
  const units = usePage((state) => state.preferences.units);
  const terms = useProject((state) => state.project.terms);
  const worked = usePattern((choices) => choices.worked);
  const way = usePattern((choices) => choices.way);
  const allowancePercent = usePattern((choices) => choices.allowancePercent);
  const seam = usePattern((choices) => choices.seam);
  const hand = usePattern((choices) => choices.hand);
  const largePrint = usePattern((choices) => choices.largePrint);
  const ballGrams = usePattern((choices) => choices.ballGrams);
  const ballMetres = usePattern((choices) => choices.ballMetres);
  return useMemo(
    () =>
      readPattern({
        plan,
        laid,
        knitted,
        units,
        terms,
        choices: { worked, seam, hand, largePrint, way, allowancePercent, ballGrams, ballMetres },
      }),
    [
      plan,
      laid,
      knitted,
      units,
      terms,
      worked,
      seam,
      hand,
      largePrint,
      way,
      allowancePercent,
      ballGrams,
      ballMetres,
    ],
  );
}

function Shown({ sheet, facts }: { readonly sheet: Sheet; readonly facts: PatternFacts }) {
  switch (sheet) {
    case 'written':
      return (
        <div className="paper">
          <WrittenView written={facts.written} notes={facts.notes} />
        </div>
      );
    case 'chart':
      return <ChartView facts={facts} />;
    case 'schematic':
      return facts.schematic ? (
        <SvgPicture svg={facts.schematic} name="paper schematic-picture" />
      ) : (
        <p className="wait">The schematic follows once the fabric is at rest.</p>
      );
    case 'needles':
      return <NeedleView facts={facts} />;
    case 'yarn':
      return <YarnView facts={facts} />;
  }
}

/** In the round or flat; the plan itself stays as it is. */
function Way() {
  const plan = usePage((state) => state.plan);
  const worked = usePattern((choices) => choices.worked);
  return (
    <ToggleGroup.Root
      type="single"
      className="strip"
      aria-label="Version"
      value={worked ?? plan?.worked ?? 'round'}
      onValueChange={(value) => value && choosePattern({ worked: value as 'round' | 'flat' })}
    >
      <ToggleGroup.Item value="round">In the round</ToggleGroup.Item>
      <ToggleGroup.Item value="flat">Flat</ToggleGroup.Item>
    </ToggleGroup.Root>
  );
}

function TermsChoice() {
  const terms = useProject((state) => state.project.terms);
  return (
    <select
      className="button button-small"
      aria-label="Terms"
      value={terms}
      onChange={(event) =>
        changeProject('chose terms', { terms: event.target.value as 'american' | 'british' })
      }
    >
      <option value="american">US terms</option>
      <option value="british">UK terms</option>
    </select>
  );
}

const PRINTED_NAMES = {
  chart: 'Chart',
  chartText: 'Chart in words',
  schematic: 'Schematic',
  needles: 'Needles',
} as const;

/** For the eyes and the hand that read it; and how many stitches the seam takes. */
function ReadingChoices() {
  const { largePrint, hand, seam } = usePattern();
  const choices: readonly (readonly [string, boolean, (checked: boolean) => void])[] = [
    ['Large print', largePrint, (on) => choosePattern({ largePrint: on })],
    ['Left-handed', hand === 'left', (on) => choosePattern({ hand: on ? 'left' : 'right' })],
    ['Two seam stitches', seam === 2, (on) => choosePattern({ seam: on ? 2 : 1 })],
  ];
  return (
    <>
      <DropdownMenu.Label className="menu-label">How it is read and sewn</DropdownMenu.Label>
      {choices.map(([name, checked, choose]) => (
        <DropdownMenu.CheckboxItem
          key={name}
          className="menu-item"
          checked={checked}
          onCheckedChange={choose}
          onSelect={(event) => event.preventDefault()}
        >
          {name}
          <small>{checked ? 'yes' : 'no'}</small>
        </DropdownMenu.CheckboxItem>
      ))}
    </>
  );
}

function PrintTools({ facts }: { readonly facts: PatternFacts | null }) {
  const choices = usePattern();
  const { paper, printed } = choices;
  const print = (part: Partial<PatternChoices['printed']>) =>
    choosePattern({ printed: { ...printed, ...part } });
  return (
    <>
      <DropdownMenu.Root modal={false}>
        <DropdownMenu.Trigger className="button button-small">
          Save, paper <DownGlyph />
        </DropdownMenu.Trigger>
        <DropdownMenu.Portal container={document.querySelector('main')}>
          <DropdownMenu.Content className="menu" align="end" sideOffset={6} collisionPadding={8}>
            <DropdownMenu.Label className="menu-label">Paper</DropdownMenu.Label>
            <DropdownMenu.RadioGroup
              value={paper}
              onValueChange={(value) => choosePattern({ paper: value as Paper })}
            >
              {PAPERS.map((size) => (
                <DropdownMenu.RadioItem key={size} value={size} className="menu-item">
                  {size}
                  {paper === size && <small>chosen</small>}
                </DropdownMenu.RadioItem>
              ))}
            </DropdownMenu.RadioGroup>
            <DropdownMenu.Separator className="menu-line" />
            <DropdownMenu.Label className="menu-label">Print with the pattern</DropdownMenu.Label>
            {(['chart', 'chartText', 'schematic', 'needles'] as const).map((part) => (
              <DropdownMenu.CheckboxItem
                key={part}
                className="menu-item"
                checked={printed[part]}
                onCheckedChange={(checked) => print({ [part]: checked })}
                onSelect={(event) => event.preventDefault()}
              >
                {PRINTED_NAMES[part]}
                <small>{printed[part] ? 'yes' : 'no'}</small>
              </DropdownMenu.CheckboxItem>
            ))}
            <DropdownMenu.Separator className="menu-line" />
            <ReadingChoices />
            <DropdownMenu.Separator className="menu-line" />
            <DropdownMenu.Item
              className="menu-item"
              aria-disabled={!facts || undefined}
              onSelect={() =>
                facts && saveText(facts.written.text, facts.plan.title, 'pattern.txt')
              }
            >
              Save the pattern as text
              {!facts && <small>{NOT_YET}</small>}
            </DropdownMenu.Item>
            <DropdownMenu.Item
              className="menu-item"
              aria-disabled={!facts || undefined}
              onSelect={() =>
                facts?.sizes.forEach((size) => {
                  const slug = size.name.toLowerCase().replace(/[^a-z0-9]+/g, '-');
                  const ending = slug ? `chart-${slug}.svg` : 'chart.svg';
                  saveText(
                    chartOf(facts, size, choices),
                    facts.plan.title,
                    ending,
                    'image/svg+xml',
                  );
                })
              }
            >
              {facts && facts.sizes.length > 1
                ? 'Save the charts as SVG, one for each size'
                : 'Save the chart as SVG'}
              {!facts && <small>{NOT_YET}</small>}
            </DropdownMenu.Item>
          </DropdownMenu.Content>
        </DropdownMenu.Portal>
      </DropdownMenu.Root>
      <ActionButton
        className="button button-small button-primary"
        why={facts ? '' : 'Once the pattern can be written'}
        onClick={() => window.print()}
      >
        Print
      </ActionButton>
    </>
  );
}
