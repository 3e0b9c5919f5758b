/**
 * The last sections of the report: inspections, corrections, and what does not add up.
 */
import { refusalProblem } from '../bath/refusal.ts';
import type { AmendEvent, LedgerEvent } from '../ledger/event.ts';
import type { WashSeen } from '../records/inspections.ts';
import type { Report } from '../records/report.ts';
import type { Corrected, Late } from '../records/report-corrections.ts';
import { banded, count } from './format.ts';
import type { ReportView, Section } from './report-view.ts';
import { byWords, listed, noteWords, partsText } from './report-words.ts';
import { casesWords } from './wash.ts';

export function inspectionsSection({ inspections }: Report, view: ReportView): Section[] {
  return listSection(
    'Inspections',
    inspections.map(({ event, atMs, wash }) => {
      const about = [
        ...(event.parts ? [partsText(Object.entries(event.parts))] : []),
        ...(event.wash ? [`wash ${event.wash}`] : []),
        ...(event.cases?.length ? [casesWords(event)] : []),
      ].join(', ');
      return `${view.moment(atMs)}${byWords(event)}: ${event.result}${about ? `, ${about}` : ''}${wash ? seenText(wash) : ''}${noteWords(event)}`;
    }),
  );
}

/** The bath that the parts came out of last, and what the model leaves on them. */
function seenText({ lastBath, resinWtPct, residueUgPerCm2 }: WashSeen): string {
  const residue = Number.isFinite(residueUgPerCm2.p50)
    ? [`residue ${banded(residueUgPerCm2, 0)} µg/cm²`]
    : [];
  const resin = resinWtPct ? [`${lastBath} bath ${banded(resinWtPct)} wt% resin`] : [];
  const both = [...resin, ...residue].join(', ');
  return both ? `; by estimate ${both}` : '';
}

export function correctionsSection({ corrections, late }: Report, view: ReportView): Section[] {
  return listSection('Corrections', [
    ...corrections.map((one) => correctionText(one, view)),
    ...together(late, view).map((group) => lateText(group, view)),
  ]);
}

function correctionText({ correction, target, counts }: Corrected, view: ReportView): string {
  const { event, atMs } = correction;
  const what = `${target.event.what} ${target.event.id} of ${view.moment(target.atMs)}`;
  const done =
    event.what === 'void' ? `took back ${what}` : `corrected ${what}: ${setText(event, target.event)}`;
  const undone = counts ? '' : '; undone since';
  return `${view.moment(atMs)}${byWords(event)}: ${done}; why: "${event.why}"${undone}`;
}

/** Each value as it was typed and as it now is. */
function setText({ set }: AmendEvent, target: LedgerEvent): string {
  const typed = target as unknown as Record<string, unknown>;
  return Object.entries(set)
    .map(([key, value]) =>
      typed[key] === undefined
        ? `${key} ${JSON.stringify(value)}`
        : `${key} ${JSON.stringify(typed[key])} → ${JSON.stringify(value)}`,
    )
    .join(', ');
}

/** Of one kind, typed by one person on one day, and in the sums or not: told together. */
function together(late: readonly Late[], view: ReportView): Late[][] {
  const groups = new Map<string, Late[]>();
  for (const one of late) {
    const { event } = one.entry;
    const key = JSON.stringify([event.what, event.by, one.counted, view.day(one.loggedMs)]);
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  return [...groups.values()];
}

/** More ids than this say nothing to a reader. */
const MOST_IDS = 40;

function lateText(group: readonly Late[], view: ReportView): string {
  const { entry, counted } = group[0]!;
  const { event } = entry;
  const isOne = group.length === 1;
  const sums = counted
    ? ''
    : `; ${isOne ? 'it belongs to an earlier time and is' : 'they belong to an earlier time and are'} in no sum above`;
  const logged = `${momentsText(
    group.map(({ loggedMs }) => loggedMs),
    view,
  )}${byWords(event)}: logged`;
  const of = `of ${momentsText(
    group.map(({ entry: { atMs } }) => atMs),
    view,
  )} afterwards`;
  if (isOne) return `${logged} ${event.what} ${event.id} ${of}${sums}`;
  const ids = group.slice(0, MOST_IDS).map((one) => one.entry.event.id);
  const more = group.length - ids.length;
  return `${logged} ${group.length} ${event.what} entries ${of}${sums}: ${ids.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** One moment, or the first and the last. */
function momentsText(all: readonly number[], view: ReportView): string {
  const [first, last] = [
    all.reduce((one, other) => Math.min(one, other)),
    all.reduce((one, other) => Math.max(one, other)),
  ].map((ms) => view.moment(ms));
  return first === last ? first! : `${first} to ${last}`;
}

export function oddSection({ odd, status }: Report): Section[] {
  const { warnings, moreWarnings, refused, later } = odd;
  const more = moreWarnings > 0 ? [`and ${count(moreWarnings, 'more note')} on the file`] : [];
  const after = later > 0 ? [`${count(later, 'event lies', 'events lie')} after this time`] : [];
  return listSection('In the ledger', [
    ...warnings.map(({ message }) => message),
    ...more,
    ...refused.map((one) => {
      const { message, help, line } = refusalProblem(one, status.shop);
      return `line ${line}, left out of the estimates: ${message}${help ? `. ${help}` : ''}`;
    }),
    ...after,
  ]);
}

function listSection(title: string, items: readonly string[]): Section[] {
  return items.length > 0 ? [{ title, blocks: [{ kind: 'list', items: listed(items) }] }] : [];
}
