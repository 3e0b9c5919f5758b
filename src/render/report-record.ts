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
    ...late.map((one) => lateText(one, view)),
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

function lateText({ entry, loggedMs, counted }: Late, view: ReportView): string {
  const { event, atMs } = entry;
  const sums = counted ? '' : '; it belongs to an earlier time and is in no sum above';
  return `${view.moment(loggedMs)}${byWords(event)}: logged ${event.what} ${event.id} of ${view.moment(atMs)} afterwards${sums}`;
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
