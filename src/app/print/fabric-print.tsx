/** The fabric on paper: its picture as it is turned now, the verdict with its figures, counts, the plan. */
import type { RefObject } from 'react';
import { checkWords, restWords } from '../../paper/pattern/yarn-rest-words.ts';
import { courseName } from '../../report/words/course-name.ts';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import { Facts, VerdictHead } from '../panes/verdict-pane.tsx';
import { usePage } from '../state/page-store.ts';
import { type Pose, poseOf } from '../state/pose.ts';
import { useStrands } from '../state/yarn-store.ts';
import { describePiece } from '../ui/piece-words.ts';
import { PlanText } from './plan-print.tsx';
import { PrintSheet, StagePicture } from './print-sheet.tsx';

export function FabricPrint(props: {
  readonly camera: RefObject<CameraHandle | null>;
  readonly laid: LaidSheet;
  readonly knitted: KnittedSheet | null;
}) {
  const { camera, laid, knitted } = props;
  const units = usePage((state) => state.preferences.units);
  const text = usePage((state) => state.text);
  const positions = usePage((state) => state.positions);
  const { plan } = laid;
  // Figures of another text must not stand beside this one.
  const report = knitted && knitted.plan.text === text ? knitted.report : null;
  return (
    <PrintSheet name="fabric">
      <h1 className="written-title">{plan.title || 'Fabric'}</h1>
      <StagePicture camera={camera} words={describePiece(laid, knitted, positions, units)} />
      {report && positions && <p>{POSE_WORDS[poseOf(knitted as KnittedSheet, positions)]}</p>}
      <YarnWords />
      {report ? (
        <section>
          <h2>Verdict</h2>
          <VerdictHead report={report} />
          <Facts report={report} units={units} />
          {report.advice.length > 0 && (
            <>
              <h2>What to do</h2>
              <ul className="dotted">
                {report.advice.map((advice) => (
                  <li key={advice.text}>{advice.text}</li>
                ))}
              </ul>
            </>
          )}
        </section>
      ) : (
        <p>The fabric was still being worked out: its verdict is not known yet.</p>
      )}
      <h2>Counts</h2>
      <ul className="print-counts">
        <li>Cast on: {plan.castOn} sts</li>
        {plan.rounds.map((round) => (
          <li key={round.n}>
            {courseName(plan, round.n)}: {round.after} sts
          </li>
        ))}
      </ul>
      <PlanText />
    </PrintSheet>
  );
}

/** What the picture shows. */
const POSE_WORDS: Record<Pose, string> = {
  lying: 'The picture shows it as it lies on a table by its own weight.',
  lifted: 'The picture shows it picked up, without weight.',
  blocked: 'The picture shows it pinned flat, dried.',
};

/** How the yarn in the picture lies; nothing where stitches are drawn. */
function YarnWords() {
  const { drawnAs, yarn, rest } = useStrands();
  const positions = usePage((state) => state.positions);
  if (drawnAs !== 'strands' || !yarn || yarn.on !== positions) return null;
  const words =
    rest.state === 'done'
      ? restWords(rest.record, yarn.curves)
      : rest.state === 'laid'
        ? `The yarn is drawn as laid, not at rest. ${checkWords(yarn.curves)}`
        : 'The yarn is drawn on its way to rest.';
  return <p className="print-strands">{words}</p>;
}
