/**
 * Tubes of yarn, knit side out or in: how much energy bending takes one way and the other.
 * `npx tsx tests/golden/curl-of-tubes.ts` prints the figures of src/cell/curl-shape.ts (some seconds).
 */
import { pathToFileURL } from 'node:url';
import { relaxCell } from '../../src/cell/relax-cell.ts';
import { relaxRods } from '../../src/rod/relax-rods.ts';
import { buildRodSystem, type Strand } from '../../src/rod/rod-system.ts';
import { fibreSmooth, YARN } from '../../src/rod/yarn-material.ts';

/** Stitches (along the course) or rounds (along the wale) in a closed ring; +1: knit side out. */
export function bentTube(
  along: 'course' | 'wale',
  count: number,
  side: 1 | -1,
  loop: number,
  segments: number,
) {
  const cell = relaxCell({ stitch: 'stockinette', loopMm: loop, yarnMm: 1, segments, plane: 0 });
  const flat = cell.shape.points;
  const [width, height] = cell.shape.periodMm;
  const pitch = along === 'course' ? width : height;
  const radius = (count * pitch) / (2 * Math.PI);
  /** Point k of repeat n, wrapped round the tube. */
  const wrap = (n: number, k: number): number[] => {
    const out = radius + side * flat[3 * k + 2];
    const turn = (flat[3 * k + (along === 'course' ? 0 : 1)] + n * pitch) / radius;
    const round = [out * Math.sin(turn), out * Math.cos(turn)];
    return along === 'course'
      ? [round[0], flat[3 * k + 1], round[1]]
      : [flat[3 * k], round[0], round[1]];
  };
  const steps = Array.from({ length: segments }, (_, k) => k);
  const repeats = Array.from({ length: count }, (_, n) => steps.map((k) => wrap(n, k)));
  const strand = (points: number[][], image: [number, number]): Strand => ({
    points: points.flat(),
    closed: true,
    image,
    rest: new Float64Array(points.length).fill(loop / segments),
  });
  const strands =
    along === 'course'
      ? [strand(repeats.flat(), [0, 0])]
      : repeats.map((points) => strand(points, [1, 0]));
  const { system, positions } = buildRodSystem(strands);
  const period = Float64Array.from(along === 'course' ? [0, height] : [width, 0]);
  const run = relaxRods(
    {
      system,
      positions,
      period,
      freePeriod: [along === 'wale', along === 'course'],
      held: null,
      load: null,
      extra: null,
    },
    {
      material: { ...YARN, plane: 0 },
      tolerance: 1e-4,
      maxIterations: 3000,
      maxMove: 0.12,
      factorEvery: 15,
      smooth: fibreSmooth(loop / segments),
    },
  );
  let sum = 0;
  for (let i = 0; i < positions.length; i += 3) {
    sum += Math.hypot(positions[i + (along === 'course' ? 0 : 1)], positions[i + 2]);
  }
  return {
    /** Of a stitch, B/d; of flat fabric; radius at rest, d; area of a stitch, d². */
    energy: run.energy / count,
    flatEnergy: cell.energy / loop,
    radius: sum / system.nodes,
    area: width * height,
    width,
    converged: run.converged,
  };
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const loop of [17, 20, 24]) {
    for (const along of ['course', 'wale'] as const) {
      const [out, inside] = ([1, -1] as const).map((side) => bentTube(along, 16, side, loop, 24));
      const curvature = (1 / out.radius + 1 / inside.radius) / 2;
      const moment = (inside.energy - out.energy) / (2 * curvature * out.area);
      const stiffness =
        (out.energy + inside.energy - 2 * out.flatEnergy) / (curvature ** 2 * out.area);
      console.log(
        `l/d ${loop} along the ${along}: moment ${moment.toFixed(4)} B/d², stiffness ${stiffness.toFixed(3)} B/d, ` +
          `rest curvature ${((-moment / stiffness) * out.width).toFixed(2)} per stitch width`,
      );
    }
  }
}
