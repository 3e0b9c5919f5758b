/** The changes of `amend`, each `key=value`, read as the ledger would have the value. */
import type { LedgerEvent } from '../ledger/event.ts';
import { keyOrder } from '../ledger/line.ts';
import { didYouMean } from '../ledger/near.ts';
import { scanEvent } from '../ledger/scan.ts';
import type { Kind } from '../substance/units.ts';
import { rfc3339 } from './clock.ts';
import { usage } from './fault.ts';
import { readLoad } from './load-words.ts';
import { quantity, quantityList, round } from './values.ts';
import { readWhen } from './when.ts';
import type { Bench } from './write.ts';

const FIXED = new Set(['id', 'what', 'of']);

/**
 * Reads one change of an entry.
 *
 * @throws Fault, usage, when the key is none of that kind of entry or the value cannot be read
 */
export async function readChange(
  change: string,
  event: LedgerEvent,
  bench: Bench,
): Promise<Record<string, unknown>> {
  const found = /^([a-z][a-z0-9_]*)=(.*)$/s.exec(change);
  if (!found) throw usage(`Cannot read "${change}" as a change`, 'write key=value, like drained_min=45');
  const [, key = '', text = ''] = found;
  refuseKey(key, event);
  if (text.trim() === '') {
    throw usage(
      `Cannot amend "${key}" to nothing`,
      `give a value; to leave "${key}" out, void the entry and log it again`,
    );
  }
  return { [key]: await ledgerValue(key, text.trim(), event, bench) };
}

function refuseKey(key: string, event: LedgerEvent): void {
  const keys = keyOrder(event.what).filter((one) => !FIXED.has(one));
  if (keys.includes(key)) return;
  if (FIXED.has(key)) {
    throw usage(
      `Cannot amend "${key}"`,
      `void the entry and log it again: bathbook void ${event.id} --why "…"`,
    );
  }
  throw usage(
    `Cannot find "${key}" among the keys of ${event.what} entries`,
    didYouMean(key, keys) ?? `its keys are ${keys.join(', ')}`,
  );
}

async function ledgerValue(key: string, text: string, event: LedgerEvent, bench: Bench): Promise<unknown> {
  if (/^[[{]/.test(text)) return written(key, text);
  switch (key) {
    case 'at':
    case 'logged':
      return rfc3339(await readWhen(text, bench.clockMs));
    case 'parts':
      return partsOf(text, bench);
    case 'minutes':
      return quantityList(text, 'duration', key);
    case 'drag_ml':
      return quantityList(text, 'volume', key);
    case 'baths':
    case 'cases':
      return text.split(/\s*,\s*/).filter(Boolean);
    case 'hollow':
    case 'estimated':
    case 'all':
      return truth(key, text);
    default:
      return plainValue(key, text, event);
  }
}

function plainValue(key: string, text: string, { what }: LedgerEvent): string | number {
  const kind = kindOf(key);
  if (kind) return round(quantity(text, kind, key));
  if (!NUMBERS.has(key)) return text;
  const number = Number(text);
  if (Number.isFinite(number)) return number;
  throw usage(`Cannot read "${text}" as the ${key} of a ${what}`, 'write a plain number');
}

const NUMBERS = new Set([
  'density_g_ml',
  'sg',
  'brix',
  'refractive_index',
  'resin_wt_pct',
  'sd',
  'price',
  'capacity_l',
]);

/** The unit is in the key's name. */
function kindOf(key: string): Kind | undefined {
  if (NUMBERS.has(key)) return undefined;
  if (/(?:^|_)ml$/.test(key)) return 'volume';
  if (key.endsWith('_g')) return 'mass';
  if (key.endsWith('_min')) return 'duration';
  if (key.endsWith('_c')) return 'temperature';
  return key.endsWith('_cm2') ? 'area' : undefined;
}

/** A list or a map as the ledger writes it. */
function written(key: string, text: string): unknown {
  const line = `- {${key}: ${text}}`;
  const read = scanEvent(line, 0, line.length);
  if (read) return (read as Record<string, unknown>)[key];
  throw usage(
    `Cannot read "${text}" as the value of "${key}"`,
    'write it as the ledger does, like {model: 4, mask: 2} or [5, 5]',
  );
}

function partsOf(text: string, { shop }: Bench): Record<string, number> {
  const load = readLoad(text.split(/[\s,+]+/).filter(Boolean), shop.parts);
  if ('parts' in load) return load.parts;
  const odd = 'wrongCount' in load ? load.wrongCount : 'partMissing' in load ? load.partMissing : undefined;
  if (odd !== undefined || !('unknown' in load))
    throw usage(`Cannot read "${odd}" as a count of parts`, 'write parts="4 model 2 mask"');
  throw usage(
    `Cannot find a part named "${load.unknown}"`,
    didYouMean(load.unknown, shop.parts.keys()) ?? 'add it to the head of the ledger',
  );
}

function truth(key: string, text: string): boolean {
  if (text === 'true' || text === 'yes') return true;
  if (text === 'false' || text === 'no') return false;
  throw usage(`Cannot read "${text}" as the value of "${key}"`, `write ${key}=true or ${key}=false`);
}
