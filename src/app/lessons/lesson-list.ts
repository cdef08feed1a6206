/** The lessons, in the order in which a class would take them. */
import { RATE_LESSON, TWIST_LESSON } from './fabric-lessons.ts';
import type { Lesson } from './lesson.ts';
import { CABLE_LESSON, JOIN_LESSON, LADDER_LESSON } from './yarn-lessons.ts';

export const LESSON_LIST: readonly Lesson[] = [
  RATE_LESSON,
  JOIN_LESSON,
  TWIST_LESSON,
  LADDER_LESSON,
  CABLE_LESSON,
];

export function lessonOf(id: string): Lesson {
  return LESSON_LIST.find((lesson) => lesson.id === id) ?? LESSON_LIST[0];
}
