/**
 * The three panes beside each other, to be resized and folded away; their sizes are kept for the next visit.
 * Below 1180 px the verdict lies under the fabric unless the window is low, below 820 px one pane shows at a time
 * (`layout.css`). It folds by itself where what lies on the table is no plan of the user's, or needs the height.
 */
import type { ReactNode, RefObject } from 'react';
import { createRef, useEffect, useState } from 'react';
import {
  Group,
  type Layout,
  Panel,
  type PanelImperativeHandle,
  Separator,
  usePanelRef,
} from 'react-resizable-panels';
import { useMedia, useNarrow } from '../state/media.ts';
import { type Area, page, usePage } from '../state/page-store.ts';

/** Width of a folded pane: a finger finds its button. Chosen. */
const FOLDED_PX = 36;
const SIZES = 'lieflat pane sizes';
/** As in `layout.css`: where the verdict lies under the fabric. */
const STACKED = '(max-width: 899px), (max-width: 1180px) and (min-height: 701px)';

const verdictPanel = createRef<PanelImperativeHandle>();

/** Beside a lesson's pieces the verdict is said to be the plan's. */
export const verdictTitle = (area: Area): string =>
  area === 'lessons' ? 'Verdict on your plan' : 'Verdict';

/** Also where it is folded away, or another pane shows. */
export function showVerdict(): void {
  verdictPanel.current?.expand();
  page.set({ pane: 'verdict' });
}

export function Desk(props: {
  readonly plan: ReactNode;
  readonly fabric: ReactNode;
  readonly verdict: ReactNode;
}) {
  const pane = usePage((state) => state.pane);
  const area = usePage((state) => state.area);
  const narrow = useNarrow();
  const stacked = useMedia(STACKED);
  const plan = usePanelRef();
  const word = useVerdictWord();
  return (
    <main className="desk" data-shown={pane} data-area={area}>
      <Group id="desk" disabled={narrow} {...keptLayout('desk')}>
        <Foldable id="plan-pane" panel={plan} name="Plan" size="30%" least={narrow ? 0 : 300}>
          {props.plan}
        </Foldable>
        <Separator className="pane-edge" aria-label="Width of the plan" />
        <Panel id="table-pane" className="pane-holder" minSize={narrow ? 0 : 320}>
          <Group
            id="table-group"
            orientation={stacked ? 'vertical' : 'horizontal'}
            disabled={narrow}
            {...keptLayout('table')}
          >
            <Panel id="fabric-pane" className="pane-holder" minSize={narrow ? 0 : 220}>
              {props.fabric}
            </Panel>
            <Separator className="pane-edge" aria-label="Size of the verdict" />
            <Foldable
              id="verdict-pane"
              panel={verdictPanel}
              name={verdictTitle(area)}
              word={word}
              isAside={area === 'lessons' || (stacked && area !== 'fabric')}
              size={stacked ? '40%' : '32%'}
              least={narrow ? 0 : stacked ? 150 : 270}
            >
              {props.verdict}
            </Foldable>
          </Group>
        </Panel>
      </Group>
    </main>
  );
}

/** What is said of the plan in the editor; of another text it would be told as this one's. */
function useVerdictWord(): string {
  return usePage(({ knitted, text }) =>
    knitted?.plan.text === text ? knitted.report.verdict : '',
  );
}

/** A pane that leaves a strip with its name when it is made too small or folded by its button. */
function Foldable(props: {
  readonly id: string;
  readonly panel: RefObject<PanelImperativeHandle | null>;
  readonly name: string;
  /** What the strip says beside the name. */
  readonly word?: string;
  /** Folds by itself, and unfolds when that is over unless it was folded before. */
  readonly isAside?: boolean;
  readonly size: string;
  readonly least: number;
  readonly children: ReactNode;
}) {
  const { id, panel, name, word = '', isAside = false, size, least, children } = props;
  const [folded, setFolded] = useState(false);
  const givesWay = isAside && least > 0;
  useEffect(() => {
    if (!givesWay || panel.current?.isCollapsed()) return;
    panel.current?.collapse();
    return () => panel.current?.expand();
  }, [givesWay, panel]);
  return (
    <Panel
      id={id}
      className="pane-holder"
      panelRef={panel}
      defaultSize={size}
      minSize={least}
      collapsible={least > 0}
      collapsedSize={FOLDED_PX}
      onResize={() => setFolded(panel.current?.isCollapsed() ?? false)}
    >
      <div className="pane-content" data-folded={folded}>
        {children}
      </div>
      {least > 0 && <FoldButton panel={panel} name={name} word={word} folded={folded} />}
    </Panel>
  );
}

function FoldButton(props: {
  readonly panel: { readonly current: PanelImperativeHandle | null };
  readonly name: string;
  readonly word: string;
  readonly folded: boolean;
}) {
  const { panel, name, word, folded } = props;
  const strip = word ? `${name}: ${word}` : name;
  const words = folded ? `Unfold the ${lowerFirst(strip)}` : `Fold the ${name.toLowerCase()} away`;
  return (
    <button
      type="button"
      className="pane-fold"
      data-folded={folded}
      aria-expanded={!folded}
      aria-label={words}
      title={words}
      onClick={() => (folded ? panel.current?.expand() : panel.current?.collapse())}
    >
      {folded ? strip : name === 'Plan' ? '‹' : '›'}
    </button>
  );
}

const lowerFirst = (words: string): string => words[0].toLowerCase() + words.slice(1);

/** Sizes in per cent by the pane's name, as they were left; damaged or blocked storage gives the usual ones. */
function keptLayout(group: string) {
  const load = (): Record<string, Layout> => {
    try {
      return JSON.parse(localStorage.getItem(SIZES) ?? '{}') ?? {};
    } catch {
      return {};
    }
  };
  const found = load()[group];
  const sizes = found && Object.values(found).every((size) => size >= 0 && size <= 100);
  return {
    ...(sizes ? { defaultLayout: found } : {}),
    onLayoutChanged: (layout: Layout, { isUserInteraction }: { isUserInteraction: boolean }) => {
      if (!isUserInteraction) return;
      try {
        localStorage.setItem(SIZES, JSON.stringify({ ...load(), [group]: layout }));
      } catch {
        // Blocked storage: the sizes last as long as the page.
      }
    },
  };
}
