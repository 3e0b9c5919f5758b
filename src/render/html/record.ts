/**
 * The records of washes as one page to print and file: no script, no network, nothing that a sheet of paper does not hold.
 */
import { refusalProblem } from '../../bath/refusal.ts';
import type { TakenBack } from '../../exchange/wash-history.ts';
import { banded, count } from '../format.ts';
import { partsText } from '../report-words.ts';
import { type Child, documentOf, element, type Markup, styleElement } from './markup.ts';
import { headOf, type Line, linesOf, rowOf, timeOf, wholeOnes } from './record-parts.ts';
import { RECORD_STYLE, RECORD_STYLE_SHA256 } from './record-style.ts';
import type { Recorded, RecordView } from './record-view.ts';
import { countOf, recordWash, resultsText } from './record-wash.ts';

const POLICY = `default-src 'none'; style-src 'sha256-${RECORD_STYLE_SHA256}'; base-uri 'none'; form-action 'none'`;

/** @param records - oldest first */
export function recordPage(records: readonly Recorded[], view: RecordView): string {
  const { name } = view.shop;
  const title = ['Wash record', ...view.asked, ...(name ? [name] : [])].join(', ');
  return documentOf(
    element(
      'html',
      { lang: 'en' },
      headElement(title, view),
      element(
        'body',
        {},
        element(
          'header',
          {},
          element('h1', {}, 'Wash record', name ? [' ', element('span', {}, name)] : null),
          about(records, view),
        ),
        element(
          'main',
          {},
          records.length > 1 ? summary(records, view) : null,
          records.length === 0 ? none(view) : null,
          records.map((one, nth) => recordWash(one, { nth: nth + 1, isAlone: records.length === 1 }, view)),
          notCounted(view),
        ),
        element('footer', {}, notes(records.length > 0, view)),
      ),
    ),
  );
}

function headElement(title: string, { versions }: RecordView): Markup {
  return element(
    'head',
    {},
    element('meta', { charset: 'utf-8' }),
    element('meta', { 'http-equiv': 'Content-Security-Policy', content: POLICY }),
    element('title', {}, title),
    element('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    element('meta', { name: 'color-scheme', content: 'light' }),
    element('meta', { name: 'referrer', content: 'no-referrer' }),
    element('meta', { name: 'generator', content: versions.program }),
    styleElement(RECORD_STYLE),
  );
}

function about(records: readonly Recorded[], view: RecordView): Markup {
  const { asked, shop, clockMs, versions, ledger } = view;
  const lines: Line[] = [
    ['asked for', asked.length > 0 ? asked.join(', ') : 'all washes'],
    ['found', records.length === 0 ? 'no wash' : countOf(records)],
    ['as of', timeOf(clockMs, view)],
    ['times in', shop.zone ?? 'the zone of the computer that made this'],
    ['made by', `${versions.program}, ${versions.model}`],
  ];
  return element('div', {}, linesOf('facts', lines), linesOf('long', ledgerLines(ledger)));
}

function ledgerLines({ path, sha256 }: RecordView['ledger']): Line[] {
  return [
    ['ledger', path],
    ['its SHA-256', sha256 ?? 'not told: it changed while it was read'],
  ];
}

function none({ asked }: RecordView): Markup {
  return element('section', {}, element('h2', {}, 'No wash'), element('p', {}, noneText(asked)));
}

function noneText(asked: readonly string[]): string {
  return asked.length > 0
    ? `The ledger has no wash that counts with ${asked.join(', ')}.`
    : 'The ledger has no wash that counts.';
}

function summary(records: readonly Recorded[], view: RecordView): Markup {
  const rows = records.map(({ record }) => {
    const { event, entry, residueUgPerCm2 } = record;
    return rowOf(timeOf(entry.atMs, view), [
      event.id,
      event.by ?? '',
      wholeOnes(Object.entries(event.parts ?? {}).map((one) => partsText([one]))),
      wholeOnes(event.cases ?? []),
      wholeOnes([record.how.resin, ...(event.lot ? [event.lot] : [])]),
      Number.isFinite(residueUgPerCm2.p50) ? apart(banded(residueUgPerCm2, 0)) : '-',
      resultsText(record),
    ]);
  });
  return element(
    'section',
    { class: 'list' },
    element('h2', {}, 'All of them'),
    element(
      'table',
      {},
      element('caption', {}, 'Oldest first; residue as the model estimates it, in brackets 5 to 95\u00a0%'),
      headOf(['washed', 'id', 'by', 'parts', 'cases', 'resin, lot', 'residue, µg/cm²', 'inspected']),
      element('tbody', {}, rows),
    ),
  );
}

/** A line may end before the brackets, not within. */
function apart(text: string): Child {
  return text.split(' ').map((one) => [element('span', { class: 'whole' }, one), ' ']);
}

/** Washes that were logged and are in no figure. */
function notCounted(view: RecordView): Child {
  const { takenBack, refused, shop } = view;
  if (takenBack.length + refused.length === 0) return null;
  const items = [
    ...takenBack.map((one) => takenBackText(one, view)),
    ...refused.map((one): Child => `${refusalProblem(one, shop).message}.`),
  ];
  return element(
    'section',
    {},
    element('h2', {}, 'Logged, and not counted'),
    element(
      'ul',
      {},
      items.map((item) => element('li', {}, item)),
    ),
  );
}

function takenBackText({ wash: { event, atMs }, by }: TakenBack, view: RecordView): Child {
  const person = (name: string | undefined) => (name === undefined ? '' : ` by ${name}`);
  return [
    `Wash ${event.id} of `,
    timeOf(atMs, view),
    person(event.by),
    event.parts ? ` (${partsText(Object.entries(event.parts))})` : '',
    ', taken back ',
    timeOf(by.atMs, view),
    person(by.event.by),
    `: ${by.event.why} (${by.event.id})`,
  ];
}

/** How to read the figures, where there are any. */
function notes(hasFigures: boolean, { refusedInAll }: RecordView): Child {
  if (!hasFigures) return null;
  const items: Child[] = [
    'What is marked (default) was not logged with the wash: it is the usual practice of the shop, or of the program where the shop names none.',
    'Estimates are those of the time of each wash, from what was logged and read up to then; a figure in brackets is where the true one lies nine times in ten. Every wash went through the corrections, and stands beside the limits, that the ledger has as of this record.',
    ...(refusedInAll > 0
      ? [
          `The estimates leave out ${count(refusedInAll, 'event')} of the ledger that cannot have happened as written.`,
        ]
      : []),
  ];
  return element(
    'ul',
    {},
    items.map((item) => element('li', {}, item)),
  );
}
