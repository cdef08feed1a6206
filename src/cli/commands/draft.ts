/** `draft`: wishes → plan text on the output; what was traded for what on the error stream. */
import { Command, InvalidArgumentError } from 'commander';
import type { Draft } from '../../draft/draft.ts';
import type { CornerName, GroundName, MotifShape, PanelWish } from '../../draft/wishes.ts';
import { draftMeasured } from '../../knit.ts';
import { type CommandMaker, printJson } from '../command.ts';
import { parseAmount, parsePositive } from '../option-values.ts';
import { UsageError } from '../usage-error.ts';

interface Options {
  readonly shape: string;
  readonly sideCm?: number;
  readonly sideIn?: number;
  readonly gauge: { stitchMm: number; roundMm: number };
  readonly direction: string;
  readonly corner: CornerName;
  readonly ground: string;
  readonly panel: string[];
  readonly crossEvery: number[];
  readonly panelAt: PanelWish['place'][];
  readonly worked: string;
  readonly title: string;
  readonly yarn: string;
  readonly needles: string;
  readonly inches?: boolean;
  readonly json?: boolean;
}

export const draftCommand: CommandMaker = ({ io }) =>
  new Command('draft')
    .description('a plan that lies flat, from the size and gauge wished for')
    .option('--shape <shape>', 'square, triangle, pentagon, hexagon, octagon or disc', 'square')
    .option('--side-cm <cm>', 'side of the finished piece (disc: diameter)', parsePositive)
    .option('--side-in <inches>', 'the same in inches', parsePositive)
    .requiredOption('--gauge <SxR>', 'stitches x rounds in 10 cm, e.g. 22x30', parseGauge)
    .option('--direction <way>', 'in: from the rim inwards; out: from the centre', 'in')
    .option(
      '--corner <style>',
      'paired (with 0, 1 or 2 stitches between: "paired 2") or centred',
      parseCorner,
      'paired 1',
    )
    .option('--ground <fabric>', 'stockinette, garter, reverse or seed', 'stockinette')
    .option('--panel <stitches>', 'a panel on every side, e.g. "p1 k4 p1"; repeatable', collect, [])
    .option('--cross-every <rounds>', 'cross the panel (0: never); repeatable', collectAmount, [])
    .option('--panel-at <place>', 'middle, corner, or stitches from the right', collectPlace, [])
    .option('--worked <way>', 'round or flat', 'round')
    .option('--title <text>', 'title of the plan', '')
    .option('--yarn <text>', 'yarn line of the plan', '')
    .option('--needles <text>', 'needles line of the plan', '')
    .option('--inches', 'say what was traded in inches (so it is with --side-in)')
    .option('--json', 'one JSON document instead of the plan text')
    .action((options: Options) => {
      const draft = make(options);
      if (options.json) {
        printJson(io, { version: 1, ...draft });
        return;
      }
      io.out(draft.text.endsWith('\n') ? draft.text : `${draft.text}\n`);
      for (const line of draft.traded) io.err(`${line}\n`);
    });

function make(options: Options): Draft {
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
  const panels = options.panel.map((stitches, i): PanelWish => {
    const cross = options.crossEvery[i] ?? options.crossEvery[0] ?? 0;
    return {
      stitches,
      crossEvery: cross === 0 ? null : cross,
      place: options.panelAt[i] ?? options.panelAt[0] ?? 'middle',
    };
  });
  try {
    return draftMeasured({
      title: options.title,
      shape: options.shape.toLowerCase() as MotifShape,
      sizeMm,
      ...options.gauge,
      direction: options.direction as 'in' | 'out',
      corner: options.corner,
      ground: options.ground.toLowerCase() as GroundName,
      panels,
      worked: options.worked as 'round' | 'flat',
      yarn: options.yarn,
      needles: options.needles,
      units: options.inches || options.sideIn !== undefined ? 'inch' : 'cm',
    });
  } catch (error) {
    // A wish that cannot be met names itself and its limits.
    if (error instanceof RangeError) throw new UsageError(error.message);
    throw error;
  }
}

function parseGauge(text: string): Options['gauge'] {
  const match = /^(\d+(?:\.\d+)?)\s*[x×*/]\s*(\d+(?:\.\d+)?)$/i.exec(text.trim());
  const stitches = Number(match?.[1]);
  const rounds = Number(match?.[2]);
  if (!(stitches > 0 && rounds > 0)) {
    throw new InvalidArgumentError('Write stitches x rounds in 10 cm, e.g. 22x30.');
  }
  return { stitchMm: 100 / stitches, roundMm: 100 / rounds };
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

function collectPlace(text: string, list: PanelWish['place'][]): PanelWish['place'][] {
  const word = text.trim().toLowerCase();
  if (word === 'middle' || word === 'corner') return [...list, word];
  if (/^\d{1,4}$/.test(word)) return [...list, Number(word)];
  throw new InvalidArgumentError('Write middle, corner, or a number of stitches.');
}
