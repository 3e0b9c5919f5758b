/**
 * What happened in the period of a report: washes, readings, changes.
 */
import type { Compared } from '../belief/belief.ts';
import type { ReadingEvent, WeighedEvent } from '../ledger/event.ts';
import type { Report } from '../records/report.ts';
import type { Change } from '../records/report-changes.ts';
import { comparedLines } from './compared.ts';
import { bandedMass, count, mass, volume } from './format.ts';
import { readingWords, weighedWords } from './reading.ts';
import type { Fact, ReportView, Section } from './report-view.ts';
import { byWords, inside, listed, partsText } from './report-words.ts';

export function washesSection({ washes, resinInG }: Report): Section[] {
  if (washes.loads === 0) return [];
  const by = [...washes.by].map(([who, loads]) => `${who ?? 'no initials'} ${loads}`).join(', ');
  const uncounted =
    washes.uncountedLoads > 0 ? [`${count(washes.uncountedLoads, 'load names', 'loads name')} no parts`] : [];
  const estimated = washes.estimatedLoads > 0 ? `; ${washes.estimatedLoads} estimated, from memory` : '';
  const kinds = partsText(washes.partsByKind);
  const counted = washes.parts > 0 ? [`${washes.parts}${kinds ? `: ${kinds}` : ''}`] : [];
  const facts: Fact[] = [
    ['loads', `${washes.loads} (${by})${estimated}`],
    ['parts', [...counted, ...uncounted].join('; ')],
    ['resin in', `${bandedMass(resinInG)} came in on them`],
  ];
  return [{ title: 'Washes', blocks: [{ kind: 'facts', facts }] }];
}

export function readingsSection({ readings, status }: Report, view: ReportView): Section[] {
  if (readings.length === 0) return [];
  const items = readings.map((one) => readingText(one, status.shop.tubs[one.bath ?? 0]!.name, view));
  return [{ title: 'Readings', blocks: [{ kind: 'list', items: listed(items) }] }];
}

function readingText(one: Compared, bath: string, view: ReportView): string {
  const { entry, sees, flagged, isZero } = one;
  const what =
    sees === 'carry'
      ? `wash ${(entry.event as WeighedEvent).wash}, ${weighedWords(entry.event as WeighedEvent)}`
      : `${bath} bath, ${readingWords(entry.event as ReadingEvent)}`;
  const [, expected] = comparedLines(one)[0]!;
  const zero = isZero ? '; taken for the zero of the instrument' : '';
  const less = flagged && !isZero ? '; it counts for less' : '';
  return `${view.moment(entry.atMs)}${byWords(entry.event)}: ${what}: expected ${expected}${zero}${less}`;
}

export function changesSection({ changes }: Report, view: ReportView): Section[] {
  if (changes.length === 0) return [];
  const items = listed(changes.map((one) => changeText(one, view)));
  const sum = (of: (change: Change) => number) => changes.reduce((total, one) => total + of(one), 0);
  const [pouredMl, wasteMl] = [sum((one) => one.pouredMl), sum((one) => one.wasteMl)];
  const drained = wasteMl > 0 ? `, ${volume(wasteMl)} to waste` : '';
  const moved = changes.filter((one) => one.pouredMl + one.wasteMl > 0).length;
  const total = moved > 1 ? [`together ${volume(pouredMl)} poured${drained}`] : [];
  return [{ title: 'Changes', blocks: [{ kind: 'list', items: [...items, ...total] }] }];
}

function changeText({ atMs, event, ...moved }: Change, view: ReportView): string {
  const what = event.what === 'rotate' ? 'rotate' : `${event.what} ${event.bath}`;
  const parts = [
    ...(moved.pouredMl > 0 ? [`${volume(moved.pouredMl)} of ${moved.solvent} poured`] : []),
    ...(moved.fromCleanMl > 0 ? [`${volume(moved.fromCleanMl)} from the clean bath`] : []),
    ...(moved.wasteMl > 0
      ? [`${volume(moved.wasteMl)} (${mass(moved.wasteG)}) to waste${inside(event)}`]
      : []),
  ];
  return `${view.moment(atMs)}${byWords(event)}: ${what}: ${parts.join(', ') || 'nothing moved'}`;
}
