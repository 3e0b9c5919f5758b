import { settle } from '../ledger/settle.ts';
import { catalogue } from '../substance/catalogue.ts';
import { usage } from './fault.ts';
import type { Bench } from './write.ts';

/**
 * The solvent most recently poured before the time of a new entry.
 *
 * @throws Fault, usage, when none was
 */
export async function lastPoured({ file, atMs }: Bench): Promise<string> {
  const { entries } = await settle(file.events, atMs, file.header, catalogue);
  const last = entries.findLast(
    ({ event }) => pours(event.what) && 'solvent' in event && event.solvent !== undefined,
  );
  if (last && 'solvent' in last.event && last.event.solvent) return last.event.solvent;
  throw usage(
    'Cannot tell which solvent is poured, none was poured before',
    'name it, like: --solvent ipa99',
  );
}

function pours(what: string): boolean {
  return what === 'fill' || what === 'top-up' || what === 'rotate' || what === 'refill';
}
