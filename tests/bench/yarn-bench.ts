/**
 * Yarn: contact by pair lists against looking at all pairs, laid yarn brought to rest from 12 × 12 stitches
 * to a whole square of some 4,500 with the growth of its cost, and relaxing a patch against a
 * general-purpose particle library (cannon-es), in the same run on the same yarn. Times of the relaxation are
 * processor seconds. `--small` leaves out the whole square.
 */
import { Body, DistanceConstraint, type GSSolver, Sphere, Vec3, World } from 'cannon-es';
import { HAND_LOOP } from '../../src/cell/fabric-ratios.ts';
import { type FaceGrid, startLoops } from '../../src/cell/loop-start.ts';
import { relaxCell, TABLE_STIFFNESS } from '../../src/cell/relax-cell.ts';
import { relaxGround, relaxPanel } from '../../src/cell/relax-panel.ts';
import { FACTOR_EVERY } from '../../src/cell/yarn-run.ts';
import { type Knitted, knit } from '../../src/knit.ts';
import { contactEnergy, emptyContactState, shortestWay } from '../../src/rod/contact.ts';
import { arcGap, emptyPairList, findPairs } from '../../src/rod/pair-list.ts';
import { relaxRods } from '../../src/rod/relax-rods.ts';
import { elasticEnergy } from '../../src/rod/rod-elasticity.ts';
import { buildRodSystem, type RodSystem } from '../../src/rod/rod-system.ts';
import { INFLATION, STRETCH_STIFFNESS } from '../../src/rod/yarn-material.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import { relaxYarn } from '../../src/yarn/rest/relax-yarn.ts';
import { smallPiece } from '../yarn/small-piece.ts';

/** Hard yarn, as the other library's spheres are. */
const CONTACT_STIFFNESS = 10;
const LOOP = 17;
const SEGMENTS = 16;
const NO_PERIOD = new Float64Array(2);

function openPatch(size: number): { system: RodSystem; positions: Float64Array } {
  const faces: FaceGrid = Array.from({ length: size }, () => new Array<1>(size).fill(1));
  const { strands } = startLoops(faces, LOOP, SEGMENTS);
  return buildRodSystem(
    strands.map(({ points, rest }) => ({
      points,
      closed: false,
      rest: (rest as Float64Array).slice(1),
    })),
  );
}

function time(run: () => void, least = 5): number {
  run();
  const start = performance.now();
  let n = 0;
  while (n < least || performance.now() - start < 200) {
    run();
    n++;
    if (performance.now() - start > 4000) break;
  }
  return (performance.now() - start) / n;
}

export function benchYarn(): void {
  console.log('contact, ms an evaluation (elastic part included; one new list in ten)');
  console.log('stitches  segments  pair list  all pairs  ratio  energies agree');
  for (const size of [4, 8, 16, 32]) {
    const { system, positions } = openPatch(size);
    const gradient = new Float64Array(positions.length);
    const periodGradient = new Float64Array(2);
    const reach = { reach: 1.5, exclusion: 1.25 };
    const tangents = new Float64Array(4 * system.segments);
    const state = emptyContactState();
    const pairs = emptyPairList();
    let listed = 0;
    let turn = 0;
    const withList = time(() => {
      if (turn++ % 10 === 0) findPairs(system, positions, NO_PERIOD, reach, pairs);
      gradient.fill(0);
      const place = { positions, period: NO_PERIOD, gradient, periodGradient, tangents };
      elasticEnergy(system, { stretch: STRETCH_STIFFNESS, bending: 1 }, place);
      listed = contactEnergy(
        system,
        pairs,
        { contact: CONTACT_STIFFNESS, diameter: 1 },
        place,
        state,
      );
    });
    let naive = 0;
    const withAll = time(() => {
      naive = allPairs(system, positions);
    }, 1);
    const agree = Math.abs(naive - listed) < 1e-9 * (1 + naive) ? 'yes' : `no (${naive} ${listed})`;
    console.log(
      `${String(size * size).padStart(8)}  ${String(system.segments).padStart(8)}  ${withList.toFixed(3).padStart(9)}  ` +
        `${withAll.toFixed(2).padStart(9)}  ${(withAll / withList).toFixed(0).padStart(5)}  ${agree}`,
    );
  }
  benchPolish();
  benchCells();
  benchParticles();
}

/** Squares knitted from the rim inwards, decreased as flat work in the round is. */
function squareText(stitchesPerSide: number): string {
  const lines = [
    'Gauge: 21 sts and 28 rounds = 10 cm',
    `Cast on ${4 * stitchesPerSide} sts. Join in the round.`,
  ];
  let side = stitchesPerSide;
  for (let round = 1; side > 3; round++) {
    // Three decreasing rounds in four: the sheet lies flat at this gauge.
    if (round % 4 === 1) lines.push(`Round ${round}: knit.`);
    else {
      lines.push(`Round ${round}: *ssk, k${side - 4}, k2tog; rep from * 3 times more.`);
      side -= 2;
    }
  }
  lines.push('Cut the yarn and draw it through the remaining sts.');
  return lines.join('\n');
}

