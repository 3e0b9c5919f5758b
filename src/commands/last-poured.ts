import type { Entry } from '../ledger/event.ts';
import { settle } from '../ledger/settle.ts';
import { catalogue } from '../substance/catalogue.ts';
import { usage } from './fault.ts';
import { reclaimedSolvents } from './reclaim-clean.ts';
import type { Bench } from './write.ts';

/**
 * The solvent most recently poured before the time of a new entry; for the clean bath one that was not reclaimed.
 *
 * @throws Fault, usage, when none was
 */
export async function lastPoured(bench: Bench, bath: string): Promise<string> {
  const { last, fresh } = await poured(bench);
  const solvent = bath === 'clean' ? fresh : last;
  if (solvent !== undefined) return solvent;
  throw usage(
    `Cannot tell which solvent is poured, ${last === undefined ? 'none was poured before' : `only reclaimed "${last}" was`}`,
    'name it, like: --solvent ipa99',
  );
}

/**
 * What a move that fills the clean bath and names no solvent has to name after all: the last fresh one, when the last one that was
 * poured is reclaimed. Nothing otherwise, since then the ledger means the last one.
 */
export async function notReclaimed(bench: Bench): Promise<{ solvent?: string }> {
  const { last, fresh } = await poured(bench);
  return last === undefined || last === fresh ? {} : { solvent: await lastPoured(bench, 'clean') };
}

async function poured(bench: Bench): Promise<{ last?: string; fresh?: string }> {
  const entries = await entriesBefore(bench);
  const reclaimed = reclaimedSolvents(entries);
  const names = entries.flatMap(({ event }) =>
    pours(event.what) && 'solvent' in event && event.solvent !== undefined ? [event.solvent] : [],
  );
  const last = names.at(-1);
  const fresh = names.findLast((name) => !reclaimed.has(name));
  return { ...(last === undefined ? {} : { last }), ...(fresh === undefined ? {} : { fresh }) };
}

/** A ledger is read the short way for entries that are made now alone. */
async function entriesBefore({ file, way, settled, atMs }: Bench): Promise<readonly Entry[]> {
  if (way.isShort) return way.recorded(settled);
  return (await settle(file.events, atMs, file.header, catalogue)).entries;
}

function pours(what: string): boolean {
  return what === 'fill' || what === 'top-up' || what === 'rotate' || what === 'refill';
}
