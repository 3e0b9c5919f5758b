/**
 * A step at which the torture tests kill the process (`tests/torture/kill.mjs`). The bundler leaves every statement labelled
 * `KILL_POINT` out of the shipped program, and this file with them.
 *
 * @param first - done before dying, where the step is half of something
 */
export function killPoint(step: string, first?: () => void): void {
  if (process.env.BATHBOOK_KILL_AT !== step) {
    return;
  }
  first?.();
  process.kill(process.pid, 'SIGKILL');
}
