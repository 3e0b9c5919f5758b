/** Names and words of a ledger as other people's files write them. */
import { AGITATIONS, type EventKind, MIDRINSES, PRERINSES, RESULTS } from '../ledger/event.ts';
import type { Known } from '../ledger/names.ts';

/** Named here once more, since the schemas that also name them are slow to load. */
const KINDS: Record<EventKind, true> = {
  fill: true,
  wash: true,
  'top-up': true,
  drain: true,
  rotate: true,
  refill: true,
  reading: true,
  weighed: true,
  inspect: true,
  stock: true,
  waste: true,
  reclaim: true,
  void: true,
  amend: true,
};

/** What may stand in each column of words; names of the ledger where it has them. */
export function vocabulary(known: Known): ReadonlyMap<string, ReadonlySet<string>> {
  const none: ReadonlySet<string> = new Set();
  return new Map<string, ReadonlySet<string>>([
    ['what', new Set(Object.keys(KINDS))],
    ['bath', known.baths],
    ['baths', known.baths],
    ['solvent', known.solvents ?? none],
    ['resin', known.resins ?? none],
    ['parts', known.parts ?? none],
    ['prerinse', new Set(PRERINSES)],
    ['midrinse', new Set(MIDRINSES)],
    ['agitation', new Set(AGITATIONS)],
    ['result', new Set(RESULTS)],
    ['from', new Set(['stock', 'clean'])],
    ['to', new Set(['mark'])],
    ['action', new Set(['opened', 'emptied', 'collected'])],
    ['method', new Set(['settled', 'distilled'])],
  ]);
}

/** The word as the ledger has it: "Hollow Model" is hollow-model. As it stands when there is none. */
export function wordAmong(text: string, among: ReadonlySet<string> | undefined): string {
  if (!among || among.has(text)) return text;
  const plain = plainOf(text);
  if (among.has(plain)) return plain;
  for (const one of among) if (plainOf(one) === plain) return one;
  return text;
}

function plainOf(text: string): string {
  return text.toLowerCase().replaceAll(/[\s_-]+/g, '-');
}
