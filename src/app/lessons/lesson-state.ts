/** Which lesson is open, at which step, and where its slider stands; the same as a link that others can open. */
import { create } from 'zustand';
import { page } from '../state/page-store.ts';
import type { Lesson } from './lesson.ts';
import { LESSON_LIST, lessonOf } from './lesson-list.ts';

export interface LessonState {
  readonly lesson: Lesson;
  readonly step: number;
  readonly value: number;
}

export const useLesson = create<LessonState>(() => ({
  lesson: LESSON_LIST[0],
  step: 0,
  value: LESSON_LIST[0].slider.start,
}));

export function openLesson(lesson: Lesson): void {
  useLesson.setState({ lesson, step: 0, value: lesson.slider.start });
}

export function goToStep(step: number): void {
  const { lesson } = useLesson.getState();
  useLesson.setState({ step: Math.max(0, Math.min(lesson.steps.length - 1, step)) });
}

export const setLessonValue = (value: number) => useLesson.setState({ value });

/** `#lesson=join.2.5`: the lesson, its step counted from 1, and where the slider stands. */
export function lessonFragment({ lesson, step, value }: LessonState): string {
  return `#lesson=${lesson.id}.${step + 1}.${value}`;
}

/** Null where the address names no lesson that there is; step and value are put within their limits. */
export function lessonOfFragment(fragment: string): LessonState | null {
  const read = /^#lesson=([a-z]+)(?:\.(\d{1,3})(?:\.(\d{1,4}))?)?$/.exec(fragment);
  if (!read) return null;
  const lesson = lessonOf(read[1]);
  if (lesson.id !== read[1]) return null;
  const { min, max, start } = lesson.slider;
  const step = Math.max(1, Math.min(lesson.steps.length, Number(read[2] ?? 1))) - 1;
  const value = read[3] === undefined ? start : Math.max(min, Math.min(max, Number(read[3])));
  return { lesson, step, value };
}

/** Opens the lesson that an address names; false where it names none. */
export function openLessonLink(fragment: string): boolean {
  const state = lessonOfFragment(fragment);
  if (!state) return false;
  useLesson.setState(state);
  page.set({ area: 'lessons', pane: 'fabric' });
  return true;
}
