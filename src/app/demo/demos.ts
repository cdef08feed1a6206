/** Plans of an invented blanket, “Saltmarsh”: one square that cups, one that lies flat, one that ruffles. */

import cup from './saltmarsh-cup.txt?raw';
import flat from './saltmarsh-flat.txt?raw';
import ruffle from './saltmarsh-ruffle.txt?raw';

export interface Demo {
  readonly id: string;
  readonly name: string;
  readonly what: string;
  readonly text: string;
}

export const DEMOS: readonly Demo[] = [
  { id: 'cup', name: 'Creek square', what: 'cups', text: cup },
  { id: 'flat', name: 'Samphire square', what: 'lies flat', text: flat },
  { id: 'ruffle', name: 'Tideline square', what: 'ruffles', text: ruffle },
];

/** Shown on a first visit: the one whose trouble can be seen and put right at once. */
export const FIRST_DEMO = DEMOS[0];
