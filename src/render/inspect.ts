/** Looks beside the baths of their washes, and the level at which a shop's own loads begin to fail. */
import type { Cause } from '../records/causes.ts';
import type { FailureLevel } from '../records/failure-level.ts';
import type { Look, missingTrials, Trial, WashSeen } from '../records/inspections.ts';
import type { Line } from './echo.ts';
import { banded, count, trim, withoutBand } from './format.ts';
import { causeWords } from './inspect-causes.ts';
import { printable } from './printable.ts';
import { partsText } from './report-words.ts';
import type { Table } from './table.ts';

/** From the first width on everything has a column of its own; below the second the residue has no band, below the third only what matters most has a column. */
const WIDTHS = { all: 100, bands: 88, most: 76 } as const;

type Column = [head: string, cell: (look: Look) => string];

/** A row for each look; the bath is the last of its wash. */
export function looksTable(
  looks: readonly Look[],
  view: { when: (ms: number) => string; day: (ms: number) => string; width: number },
): Table {
  const { all, bands, most } = WIDTHS;
  const columns: Column[] = [
    ['time', ({ atMs }) => (view.width >= all ? view.when(atMs) : view.day(atMs))],
    ['result', ({ event }) => event.result],
    ['resin wt%', ({ wash }) => (wash ? resinText(wash) : '')],
    ...(view.width >= most ? ofWash(view.width >= bands) : []),
    ...(view.width >= all ? APART : TOGETHER),
  ];
  return {
    head: columns.map(([head]) => head),
    rows: looks.map((look) => columns.map(([, cell]) => printable(cell(look)))),
    right: view.width >= most ? [3, 4, 5] : [],
  };
}

function ofWash(withBand: boolean): Column[] {
  return [
    ['residue\nµg/cm²', ({ wash }) => (wash ? residueText(wash, withBand) : '')],
    ['soak\nmin', ({ wash }) => (wash ? trim(soakOf(wash), 1) : '')],
    ['drained\nmin', ({ wash }) => (wash ? trim(wash.drainedMin, 1) : '')],
  ];
}

const APART: Column[] = [
  ['wash', ({ event }) => event.wash ?? 'none'],
  ['parts', partsAndCases],
];

const TOGETHER: Column[] = [
  ['wash', (look) => [look.event.wash ?? 'none', partsAndCases(look)].filter(Boolean).join(': ')],
];

function partsAndCases({ event: { parts, cases } }: Look): string {
  return [...(parts ? [partsText(Object.entries(parts))] : []), ...(cases ?? [])].join(', ');
}

function resinText({ resinWtPct, lastBath, isUsualLast }: WashSeen): string {
  if (resinWtPct === null) return 'empty';
  return `${banded(resinWtPct)}${isUsualLast ? '' : ` ${lastBath}`}`;
}

function residueText({ residueUgPerCm2: residue }: WashSeen, withBand: boolean): string {
  if (!Number.isFinite(residue.p50)) return '';
  return (withBand ? banded : withoutBand)(residue, residue.p50 < 10 ? 1 : 0);
}

function soakOf({ soakMin }: WashSeen): number {
  return soakMin.reduce((sum, one) => sum + one, 0);
}

/** The bath as the parts left it. */
export function washLines(wash: WashSeen): Line[] {
  const resin = wash.resinWtPct === null ? 'empty' : `${banded(wash.resinWtPct)} wt% resin`;
  const water = wash.waterWtPct === null ? '' : `, ${banded(wash.waterWtPct)} wt% water in the solvent`;
  const residue = wash.residueUgPerCm2;
  return [
    ['bath then', printable(`${wash.lastBath}: ${resin}${water}, by estimate`)],
    ...(Number.isFinite(residue.p50)
      ? [['residue', `${banded(residue, 0)} µg/cm² left on the parts, by estimate`] as const]
      : []),
  ];
}

