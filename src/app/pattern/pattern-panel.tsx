/** The pattern: written, charted, on the needles, and its yarn; to print and to save. */
import { useDeferredValue, useMemo, useState } from 'react';
import { sizeNames } from '../../plan/size-names.ts';
import { useAlreadyMeasured } from '../blanket/measure-squares.ts';
import { textAtSize } from '../panes/size-verdicts.tsx';
import { usePage } from '../state/page-store.ts';
import { useProject } from '../state/project-store.ts';
import { shadeChoice } from '../state/square-colours.ts';
import { ChartView } from './chart-view.tsx';
import { NeedleView } from './needle-view.tsx';
import { PatternBar } from './pattern-bar.tsx';
import { type Sheet, usePattern } from './pattern-choices.ts';
import { type PatternFacts, readPattern } from './pattern-facts.ts';
import { PatternPrint } from './print-sheet.tsx';
import { SvgPicture } from './svg-picture.tsx';
import { WrittenView } from './written-view.tsx';
import { YarnView } from './yarn-view.tsx';

export default function PatternPanel() {
  const facts = useFacts();
  const sheet = usePattern((choices) => choices.sheet);
  return (
    <div className="bench">
      <PatternBar sheet={sheet} facts={facts.facts} />
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
  const mainColour = usePage((state) => state.preferences.mainColour);
  const stripeColour = usePage((state) => state.preferences.stripeColour);
  const namedYarns = usePage((state) => state.preferences.namedYarns);
  const terms = useProject((state) => state.project.terms);
  const worked = usePattern((choices) => choices.worked);
  const way = usePattern((choices) => choices.way);
  const allowancePercent = usePattern((choices) => choices.allowancePercent);
  const seam = usePattern((choices) => choices.seam);
  const hand = usePattern((choices) => choices.hand);
  const largePrint = usePattern((choices) => choices.largePrint);
  const ballGrams = usePattern((choices) => choices.ballGrams);
  const ballMetres = usePattern((choices) => choices.ballMetres);
  const texts = plan?.sizes ? sizeNames(plan).map((_, k) => textAtSize(plan.text, k)) : [];
  const measured = useAlreadyMeasured(texts);
  const reports = measured.map((one) => (one.state === 'rest' ? one.knitted.report : null));
  const sizeReports = useSteady(reports);
  return useMemo(
    () =>
      readPattern({
        plan,
        laid,
        knitted,
        units,
        terms,
        sizeReports,
        shades: shadeChoice({ mainColour, stripeColour, namedYarns }),
        choices: { worked, seam, hand, largePrint, way, allowancePercent, ballGrams, ballMetres },
      }),
    [
      plan,
      laid,
      knitted,
      units,
      mainColour,
      stripeColour,
      namedYarns,
      terms,
      worked,
      seam,
      hand,
      largePrint,
      way,
      allowancePercent,
      ballGrams,
      ballMetres,
      sizeReports,
    ],
  );
}

/** The same list for as long as it holds the same things. */
function useSteady<T>(list: readonly T[]): readonly T[] {
  const [kept, keep] = useState(list);
  const same = kept.length === list.length && kept.every((one, i) => one === list[i]);
  if (!same) keep(list);
  return same ? kept : list;
}

function Shown({ sheet, facts }: { readonly sheet: Sheet; readonly facts: PatternFacts }) {
  switch (sheet) {
    case 'written':
      return (
        <div className="paper">
          <WrittenView written={facts.written} notes={[...facts.notes, ...facts.aside]} />
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
