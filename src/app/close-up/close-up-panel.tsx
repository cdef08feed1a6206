/** One place of the piece at the level of yarn: its picture with what was measured, and its controls. */
import { useEffect, useMemo, useRef } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import type { CloseUp, CloseUpAsked } from '../../worker/yarn-messages.ts';
import { BusyNote } from '../panes/busy-note.tsx';
import { StageTools } from '../panes/stage-tools.tsx';
import { TurnedPicture } from '../panes/turned-picture.tsx';
import { CloseUpPrint } from '../print/close-up-print.tsx';
import { usePage } from '../state/page-store.ts';
import { CloseUpControlsPanel } from './close-up-controls.tsx';
import {
  leaveCloseUp,
  type Settlement,
  showCloseUp,
  stopCloseUp,
  useCloseUp,
} from './close-up-state.ts';
import { expectedWords, measureWords } from './measure-words.ts';
import { settingOf, usePlaces } from './setting.ts';
import { YarnPicture } from './yarn-picture.tsx';

export default function CloseUpPanel() {
  const laid = usePage((state) => state.laid);
  const positions = usePage((state) => state.positions);
  const atRest = usePage((state) => state.work.state === 'rest');
  const { controls, settlement, picture, moving } = useCloseUp();
  const places = usePlaces(laid);
  const setting = useMemo(
    () => (laid ? settingOf(laid, positions, atRest, controls, places) : null),
    [laid, positions, atRest, controls, places],
  );

  useEffect(() => {
    if (setting?.asked) showCloseUp(setting.key, setting.asked);
    else leaveCloseUp();
  }, [setting]);
  useEffect(() => () => leaveCloseUp(), []);

  if (!laid || !setting) {
    return <p className="wait">A close-up needs a plan whose fabric lies on the table.</p>;
  }
  const current = picture?.key === setting.key ? picture.closeUp : null;
  const live = !current && moving?.key === setting.key ? moving : null;
  // Until another setting shows how it moves, the picture before it stays, said to be the one before.
  const samePlace = picture && setting.asked && picture.asked.place === setting.asked.place;
  const shown = live ?? (setting.asked && samePlace ? picture : null);
  return (
    <div className="close-up">
      <div className="close-up-picture">
        {shown ? (
          <Picture
            closeUp={shown.closeUp}
            asked={shown.asked}
            stale={!current && !(live && settlement.state === 'settling')}
            restKey={current ? setting.key : ''}
          />
        ) : (
          <p className="wait">{setting.asked ? '' : setting.why}</p>
        )}
        {setting.asked && (
          <Note
            settlement={settlement}
            sofar={settlement.state === 'settling' ? expectedWords(setting.asked, live) : ''}
          />
        )}
      </div>
      <CloseUpControlsPanel laid={laid} places={places} setting={setting} current={current} />
    </div>
  );
}

function Picture(props: {
  closeUp: CloseUp;
  asked: CloseUpAsked;
  stale: boolean;
  restKey: string;
}) {
  const { closeUp, asked, stale, restKey } = props;
  const camera = useRef<CameraHandle>(null);
  const units = usePage((state) => state.preferences.units);
  return (
    <>
      <TurnedPicture
        camera={camera}
        label={`Close-up in yarn. ${measureWords(closeUp, asked, units)}`}
        describedBy="close-up-keys"
        stale={stale}
      >
        <YarnPicture closeUp={closeUp} camera={camera} restKey={restKey} />
      </TurnedPicture>
      <p id="close-up-keys" className="only-heard">
        Arrow keys turn it, plus and minus zoom, F fits it in, R starts over, T looks at the right
        side, B at the wrong side, S from the edge.
      </p>
      <StageTools camera={camera} film={`close-up ${asked.place}`} />
      <CloseUpPrint camera={camera} words={measureWords(closeUp, asked, units)} />
    </>
  );
}

function Note(props: { settlement: Settlement; sofar: string }) {
  const { settlement, sofar } = props;
  switch (settlement.state) {
    case 'idle':
      return null;
    case 'settling':
      return (
        <BusyNote
          words={`The yarn is settling…${sofar}`}
          name="How far the yarn has come"
          share={settlement.share}
          onStop={stopCloseUp}
        />
      );
    case 'stopped':
      return (
        <p className="stage-note" data-state="trouble">
          Stopped before the yarn came to rest. Change a control to go on.
        </p>
      );
    case 'trouble':
      return (
        <p className="stage-note" data-state="trouble" role="alert">
          {settlement.message}
        </p>
      );
    case 'shown':
      return (
        <p className="stage-note" data-state="rest">
          At rest
        </p>
      );
  }
}
