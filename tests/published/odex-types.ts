/** The part of the ODE library's interface that the checks use; its own sources do not pass strict. */
export declare class Solver {
  constructor(dimensions: number);
  absoluteTolerance: number;
  relativeTolerance: number;
  denseOutput: boolean;
  solve(
    derivative: (x: number, y: number[]) => number[],
    x0: number,
    y0: readonly number[],
    xEnd: number,
    output?: (n: number, x0: number, x1: number, y: number[]) => boolean | undefined,
  ): { y: number[] };
}
