/** One picture of a lesson: moving while it is worked out, with its name and figures, and taken for the class sheet. */
import { type RefObject, useEffect, useMemo, useRef } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { handleViewKey } from '../../view/camera/view-keys.ts';
import { DARK_ROOM, LIGHT_ROOM } from '../../view/fabric/surface.ts';
import { CloseUpView } from '../../view/scene/close-up-view.tsx';
import { FabricView } from '../../view/scene/fabric-view.tsx';
import type { CloseUp } from '../../worker/yarn-messages.ts';
import { marksOf } from '../close-up/measure-words.ts';
import { useYarnRgb } from '../close-up/yarn-colours.ts';
import { FilmMenu } from '../panes/film-menu.tsx';
import { PictureGuard } from '../panes/webgl-boundary.tsx';
import { fabricColours, spunYarn } from '../state/fabric-colours.ts';
import { useDark, useStillMotion } from '../state/media.ts';
import { usePage } from '../state/page-store.ts';
import { MM_PER_INCH } from '../state/units.ts';
import type { Band, Found, Scene } from './lesson.ts';
import { sceneKey } from './lesson.ts';
import { figures } from './lesson-figures.ts';
import { stopLesson, useLessonWork } from './lesson-work.ts';

interface PictureProps {
  readonly scene: Scene;
  /** Takes the picture once it has come to rest; null while nobody wants it. */
  readonly onTaken: ((key: string, address: string) => void) | null;
}

export function LessonPicture({ scene, onTaken }: PictureProps) {
  const key = sceneKey(scene.shown);
  const camera = useRef<CameraHandle>(null);
  const found = useLessonWork((state) => state.found.get(key) ?? null);
  const failed = useLessonWork((state) => state.failed.get(key) ?? null);
  const working = useLessonWork((state) => state.working === key);
  const moving = useLessonWork((state) => (state.working === key ? state.moving : null));
  const stopped = useLessonWork((state) => state.stopped);
  const units = usePage((state) => state.preferences.units);
  const shown = found ?? moving;
  const words = found ? figures(found, units) : '';
  useTaking(camera, key, found ? onTaken : null);
  return (
    <figure className="lesson-scene">
      <div className="lesson-stage">
        {shown && (
          <div
            className="stage-focus"
            role="img"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: the picture takes the keys that turn it
            tabIndex={0}
            aria-label={`${scene.name}. ${words || 'Still on its way to rest.'} The arrow keys turn it.`}
            onKeyDown={(event) => {
              if (event.ctrlKey || event.metaKey || event.altKey) return;
              if (handleViewKey(event, camera.current)) event.preventDefault();
            }}
          >
            <PictureGuard>
              <Drawn found={shown} camera={camera} restKey={found ? key : ''} />
            </PictureGuard>
          </div>
        )}
        {found && (
          <div className="stage-tools">
            <FilmMenu camera={camera} title={scene.name} />
          </div>
        )}
        {!found && (
          <div className="stage-note stage-busy" data-state={failed ? 'trouble' : 'busy'}>
            {failed ? (
              <span>{failed}</span>
            ) : stopped ? (
              <span>Stopped. Move the slider or the step to go on.</span>
            ) : (
              <Busy working={working} />
            )}
          </div>
        )}
      </div>
      <figcaption>
        <b>{scene.name}</b>
        <span>{words}</span>
      </figcaption>
    </figure>
  );
}

function Busy({ working }: { working: boolean }) {
  const share = useLessonWork((state) => state.share);
  if (!working) return <span>Waits for its turn…</span>;
  return (
    <>
      <span className="pulse" />
      <span>Coming to rest…</span>
      <button type="button" onClick={stopLesson}>
        Stop
      </button>
      <progress
        aria-label="How far the piece has come"
        max={1}
        {...(share === null ? {} : { value: share })}
      />
    </>
  );
}

