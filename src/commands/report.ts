import { extname } from 'node:path';
import type { ReportFormat } from '../render/report-view.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { type Going, keepMark, lookReport, viewOf } from './report-look.ts';
import { tellRefused } from './tell.ts';
import { writeWhole } from './write-whole.ts';

/** The renderer of each format; a new one is a file and a line here. */
const FORMATS: Record<string, () => Promise<ReportFormat>> = {
  text: async () => (await import('../render/report-text.ts')).reportText,
  markdown: async () => (await import('../render/report-markdown.ts')).reportMarkdown,
  html: async () => (await import('../render/report-html.ts')).reportHtml,
  json: async () => (await import('../render/report-json.ts')).reportJson,
};

const FORMAT_OF: Record<string, string> = {
  '.md': 'markdown',
  '.html': 'html',
  '.htm': 'html',
  '.json': 'json',
};

/** Programs would open a text of such a name as something else. */
const OTHER_FORMATS = new Set('.pdf .doc .docx .odt .rtf .xls .xlsx .ods .csv .xml .png .jpg'.split(' '));

function cannotWrite(out: string, ending: string): Error {
  return usage(
    `Cannot write "${out}", a report is no ${ending.slice(1)}`,
    'end the name in .html, .md, .txt or .json; a browser prints the .html as PDF',
  );
}

/** `report`: the nightly page, for a terminal, a mail, a file or a program. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  if (args.length > 0) return (await import('./many-report.ts')).run(args, options, context);
  const going = goingOf(options, context);
  const looked = await lookReport(options, context, going);
  const { opened, report } = looked;
  const write = await FORMATS[going.format]!();
  const text = await write(report, viewOf(looked, context, going));
  if (going.out === undefined) context.print(text);
  else {
    writeWhole(going.out, text);
    context.note(`Written to ${going.out}`);
    await tellRefused(context, opened, report.odd.refused);
  }
  keepMark(looked, context, going);
  return report.odd.refused.length > 0 ? EXIT.data : EXIT.done;
}

/** @throws Fault, usage, for two formats at once */
export function goingOf(options: Options, context: Context): Going {
  return {
    format: formatOf(options, context),
    out: typeof options.out === 'string' ? options.out : undefined,
  };
}

/** As asked for, else by the ending of the file, else text. @throws Fault, usage, for two at once */
function formatOf({ format, out }: Options, { json }: Context): string {
  if (!json && format === undefined) {
    const ending = extname(String(out ?? '')).toLowerCase();
    if (OTHER_FORMATS.has(ending)) throw cannotWrite(String(out), ending);
    return FORMAT_OF[ending] ?? 'text';
  }
  if (!json) return String(format);
  if (format === undefined || format === 'json') return 'json';
  throw usage(`Cannot write ${String(format)} and JSON at once`, 'leave out --json or --format');
}
