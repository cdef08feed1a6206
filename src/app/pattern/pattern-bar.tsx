/** Above the pattern: which part of it, how it is worked and worded, and its paper. On a phone in one row. */
import { DropdownMenu } from 'radix-ui';
import { Fragment } from 'react';
import type { Paper } from '../../paper/chart/chart.ts';
import { saveText } from '../files/save-files.ts';
import { useSmall } from '../state/media.ts';
import { usePage } from '../state/page-store.ts';
import { changeProject, useProject } from '../state/project-store.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { DownGlyph } from '../ui/icons.tsx';
import { Strip, StripItem } from '../ui/strip.tsx';
import { chartOf } from './chart-view.tsx';
import {
  choosePattern,
  PAPERS,
  type PatternChoices,
  type Sheet,
  usePattern,
} from './pattern-choices.ts';
import type { PatternFacts } from './pattern-facts.ts';

const NOT_YET = 'once it can be written';

const SHEETS: readonly (readonly [Sheet, string])[] = [
  ['written', 'Written'],
  ['chart', 'Chart'],
  ['schematic', 'Schematic'],
  ['needles', 'Needles'],
  ['yarn', 'Yarn'],
];

export function PatternBar(props: { readonly sheet: Sheet; readonly facts: PatternFacts | null }) {
  const { sheet, facts } = props;
  const small = useSmall();
  return (
    <div className="bench-bar">
      <SheetChoice sheet={sheet} small={small} />
      {!small && (
        <>
          <Way />
          <TermsChoice />
        </>
      )}
      <span className="push" />
      <PrintTools facts={facts} small={small} />
    </div>
  );
}

const chooseSheet = (sheet: string) => sheet && choosePattern({ sheet: sheet as Sheet });

function SheetChoice({ sheet, small }: { readonly sheet: Sheet; readonly small: boolean }) {
  if (!small) {
    return (
      <Strip aria-label="Part of the pattern" value={sheet} onValueChange={chooseSheet}>
        {SHEETS.map(([value, name]) => (
          <StripItem key={value} value={value}>
            {name}
          </StripItem>
        ))}
      </Strip>
    );
  }
  return (
    <select
      className="button button-small"
      aria-label="Part of the pattern"
      value={sheet}
      onChange={(event) => chooseSheet(event.target.value)}
    >
      {SHEETS.map(([value, name]) => (
        <option key={value} value={value}>
          {name}
        </option>
      ))}
    </select>
  );
}

/** In the round or flat; the plan itself stays as it is. */
function useWorked(): 'round' | 'flat' {
  const plan = usePage((state) => state.plan);
  return usePattern((choices) => choices.worked) ?? plan?.worked ?? 'round';
}

const WORKED = { round: 'In the round', flat: 'Flat' } as const;
const AS_WRITTEN = 'as written';
const TERMS = {
  [AS_WRITTEN]: 'The plan’s terms',
  american: 'US terms',
  british: 'UK terms',
} as const;

const chooseWorked = (worked: string) =>
  worked && choosePattern({ worked: worked as keyof typeof WORKED });
const chooseTerms = (chosen: string) => {
  const terms = chosen as keyof typeof TERMS;
  changeProject('chose terms', { terms: terms === AS_WRITTEN ? undefined : terms });
};

function Way() {
  return (
    <Strip aria-label="Version" value={useWorked()} onValueChange={chooseWorked}>
      {Object.entries(WORKED).map(([value, name]) => (
        <StripItem key={value} value={value}>
          {name}
        </StripItem>
      ))}
    </Strip>
  );
}

function TermsChoice() {
  const terms = useProject((state) => state.project.terms) ?? AS_WRITTEN;
  return (
    <select
      className="button button-small"
      aria-label="Terms"
      value={terms}
      onChange={(event) => chooseTerms(event.target.value)}
    >
      {Object.entries(TERMS).map(([value, name]) => (
        <option key={value} value={value}>
          {name}
        </option>
      ))}
    </select>
  );
}

/** What the bar has no room for. */
function SmallChoices() {
  const worked = useWorked();
  const terms = useProject((state) => state.project.terms) ?? AS_WRITTEN;
  const groups = [
    ['Worked', WORKED, worked, chooseWorked],
    ['Terms', TERMS, terms, chooseTerms],
  ] as const;
  return groups.map(([label, names, chosen, choose]) => (
    <Fragment key={label}>
      <DropdownMenu.Label className="menu-label">{label}</DropdownMenu.Label>
      <DropdownMenu.RadioGroup aria-label={label} value={chosen} onValueChange={choose}>
        {Object.entries(names).map(([value, name]) => (
          <DropdownMenu.RadioItem key={value} value={value} className="menu-item">
            {name}
            {chosen === value && <small>chosen</small>}
          </DropdownMenu.RadioItem>
        ))}
      </DropdownMenu.RadioGroup>
      <DropdownMenu.Separator className="menu-line" />
    </Fragment>
  ));
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

function PrintTools(props: { readonly facts: PatternFacts | null; readonly small: boolean }) {
  const { facts, small } = props;
  const choices = usePattern();
  const { paper, printed } = choices;
  const print = (part: Partial<PatternChoices['printed']>) =>
    choosePattern({ printed: { ...printed, ...part } });
  return (
    <>
      <DropdownMenu.Root modal={false}>
        <DropdownMenu.Trigger className="button button-small">
          {small ? 'Choices' : 'Save or set paper'} <DownGlyph />
        </DropdownMenu.Trigger>
        <DropdownMenu.Portal container={document.querySelector('main')}>
          <DropdownMenu.Content className="menu" align="end" sideOffset={6} collisionPadding={8}>
            {small && <SmallChoices />}
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
