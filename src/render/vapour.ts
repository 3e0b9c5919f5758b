/** Vapour of the tubs, for people: cautions first, then rates, concentrations and limits. */
import type { Reach } from '../vapour/reach.ts';
import type { Vapour } from '../vapour/vapour.ts';
import type { Line } from './echo.ts';
import { printable } from './printable.ts';
import type { Table } from './table.ts';
import { bandTwo, given, span, two } from './vapour-words.ts';

/** What of the question was not given, and how sure the factors are. */
export interface VapourBasis {
  assumed: readonly string[];
  /** In words: default, or learned from readings. */
  factors: string;
  /** Baths without solvent. */
  leftOut: readonly string[];
}

/** What each tub gives off, and into what room. */
export function vapourLines(vapour: Vapour, basis: VapourBasis): Line[] {
  const { tubs, together, models } = vapour;
  const several = tubs.length > 1;
  const highest = models.at(-1)!;
  const lowest = models.reduce((one, other) => (other.low < one.low ? other : one));
  return [
    ...tubs.map((one): Line => ['tub', tubText(one)]),
    ...basis.leftOut.map((name): Line => ['tub', `${printable(name)}: holds no solvent, left out`]),
    [
      'gives off',
      `${bandTwo(together.best)} g/h${several ? ' together' : ''} with ${several ? 'the lids' : 'the lid'} off; ${basis.factors}`,
    ],
    [
      'models',
      `${span(lowest.low, highest.high)} g/h, listed below: which of the published ones fits is most of the doubt`,
    ],
    [
      'caution',
      `${two(together.caution)} g/h for cautions: the penetration model (EPAOPPT) at 0.25 m/s, pure IPA to the rim, or four times the best estimate, whichever is more`,
    ],
    ['room', roomText(vapour)],
    ...(basis.assumed.length > 0 ? [['', `assumed: ${basis.assumed.join(', ')}`] as const] : []),
  ];
}

function tubText({ tub, best, headspace }: Vapour['tubs'][number]): string {
  const { name, surfaceM2, freeboardM } = tub;
  const inside = `flammable from about ${Math.round(headspace.fromC)} to ${Math.round(headspace.toC)} °C`;
  return `${printable(name)}: ${given(surfaceM2 * 1e4)} cm², ${given(freeboardM * 100)} cm below the rim; ${bandTwo(best)} g/h open; closed ${two(headspace.percent)} % v/v, ${inside}`;
}

function roomText({ question }: Vapour): string {
  const { room, tempC, mixing } = question;
  const changes = room.airM3PerH / room.volumeM3;
  return `${given(room.volumeM3)} m³ at ${given(tempC)} °C, ${given(room.airM3PerH)} m³/h of fresh air (${two(changes)} air changes an hour), mixing ${mixing === 0.1 ? '0.1' : `${given2(mixing)} to 0.1`}`;
}

function given2(value: number): string {
  return String(Number(value.toFixed(2)));
}

/** The models one by one. */
export function modelsTable({ models }: Vapour): Table {
  return {
    head: ['g/h', 'source', 'published model'],
    rows: models.map(({ model, low, high }) => [
      span(low, high),
      model.source,
      `${model.words}${model.fromMemory ? ' (partly from memory, unverified)' : ''}`,
    ]),
  };
}

/** Concentrations; ppm. */
export function airTable({ short, steady, near, question }: Vapour): Table {
  const { openMin, nearM } = question;
  const lids = `lids off ${given(openMin)} min`;
  const row = (label: string, one: Vapour['steady']) => [
    label,
    span(one.low, one.high),
    span(one.cautionLow, one.cautionHigh),
  ];
  return {
    head: ['mean of the room', 'estimate, ppm', 'for cautions, ppm'],
    right: [1, 2],
    rows: [
      row(lids, short),
      row('lids off for hours', steady),
      ...(near ? [row(`${given(openMin)} min, ${given2(nearM!)} m away`, near)] : []),
    ],
  };
}

