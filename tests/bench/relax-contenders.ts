/**
 * Ways of bringing the same sheet to rest from the same start, for the relaxation bench: this project's
 * solver, two L-BFGS variants on the same energy, and two general-purpose libraries. Each is driven
 * step by step and shows its positions to a stopwatch that decides when it is there.
 */

import {
  Body,
  Broadphase,
  DistanceConstraint,
  type GSSolver,
  ObjectCollisionMatrix,
  Particle,
  Vec3,
  World,
} from 'cannon-es';
import { forceLink, forceSimulation, type Node } from 'd3-force-3d';
import type { Metric } from '../../src/gauge/metric.ts';
import { Cholesky } from '../../src/math/cholesky.ts';
import { planCholesky } from '../../src/math/cholesky-plan.ts';
import { dissect } from '../../src/math/dissection.ts';
import { emptyMatrix } from '../../src/math/sparse-symmetric.ts';
import { bend, HINGE_PAIRS } from '../../src/relax/energy/bending.ts';
import { planTopology } from '../../src/relax/energy/stiffness.ts';
import { Descent, type Preconditioner } from '../../src/relax/solver/descent.ts';
import { evaluate, SheetSolver } from '../../src/relax/solver/sheet-solver.ts';

/** Shown the positions now and then; true ends the run. Its own time is not counted. */
export type Look = (x: Float64Array) => boolean;

export interface Contender {
  readonly name: string;
  /** Runs until `look` says stop; set-up counts. */
  run(metric: Metric, start: Float64Array, look: Look): void;
}

export const contenders: readonly Contender[] = [
  { name: 'this solver: L-BFGS, two-level', run: runOurs },
  { name: 'L-BFGS, scalar Cholesky factor', run: runScalarCholesky },
  { name: 'L-BFGS, plain', run: runPlain },
  { name: 'd3-force-3d: links and bending', run: runForceLayout },
  { name: 'cannon-es: distance constraints', run: runRigidBodies },
];

function runOurs(metric: Metric, start: Float64Array, look: Look): void {
  const solver = new SheetSolver(metric, planTopology(metric));
  solver.solve(start, {
    tolerance: 0,
    maxIterations: 1e6,
    spent: 0,
    enough: 0,
    onProgress: ({ positions }) => look(positions),
  });
}

function descend(metric: Metric, start: Float64Array, m: Preconditioner, look: Look): void {
  const descent = new Descent(
    { size: 3 * metric.vertices, evaluate: (x, g) => evaluate(metric, x, g) },
    m,
  );
  descent.reset(start);
  while (descent.step()) if (look(descent.x)) return;
}

/** Graph Laplacian of the springs plus bending, the same for x, y, z; factored once. */
function runScalarCholesky(metric: Metric, start: Float64Array, look: Look): void {
  const topology = planTopology(metric);
  const matrix = emptyMatrix(topology.pattern, 1);
  const { springs, stiffness } = metric;
  for (let s = 0; s < stiffness.length; s++) {
    matrix.diagonal[springs[2 * s]] += stiffness[s];
    matrix.diagonal[springs[2 * s + 1]] += stiffness[s];
    matrix.lower[topology.springSlot[s]] -= stiffness[s];
  }
  const { hinges, hingeWeights: q, bendingMm } = metric;
  const ll = bendingMm * bendingMm;
  for (let h = 0, e = 0; h < hinges.length; h += 4) {
    for (let m = 0; m < 4; m++) matrix.diagonal[hinges[h + m]] += ll * q[h + m] ** 2;
    for (let p = 0; p < 12; p += 2, e++) {
      matrix.lower[topology.hingeSlot[e]] += ll * q[h + HINGE_PAIRS[p]] * q[h + HINGE_PAIRS[p + 1]];
    }
  }
  const mean = matrix.diagonal.reduce((a, b) => a + b) / metric.vertices;
  const factor = new Cholesky(planCholesky(topology.pattern, dissect(topology.graph, start)), 1);
  factor.factor(matrix, 1e-6 * mean);
  descend(metric, start, { apply: (d) => factor.solve(d) }, look);
}

/** One number as the initial inverse Hessian: one over the largest spring sum at a vertex. */
function runPlain(metric: Metric, start: Float64Array, look: Look): void {
  const scale = 1 / largestSum(metric);
  const apply = (d: Float64Array) => {
    for (let k = 0; k < d.length; k++) d[k] *= scale;
  };
  descend(metric, start, { apply }, look);
}

