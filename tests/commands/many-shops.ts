/** Ledgers of several shops, for the tests of commands that take more than one. */
import { join } from 'node:path';
import { HEAD, LINES, ledgerOf, tempFolder } from './bundle.ts';

const named = (name: string, zone: string | null) =>
  HEAD.replace('Cove Street Bench', name).replace(
    / {2}timezone: .*\n/,
    zone === null ? '' : `  timezone: ${zone}\n`,
  );

/** A bath at 12 wt% resin, past its change limit of 10: 450 g in 4 L at 0.787 g/mL are 12.5. */
const HEAVY = [
  ...LINES.slice(0, 2),
  '  - {id: "heavy", at: 2026-11-19T10:00:00-04:00, what: wash, area_cm2: 3000, carry_g: 450, drag_ml: [0], minutes: [600], baths: [dirty]}',
];

/** Past its soon limit of 8 alone: 290 g are 8.4 wt%. */
const SOON = HEAVY.map((line) => line.replace('carry_g: 450', 'carry_g: 290'));

export const quiet = ledgerOf(LINES, named('Quiet Lane', 'America/Halifax'));
export const lisbon = ledgerOf(LINES, named('Harbour', 'Europe/Lisbon'));
export const zoneless = ledgerOf(LINES, named('Attic', null));
export const heavy = ledgerOf(HEAVY, named('Heavy', 'Asia/Kolkata'));
export const soon = ledgerOf(SOON, named('Soon', 'Europe/Lisbon'));
export const empty = ledgerOf([], named('Empty', 'Europe/Lisbon'));
export const broken = ledgerOf(['  - {id: "x", at: yesterday, what: wsh}']);
export const missing = join(tempFolder(), 'nowhere.yaml');