const KIND_WORDS = { shift: 'a shift', short: '15 min', danger: 'danger' } as const;

const REACH_WORDS: Record<Reach, string> = {
  'low-end': 'all of it reaches',
  'high-end': 'high end reaches',
  'caution-value': 'caution reaches',
  none: 'cannot tell',
};

/** Limits, the lowest first, and how far the estimate comes towards each; those of one height in one row where `joined`. */
export function limitsTable({ limits }: Vapour, { joined }: { joined: boolean }): Table {
  const kinds = Object.keys(KIND_WORDS);
  const sorted = [...limits].sort(
    ({ limit: one }, { limit: other }) =>
      kinds.indexOf(one.kind) - kinds.indexOf(other.kind) || one.ppm - other.ppm,
  );
  const rows = sorted.map(({ limit, reach }) => [
    limit.ppm.toFixed(0),
    KIND_WORDS[limit.kind],
    REACH_WORDS[reach],
    `${limit.jurisdiction} ${joined && limit.kind !== 'danger' ? '' : `${limit.item} `}(${limit.source}${limit.status === 'read' ? '' : `, ${limit.status}`})`,
  ]);
  return {
    head: ['ppm', 'over', 'estimate', 'limit and its source'],
    right: [0],
    rows: joined ? joinAlike(rows) : rows,
  };
}

/** Rows that differ in the last cell alone become one. */
function joinAlike(rows: readonly string[][]): string[][] {
  const byHead = new Map<string, string[]>();
  for (const row of rows) {
    const head = row.slice(0, -1).join('\t');
    byHead.set(head, [...(byHead.get(head) ?? []), row.at(-1)!]);
  }
  return [...byHead].map(([head, last]) => [...head.split('\t'), last.join('; ')]);
}

/** What the words of the tables mean, and what the estimate comes to against the caution trigger. */
export function vapourNotes({ trigger, question, limits }: Vapour): string[] {
  const { mixing, nearM } = question;
  const near = nearM === null ? [] : [`The row ${given2(nearM)} m away is from memory, unverified.`];
  return [
    `Estimate: the best one at mixing ${given2(mixing)}, up to four times it at 0.1. A shift limit is held against lids off for hours, a short one against one opening. "Cannot tell": the estimate does not come up to it, which shows nothing about the air.`,
    ...near,
    ...(question.jurisdiction === 'eu' ? [NO_EU_LIMIT] : []),
    `${lineText(question.jurisdiction, limits, trigger.ppm)}. ${TRIGGER_WORDS[trigger.reach]}. 1 ppm is 2.46 mg/m³ (NIOSH0359). These are means of the room: leaning over a tub is worse.`,
  ];
}

/** The row of data/limits.csv for the indicative limit says so. */
const NO_EU_LIMIT =
  'No indicative limit of the EU was located (from memory, unverified); the DNEL is what registrants of the substance give. The member state’s own limit decides.';

/** Where the caution trigger comes from; a jurisdiction with a higher limit does not move it. */
function lineText(jurisdiction: string | null, limits: Vapour['limits'], ppm: number): string {
  if (jurisdiction === null) return `No jurisdiction was named, so the lowest limit counts: ${ppm} ppm`;
  const shift = limits.find(({ limit }) => limit.key === jurisdiction && limit.kind === 'shift')?.limit;
  return shift && shift.ppm > ppm
    ? `${shift.jurisdiction} allows ${shift.ppm.toFixed(0)} ppm over a shift; others draw the line at ${ppm} ppm`
    : `The lowest limit over a shift is ${ppm} ppm`;
}

const TRIGGER_WORDS: Record<Reach, string> = {
  'low-end':
    'All of the estimate is at or past it with the lids off for hours: close the lids, more fresh air, and have it measured',
  'high-end':
    'The estimate reaches it with the lids off for hours: keep openings short, and have it measured',
  'caution-value':
    'The caution value reaches it with the lids off for hours: keep openings short, and have it measured',
  none: 'The estimate does not come up to it, and no estimate can clear a room: have it measured',
};
