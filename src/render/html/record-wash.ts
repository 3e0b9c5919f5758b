/** One wash as a form of its own, that stays on one sheet. */

import type { Inspected } from '../../exchange/inspected.ts';
import type { Amended } from '../../exchange/wash-history.ts';
import type { WashRecord } from '../../exchange/wash-records.ts';
import type { WeighedEvent } from '../../ledger/event.ts';
import { banded, count, minutes, trim } from '../format.ts';
import { partsText } from '../report-words.ts';
import { type Child, element, type Markup } from './markup.ts';
import { recordBaths } from './record-baths.ts';
import { type Line, linesOf, orDefault, timeOf, wholeOnes } from './record-parts.ts';
import type { Recorded, RecordView } from './record-view.ts';

const CAUTION =
  'Estimates by a model; no statement that a part is clean or safe: the instructions for use and the validated process decide.';

/** Signs of the digest that tell one state of the ledger from any other. */
const SHOWN = 16;

/** @param on - its number on the page; where it is not alone, its sheet says what it is a sheet of */
export function recordWash(
  { record, amended }: Recorded,
  { nth, isAlone }: { nth: number; isAlone: boolean },
  view: RecordView,
): Markup {
  const id = `wash-${nth}`;
  const { event, entry } = record;
  return element(
    'section',
    { 'aria-labelledby': id },
    element('h2', { id }, `Wash ${event.id}`, ' ', timeOf(entry.atMs, view)),
    linesOf('facts', facts(record, view)),
    recordBaths(record, view.shop),
    linesOf('long', became(record, amended, view)),
    element('p', { class: 'caution' }, CAUTION),
    isAlone ? null : element('p', { class: 'origin' }, originOf(view)),
    element(
      'p',
      { class: 'sign' },
      ['reviewed by (name)', 'date', 'signature'].map((label) => element('span', {}, label)),
    ),
  );
}

function originOf({ shop, clockMs, when, versions, ledger }: RecordView): string {
  const { sha256 } = ledger;
  const digest = sha256 === null ? '' : `, SHA-256 ${sha256.slice(0, SHOWN)}…`;
  const name = shop.name ? `${shop.name}, ` : '';
  return `${name}as of ${when(clockMs)}, ${versions.program}, ${versions.model}, ledger ${ledger.path}${digest}`;
}

function facts(record: WashRecord, view: RecordView): Line[] {
  const { event, how, fromDefaults, carryG, residueUgPerCm2 } = record;
  const given = (text: string, key: string) => orDefault(text, fromDefaults.includes(key));
  const logged = event.logged === undefined ? 'when it happened' : timeOf(Date.parse(event.logged), view);
  return [
    ['washed by', event.by ?? 'not logged'],
    ['logged', logged],
    ['cases', event.cases?.length ? wholeOnes(event.cases) : 'none logged'],
    ['parts', partsOf(record)],
    ['resin', given(how.resin, 'resin')],
    ['lot', event.lot ?? 'not logged'],
    ['drained', given(minutes(how.drainedMin), 'drained_min')],
    ['agitation', given(how.agitation === 'hand' ? 'turned by hand' : how.agitation, 'agitation')],
    ['rinse before', given(how.prerinse, 'prerinse')],
    ['rinse between', given(how.midrinse, 'midrinse')],
    ['resin carried in', `${banded(carryG, 1)} g, ${isMeasured(record) ? 'as measured' : 'estimated'}`],
    ['residue, dry', residueText(residueUgPerCm2.p50, banded(residueUgPerCm2, 0))],
    ...extras(record),
  ];
}

function partsOf({ event, load }: WashRecord): string {
  const known = [
    ...(Number.isFinite(load.volumeMl) ? [`${trim(load.volumeMl, 0)} mL`] : []),
    ...(load.areaCm2 > 0 ? [`${trim(load.areaCm2, 0)} cm²`] : []),
  ].join(', ');
  if (!event.parts) return known;
  return `${partsText(Object.entries(event.parts))} (${known})`;
}

