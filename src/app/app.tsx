/**
 * The page: header, notices, and the three panes Plan, Fabric, Verdict.
 *
 * The editor and the scene are loaded after the first paint; until then their places say so.
 */
import { Suspense, useEffect, useState } from 'react';
import { FIRST_DEMO } from './demo/demos.ts';
import { watchLinks } from './files/open-link.ts';
import { PlainPlan } from './panes/plain-plan.tsx';
import { VerdictPane } from './panes/verdict-pane.tsx';
import { PlanPrint } from './print/plan-print.tsx';
import { loadKeptPlan, startKeeping } from './state/autosave.ts';
import { useDark, useNarrow } from './state/media.ts';
import type { Pane } from './state/page-store.ts';
import { page, putAway, usePage } from './state/page-store.ts';
import { loadKeptProject } from './state/project-autosave.ts';
import { DropVeil } from './ui/drop-overlay.tsx';
import { Header } from './ui/header.tsx';
import { lazyPart, PaneBoundary } from './ui/pane-boundary.tsx';

const PlanPane = lazyPart(() => import('./panes/plan-pane.tsx'));
const FabricPane = lazyPart(() => import('./panes/fabric-pane.tsx'));

export function App() {
  const dark = useDark();
  const theme = usePage((state) => state.preferences.theme);
  const pane = usePage((state) => state.pane);
  const area = usePage((state) => state.area);
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
    void Promise.all([loadKeptPlan(), loadKeptProject()]).then(([kept]) => {
      if (gone) return;
      page.set({
        text: kept ? kept.text : FIRST_DEMO.text,
        fileName: kept ? kept.fileName : '',
      });
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
      <a className="button skip" href="#verdict">
        Skip to the verdict
      </a>
      <PaneBoundary name="The menu">
        <Header />
      </PaneBoundary>
      <Notices />
      <main className="desk" data-shown={pane} data-area={area}>
        <section className="pane pane-plan" aria-labelledby="plan-name">
          <PaneBoundary name="The editor" instead={<PlainPlan />}>
            <Suspense fallback={<Wait words="Getting the plan out…" />}>
              {ready ? <PlanPane /> : <Wait words="Getting the plan out…" />}
            </Suspense>
          </PaneBoundary>
        </section>
        <section className="pane pane-fabric" aria-labelledby="fabric-name">
          <PaneBoundary name="The table">
            <Suspense fallback={<Wait words="Clearing the table…" />}>
              <FabricPane />
            </Suspense>
          </PaneBoundary>
        </section>
        <section className="pane pane-verdict" aria-labelledby="verdict" tabIndex={-1}>
          <PaneBoundary name="The verdict">
            <VerdictPane />
          </PaneBoundary>
        </section>
      </main>
      <PaneChoice />
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

function Wait({ words }: { readonly words: string }) {
  return <p className="wait">{words}</p>;
}

function Notices() {
  const notices = usePage((state) => state.notices);
  return (
    <div className="notices" role="alert">
      {notices.map((notice) => (
        <div className="notice" key={notice.id}>
          <span>{notice.message}</span>
          {notice.action && (
            <button type="button" className="button button-small" onClick={notice.action.run}>
              {notice.action.name}
            </button>
          )}
          <button type="button" className="button button-small" onClick={() => putAway(notice.id)}>
            Put away
          </button>
        </div>
      ))}
    </div>
  );
}

const PANES: readonly { readonly id: Pane; readonly name: string }[] = [
  { id: 'plan', name: 'Plan' },
  { id: 'fabric', name: 'Fabric' },
  { id: 'verdict', name: 'Verdict' },
];

/** Which pane a narrow screen shows. */
function PaneChoice() {
  const shown = usePage((state) => state.pane);
  const plan = usePage((state) => state.plan);
  const knitted = usePage((state) => state.knitted);
  const narrow = useNarrow();
  if (!narrow) return null;
  const mistakes = plan?.diagnostics.filter((d) => d.severity === 'error').length ?? 0;
  const under: Record<Pane, string> = {
    plan: mistakes ? `${mistakes} ${mistakes === 1 ? 'mistake' : 'mistakes'}` : 'in order',
    fabric: plan ? `${plan.castOn} sts` : '',
    verdict: knitted ? knitted.report.verdict : '',
  };
  return (
    <nav className="pane-choice" aria-label="Panes">
      {PANES.map(({ id, name }) => (
        <button
          key={id}
          type="button"
          aria-current={shown === id}
          onClick={() => page.set({ pane: id })}
        >
          {name}
          <small>{under[id]}</small>
        </button>
      ))}
    </nav>
  );
}
