import type { LedgerEvent } from './event.ts';
import type { Finding } from './finding.ts';
import type { BathHeader, Header } from './header.ts';
import { didYouMean } from './near.ts';

/** The generic catalogue, of which only the names matter here. */
export interface Catalogue {
  solvents: object;
  resins: object;
  parts: object;
}

/** The names a ledger's events may use; null where the catalogue is not at hand and nothing can be said. */
export interface Known {
  baths: ReadonlySet<string>;
  /** What each bath holds up to its brim, mL. */
  brimMl: ReadonlyMap<string, number>;
  /** The baths of a wash that names none. */
  washBaths: readonly string[];
  solvents: ReadonlySet<string> | null;
  resins: ReadonlySet<string> | null;
  parts: ReadonlySet<string> | null;
}

/** The names that the head defines, with those of the catalogue. */
export function knownNames(header: Header, catalogue?: Catalogue): Known {
  const together = (own: object | undefined, shipped: object | undefined): ReadonlySet<string> | null =>
    shipped === undefined ? null : new Set([...Object.keys(shipped), ...Object.keys(own ?? {})]);
  return {
    baths: new Set(Object.keys(header.baths)),
    brimMl: new Map(Object.entries(header.baths).map(([name, bath]) => [name, brimMl(bath)])),
    washBaths: washBaths(header),
    solvents: together(header.solvents, catalogue?.solvents),
    resins: together(header.resins, catalogue?.resins),
    parts: together(header.parts, catalogue?.parts),
  };
}

/** Volume at the brim [mL]: `tub_ml`, else that at the mark and the freeboard above it. */
export function brimMl({ tub_ml, mark_ml, freeboard_mm, length_mm, width_mm }: BathHeader): number {
  return tub_ml ?? mark_ml + (freeboard_mm * length_mm * width_mm) / 1000;
}

/** Where a load goes when the wash names no baths: dirty then clean, or every bath in the order of the head. */
export function washBaths(header: Header): string[] {
  const all = Object.keys(header.baths);
  const pair = ['dirty', 'clean'].filter((bath) => all.includes(bath));
  return pair.length === 2 ? pair : all;
}

type Kind = 'bath' | 'solvent' | 'resin' | 'part';

const HOW_TO_ADD: Record<Kind, (name: string) => string> = {
  bath: (name) =>
    `add it to the head under "baths:", like ${name}: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}`,
  solvent: (name) => `add it to the head under "solvents:", like ${name}: {ipa_wt_pct: 99.5}`,
  resin: (name) =>
    `add it to the head under "resins:", like ${name}: {density_g_ml: 1.11, viscosity_mpa_s: 400}`,
  part: (name) => `add it to the head under "parts:", like ${name}: {shape: solid, volume_ml: 20}`,
};

/** Every name an event uses must be known. */
export function checkNames(event: LedgerEvent, known: Known): Finding[] {
  const found: Finding[] = [];
  const look = (
    kind: Kind,
    name: string | undefined,
    among: ReadonlySet<string> | null,
    path: (string | number)[],
  ): void => {
    if (name !== undefined && among !== null && !among.has(name)) {
      found.push(unknownName(kind, name, among, path));
    }
  };
  if ('bath' in event) {
    look('bath', event.bath, known.baths, ['bath']);
  }
  if ('solvent' in event) {
    look('solvent', event.solvent, known.solvents, ['solvent']);
  }
  if (event.what === 'wash') {
    look('resin', event.resin, known.resins, ['resin']);
    event.baths?.forEach((bath, place) => {
      look('bath', bath, known.baths, ['baths', place]);
    });
  }
  if ('parts' in event) {
    for (const part in event.parts) {
      look('part', part, known.parts, ['parts', part]);
    }
  }
  if (event.what === 'rotate' || (event.what === 'top-up' && event.from === 'clean')) {
    for (const bath of event.what === 'rotate' ? ['dirty', 'clean'] : ['clean']) {
      look('bath', bath, known.baths, event.what === 'rotate' ? ['what'] : ['from']);
    }
  }
  return found;
}

function unknownName(
  kind: Kind,
  name: string,
  among: ReadonlySet<string>,
  path: (string | number)[],
): Finding {
  const near = didYouMean(name, among);
  const list = [...among].join(', ');
  const message =
    kind === 'bath'
      ? `Cannot find the bath "${name}", the head has ${list}`
      : `Cannot find the ${kind} "${name}" in the head or the catalogue`;
  const add = HOW_TO_ADD[kind](name);
  const help = near === undefined ? add.replace(/^a/, 'A') : `${near} If not, ${add}`;
  return {
    code: `unknown-${kind}`,
    message,
    help,
    path,
    ...(kind === 'part' ? { atKey: true as const } : {}),
  };
}
