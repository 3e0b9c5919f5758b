import type { Report } from '../records/report.ts';
import { adviceText } from '../render/advice.ts';
import type { Markup } from '../render/html/markup.ts';
import { document } from '../render/json.ts';
import {
  type LedgerReport,
  manyReportDocument,
  manyReportMarkdown,
  manyReportText,
} from '../render/many-report.ts';
import { reportData } from '../render/report-json.ts';
import { pageMarkdown } from '../render/report-markdown.ts';
import { dueItems } from '../render/report-sections.ts';
import { reportText } from '../render/report-text.ts';
import type { ReportView } from '../render/report-view.ts';
import { readableWithDay, rfc3339 } from './clock.ts';
import { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { type Looked, ledgersTyped, lookAtEach } from './many.ts';
import { refuseLedger } from './out-is-ledger.ts';
import { goingOf, run as runOne } from './report.ts';
import { type Going, keepMark, lookReport, paintOf, type ReportLooked, viewOf } from './report-look.ts';
import { tellRefused } from './tell.ts';
import { VERSION } from './version.ts';
import { readWhen } from './when.ts';
import { writeWhole } from './write-whole.ts';

type Page = LedgerReport<string | Markup | null> & { looked: ReportLooked };

/** `report` of ledgers named as arguments: one alone as ever, several one after the other, the baths of all of them first. */
export async function run(args: readonly string[], options: Options, context: Context): Promise<number> {
  const ledgers = ledgersTyped(args, options);
  const [only, ...more] = ledgers;
  if (more.length === 0) return runOne([], options, new Context({ ...options, ledger: only }));
  const going = goingOf(options, context);
  // One name too many is typed easily: --out north.yaml south.yaml.
  refuseLedger(going.out, ledgers);
  const clockMs = await context.clockMs();
  for (const time of [options.from, options.to])
    if (typeof time === 'string') await readWhen(time, clockMs, 'starts');
  const places = ledgers.keys();
  const looked = await lookAtEach(ledgers, options, (own) =>
    look(options, { own, going, place: places.next().value! }),
  );
  const text = await textOf(looked, { context, going, clockMs });
  if (going.out === undefined) context.print(text);
  else {
    writeWhole(going.out, text);
    context.note(`Written to ${going.out}`);
  }
  for (const { found } of looked) if (found) keepMark(found.looked, context, going);
  return Math.max(...looked.map(({ found, failure }) => (found ? exitOf(found) : failure)));
}

interface Own {
  own: Context;
  going: Going;
  /** Among the ledgers. */
  place: number;
}

/** In the zone of its shop. */
async function look(options: Options, { own, going, place }: Own): Promise<Page> {
  const looked = await lookReport(options, own, going);
  const { opened, report } = looked;
  const { status } = report;
  const view = viewOf(looked, own, going);
  if (going.out !== undefined) await tellRefused(own, opened, report.odd.refused);
  return {
    looked,
    status,
    when: readableWithDay(status.clockMs),
    asOf: rfc3339(opened.clockMs),
    advice: adviceText(status.advice, status.estimates),
    due: dueItems(report, view),
    data: going.format === 'json' ? reportData(report, view) : {},
    page: await pageOf(report, view, { going, place }),
  };
}

async function pageOf(
  report: Report,
  view: ReportView,
  { going, place }: Omit<Own, 'own'>,
): Promise<Page['page']> {
  switch (going.format) {
    case 'json':
      return null;
    case 'markdown':
      return pageMarkdown(report, view, 2);
    case 'html': {
      const [{ reportPart }, { shopId }] = await htmlOf();
      return reportPart(report, view, { id: `${shopId(place)}-`, level: 3 });
    }
    default:
      return reportText(report, view);
  }
}

async function textOf(
  looked: readonly Looked<Page>[],
  on: { context: Context; going: Going; clockMs: number },
): Promise<string> {
  const { context, going, clockMs } = on;
  switch (going.format) {
    case 'json': {
      const data = manyReportDocument(looked);
      return `${document({ name: 'report', version: VERSION, asOf: rfc3339(clockMs), data })}\n`;
    }
    case 'markdown':
      return manyReportMarkdown(looked as readonly Looked<LedgerReport>[]);
    case 'html': {
      const [, { manyReportHtml }] = await htmlOf();
      return manyReportHtml(looked as readonly Looked<LedgerReport<Markup>>[], VERSION);
    }
    default: {
      const view = { paint: paintOf(context, going.out), width: context.width };
      return manyReportText(looked as readonly Looked<LedgerReport>[], view);
    }
  }
}

/** Brings the charts along. */
function htmlOf() {
  return Promise.all([import('../render/report-html.ts'), import('../render/many-report-html.ts')]);
}

function exitOf({ looked }: Page): number {
  return looked.report.odd.refused.length > 0 ? EXIT.data : EXIT.done;
}
