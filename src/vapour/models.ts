import { coldCleaner, quietPool } from './flat-rates.ts';
import { kawamuraPool, mackayPool } from './mackay.ts';
import { penetration } from './penetration.ts';
import { laminarPlate } from './plate.ts';
import { rmpPool } from './rmp.ts';
import { screeningCeiling } from './screening.ts';
import { stillDisc, stillFreeboard } from './still.ts';
import type { OpenSurface } from './surface.ts';

/** A published model of an open surface. */
export interface Model {
  id: string;
  /** What it is a picture of. */
  words: string;
  /** Its id in data/SOURCES.md. */
  source: string;
  /** Part of what is said of it comes from memory and is unverified. */
  fromMemory: boolean;
  /** Whether the speed of the air is in it. */
  wind: boolean;
  /** g/h; null where it says nothing. */
  rate(surface: OpenSurface, speedMPerS: number): number | null;
}

/**
 * Air along a bench [m/s]. Of 55 indoor work areas most lay below 0.3 m/s (BALDWIN1998); models were told apart over this range.
 */
export const ROOM_SPEEDS = { low: 0.1, high: 0.25 } as const;

const model = (
  id: string,
  words: string,
  source: string,
  rate: Model['rate'],
  { fromMemory = false, wind = false } = {},
): Model => ({ id, words, source, fromMemory, wind, rate });

/** From quiet air to draught. No two measure the same thing; none was made for a tub of IPA in a room. */
export const MODELS: readonly Model[] = [
  model('still-disc', 'still air, full to the rim', 'HULARSON', stillDisc),
  model('still-freeboard', 'still air between liquid and rim', 'STEFAN', stillFreeboard),
  model('cold-cleaner', 'cold cleaner, by surface alone', 'AP42.4.6', coldCleaner, { fromMemory: true }),
  model('quiet-pool', 'quiet open pool', 'MACKAYVW', quietPool),
  model('rmp-pool', 'pool out of doors', 'EPARMP', rmpPool, { wind: true }),
  model('mackay-pool', 'pool in wind', 'MACKAY1973', mackayPool, { fromMemory: true, wind: true }),
  model('kawamura-pool', 'the same, restated', 'KAWAMURA1987', kawamuraPool, {
    fromMemory: true,
    wind: true,
  }),
  model('laminar-plate', 'flat plate, air along it', 'ASHRAE6', laminarPlate, { wind: true }),
  model('penetration', 'slow air, no boundary layer', 'EPAOPPT', penetration, { wind: true }),
  model('screening', 'ceiling for a first look', 'EIIP16', screeningCeiling),
];
