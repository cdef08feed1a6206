/** The lessons: one question at a time, its pictures, a slider and one sentence a step; as a link and on paper. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { usePage } from '../state/page-store.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { AmountSlider } from '../ui/amount-slider.tsx';
import { ClassSheet, type TakenPictures } from './class-sheet.tsx';
import { type FindScene, type Lesson, type Scene, sceneKey, usesSlider } from './lesson.ts';
import { compared } from './lesson-figures.ts';
import { LESSON_LIST, lessonOf } from './lesson-list.ts';
import { LessonPicture } from './lesson-picture.tsx';
import { goToStep, lessonFragment, openLesson, setLessonValue, useLesson } from './lesson-state.ts';
import { leaveLessons, showScenes, useLessonWork } from './lesson-work.ts';

export default function LessonsPanel() {
  const { lesson, step, value } = useLesson();
  const foundMap = useLessonWork((state) => state.found);
  const units = usePage((state) => state.preferences.units);
  const find = useCallback<FindScene>((shown) => foundMap.get(sceneKey(shown)) ?? null, [foundMap]);
  const now = lesson.steps[step];
  const scenes = useScenes(now.scenes(value, find));
  const sheet = useClassSheet(lesson, scenes, find);

  useEffect(() => showScenes(scenes.map((scene) => scene.shown)), [scenes]);
  useEffect(() => leaveLessons, []);

  const sentence = now.sentence(value, find, units);
  const besides = compared(
    scenes[0] ? find(scenes[0].shown) : null,
    scenes[1] ? find(scenes[1].shown) : null,
    units,
  );
  const isFirstMoved = lesson.steps.find((other) => usesSlider(lesson, other)) === now;
  return (
    <div className="lessons" data-sheet={sheet.at !== null} data-first={step === 0}>
      <div className="lesson-head">
        <label htmlFor="lesson-choice">Lesson</label>
        <select
          id="lesson-choice"
          className="button button-small"
          value={lesson.id}
          onChange={(event) => openLesson(lessonOf(event.target.value))}
        >
          {LESSON_LIST.map(({ id, title }) => (
            <option key={id} value={id}>
              {title}
            </option>
          ))}
        </select>
        <span className="push" />
        <CopyLink />
        <SheetButton sheet={sheet} />
      </div>
      <div className="lesson-scenes" data-count={scenes.length}>
        {scenes.map((scene) => (
          <LessonPicture
            key={sceneKey(scene.shown)}
            scene={scene}
            onTaken={sheet.wants(scene) ? sheet.take : null}
          />
        ))}
      </div>
      <div className="lesson-words">
        <div className="lesson-step">
          <ActionButton
            className="button"
            why={step === 0 ? 'This is the first step' : ''}
            title="The step before"
            onClick={() => goToStep(step - 1)}
          >
            Back
          </ActionButton>
          <p aria-live="polite">
            <small>
              Step {step + 1} of {lesson.steps.length}
            </small>{' '}
            {sentence} {besides} {isFirstMoved && 'Move the slider to see it change.'}
          </p>
          <ActionButton
            className="button button-primary"
            why={step === lesson.steps.length - 1 ? 'This is the last step' : ''}
            title="The next step"
            onClick={() => goToStep(step + 1)}
          >
            Next
          </ActionButton>
        </div>
        <div className="lesson-slider">
          {usesSlider(lesson, now) && (
            <AmountSlider
              {...lesson.slider}
              value={value}
              words={lesson.slider.words(value, units)}
              onChange={setLessonValue}
            />
          )}
        </div>
        <p className="soft">
          Yarn and gauge of the lessons: 22 sts and 30 rounds to 10 cm. Everything here is worked
          out by the same models as your own plans; compare pictures rather than trust tenths.
        </p>
      </div>
      <ClassSheet lesson={lesson} value={value} find={find} taken={sheet.taken} />
    </div>
  );
}

/** The same array as long as the same pictures are wanted. */
function useScenes(scenes: readonly Scene[]): readonly Scene[] {
  const key = scenes.map((scene) => `${scene.name} ${sceneKey(scene.shown)}`).join('\n');
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the scenes
  return useMemo(() => scenes, [key]);
}

interface Sheet {
  readonly taken: TakenPictures;
  /** Step that is being worked out for the sheet; null while none is made. */
  readonly at: number | null;
  readonly begin: () => void;
  readonly cancel: () => void;
  readonly wants: (scene: Scene) => boolean;
  readonly take: (key: string, address: string) => void;
}

/** Walks through the steps, takes their pictures as they come to rest, and prints. */
function useClassSheet(lesson: Lesson, scenes: readonly Scene[], find: FindScene): Sheet {
  const [taken, setTaken] = useState<TakenPictures>(new Map());
  const [at, setAt] = useState<number | null>(null);
  const failed = useLessonWork((state) => state.failed);
  const step = useLesson((state) => state.step);
  const back = useRef(0);
  const wants = (scene: Scene) =>
    at !== null && find(scene.shown) !== null && !taken.has(sceneKey(scene.shown));
  const complete = scenes.every(({ shown }) => {
    const key = sceneKey(shown);
    return taken.has(key) || failed.has(key);
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: a lesson's own sheet
  useEffect(() => setAt(null), [lesson]);
  useEffect(() => {
    if (at === null || step !== at || !complete) return;
    if (at + 1 < lesson.steps.length) {
      setAt(at + 1);
      goToStep(at + 1);
      return;
    }
    setAt(null);
    goToStep(back.current);
    setTimeout(() => window.print());
  }, [at, step, complete, lesson]);
  return {
    taken,
    at,
    wants,
    begin: () => {
      back.current = step;
      // Taken anew, all of one size and shape.
      setTaken(new Map());
      setAt(0);
      goToStep(0);
    },
    cancel: () => setAt(null),
    take: useCallback(
      (key: string, address: string) => setTaken((before) => new Map(before).set(key, address)),
      [],
    ),
  };
}

function SheetButton({ sheet }: { readonly sheet: Sheet }) {
  const steps = useLesson((state) => state.lesson.steps.length);
  if (sheet.at === null) {
    return (
      <button
        type="button"
        className="button button-small"
        title="All steps of this lesson with their pictures, for the printer"
        onClick={sheet.begin}
      >
        Class sheet…
      </button>
    );
  }
  return (
    <span className="lesson-making" role="status">
      <span>
        Picture of step {sheet.at + 1} of {steps}…
      </span>
      <button type="button" className="button button-small" onClick={sheet.cancel}>
        Cancel
      </button>
    </span>
  );
}

function CopyLink() {
  const [words, setWords] = useState('');
  const copy = async () => {
    const link = `${location.origin}${location.pathname}${lessonFragment(useLesson.getState())}`;
    try {
      await navigator.clipboard.writeText(link);
      setWords('Copied.');
    } catch {
      // Not allowed here: the address itself becomes the link.
      history.replaceState(null, '', new URL(link).hash);
      setWords('The link stands in the address bar.');
    }
  };
  return (
    <>
      <span className="soft" role="status">
        {words}
      </span>
      <button
        type="button"
        className="button button-small"
        title="A link that opens this lesson at this step"
        onClick={() => void copy()}
      >
        Copy link
      </button>
    </>
  );
}
