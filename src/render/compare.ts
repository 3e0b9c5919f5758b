/**
 * Habits side by side: what a year of each costs, and how the parts fare.
 */
import { changeLimits, type Habit, type Practice, type Subject } from '../compare/habits.ts';
import type { Prices, Yearly } from '../compare/yearly.ts';
import type { Pace } from '../outlook/pace.ts';
import { count, trim } from './format.ts';
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { aligned, type Table, tabSeparated } from './table.ts';
import { wrap } from './wrap.ts';

export interface Comparison {
  policies: { habit: Habit; yearly: Yearly }[];
  /** The highest change limit with no more risk than asked for; null when there is none, or it was not looked for. */
  best: { name: string; practice: Practice; yearly: Yearly; bounded: boolean } | null;
  /** Solvent that comes with more water than a limit allows. */
  weak: { waterWtPct: number; limitWtPct: number } | null;
  /** Most of the loads that may begin past a limit, 0 to 1. */
  risk: number;
  /** Drawn worlds. */
  draws: number;
  seed: number;
  /** The person stopped it before all worlds were drawn. */
  stopped: boolean;
  prices: Prices;
  pace: Pace;
  /** Washes the loads were taken from. */
  loads: number;
  /** Of the ledger; empty when the header names none. */
  currency: string;
}

interface View {
  paint: Paint;
  width: number;
  onTerminal: boolean;
  title: string;
}

export async function compareText(comparison: Comparison, view: View): Promise<string> {
  const { paint, width, onTerminal, title } = view;
  const drawn = onTerminal ? await aligned(tableOf(comparison, width), paint, width) : records(comparison);
  const faint = (text: string) => paint.faint(wrap(text, width));
  return [
    title,
    '',
    drawn,
    '',
    ...sayings(comparison).map((text) => wrap(text, width)),
    '',
    ...basisOf(comparison).map(faint),
  ].join('\n');
}

interface Column {
  head: readonly [string, string];
  /** Shown from this many columns of the window on. */
  from: number;
  /** Of money, which people are not shown where no price is known. */
  isMoney?: true;
  cell(yearly: Yearly): string;
}

/** What is left out of a narrow window stands in the JSON. */
function columnsOf({ currency }: Comparison): Column[] {
  const money = currency === '' ? 'cost' : currency;
  return [
    { head: ['litres', 'a year'], from: 0, cell: ({ litres }) => figure(litres) },
    {
      head: [money, 'a year'],
      from: 0,
      isMoney: true,
      cell: ({ cost }) => (cost === null ? '' : cost.toFixed(0)),
    },
    {
      head: [money, 'a part'],
      from: 88,
      isMoney: true,
      cell: ({ costPerPart }) => (costPerPart === null ? '' : costPerPart.toFixed(3)),
    },
    { head: ['waste', 'kg'], from: 72, cell: ({ wasteKg }) => figure(wasteKg) },
    { head: ['changes', 'a year'], from: 0, cell: ({ changes }) => figure(changes) },
    { head: ['past', 'limit'], from: 0, cell: ({ overLimitShare }) => shareText(overLimitShare) },
    { head: ['clean', 'wt%'], from: 0, cell: ({ lastBathWtPctP95 }) => twoFigures(lastBathWtPctP95) },
    {
      head: ['on parts', 'µg/cm²'],
      from: 80,
      cell: ({ residueUgPerCm2P95 }) => twoFigures(residueUgPerCm2P95),
    },
  ];
}

/** Every column, whatever the width. */
function records(comparison: Comparison): string {
  const { head, rows } = tableOf(comparison, Number.POSITIVE_INFINITY);
  return tabSeparated({ head: head.map((cell) => cell.trim()), rows });
}

function tableOf(comparison: Comparison, width: number): Table {
  const isPriced = comparison.policies.some(({ yearly }) => yearly.cost !== null);
  const columns = columnsOf(comparison).filter(
    ({ from, isMoney }) => width >= from && (isPriced || !isMoney || width === Number.POSITIVE_INFINITY),
  );
  const rows = comparison.policies.map(({ habit, yearly }) => [
    ...columns.map(({ cell }) => cell(yearly)),
    habit.subject === 'now' ? `now: ${habit.name}` : habit.name,
  ]);
  return {
    head: [...columns.map(({ head }) => head.join('\n')), '\nhabit'],
    rows,
    right: columns.map((_, place) => place),
  };
}

/** Two figures, and no decimals from ten on. */
function figure(value: number): string {
  return value.toFixed(value < 9.95 ? 1 : 0);
}

/** The digits that half a percent and the draws support; nothing where there is no number. */
function twoFigures(value: number): string {
  if (Number.isNaN(value)) return '';
  return value < 10 ? value.toPrecision(2) : String(Number(value.toPrecision(2)));
}

function shareText(share: number): string {
  const percent = 100 * share;
  return percent > 0 && percent < 0.1 ? '< 0.1 %' : `${percent.toFixed(1)} %`;
}

/** What the table comes to, in sentences. */
function sayings(comparison: Comparison): string[] {
  const { policies, best, risk, stopped, draws } = comparison;
  const cut = stopped
    ? [`Stopped after ${count(draws, 'drawn world')}; the best change limit was not looked for to the end.`]
    : [];
  return [...cut, ...(stopped ? [] : [bestText(best, risk, comparison)]), ...mostSaving(policies)];
}

