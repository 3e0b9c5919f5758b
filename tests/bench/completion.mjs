// What a press of the tab key costs: user and system time of an answer to a shell, against an empty start of Node, interleaved.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeLedger } from './make-ledger.mjs';
import { spent } from './spent.mjs';

const program = resolve(process.argv[2] ?? fileURLToPath(new URL('../../bin/bathbook.js', import.meta.url)));
const runs = Number(process.argv[3] ?? 40);
const folder = mkdtempSync(join(tmpdir(), 'bathbook-bench-'));
const empty = join(folder, 'empty.js');
writeFileSync(empty, '');
const ledger = join(folder, 'bathbook.yaml');
writeFileSync(ledger, makeLedger(10_000, 0).text);
const BREAKS = ' \t\n"\'@><=;|&(:';

const cases = {
  'empty start': [empty],
  '--version': [program, '--version'],
  'a command': [program, '__complete', 'bash', 'bathbook wa', BREAKS],
  'a part': [program, '__complete', 'bash', 'bathbook wash 6 mo', BREAKS],
  'an id, with what it is': [program, '__complete', 'zsh', '', 'undo'],
};

const ticks = Object.fromEntries(Object.keys(cases).map((name) => [name, 0]));
for (let run = -1; run < runs; run += 1) {
  for (const [name, args] of Object.entries(cases)) {
    const before = spent();
    const { status } = spawnSync(process.execPath, args, { env: { BATHBOOK_LEDGER: ledger, HOME: folder } });
    if (status !== 0) throw new Error(`${name} ended with ${status}`);
    if (run >= 0) ticks[name] += spent() - before;
  }
}
const base = ticks['empty start'];
console.log(
  `node ${process.versions.node}, ${runs} runs each, a ledger of 10 000 events; ratios of user and system time`,
);
for (const [name, sum] of Object.entries(ticks))
  console.log(`${name.padEnd(24)} ${(sum / base).toFixed(2)}  ${((10 * sum) / runs).toFixed(1)} ms`);
rmSync(folder, { recursive: true, force: true });
