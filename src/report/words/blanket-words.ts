/** What the blanket says of its yarn and of babies, on the page and by the command alike. */
import type { BlanketReport } from '../blanket.ts';
import { borderLengthM } from '../yarn-estimate.ts';
import { type LengthUnit, lengthWords } from './length.ts';
import { massWords, yarnLengthWords } from './yarn.ts';

export const BLANKET_YARN_NOTE =
  'With ends, seams and a tenth to spare; without the border. Balls are counted where the Yarn line says what one has, such as 100 g = 200 m.';

export const BLANKET_CAUTION =
  'Loose ends, holes and pins are a danger to babies, and blankets have no place in a young baby’s bed: weave in and check every end, count your pins, and follow your local safety advice.';

/** `With it the blanket comes to 54 cm by 54 cm.` */
export function borderedSizeWords(
  { depthMm }: { readonly depthMm: number },
  { widthMm, heightMm }: Pick<BlanketReport, 'widthMm' | 'heightMm'>,
  unit: LengthUnit,
): string {
  const [wide, high] = [widthMm, heightMm].map((mm) => lengthWords(mm + 2 * depthMm, unit));
  return `With it the blanket comes to ${wide} by ${high}.`;
}

/** `It takes about 83 m (42 g) of yarn besides that of the squares.` */
export function borderYarnWords(
  border: { readonly castOn: number; readonly boundOff: number; readonly rounds: number },
  { border: { stitchMm }, yarn }: Pick<BlanketReport, 'border' | 'yarn'>,
  unit: LengthUnit,
): string {
  const lengthM = borderLengthM(border, stitchMm);
  const sum = (of: (one: (typeof yarn)[number]) => number) =>
    yarn.reduce((total, one) => total + of(one), 0);
  const perMetre = sum((one) => one.massG) / sum((one) => one.lengthM);
  const mass = Number.isFinite(perMetre) ? ` (${massWords(lengthM * perMetre, unit)})` : '';
  return `It takes about ${yarnLengthWords(lengthM, unit)}${mass} of yarn besides that of the squares.`;
}
