/** `draft`: spec → plan text on the output; what was traded for what on the error stream. */
import { Command, InvalidArgumentError } from 'commander';
import type { CornerName, GroundName, MotifShape, PanelSpec } from '../../draft/spec/draft-spec.ts';
import { type GaugeGuess, readYarnAndNeedle } from '../../gauge/gauge/yarn-gauge.ts';
import { draftMeasured, gaugeOfYarn, type MeasuredDraft } from '../../knit.ts';
import { gaugeWords } from '../../report/words/gauge.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { parseAmount, parseGauge, parsePositive } from '../option-values.ts';
import { isKnittable, outcomeWords } from '../outcome.ts';
import { EXIT_PLAN_ERRORS, UsageError } from '../usage-error.ts';
import { unitOf } from '../words.ts';

interface Options {
  readonly shape: string;
  readonly sideCm?: number;
  readonly sideIn?: number;
  readonly gauge?: GaugeGuess;
  readonly direction: string;
  readonly corner: CornerName;
  readonly ground: string;
  readonly panel: string[];
  readonly crossEvery: number[];
  readonly panelAt: PanelPlace[];
  readonly worked: string;
  readonly title: string;
  readonly yarn: string;
  readonly needles: string;
  readonly inches?: boolean;
  readonly json?: boolean;
}

export const draftCommand: CommandMaker = ({ io, exitWith }) =>
  new Command('draft')
    .description('a plan that lies flat, from the size and gauge wished for')
    .option('--shape <shape>', 'square, triangle, pentagon, hexagon, octagon or disc', 'square')
    .option('--side-cm <cm>', 'side of the finished piece (disc: diameter)', parsePositive)
    .option('--side-in <inches>', 'the same in inches', parsePositive)
    .option(
      '--gauge <SxR>',
      'stitches x rounds in 10 cm, e.g. 22x30 (left out: guessed from --yarn and --needles)',
      parseGauge,
    )
    .option('--direction <way>', 'in: from the rim inwards; out: from the centre', 'in')
    .option(
      '--corner <style>',
      'paired (with 0, 1 or 2 stitches between: "paired 2") or centred',
      parseCorner,
      'paired 1',
    )
    .option('--ground <fabric>', 'stockinette, garter, reverse or seed', 'stockinette')
    .option(
      '--panel <stitches>',
      'a panel on every side, from right to left, e.g. "p1 k4 p1", "p2 2/2RC p2" or "p2 C6F p2"; repeatable',
      collect,
      [],
    )
    .option(
      '--cross-every <rounds>',
      'cross the panel (0: as often as usual for its named cables, else never); repeatable',
      collectAmount,
      [],
    )
    .option(
      '--panel-at <place>',
      'middle, corner, quarter, third, a share of the side from the right (30% or 2/5), stitches from the right; with "pair" before it also its mirror image on the other half, e.g. "pair quarter"; repeatable',
      collectPlace,
      [],
    )
    .option('--worked <way>', 'round or flat', 'round')
    .option('--title <text>', 'title of the plan', '')
    .option('--yarn <text>', 'yarn line of the plan; without a gauge its standard weight', '')
    .option('--needles <text>', 'needles line of the plan; without a gauge their size', '')
    .option('--inches', 'say size and trades in inches (so it is with --side-in)')
    .option('--json', 'one JSON document instead of the plan text')
    .action((options: Options) => {
      const { draft, guess } = make(options);
      if (!isKnittable(draft)) exitWith(EXIT_PLAN_ERRORS);
      if (options.json) {
        printJson(io, { version: 1, ...draft, gaugeGuess: guess });
        return;
      }
      io.out(draft.text.endsWith('\n') ? draft.text : `${draft.text}\n`);
      if (guess) io.err(`${guess.words}\n`);
      io.err(`${outcomeWords(draft, draft.spec.units)}\n`);
      for (const line of draft.compromises) io.err(`${line}\n`);
    });

/** A gauge that no swatch told. */
interface Guess extends GaugeGuess {
  readonly weight: string;
  readonly needleMm: number;
  readonly words: string;
}