function isMeasured({ event }: WashRecord): boolean {
  return event.carry_g !== undefined || event.carry_ml !== undefined;
}

function residueText(best: number, text: string): string {
  return Number.isFinite(best) ? `${text} µg/cm², estimated` : 'not known, no surface logged';
}

/** What few washes have. */
function extras({ event }: WashRecord): Line[] {
  return [
    ...(event.estimated
      ? ([['from memory', 'estimated: the load and its time were logged from memory']] satisfies Line[])
      : []),
    ...(event.hollow ? ([['hollow', 'all parts hold liquid like a cup']] satisfies Line[]) : []),
    ...(event.trapped_g === undefined
      ? []
      : ([['trapped resin', `${trim(event.trapped_g, 2)} g`]] satisfies Line[])),
    ...(event.drag_ml === undefined
      ? []
      : ([
          ['dragged out', `${event.drag_ml.map((ml) => trim(ml, 1)).join(', ')} mL, as measured`],
        ] satisfies Line[])),
  ];
}

/** What there is to say of it afterwards. */
function became(
  { event, inspected, weighed }: WashRecord,
  amended: readonly Amended[],
  view: RecordView,
): Line[] {
  const list = (found: Child[], none: string) => (found.length > 0 ? found : [none]);
  return [
    ...(event.note === undefined ? [] : ([['note', event.note]] satisfies Line[])),
    [
      'inspection',
      ...list(
        inspected.map((one) => inspectionOf(one, view)),
        'none logged',
      ),
    ],
    ...(weighed.length > 0 ? ([['weighed', ...weighed.map(weighedText)]] satisfies Line[]) : []),
    [
      'corrections',
      ...list(
        amended.map((one) => amendedOf(one, view)),
        'none',
      ),
    ],
  ];
}

function inspectionOf({ event, atMs, amendedBy = [] }: Inspected, view: RecordView): Child {
  return [
    element('b', {}, event.result),
    event.parts ? ` (${partsText(Object.entries(event.parts))})` : '',
    ', ',
    timeOf(atMs, view),
    event.by === undefined ? '' : ` by ${event.by}`,
    event.cases?.length ? `, ${event.cases.length === 1 ? 'case' : 'cases'} ${event.cases.join(', ')}` : '',
    amendedBy.length > 0 ? `, corrected (${amendedBy.join(', ')})` : '',
    event.note === undefined ? '' : `: ${event.note}`,
  ];
}

function weighedText({ wet_g: wetG, clean_g: cleanG, by }: WeighedEvent): string {
  return `${trim(wetG, 2)} g before the first bath, ${trim(cleanG, 2)} g washed and dry${by === undefined ? '' : `, by ${by}`}`;
}

function amendedOf({ amend, atMs, changes }: Amended, view: RecordView): Child {
  return [
    changes.map(({ key, from, to }) => `${key} ${valueText(from)} → ${valueText(to)}`).join('; '),
    ', ',
    timeOf(atMs, view),
    amend.by === undefined ? '' : ` by ${amend.by}`,
    `: ${amend.why} (${amend.id})`,
  ];
}

function valueText(value: unknown): string {
  if (value === undefined) return 'not logged';
  if (Array.isArray(value)) return value.map(valueText).join(', ');
  if (typeof value === 'object' && value !== null)
    return Object.entries(value)
      .map(([name, one]) => `${one} ${name}`)
      .join(' + ');
  return String(value);
}

/** In the list of several: what came of it, in a word or two. */
export function resultsText({ inspected }: WashRecord): string {
  return [...new Set(inspected.map(({ event }) => event.result))].join(', ');
}

export function countOf(records: readonly Recorded[]): string {
  const parts = records.reduce((sum, { record }) => sum + record.load.parts, 0);
  return [count(records.length, 'wash', 'washes'), ...(parts > 0 ? [count(parts, 'part')] : [])].join(', ');
}
