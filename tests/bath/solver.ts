/** The ODE solver of the odex package (Gragg, Bulirsch and Stoer, after Hairer and Wanner), which ships no types of its own. */
import { createRequire } from 'node:module';

interface Solver {
  relativeTolerance: number;
  absoluteTolerance: number;
  maxSteps: number;
  solve(
    derivative: (x: number, y: number[]) => number[],
    from: number,
    start: number[],
    to: number,
  ): { y: number[]; outcome: number };
}

const { Solver: OdexSolver } = createRequire(import.meta.url)('odex') as {
  Solver: new (n: number) => Solver;
};

/** y at `to`, from `start` at 0; tolerances 1e-11. */
export function integrate(
  derivative: (x: number, y: number[]) => number[],
  start: number[],
  to: number,
): number[] {
  const solver = new OdexSolver(start.length);
  solver.relativeTolerance = 1e-11;
  solver.absoluteTolerance = 1e-11;
  solver.maxSteps = 100_000;
  const { y, outcome } = solver.solve(derivative, 0, start, to);
  if (outcome !== 0) throw new Error(`odex did not converge: outcome ${outcome}`);
  return y;
}