function bestText(best: Comparison['best'], risk: number, { currency }: Comparison): string {
  const asked = `no more than ${trim(100 * risk, 1)} % of loads washed past a limit`;
  if (!best) return `No change limit keeps to ${asked}.`;
  const { litres, cost, overLimitShare } = best.yearly;
  const bound = best.bounded ? '; any higher would come to what the ledger says never' : '';
  const money = cost === null ? '' : ` and ${[currency, cost.toFixed(0)].filter(Boolean).join(' ')}`;
  return `${cost === null ? 'Least solvent' : 'Cheapest'} with ${asked}: ${best.name}, ${figure(litres)} L${money} a year, ${shareText(overLimitShare)} of loads${bound}.`;
}

/** Habits other than limits that take less solvent, the best first. */
function mostSaving(policies: Comparison['policies']): string[] {
  const now = policies[0]!.yearly.litres;
  const saving = policies
    .filter(({ habit }) => habit.subject !== 'now' && habit.subject !== 'limit')
    .map(({ habit, yearly }) => ({ name: habit.name, share: 1 - yearly.litres / now }))
    .filter(({ share }) => share >= 0.05)
    .toSorted((one, other) => other.share - one.share)
    .slice(0, 3)
    .map(({ name, share }) => `${name} (${Math.round(100 * share)} % less)`);
  return saving.length === 0 ? [] : [`Saves most solvent at the same limits: ${saving.join(', ')}.`];
}

function basisOf(comparison: Comparison): string[] {
  const { policies, draws, seed, prices, pace, loads, currency } = comparison;
  const { route } = policies[0]!.habit.practice;
  const { perLitre, disposalPerLitre, perChange } = prices;
  const money = (amount: number) =>
    [currency, amount.toFixed(Number.isInteger(amount) ? 0 : 2)].filter(Boolean).join(' ');
  const others = [
    disposalPerLitre > 0
      ? `waste at ${money(disposalPerLitre)} per L`
      : 'taking waste away is not in it (--disposal)',
    perChange > 0 ? `a change at ${money(perChange)}` : 'nor is the work (--per-change)',
  ];
  return [
    ...weakText(comparison),
    ...cautions(policies.map(({ habit }) => habit.subject)),
    `Loads drawn from the last ${loads}, ${trim(pace.perWeek, 1)} a week, in ${count(draws, 'world')} drawn from what the readings leave open (seed ${seed}). Limits are those of ${route.join(' / ')}; baths are topped up when 5 % low and changed on the ledger's estimate, which may be off either way. Past limit: loads that truly began with a bath at or past a change limit of the ledger. Clean: resin in the last bath; 95 % of loads stay below it, and below what is on parts.`,
    perLitre === undefined
      ? unpriced(policies[0]!.habit.practice)
      : `Cost: ${[`solvent at ${money(perLitre)} per L`, ...others].join(', ')}.`,
    'All of it is what the model estimates; none of it says that a part is clean. The instructions for use and the safety data sheets come first.',
  ];
}

function unpriced({ solvent }: Practice): string {
  const name = printable(solvent);
  return `No money is counted, as no price of ${name} is known: log a delivery with what it cost (bathbook stock received ${name} 10 L --price 74), or write price_per_l beside it in the head of the ledger.`;
}

function weakText({ weak, policies }: Comparison): string[] {
  if (!weak) return [];
  const { solvent } = policies[0]!.habit.practice;
  const [water, limit] = [trim(weak.waterWtPct, 1), trim(weak.limitWtPct, 1)];
  return [
    `${printable(solvent)} as poured holds ${water} wt% water, past the limit of ${limit}, so that limit is left out here; a stronger solvent would cure it.`,
  ];
}

/** What a habit needs to be done well; common practice, no source, but for the vapour: NIOSH0359 in data/SOURCES.md. */
const CAUTIONS: Partial<Record<Subject, string>> = {
  size: 'smaller baths only where they cover the loads',
  draining: 'drain out of the light, over a tray',
  rinsing: 'spin only parts wet with resin, never with solvent',
  soaking: 'stir with nothing electric that is not made for flammable vapour',
};

function cautions(subjects: readonly Subject[]): string[] {
  const told = [...new Set(subjects)].flatMap((subject) => CAUTIONS[subject] ?? []);
  return told.length === 0 ? [] : [`Mind: ${told.join('; ')}.`];
}

/** The data of `bathbook/compare/1`. */
export function compareDocument(comparison: Comparison): Record<string, unknown> {
  const { policies, best, weak, risk, draws, seed, stopped, prices, pace, loads } = comparison;
  return {
    policies: policies.map(({ habit, yearly }) => ({
      name: habit.name,
      subject: habit.subject,
      ...policyData(habit.practice, yearly),
    })),
    best: best && { name: best.name, ...policyData(best.practice, best.yearly), bounded: best.bounded },
    basis: {
      risk,
      draws,
      seed,
      stopped,
      loads_per_week: pace.perWeek,
      washes: loads,
      fresh_water_wt_pct: weak?.waterWtPct ?? null,
      price_per_l: prices.perLitre ?? null,
      disposal_per_l: prices.disposalPerLitre,
      price_per_change: prices.perChange,
    },
  };
}

function policyData(practice: Practice, yearly: Yearly): Record<string, unknown> {
  const limits = changeLimits(practice);
  return {
    change_at: Object.fromEntries(practice.route.map((name, place) => [name, limits[place]])),
    litres_per_year: yearly.litres,
    cost_per_year: yearly.cost,
    cost_per_year_band: yearly.costBand,
    cost_per_part: yearly.costPerPart,
    waste_l_per_year: yearly.wasteLitres,
    waste_kg_per_year: yearly.wasteKg,
    changes_per_year: yearly.changes,
    washes_between_changes: yearly.washesBetweenChanges,
    over_limit_share: yearly.overLimitShare,
    clean_resin_wt_pct_p95: yearly.lastBathWtPctP95,
    residue_ug_per_cm2_p95: yearly.residueUgPerCm2P95,
  };
}
