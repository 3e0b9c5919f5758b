/** Pipes that another program has set not to block. */

/** Looked at again after so many milliseconds. */
const AGAIN_MS = 2;

/** Nothing can be written to it or read from it just now. */
export function isFullOrEmptyPipe(error: unknown): boolean {
  return (error as NodeJS.ErrnoException).code === 'EAGAIN';
}

export function waitForPipe(): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, AGAIN_MS);
}