/** Steps between two frames of the patch, as a page would draw it while it comes to rest. */
const FRAME_EVERY = 4;

function benchPolish(): void {
  console.log('\nlaid yarn to rest (12 × 12 with a frame every four steps; squares whole)');
  console.log(
    'piece             stitches   lay s  rest s  steps  force    closest/d  moved by a tighter stop, 99 % | most',
  );
  const flat = Array.from({ length: 11 }, (_, r) => `${r % 2 ? 'p' : 'k'}*12`);
  relaxOne('patch 12 × 12', smallPiece({ castOn: 12, rounds: flat, worked: 'flat' }), true);
  const times: [number, number][] = [];
  const sides = process.argv.includes('--small') ? [16, 32] : [16, 32, 57];
  for (const side of sides) {
    const { knitted } = knit(squareText(side));
    if (!knitted) throw new Error('the bench plan has errors');
    const { graph, cells, sheet } = knitted;
    const seconds = relaxOne(`square, side ${side}`, { graph, cells, positions: sheet.positions });
    times.push([graph.loops, seconds]);
  }
  const [first, last] = [times[0], times[times.length - 1]];
  const exponent = Math.log(last[1] / first[1]) / Math.log(last[0] / first[0]);
  console.log(`the time of squares grows as stitches^${exponent.toFixed(2)}`);
}

type Piece = Pick<Knitted, 'graph' | 'cells'> & { readonly positions: ArrayLike<number> };

function relaxOne(name: string, { graph, cells, positions }: Piece, tighter = false): number {
  const clock = () => process.cpuUsage().user / 1e6;
  const began = clock();
  const laid = layYarn(graph, cells, positions);
  const laidAt = clock();
  let frames = 0;
  const { curves, relaxation } = relaxYarn(laid, graph, {
    onProgress: (_residual, step, pointsNow) => {
      if (step % FRAME_EVERY === 0) frames += pointsNow().length > 0 ? 1 : 0;
      return false;
    },
  });
  const seconds = clock() - laidAt;
  let moved = '';
  if (tighter) {
    const tight = relaxYarn(laid, graph, { tolerance: 0.001 }).curves.points;
    const steps: number[] = [];
    for (let i = 0; i < tight.length; i += 3) {
      const step = [0, 1, 2].map((c) => tight[i + c] - curves.points[i + c]);
      steps.push(Math.hypot(...step) / (2 * laid.radiusMm));
    }
    steps.sort((a, b) => a - b);
    const most = steps[steps.length - 1];
    moved = `${(100 * steps[Math.floor(0.99 * steps.length)]).toFixed(2)} % d | ${(100 * most).toFixed(2)} % d; ${frames} frames`;
  }
  console.log(
    `${name.padEnd(17)} ${String(graph.loops).padStart(8)}  ${(laidAt - began).toFixed(2).padStart(6)}  ` +
      `${seconds.toFixed(2).padStart(6)}  ${String(relaxation.iterations).padStart(5)}  ` +
      `${relaxation.residual.toExponential(1)}  ${relaxation.closestDiameters.toFixed(3).padStart(9)}  ${moved}` +
      `${relaxation.converged ? '' : '  not at rest'}${curves.check.linksWrong > laid.check.linksWrong ? '  links lost' : ''}`,
  );
  return seconds;
}

/** The same contact energy by looking at every pair of segments. */
function allPairs(system: RodSystem, positions: Float64Array): number {
  const way = new Float64Array(3);
  let energy = 0;
  for (let i = 0; i < system.segments; i++) {
    for (let j = i + 1; j < system.segments; j++) {
      if (arcGap(system, i, j, 0, 0) < 1.25) continue;
      shortestWay(system, positions, i, j, way);
      const [x, y, z] = way;
      const r2 = x * x + y * y + z * z;
      if (r2 >= 1) continue;
      energy += CONTACT_STIFFNESS * system.rest[i] * system.rest[j] * (1 / r2 + r2 - 2);
    }
  }
  return energy;
}

function benchCells(): void {
  console.log('\ncells to rest (48 segments a stitch, two stopping points agreeing within 1 %)');
  console.log('fabric       ms    steps  largest force');
  for (const stitch of ['stockinette', 'garter', 'rib 1x1', 'rib 2x2', 'seed'] as const) {
    const start = performance.now();
    const cell = relaxCell({ stitch, loopMm: LOOP, yarnMm: 1 });
    const ms = performance.now() - start;
    const { iterations, residual, converged } = cell.relaxation;
    console.log(
      `${stitch.padEnd(11)} ${ms.toFixed(0).padStart(5)}  ${String(iterations).padStart(5)}  ` +
        `${residual.toExponential(1)}${converged ? '' : '  not at rest'}`,
    );
  }
  benchCables();
}

