/**
 * Limits for isopropanol in the air people breathe, those of data/limits.csv. Import this only where they are shown: it brings
 * their text along.
 */
import { MOLAR_MASS } from '../bath/air.ts';
import { LIMIT_ROWS, type LimitRow } from '../records/limit-rows.ts';
import type { FlammableRange } from './headspace.ts';
import { ppmOf } from './room.ts';

/** Over a shift of eight to ten hours, over a quarter of an hour, or a danger to life at once. */
type LimitKind = 'shift' | 'short' | 'danger';

export interface ExposureLimit extends Omit<LimitRow, 'value' | 'unit'> {
  /** As typed: `us-osha`. */
  key: string;
  kind: LimitKind;
  ppm: number;
  /** As printed: 500 mg/m3. */
  printed: string;
}

/** Which rows are limits in force, and of what kind; former, remanded and emergency values are not. */
const USES: readonly (readonly [jurisdiction: string, item: string, kind: LimitKind, unit: string])[] = [
  ['US-OSHA', 'PEL 8 h TWA isopropyl alcohol', 'shift', 'ppm'],
  ['US-Washington', 'PEL 8 h TWA', 'shift', 'ppm'],
  ['US-Washington', 'STEL 15 min', 'short', 'ppm'],
  ['US-NIOSH', 'REL TWA', 'shift', 'ppm'],
  ['US-NIOSH', 'REL ST', 'short', 'ppm'],
  ['US-NIOSH', 'IDLH (10 % of LEL)', 'danger', 'ppm'],
  ['US-ACGIH', 'TLV-TWA (A4; BEI)', 'shift', 'ppm'],
  ['US-ACGIH', 'TLV-STEL', 'short', 'ppm'],
  ['Canada-Ontario', 'OEL TWA', 'shift', 'ppm'],
  ['Canada-Ontario', 'OEL STEL', 'short', 'ppm'],
  ['UK', 'WEL 8 h TWA', 'shift', 'ppm'],
  ['UK', 'WEL 15 min', 'short', 'ppm'],
  ['Germany', 'AGW 8 h', 'shift', 'ppm'],
  ['Germany', 'short-term excursion factor (400 ppm; 1000 mg/m3)', 'short', 'factor'],
  ['EU', 'DNEL worker inhalation long-term', 'shift', 'mg/m3'],
];

const rowOf = (jurisdiction: string, item: string, unit: string): LimitRow =>
  LIMIT_ROWS.find((row) => row.jurisdiction === jurisdiction && row.item === item && row.unit === unit)!;

/** In the order of the table. */
export const EXPOSURE_LIMITS: readonly ExposureLimit[] = USES.map(([jurisdiction, item, kind, unit]) => {
  const { value, unit: _, ...words } = rowOf(jurisdiction, item, unit);
  const printed = unit === 'factor' ? `${value} times the shift limit` : `${value} ${unit}`;
  return {
    ...words,
    key: jurisdiction.toLowerCase(),
    kind,
    ppm: inPpm(jurisdiction, Number(value), unit),
    printed,
  };
});

function inPpm(jurisdiction: string, value: number, unit: string): number {
  switch (unit) {
    case 'ppm':
      return value;
    case 'factor':
      return value * Number(rowOf(jurisdiction, 'AGW 8 h', 'ppm').value);
    default:
      return ppmOf(value, MOLAR_MASS.ipa);
  }
}

/** The names that may be asked for, each once. */
export const JURISDICTIONS: readonly string[] = [...new Set(EXPOSURE_LIMITS.map(({ key }) => key))];

/**
 * Caution trigger where no jurisdiction is named [ppm]: the lowest limit over a shift of any, 200 ppm. Irritation was reported
 * at 400 ppm, so that the higher limits mean no "no effect" (54FR2332).
 */
export const CAUTION_PPM = Math.min(
  ...EXPOSURE_LIMITS.filter(({ kind }) => kind === 'shift').map(({ ppm }) => Math.round(ppm)),
);

/** The range in which isopropanol burns in air, % v/v. */
export const FLAMMABLE: FlammableRange = {
  lower: Number(rowOf('general', 'LEL', '% v/v').value),
  upper: Number(rowOf('general', 'UEL (at 200 F)', '% v/v').value),
};

/** °C, closed cup. */
export const FLASH_POINT_C = Number(rowOf('general', 'flash point closed cup', 'C').value);