function largestSum(metric: Metric): number {
  const sum = new Float64Array(metric.vertices);
  for (let e = 0; e < metric.springs.length; e++)
    sum[metric.springs[e]] += metric.stiffness[e >> 1];
  return sum.reduce((a, b) => Math.max(a, b));
}

/** Links with our rest lengths and stiffness ratios, and our bending as a custom force. */
function runForceLayout(metric: Metric, start: Float64Array, look: Look): void {
  const { vertices, springs, restMm, stiffness } = metric;
  const nodes: Partial<Node>[] = [];
  for (let v = 0; v < vertices; v++) {
    nodes.push({ x: start[3 * v], y: start[3 * v + 1], z: start[3 * v + 2], vx: 0, vy: 0, vz: 0 });
  }
  const links = Array.from(restMm, (_, s) => ({
    source: springs[2 * s],
    target: springs[2 * s + 1],
  }));
  // Two over the largest spring sum is the edge of stability; the library halves it per end.
  const scale = 1 / largestSum(metric);
  const x = start.slice();
  const g = new Float64Array(x.length);
  const read = () => {
    for (let v = 0; v < vertices; v++) {
      x[3 * v] = nodes[v].x!;
      x[3 * v + 1] = nodes[v].y!;
      x[3 * v + 2] = nodes[v].z!;
    }
  };
  const bending = () => {
    read();
    g.fill(0);
    bend(metric, x, g);
    for (let v = 0; v < vertices; v++) {
      nodes[v].vx! -= 0.5 * scale * g[3 * v];
      nodes[v].vy! -= 0.5 * scale * g[3 * v + 1];
      nodes[v].vz! -= 0.5 * scale * g[3 * v + 2];
    }
  };
  const simulation = forceSimulation(nodes, 3)
    .stop()
    .alphaDecay(0)
    .velocityDecay(0.05)
    .force(
      'link',
      forceLink(links)
        .distance((_, s) => restMm[s])
        .strength((_, s) => scale * stiffness[s]),
    )
    .force('bending', bending);
  for (;;) {
    simulation.tick(5);
    read();
    if (look(x)) return;
  }
}

class NoCollisions extends Broadphase {
  override collisionPairs(): void {}
}

/** Particles of unit mass, a distance constraint a spring, our bending as an outside force. */
function runRigidBodies(metric: Metric, start: Float64Array, look: Look): void {
  const { vertices, springs, restMm } = metric;
  const world = new World({ gravity: new Vec3(0, 0, 0), broadphase: new NoCollisions() });
  (world.solver as GSSolver).iterations = 10;
  // The default table of contacts has a place for every pair of bodies: gigabytes at 20,000.
  Object.assign(world, {
    collisionMatrix: new ObjectCollisionMatrix(),
    collisionMatrixPrevious: new ObjectCollisionMatrix(),
  });
  const bodies: Body[] = [];
  for (let v = 0; v < vertices; v++) {
    const body = new Body({
      mass: 1,
      shape: new Particle(),
      position: new Vec3(start[3 * v], start[3 * v + 1], start[3 * v + 2]),
      linearDamping: 0.5,
    });
    bodies.push(body);
    world.addBody(body);
  }
  for (let s = 0; s < restMm.length; s++) {
    const [a, b] = [bodies[springs[2 * s]], bodies[springs[2 * s + 1]]];
    world.addConstraint(new DistanceConstraint(a, b, restMm[s]));
  }
  const x = start.slice();
  const g = new Float64Array(x.length);
  // Stiff enough to bend in the time that the constraints take to settle, soft enough to be stable.
  const push = 100;
  for (;;) {
    g.fill(0);
    bend(metric, x, g);
    for (let v = 0; v < vertices; v++) {
      bodies[v].force.set(-push * g[3 * v], -push * g[3 * v + 1], -push * g[3 * v + 2]);
    }
    world.step(1 / 60);
    for (let v = 0; v < vertices; v++) {
      const { position } = bodies[v];
      x[3 * v] = position.x;
      x[3 * v + 1] = position.y;
      x[3 * v + 2] = position.z;
    }
    if (look(x)) return;
  }
}
