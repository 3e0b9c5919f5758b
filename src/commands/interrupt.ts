/**
 * Lets a command finish in its own way when the person presses Ctrl-C; a second time ends it at once.
 *
 * @returns what gives the key back its usual meaning
 */
export function onInterrupt(stop: () => void): () => void {
  const usual = process.listeners('SIGINT');
  process.removeAllListeners('SIGINT');
  const back = () => {
    process.removeListener('SIGINT', first);
    for (const listener of usual) process.on('SIGINT', listener);
  };
  const first = () => {
    back();
    stop();
  };
  process.on('SIGINT', first);
  return back;
}