function make(options: Options): { draft: MeasuredDraft; guess: Guess | null } {
  if ((options.sideCm === undefined) === (options.sideIn === undefined)) {
    throw new UsageError('how big? Give either --side-cm or --side-in');
  }
  const sizeMm = options.sideCm !== undefined ? options.sideCm * 10 : (options.sideIn ?? 0) * 25.4;
  for (const [list, name] of [
    [options.crossEvery, '--cross-every'],
    [options.panelAt, '--panel-at'],
  ] as const) {
    if (list.length > 1 && list.length !== options.panel.length) {
      throw new UsageError(`give ${name} once for all panels or once for each --panel`);
    }
    if (list.length > 0 && options.panel.length === 0) {
      throw new UsageError(`${name} needs a --panel`);
    }
  }
  const panels = options.panel.map((stitches, i): PanelSpec => {
    const cross = options.crossEvery[i] ?? options.crossEvery[0] ?? 0;
    return {
      stitches,
      crossEvery: cross === 0 ? null : cross,
      ...(options.panelAt[i] ?? options.panelAt[0] ?? { place: 'middle' }),
    };
  });
  try {
    const ground = options.ground.toLowerCase() as GroundName;
    const guess = options.gauge ? null : guessFrom(options, ground);
    const { stitchMm, roundMm } = (options.gauge ?? guess) as GaugeGuess;
    const draft = draftMeasured({
      title: options.title,
      shape: options.shape.toLowerCase() as MotifShape,
      sizeMm,
      stitchMm,
      roundMm,
      direction: options.direction as 'in' | 'out',
      corner: options.corner,
      ground,
      panels,
      worked: options.worked as 'round' | 'flat',
      yarn: options.yarn,
      needles: options.needles || (guess ? `${guess.needleMm} mm` : ''),
      units: unitOf({ inches: options.inches || options.sideIn !== undefined }),
    });
    return { draft, guess };
  } catch (error) {
    // A wish that cannot be met names itself and its limits.
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}

/** The published ranges are guidelines: said, so that nobody takes the guess for a swatch. */
function guessFrom({ yarn, needles, inches, sideIn }: Options, ground: GroundName): Guess {
  if (yarn.trim() === '') {
    throw new UsageError(
      'which gauge? Give --gauge 22x30, or --yarn with a standard weight and --needles, e.g. --yarn light --needles "4 mm"',
    );
  }
  const read = readYarnAndNeedle(yarn, needles);
  const gauge = gaugeOfYarn(read.weight.number, read.needleMm, ground);
  const counts = gaugeWords(gauge, unitOf({ inches: inches || sideIn !== undefined }), 'round');
  const needle = `${read.needleMm} mm needles${read.usual ? ' (the middle of those usual for it)' : ''}`;
  return {
    ...gauge,
    weight: read.weight.name,
    needleMm: read.needleMm,
    words: `Gauge guessed from the standard yarn weights: ${counts} of ${ground}, ${read.weight.name} yarn on ${needle}. A swatch tells more.`,
  };
}

function parseCorner(text: string): CornerName {
  const word = text.trim().toLowerCase().replace(/\s+/g, ' ').replace('centered', 'centred');
  const corner = word === 'paired' ? 'paired 1' : word;
  if (!/^(paired [012]|centred)$/.test(corner)) {
    throw new InvalidArgumentError('Write paired, "paired 0", "paired 1", "paired 2" or centred.');
  }
  return corner as CornerName;
}

function collect(text: string, list: string[]): string[] {
  return [...list, text];
}

function collectAmount(text: string, list: number[]): number[] {
  const rounds = parseAmount(text);
  if (!Number.isInteger(rounds)) throw new InvalidArgumentError('It must be whole rounds.');
  return [...list, rounds];
}

type PanelPlace = Pick<PanelSpec, 'place' | 'paired'>;

function collectPlace(text: string, list: PanelPlace[]): PanelPlace[] {
  const words = text.trim().toLowerCase();
  const paired = /^pair\b/.test(words);
  const place = readPlace(words.replace(/^pair\s*/, '') || 'quarter');
  if (place === null)
    throw new InvalidArgumentError(
      'Write middle, corner, quarter, third, a share such as 30% or 2/5, or a number of stitches; "pair quarter" for a mirrored pair.',
    );
  return [...list, paired ? { place, paired } : { place }];
}

function readPlace(word: string): PanelSpec['place'] | null {
  if (word === 'middle' || word === 'corner') return word;
  if (/^cent(re|er)$/.test(word)) return 'middle';
  if (word === 'quarter') return { share: 1 / 4 };
  if (word === 'third') return { share: 1 / 3 };
  if (/^\d{1,4}$/.test(word)) return Number(word);
  const percent = /^(\d{1,2}(?:\.\d+)?)\s*%$/.exec(word);
  const fraction = /^(\d{1,2})\/(\d{1,2})$/.exec(word);
  const share = percent
    ? Number(percent[1]) / 100
    : fraction
      ? Number(fraction[1]) / Number(fraction[2])
      : Number.NaN;
  return share > 0 && share < 1 ? { share } : null;
}
