/**
 * The law for a ledger that was cut: every event that is read is one of its own, in its place; what is missing is told on the line of the
 * cut, but for a cut at the end of a line, after which nothing shows.
 */
import { isDeepStrictEqual } from 'node:util';
import { checkLedger } from '../../src/ledger/check.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import type { Original } from './damage.ts';
import { CLOCK_MS, otherwiseRead } from './damage-ledgers.ts';

/** Why the law is broken by what is read of the first bytes of a ledger. */
export async function judgeCut({ bytes, data, eventsEnd }: Original, length: number): Promise<string[]> {
  const cut = bytes.subarray(0, length);
  const { file, problems } = await checkLedger(cut, { clockMs: CLOCK_MS, catalogue });
  const events = file.events.map(({ event }) => event);
  const told = problems.map(({ line }) => line);
  if (length < eventsEnd) {
    const isTold = problems.some(({ severity }) => severity === 'error') && !told.includes(undefined);
    // The line may be cut behind its colon.
    const hasLine = /^events:/m.test(new TextDecoder().decode(cut));
    return (isTold || hasLine) && events.length === 0
      ? []
      : [`in the head, and read was ${JSON.stringify({ events, told })}`];
  }
  const text = new TextDecoder().decode(cut);
  const { kept, isCut } = wholeOf(text);
  const whole = otherwiseRead(kept);
  const broken: string[] = [];
  const isOwn = isDeepStrictEqual(whole, { ...data, events: data.events.slice(0, whole.events.length) });
  if (!isOwn) broken.push('another parser reads other events than before the cut');
  if (!isDeepStrictEqual({ ...file.header }, data.head)) broken.push('another head is read');
  if (!isDeepStrictEqual(events, whole.events)) broken.push(`read was ${JSON.stringify(events.at(-1))}`);
  // What is cut off is named by nothing before it in these ledgers, so nothing else is wrong.
  const wanted = isCut ? [text.split('\n').length] : [];
  return isDeepStrictEqual(told, wanted) ? broken : [...broken, `told are the lines ${told}, not ${wanted}`];
}

/** What is whole of a cut ledger: its lines that have an end, and the last one where the other parser reads it as an event. */
function wholeOf(text: string): { kept: string; isCut: boolean } {
  const start = text.lastIndexOf('\n') + 1;
  const last = text.slice(start).trim();
  const isCut = last !== '' && !last.startsWith('#') && !isEvent(last);
  return { kept: isCut ? text.slice(0, start) : text, isCut };
}

function isEvent(line: string): boolean {
  try {
    const [event] = otherwiseRead(`events:\n  ${line}\n`).events;
    return typeof event === 'object' && event !== null;
  } catch {
    return false;
  }
}
