/**
 * The page: header, notices, and the three panes Plan, Fabric, Verdict.
 *
 * The editor and the scene are loaded after the first paint; until then their places say so.
 */
import { Suspense, useEffect, useState } from 'react';
import { watchLinks } from './files/open-link.ts';
import { Tour } from './help/tour.tsx';
import { AreaTabs } from './panes/area-tabs.tsx';
import { Desk, showVerdict } from './panes/desk.tsx';
import { FirstPlan } from './panes/first-plan.tsx';
import { KeptPicture } from './panes/kept-picture.tsx';
import { PaneChoice } from './panes/pane-choice.tsx';
import { PlainPlan } from './panes/plain-plan.tsx';
import { StageNote } from './panes/stage-note.tsx';
import { VerdictPane } from './panes/verdict-pane.tsx';
import { PlanPrint } from './print/plan-print.tsx';
import { startKeeping } from './state/autosave.ts';
import { useDark } from './state/media.ts';
import { usePage } from './state/page-store.ts';
import { firstText } from './state/start.ts';
import { DropVeil } from './ui/drop-overlay.tsx';
import { Header } from './ui/header.tsx';
import { Notices } from './ui/notices.tsx';
import { lazyPart, PaneBoundary, PromptPart } from './ui/pane-boundary.tsx';

// Asked for before the first paint: the text first, then the picture, which is the larger part.
void firstText();
const planPane = () => import('./panes/plan-pane.tsx');
const PlanPane = lazyPart(planPane);
const editorThere = planPane().then(
  () => {},
  () => {},
);
const fabricPane = async () => {
  await editorThere;
  const part = await import('./panes/fabric-pane.tsx');
  // While the worker is still at the plan: to be asked takes the graphics a while the first time.
  part.wakeGraphics();
  // What lies on the table acts on the kept plan and project: not before they are there.
  await firstText();
  return part;
};

export function App() {
  const dark = useDark();
  const theme = usePage((state) => state.preferences.theme);
  const announcement = usePage((state) => state.announcement);
  const [ready, setReady] = useState(false);

  useEffect(() => {
    const root = document.documentElement;
    if (theme === 'system') root.removeAttribute('data-theme');
    else root.dataset.theme = theme;
  }, [theme]);

  useEffect(() => {
    let gone = false;
    let stopWatching = () => {};
    void firstText().then(() => {
      if (gone) return;
      setReady(true);
      startKeeping();
      stopWatching = watchLinks();
    });
    return () => {
      gone = true;
      stopWatching();
    };
  }, []);

  return (
    <div className="page" data-dark={dark}>
      {/* biome-ignore lint/a11y/useValidAnchor: a link within the page, whose target may be folded away */}
      <a className="button skip" href="#verdict" onClick={showVerdict}>
        Skip to the verdict
      </a>
      <PaneBoundary name="The menu">
        <Header />
      </PaneBoundary>
      <Notices />
      <Desk
        plan={
          <section className="pane pane-plan" aria-labelledby="plan-name">
            <PaneBoundary name="The editor" instead={<PlainPlan />}>
              <Suspense fallback={<FirstPlan />}>{ready ? <PlanPane /> : <FirstPlan />}</Suspense>
            </PaneBoundary>
          </section>
        }
        fabric={
          <section className="pane pane-fabric" aria-labelledby="fabric-name">
            <AreaTabs />
            <PaneBoundary name="The table">
              <PromptPart load={fabricPane} meanwhile={<FirstFabric />} />
            </PaneBoundary>
          </section>
        }
        verdict={
          <section
            className="pane pane-verdict"
            aria-labelledby="verdict"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, also while nothing in it takes the focus
            tabIndex={0}
          >
            <PaneBoundary name="The verdict">
              <VerdictPane />
            </PaneBoundary>
          </section>
        }
      />
      <PaneChoice />
      <Tour />
      <DropVeil />
      <PaneBoundary name="The sheet to print">
        <PlanPrint />
      </PaneBoundary>
      <div className="only-heard" role="status" aria-live="polite">
        {announcement}
      </div>
    </div>
  );
}

/** The table while the drawing of it is on its way: with the picture of the last visit, if there is one. */
function FirstFabric() {
  return (
    <div className="stage">
      <KeptPicture />
      <StageNote />
    </div>
  );
}
