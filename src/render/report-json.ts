/**
 * The report for programs: `bathbook/report/1`, in base units.
 */
import { refusalProblem } from '../bath/refusal.ts';
import type { WeighedEvent } from '../ledger/event.ts';
import type { Report } from '../records/report.ts';
import type { WasteReported } from '../records/report-waste.ts';
import { adviceText } from './advice.ts';
import { bathDocument } from './documents.ts';
import { comparedDocument } from './documents-reading.ts';
import { dueItems } from './due.ts';
import { washDocument } from './inspect.ts';
import { document } from './json.ts';
import type { ReportFormat, ReportView } from './report-view.ts';

const MS_PER_DAY = 86_400_000;

export const reportJson: ReportFormat = (report, view) =>
  `${document({ name: 'report', version: view.version, asOf: view.time(view.clockMs), data: reportData(report, view) })}\n`;

/** The data of `bathbook/report/1` for one ledger. */
export function reportData(report: Report, view: ReportView): Record<string, unknown> {
  const { status, period } = report;
  return {
    ledger: view.ledger,
    shop: status.shop.name,
    period: { from: view.time(period.fromMs), to: view.time(period.toMs), why: view.why },
    judged: report.judged,
    baths: status.estimates.map(bathDocument),
    advice: { action: status.advice.action, text: adviceText(status.advice, status.estimates) },
    outlook: outlookOf(report, view),
    due: dueItems(report.matters, { status, day: view.day }, view.time),
    ...happened(report, view),
    solvent_used: report.used.map(({ solvent, ml, pricePerL, money, paidBefore }) => ({
      solvent,
      ml,
      price_per_l: pricePerL,
      money,
      paid_before: paidBefore,
    })),
    currency: status.shop.currency,
    stock: report.stock.map(({ solvent, onHandMl, belowZero, pricePerL }) => ({
      solvent,
      on_hand_ml: onHandMl,
      below_zero: belowZero,
      price_per_l: pricePerL,
    })),
    receipts: report.receipts.map(({ event }) => event),
    waste: report.waste && wasteOf(report.waste, view),
    inspections: report.inspections.map(({ event, wash }) => ({
      ...event,
      wash_seen: wash && washDocument(wash, view.time),
    })),
    ...putRight(report, view),
    odd: oddOf(report),
  };
}

function outlookOf({ outlook, supply, status }: Report, view: ReportView): Record<string, unknown> | null {
  if (!outlook) return null;
  const date = (days: number | undefined) => view.time(status.clockMs + (days ?? 0) * MS_PER_DAY);
  const { days } = outlook;
  return {
    first_limit: outlook.limit,
    past: outlook.past,
    days_left: days,
    date: days && { p05: date(days.p05), p50: date(days.p50), p95: date(days.p95) },
    solvent_ml: outlook.change?.solventMl ?? null,
    order: supply && {
      solvent: supply.solvent,
      on_hand_ml: supply.onHandMl,
      needed_ml: supply.neededMl,
      enough: supply.enough,
      order_by: supply.orderByDays === null ? null : date(supply.orderByDays),
    },
  };
}

function happened({ washes, resinInG, readings, changes, status }: Report, view: ReportView) {
  return {
    washes: {
      loads: washes.loads,
      estimated_loads: washes.estimatedLoads,
      parts: washes.parts,
      parts_by_kind: Object.fromEntries(washes.partsByKind),
      loads_without_parts: washes.uncountedLoads,
      by: [...washes.by].map(([by, loads]) => ({ by, loads })),
      resin_in_g: resinInG,
    },
    readings: readings.map((one) => ({
      ...comparedDocument(one, status.shop),
      at: one.entry.event.at,
      bath: one.bath === undefined ? null : status.shop.tubs[one.bath]!.name,
      wash: one.bath === undefined ? (one.entry.event as WeighedEvent).wash : null,
    })),
    changes: changes.map(({ atMs, event, ...moved }) => ({
      id: event.id,
      at: view.time(atMs),
      what: event.what,
      bath: event.what === 'rotate' ? null : event.bath,
      by: event.by ?? null,
      poured_ml: moved.pouredMl,
      solvent: moved.solvent,
      from_clean_ml: moved.fromCleanMl,
      waste_ml: moved.wasteMl,
      waste_g: moved.wasteG,
      into: ('into' in event ? event.into : undefined) ?? null,
    })),
  };
}

function wasteOf({ month, siteKg, containers, thresholds }: WasteReported, view: ReportView) {
  return {
    month: view.time(month.monthStartMs),
    litres: month.litres,
    kg: month.kg,
    tray_kg: month.trayKg,
    site_kg: siteKg,
    containers: containers.map((one) => ({
      container: one.container,
      opened: view.time(one.openedMs),
      capacity_ml: one.capacityMl,
      held_ml: one.heldMl,
      held_g: one.grams,
      taken_ml: one.takenMl,
      age_days: one.ageDays,
      closed: one.closed,
    })),
    thresholds: thresholds.map(({ rule, amount, past }) => ({
      jurisdiction: rule.jurisdiction,
      item: rule.item,
      kind: rule.kind,
      value: rule.value,
      amount,
      past,
      citation: rule.citation,
      source: rule.source,
    })),
    note: 'All other hazardous waste of the site counts as well; local rules decide, ask your local authority',
  };
}

function putRight({ corrections, late }: Report, view: ReportView) {
  return {
    corrections: corrections.map(({ correction, target, counts }) => ({
      event: correction.event,
      of: target.event,
      counts,
    })),
    late: late.map(({ entry, loggedMs, counted }) => ({
      event: entry.event,
      logged: view.time(loggedMs),
      counted,
    })),
  };
}

function oddOf({ odd, status, readings }: Report) {
  return {
    warnings: odd.warnings,
    more_warnings: odd.moreWarnings,
    refused: odd.refused.map((one) => refusalProblem(one, status.shop)),
    later: odd.later,
    flagged: readings.filter(({ flagged }) => flagged).map(({ entry }) => entry.event.id),
  };
}
