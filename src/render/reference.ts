/** The manual as Markdown. */
import { capital } from './format.ts';
import type { Definitions } from './help.ts';
import { ABOUT, notesOf, rowsOf, STANDING } from './help.ts';
import { CAUTIONS, ENVIRONMENT, EXITS, FILES } from './manual.ts';

type Command = Definitions['commands'][number];
type Row = readonly [string, string];

export function reference(all: Definitions, version: string): string {
  const groups = all.groups.flatMap((group) => {
    const own = all.commands.filter((one) => one.group === group);
    return own.length > 0 ? [`## ${capital(group)}`, ...own.flatMap(commandOf)] : [];
  });
  return [
    `# bathbook ${version}`,
    plain(sentence(ABOUT)),
    ...groups,
    '## Options of every command',
    table(rowsOf([...all.globalOptions, ...STANDING])),
    '## Options of every entry',
    table(rowsOf(all.writeOptions)),
    '## Exit status',
    table(EXITS.map(([code, about]) => [String(code), about] as const)),
    '## Environment',
    table(ENVIRONMENT),
    '## Files',
    table(FILES),
    '## Cautions',
    plain(CAUTIONS),
  ]
    .join('\n\n')
    .concat('\n');
}

function commandOf({ name, args, summary, examples, options, writes, notes }: Command): string[] {
  const typed = examples.map(([line, about]) => `# ${about}\n${line}`).join('\n');
  return [
    `### \`${['bathbook', name, args].filter(Boolean).join(' ')}\``,
    plain(sentence(summary)),
    `\`\`\`sh\n${typed}\n\`\`\``,
    ...(options.length > 0 ? [table(rowsOf(options))] : []),
    ...(writes ? ['It also takes the [options of every entry](#options-of-every-entry).'] : []),
    ...(notes ? notesOf(notes).map((line) => (line.isCopied ? `    ${line.text}` : plain(line.text))) : []),
  ];
}

function table(rows: readonly Row[]): string {
  const lines = rows.map(([term, about]) => `| \`${term.replaceAll('|', '\\|')}\` | ${plain(about)} |`);
  return ['| | |', '|---|---|', ...lines].join('\n');
}

/** Text that Markdown takes for nothing else. */
function plain(text: string): string {
  return text.replaceAll(/[\\`*_<>[\]|$]/g, '\\$&');
}

function sentence(words: string): string {
  return `${capital(words)}.`;
}
