/** A shop on its way to a day, for the tests of `--until`: its clock stands at a midnight. */
import { openShop } from '../../src/bath/shop.ts';
import type { Header } from '../../src/ledger/header.ts';
import { outlookOf } from '../../src/outlook/outlook.ts';
import type { Days, Pace } from '../../src/outlook/pace.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { untilOf } from '../../src/outlook/until.ts';
import { movementsOf } from '../../src/records/movements.ts';
import { stockOf } from '../../src/records/stock.ts';
import { type Draft, entriesOf, START_MS } from '../bath/bench.ts';

export const DAY = 86_400_000;
export const DAYS: Days = {
  startOf: (ms) => Math.floor(ms / DAY) * DAY,
  next: (startMs) => startMs + DAY,
  weekday: (ms) => new Date(ms).getUTCDay(),
};
/** The bench starts on a Monday at eight; the clock stands at the midnight before the next one. */
export const MONDAY = START_MS - 8 * 3_600_000 + 7 * DAY;
export const RESIN = { density_g_ml: 1.1 };
export const more = {
  resins: { plain: { density_g_ml: RESIN.density_g_ml, viscosity_mpa_s: 400 } },
  shop: { defaults: { resin: 'plain' as const }, currency: 'EUR' },
  solvents: { ipa99: { ipa_wt_pct: 99.5, price_per_l: 8 } },
};

export function at(header: Header, drafts: readonly Draft[], weeks: number, perDay = 2, leadDays = 7) {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const movements = movementsOf();
  const status = statusOf(shop, entries, MONDAY, { watch: movements.watch });
  const loads = [0, 1, 1, 1, 1, 1, 0].map((one) => one * perDay);
  const pace: Pace = { loads, today: perDay, dayScatter: 0, basisDays: 0, perWeek: 5 * perDay };
  const outlook = outlookOf(status, { pace, days: DAYS })!;
  const stock = stockOf(shop, entries, movements, MONDAY);
  const until = untilOf(status, outlook, { toMs: MONDAY + weeks * 7 * DAY, days: DAYS, stock, leadDays })!;
  return { shop, status, outlook, until };
}

/** Carry-over in g, minutes in each bath. */
export const GIVEN = { carry: 11, minutes: 4 } as const;
export const givenWith = (drag: readonly number[]): Draft =>
  ({
    what: 'wash',
    parts: { model: 5 },
    carry_g: GIVEN.carry,
    drag_ml: [...drag],
    minutes: [GIVEN.minutes, GIVEN.minutes],
    agitation: 'still',
    hour: 3,
  }) as Draft;

export const given = givenWith([24, 32]);
