/**
 * The middle pane: the fabric in 3D, a place of it as yarn, three rates side by side, the pattern, the
 * blanket, the test knits.
 */
import { Suspense, useDeferredValue, useMemo, useRef } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { DARK_ROOM, LIGHT_ROOM, loopEndOf, sideTurnRad } from '../../view/fabric/surface.ts';
import { cutSection } from '../../view/marks/section-cut.ts';
import { FabricView } from '../../view/scene/fabric-view.tsx';
import { drawsInSoftware } from '../../view/scene/graphics.ts';
import { setControls } from '../close-up/close-up-state.ts';
import { savePicture } from '../files/save-picture.ts';
import { FabricPrint } from '../print/fabric-print.tsx';
import { fabricColours, spunYarn } from '../state/fabric-colours.ts';
import { useDark, useStillMotion } from '../state/media.ts';
import { focusCourse, page, usePage } from '../state/page-store.ts';
import { poseOf } from '../state/pose.ts';
import { MM_PER_INCH } from '../state/units.ts';
import { useFabricStrands } from '../state/yarn-store.ts';
import { lazyPart, PaneBoundary } from '../ui/pane-boundary.tsx';
import { describePiece } from '../ui/piece-words.ts';
import { areaName } from './area-tabs.tsx';
import { KeptPicture, useDrawn, useKeepingPicture } from './kept-picture.tsx';
import { LegendBox } from './legend-box.tsx';
import { PoseChoice } from './pose-choice.tsx';
import { RoundSlider } from './round-slider.tsx';
import { SectionPanel } from './section-panel.tsx';
import { StageNote, useOldFabric } from './stage-note.tsx';
import { StageTools } from './stage-tools.tsx';
import { StrandChoice } from './strand-choice.tsx';
import { TurnedPicture } from './turned-picture.tsx';

const CloseUpPanel = lazyPart(() => import('../close-up/close-up-panel.tsx'));
const ComparePanel = lazyPart(() => import('./compare-panel.tsx'));
const PatternPanel = lazyPart(() => import('../pattern/pattern-panel.tsx'));
const BlanketPanel = lazyPart(() => import('../blanket/blanket-panel.tsx'));
const TestKnitPanel = lazyPart(() => import('../test-knits/test-knit-panel.tsx'));
const LessonsPanel = lazyPart(() => import('../lessons/lessons-panel.tsx'));

export function wakeGraphics(): void {
  drawsInSoftware();
}

export default function FabricPane() {
  const area = usePage((state) => state.area);
  return (
    <PaneBoundary key={area} name={`The part “${areaName(area)}”`}>
      {area === 'fabric' ? (
        <OnePiece />
      ) : (
        <Suspense fallback={<p className="wait">Clearing the table…</p>}>
          {area === 'close-up' && <CloseUpPanel />}
          {area === 'compare' && <ComparePanel />}
          {area === 'pattern' && <PatternPanel />}
          {area === 'blanket' && <BlanketPanel />}
          {area === 'test-knits' && <TestKnitPanel />}
          {area === 'lessons' && <LessonsPanel />}
        </Suspense>
      )}
    </PaneBoundary>
  );
}

