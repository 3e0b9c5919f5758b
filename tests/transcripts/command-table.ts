/** The table of commands for the README, from the definitions. It stands between `<!-- commands -->` and `<!-- /commands -->`. */
import { COMMANDS, GROUPS } from '../../src/commands/definition.ts';

const BETWEEN = /(<!-- commands -->\n)[\s\S]*?(<!-- \/commands -->)/;

export function commandTable(): string {
  const rows = GROUPS.flatMap((group) =>
    COMMANDS.filter((command) => command.group === group).map(
      ({ name, summary, examples }, place) =>
        `| ${place === 0 ? group : ''} | \`${name}\` | ${summary} | \`${examples[0]![0]}\` |`,
    ),
  );
  return ['', '| | command | does | for example |', '|---|---|---|---|', ...rows, '', ''].join('\n');
}

/** The page with the table as it should be; undefined when it has no place for one. */
export function withCommandTable(page: string): string | undefined {
  return BETWEEN.test(page)
    ? page.replace(BETWEEN, (_, open, close) => open + commandTable() + close)
    : undefined;
}
