/** A lesson on paper: every step with its sentence and its pictures, and room for the class to write. */
import { PrintSheet } from '../print/print-sheet.tsx';
import { usePage } from '../state/page-store.ts';
import { type FindScene, type Lesson, type Scene, type Step, sceneKey } from './lesson.ts';
import { compared, figures } from './lesson-figures.ts';

/** Picture's key → its address. */
export type TakenPictures = ReadonlyMap<string, string>;

export function ClassSheet(props: {
  readonly lesson: Lesson;
  readonly value: number;
  readonly find: FindScene;
  readonly taken: TakenPictures;
}) {
  const { lesson, value, find, taken } = props;
  const units = usePage((state) => state.preferences.units);
  return (
    <PrintSheet name="lesson">
      <h1 className="written-title">{lesson.title}</h1>
      <p className="lesson-setting">
        {lesson.slider.name}: {lesson.slider.words(value, units)}. 22 sts and 30 rounds to 10 cm.
      </p>
      {lesson.steps.map((step, k) => {
        const scenes = step.scenes(value, find);
        const [first, second] = scenes.map((scene) => find(scene.shown));
        // A step that shows what the one before showed is read beside that.
        const before = k > 0 ? keysOf(lesson.steps[k - 1], value, find) : '';
        const pictures = keysOf(step, value, find) === before ? [] : scenes;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: steps stay where they are
          <section key={k} className="lesson-paper" data-pictures={pictures.length}>
            <p>
              <b>{k + 1}</b> {step.sentence(value, find, units)}{' '}
              {compared(first ?? null, second ?? null, units)}
            </p>
            <div className="lesson-paper-pictures">
              {pictures.map((scene) => (
                <PaperPicture key={scene.name} scene={scene} find={find} taken={taken} />
              ))}
            </div>
          </section>
        );
      })}
      <div className="lesson-notes">
        <p>What I saw:</p>
        <hr />
        <hr />
        <hr />
      </div>
    </PrintSheet>
  );
}

const keysOf = (step: Step, value: number, find: FindScene): string =>
  step
    .scenes(value, find)
    .map(({ shown }) => sceneKey(shown))
    .join('\n');

function PaperPicture(props: {
  readonly scene: Scene;
  readonly find: FindScene;
  readonly taken: TakenPictures;
}) {
  const { scene, find, taken } = props;
  const units = usePage((state) => state.preferences.units);
  const found = find(scene.shown);
  const address = taken.get(sceneKey(scene.shown));
  const words = found ? figures(found, units) : '';
  return (
    <figure>
      {address ? (
        <img src={address} alt={`${scene.name}. ${words}`} />
      ) : (
        <p className="soft">
          {address === undefined
            ? 'Its picture has not been worked out; “Class sheet…” does that.'
            : 'Its picture could not be drawn by this browser.'}
        </p>
      )}
      <figcaption>
        <b>{scene.name}</b>
        {words && <span>{words}</span>}
      </figcaption>
    </figure>
  );
}