/** What a close-up of a cable waits for: the panel without its crossings, then with them. */
function benchCables(): void {
  console.log(
    '\ncables to rest, a purl stitch to each side (24 segments a stitch; processor seconds)',
  );
  console.log('cable     every  plain panel  crossed  crossed/plain  steps  pulls in');
  for (const [moved, every] of [
    [2, 4],
    [2, 6],
    [3, 6],
  ]) {
    const row = [-1 as const, ...new Array<1>(2 * moved).fill(1), -1 as const];
    const request = {
      faces: Array.from({ length: every }, () => row),
      crossings: [{ row: every / 2, wale: 1, over: moved, under: moved, lean: 1 as const }],
      loopMm: HAND_LOOP,
      yarnMm: 1,
    };
    const before = process.cpuUsage();
    const ground = relaxGround(request);
    const plain = process.cpuUsage(before).user / 1e6;
    const between = process.cpuUsage();
    const panel = relaxPanel(request, ground);
    const crossed = process.cpuUsage(between).user / 1e6;
    const { iterations, converged } = panel.relaxation;
    console.log(
      `${moved} over ${moved}  ${String(every).padStart(5)}  ${plain.toFixed(2).padStart(11)}  ${crossed.toFixed(2).padStart(7)}  ` +
        `${(crossed / plain).toFixed(1).padStart(13)}  ${String(iterations).padStart(5)}  ` +
        `${panel.cablePullInPercent.toFixed(1)} %${converged ? '' : '  not at rest'}`,
    );
  }
}

/** Overlap and stretch left after the same time, ends of the rows held. */
function benchParticles(): void {
  const size = 6;
  console.log(`\npatch of ${size} × ${size} stitches, ends held, from the same start`);
  console.log('solver             ms    closest/diameter  largest stretch');
  const ours = openPatch(size);
  const held = new Uint8Array(ours.system.nodes);
  for (let s = 0; s < ours.system.strands; s++) {
    held[ours.system.nodeStart[s]] = 7;
    held[ours.system.nodeStart[s + 1] - 1] = 7;
  }
  const start = performance.now();
  for (const diameter of [...INFLATION, 1]) {
    relaxRods(
      {
        system: ours.system,
        positions: ours.positions,
        period: new Float64Array(2),
        freePeriod: [false, false],
        held,
        load: null,
        extra: null,
      },
      {
        material: {
          stretch: STRETCH_STIFFNESS,
          bending: 1,
          contact: CONTACT_STIFFNESS,
          diameter,
          plane: TABLE_STIFFNESS,
        },
        tolerance: diameter < 1 ? 0.05 : 1e-2,
        maxIterations: diameter < 1 ? 30 : 1500,
        maxMove: diameter < 1 ? diameter / 6 : 0.12,
        factorEvery: FACTOR_EVERY,
      },
    );
  }
  const ms = performance.now() - start;
  report('this yarn model', ms, ours.system, ours.positions);

  const theirs = openPatch(size);
  const world = new World({ gravity: new Vec3(0, 0, 0) });
  (world.solver as GSSolver).iterations = 20;
  const bodies: Body[] = [];
  for (let i = 0; i < theirs.system.nodes; i++) {
    const body = new Body({
      mass: held[i] ? 0 : 1,
      shape: new Sphere(0.5),
      position: new Vec3(...theirs.positions.subarray(3 * i, 3 * i + 3)),
      linearDamping: 0.5,
    });
    bodies.push(body);
    world.addBody(body);
  }
  for (let s = 0; s < theirs.system.segments; s++) {
    const { tail, head, rest } = theirs.system;
    const link = new DistanceConstraint(bodies[tail[s]], bodies[head[s]], rest[s]);
    link.collideConnected = false;
    world.addConstraint(link);
  }
  const began = performance.now();
  let steps = 0;
  while (performance.now() - began < ms || steps < 2) {
    world.step(1 / 60);
    steps++;
  }
  bodies.forEach((body, i) => {
    theirs.positions.set([body.position.x, body.position.y, body.position.z], 3 * i);
  });
  report(`cannon-es, ${steps} steps`, performance.now() - began, theirs.system, theirs.positions);
}

function report(name: string, ms: number, system: RodSystem, positions: Float64Array): void {
  const pairs = emptyPairList();
  const state = emptyContactState();
  const tangents = new Float64Array(4 * system.segments);
  const scrap = new Float64Array(positions.length);
  findPairs(system, positions, NO_PERIOD, { reach: 1, exclusion: 1.25 }, pairs);
  const periodGradient = new Float64Array(2);
  const place = { positions, period: NO_PERIOD, gradient: scrap, periodGradient, tangents };
  elasticEnergy(system, { stretch: 1, bending: 1 }, place);
  contactEnergy(system, pairs, { contact: 1, diameter: 1 }, place, state);
  let stretch = 0;
  for (let s = 0; s < system.segments; s++) {
    stretch = Math.max(stretch, Math.abs(tangents[4 * s + 3] / system.rest[s] - 1));
  }
  console.log(
    `${name.padEnd(18)} ${ms.toFixed(0).padStart(5)}  ${state.closest.toFixed(3).padStart(15)}  ${(100 * stretch).toFixed(2).padStart(12)} %`,
  );
}