/** Frames until a picture that came to rest is fitted in and painted. */
const FRAMES = 4;
const TAKEN_PX = 900;

function useTaking(
  camera: RefObject<CameraHandle | null>,
  key: string,
  onTaken: PictureProps['onTaken'],
): void {
  const taken = useRef(onTaken);
  taken.current = onTaken;
  const wanted = onTaken !== null;
  useEffect(() => {
    if (!wanted) return;
    let frame = 0;
    let left = FRAMES;
    const look = () => {
      if (camera.current && left-- <= 0) {
        const canvas = document.createElement('canvas');
        camera.current.drawOn(canvas, TAKEN_PX);
        taken.current?.(key, canvas.toDataURL('image/png'));
      } else frame = requestAnimationFrame(look);
    };
    frame = requestAnimationFrame(look);
    return () => cancelAnimationFrame(frame);
  }, [camera, key, wanted]);
}

interface DrawnProps {
  readonly camera: RefObject<CameraHandle | null>;
  readonly restKey: string;
}

function Drawn({ found, ...rest }: DrawnProps & { readonly found: Found }) {
  return found.kind === 'yarn' ? (
    <Yarn closeUp={found.closeUp} {...rest} />
  ) : (
    <Fabric band={found.knitted} {...rest} />
  );
}

function Yarn({ closeUp, camera, restKey }: DrawnProps & { readonly closeUp: CloseUp }) {
  const units = usePage((state) => state.preferences.units);
  const dark = useDark();
  const still = useStillMotion();
  const [yarnRgb, toldRgb] = useYarnRgb();
  const room = dark ? DARK_ROOM : LIGHT_ROOM;
  const marks = useMemo(
    () => marksOf(closeUp, units, { strong: room.section, plain: dark ? '#ece9e2' : '#22272a' }),
    [closeUp, units, room, dark],
  );
  return (
    <CloseUpView
      ref={camera}
      yarn={closeUp}
      told={closeUp.told}
      yarnRgb={yarnRgb}
      toldRgb={toldRgb}
      view={closeUp.view}
      stitchMm={closeUp.stitchMm}
      marks={marks}
      plate={dark ? '#1b1f21e6' : '#fffdf9e6'}
      stillMotion={still}
      pieceKey={closeUp.place}
      restKey={restKey}
    />
  );
}

const nobody = () => {};

function Fabric({ band, camera, restKey }: DrawnProps & { readonly band: Band }) {
  const preferences = usePage((state) => state.preferences);
  const dark = useDark();
  const still = useStillMotion();
  const [, toldRgb] = useYarnRgb();
  const spun = useMemo(
    () => spunYarn({ ...preferences, colourMode: 'fabric', stripeRounds: 0 }),
    [preferences],
  );
  const rgb = useMemo(() => {
    const colours = fabricColours(band, band.positions, {
      ...preferences,
      colourMode: 'fabric',
      stripeRounds: 0,
    }).rgb.slice();
    if (band.linked === null && band.graph.join.halfTurns === 0) return colours;
    // The edges of a band stand out, so that an eye can follow them.
    const { course, courses, loops } = band.graph;
    for (let loop = 0; loop < loops; loop++) {
      if (course[loop] <= 0 || course[loop] >= courses - 1) colours.set(toldRgb, 3 * loop);
    }
    return colours;
  }, [band, preferences, toldRgb]);
  return (
    <FabricView
      ref={camera}
      surface={band}
      positions={band.positions}
      rgb={rgb}
      spun={spun}
      relief={1}
      throughCourse={null}
      focus={null}
      cut={null}
      gridMm={preferences.units === 'cm' ? 10 : MM_PER_INCH}
      room={dark ? DARK_ROOM : LIGHT_ROOM}
      stillMotion={still}
      pieceKey={`${band.plan.castOn} ${band.graph.join.halfTurns}`}
      restKey={restKey}
      onPickCourse={nobody}
    />
  );
}