/** Ranked causes, each with what to do; empty when nothing went wrong. */
export function causeLines(causes: readonly Cause[], wash: WashSeen, minutesSinceWash: number): Line[] {
  if (causes.length === 0) return [];
  return [
    ...causes.flatMap((cause, place): Line[] => {
      const { likely, says, do: act, basis } = causeWords(cause, wash, minutesSinceWash);
      return [
        [place === 0 ? 'causes' : '', `${place + 1}. ${likely}: ${says} [${basis}]`],
        ['', `do: ${act}`],
      ];
    }),
    ['', UNLOGGED],
    ['decides', 'the resin’s instructions for use; this is no judgement of any part'],
  ];
}

const UNLOGGED =
  'ranked from what was logged; the print, the age of the resin and the light-curing are not in the log and may be the cause as well';

/** The level at which half fail, or what is missing for it. */
export function levelLines(
  level: FailureLevel | null,
  on: { trials: readonly Trial[]; missing: ReturnType<typeof missingTrials>; bath: string; change: number },
): Line[] {
  const { trials, missing } = on;
  const failed = trials.filter((one) => one.failed).length;
  const counted = `${count(trials.length, 'wash', 'washes')} with a look of resin, ${count(failed, 'failed', 'failed')}, ${trials.length - failed} ok`;
  if (!level) {
    return [
      ['own level', `not enough looks to tell: ${counted}; it takes ${missingText(missing!)}`],
      ['', 'log what is ok as well: bathbook inspect ok'],
    ];
  }
  return [
    [
      'own level',
      printable(
        `half of the loads fail at about ${levelText(level)} wt% resin in the ${on.bath} bath, 5 to 95 %, by the model’s own estimates (${counted}; sticky, cloudy, residue)`,
      ),
    ],
    [
      '',
      level.p50 < on.change
        ? `that is below the change limit of ${on.change}: consider a lower one under "limits:" in the head of the ledger`
        : 'no reason to raise a limit: well below it some loads fail already, and a look does not show what is in a part',
    ],
  ];
}

function missingText({ trials, failed, passed }: NonNullable<ReturnType<typeof missingTrials>>): string {
  const kinds = [...(failed > 0 ? [`${failed} failed`] : []), ...(passed > 0 ? [`${passed} ok`] : [])];
  const least = kinds.length > 0 ? `, at least ${kinds.join(' and ')}` : '';
  return `${Math.max(trials, failed + passed)} more${least}`;
}

function levelText({ p05, p50, p95 }: FailureLevel): string {
  const [low, middle, high] = [p05, p50, p95].map((value) =>
    value < 9.95 ? value.toFixed(1) : value.toFixed(0),
  );
  return `${middle} (${low}–${high})`;
}

/** One look in a document. */
export function lookDocument({ event, wash }: Look, time: (ms: number) => string): Record<string, unknown> {
  return { event, wash: wash && washDocument(wash, time) };
}

export function washDocument(wash: WashSeen, time: (ms: number) => string): Record<string, unknown> {
  const { p50 } = wash.residueUgPerCm2;
  return {
    id: wash.id,
    at: time(wash.atMs),
    last_bath: wash.lastBath,
    resin_wt_pct: wash.resinWtPct,
    water_wt_pct: wash.waterWtPct,
    residue_ug_per_cm2: Number.isFinite(p50) ? wash.residueUgPerCm2 : null,
    undissolved_share: wash.undissolvedShare,
    soak_min: soakOf(wash),
    drained_min: wash.drainedMin,
    agitation: wash.agitation,
    hollow: wash.hollow,
  };
}

export function causeDocument(
  cause: Cause,
  wash: WashSeen,
  minutesSinceWash: number,
): Record<string, unknown> {
  const { likely, says, do: act, basis } = causeWords(cause, wash, minutesSinceWash);
  return { cause: cause.kind, weight: cause.weight, likely, says, do: act, basis };
}

/** What the columns of the table mean. */
export function notesText(bath: string): string {
  return printable(
    `Resin is that of the ${bath} bath as the parts left it, with its band of 5 to 95 %; µg/cm² is the residue that the model leaves on the parts. Nothing here says that a part is clean.`,
  );
}
