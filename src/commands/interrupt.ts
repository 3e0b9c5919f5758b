/**
 * Lets a command finish in its own way when the person presses Ctrl-C; a second time ends it at once.
 *
 * Listeners change over without a moment in which there is none: a key that was pressed just before would be lost.
 *
 * @returns what gives the key back its usual meaning
 */
export function onInterrupt(stop: () => void): () => void {
  const usual = process.listeners('SIGINT');
  const back = () => {
    for (const listener of usual)
      if (!process.listeners('SIGINT').includes(listener)) process.on('SIGINT', listener);
    process.removeListener('SIGINT', first);
  };
  const first = () => {
    back();
    stop();
  };
  process.on('SIGINT', first);
  for (const listener of usual) process.removeListener('SIGINT', listener);
  return back;
}