function OnePiece() {
  const camera = useRef<CameraHandle>(null);
  const laid = usePage((state) => state.laid);
  const positions = usePage((state) => state.positions);
  const knitted = usePage((state) => state.knitted);
  const preferences = usePage((state) => state.preferences);
  const throughCourse = usePage((state) => state.throughCourse);
  const focus = usePage((state) => state.focus);
  const sectionShown = usePage((state) => state.sectionShown);
  const angleDeg = usePage((state) => state.sectionAngleDeg);
  const pieceNumber = usePage((state) => state.pieceNumber);
  const text = usePage((state) => state.text);
  const dark = useDark();
  const still = useStillMotion();

  const atRest = usePage((state) => state.work.state === 'rest');
  const relaxing = usePage((state) => state.work.state === 'relaxing');
  // At rest the verdict is shown first: stitches take a moment to make.
  const justRelaxed = useDeferredValue(relaxing);
  const ready = laid && positions && positions.length === 3 * laid.metric.vertices;
  const colours = useMemo(
    () => (ready ? fabricColours(laid, positions, preferences) : null),
    [ready, laid, positions, preferences],
  );
  const spun = spunYarn(preferences);
  const strands = useFabricStrands(laid, positions, atRest);
  const drawn = useDrawn(camera, Boolean(ready));
  const old = useOldFabric();
  const pose = knitted && atRest ? poseOf(knitted, positions) : 'lifted';
  const section = sectionShown ? angleDeg : null;
  const shown = [dark, preferences, throughCourse, focus, section, pose, Boolean(strands)];
  useKeepingPicture(camera, drawn && atRest && !old ? text : null, shown);
  const words = useMemo(
    () => (laid ? describePiece(laid, knitted, positions, preferences.units) : ''),
    [laid, knitted, positions, preferences.units],
  );
  const cut = useMemo(
    () =>
      ready && sectionShown
        ? cutSection(
            laid.metric,
            positions,
            sideTurnRad(laid, positions) + (angleDeg * Math.PI) / 180,
            loopEndOf(laid, throughCourse),
          )
        : null,
    [ready, laid, positions, sectionShown, angleDeg, throughCourse],
  );

  return (
    <>
      <div className="stage" data-old={old}>
        {!drawn && <KeptPicture />}
        {ready && colours ? (
          <>
            <TurnedPicture camera={camera} label={words} describedBy="stage-keys">
              <FabricView
                ref={camera}
                surface={laid}
                positions={positions}
                rgb={colours.rgb}
                spun={spun}
                relief={preferences.colourMode === 'fabric' ? 1 : 0.45}
                throughCourse={throughCourse}
                focus={focus}
                cut={cut}
                gridMm={preferences.units === 'cm' ? 10 : MM_PER_INCH}
                room={dark ? DARK_ROOM : LIGHT_ROOM}
                moving={relaxing || justRelaxed}
                stillMotion={still}
                pieceKey={String(pieceNumber)}
                restKey={
                  atRest
                    ? `${pieceNumber}:${laid.graph.loops}:${knitted?.report.riseMm}:${pose}`
                    : ''
                }
                strands={strands}
                onPickCourse={focusCourse}
                onPickLoop={lookCloser}
              />
            </TurnedPicture>
            <p id="stage-keys" className="only-heard">
              Arrow keys turn the piece, with Shift they move it, plus and minus zoom, F fits it in,
              R starts over, T looks from above, S from the side.
            </p>
            <StageTools
              camera={camera}
              film={laid.plan.title}
              onSavePicture={(there) => void savePicture(there.picture(), dark, laid.plan.title)}
            />
            <div className="stage-choices">
              <StrandChoice laid={laid} atRest={atRest} />
              <PoseChoice />
            </div>
            {colours.legend && <LegendBox legend={colours.legend} />}
          </>
        ) : (
          <EmptyTable />
        )}
        <StageNote />
      </div>
      {laid && <RoundSlider laid={laid} />}
      {ready && laid.plan.text === text && (
        <FabricPrint camera={camera} laid={laid} knitted={knitted} />
      )}
      {sectionShown && cut && <SectionPanel cut={cut} />}
    </>
  );
}

/** A stitch under the pointer, as yarn. */
function lookCloser(loop: number): void {
  if (loop >= (page.get().laid?.graph.loops ?? 0)) return;
  setControls({ place: 'stitch', loop });
  page.set({ area: 'close-up' });
}

function EmptyTable() {
  const work = usePage((state) => state.work);
  const words =
    work.state === 'mistakes'
      ? 'The fabric appears as soon as the plan has no mistakes.'
      : work.state === 'idle'
        ? 'Cast on and write the first round, or choose a demo under “Plans”.'
        : '';
  return <p className="wait">{words}</p>;
}
