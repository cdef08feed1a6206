/** Plans of an invented blanket, “Saltmarsh”: one square that cups, one that lies flat, one that ruffles. */

import cup from './saltmarsh-cup.txt?raw';
import flat from './saltmarsh-flat.txt?raw';
import ruffle from './saltmarsh-ruffle.txt?raw';

export interface Demo {
  readonly id: string;
  readonly name: string;
  readonly what: string;
  readonly text: string;
  /** Its yarn in the blanket. */
  readonly colour: string;
}

export const DEMOS: readonly Demo[] = [
  { id: 'cup', name: 'Creek square', what: 'cups', text: cup, colour: '#5787a3' },
  { id: 'flat', name: 'Samphire square', what: 'lies flat', text: flat, colour: '#76854f' },
  { id: 'ruffle', name: 'Tideline square', what: 'ruffles', text: ruffle, colour: '#e4dccb' },
];

/** Shown on a first visit: the one whose trouble can be seen and put right at once. */
export const FIRST_DEMO = DEMOS[0];
