/** What `undo` took off comes back by the line it names: the same event, whatever a shell makes of the words. */
import { spawnSync } from 'node:child_process';
import { appendFileSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { logAgain } from '../../src/commands/log-again.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const main = bundled();
const run = runner(main);

const OWN = HEAD.replace(
  'events:',
  'solvents:\n  reclaimed: {ipa_wt_pct: 99}\nparts:\n  2-unit: {shape: solid, volume_ml: 3}\nevents:',
);
const IN_A_CAN =
  '  - {id: "drn06", at: 2026-11-20T08:00:00-04:00, what: drain, bath: dirty, ml: 500, into: "can-1"}';

/** The last event of a ledger, but for its id and the time at which it was typed. */
function lastEvent(ledger: string): string {
  const line = readFileSync(ledger, 'utf8').trimEnd().split('\n').at(-1)!;
  return line.replace(/id: "?\w{5}"?, /, '').replace(/, logged: [^,}]+/, '');
}

/** As a shell of the system runs it. */
function typed(command: string, ledger: string) {
  const shell = spawnSync('sh', ['-c', `"$NODE" "$MAIN"${command.replace(/^bathbook/, '')} --as-of ${NOW}`], {
    env: { NODE: process.execPath, MAIN: main, BATHBOOK_LEDGER: ledger },
    encoding: 'utf8',
  });
  expect(shell.stderr).not.toContain('Cannot');
  return shell.status;
}

const putBack = (ledger: string, as: readonly string[]) =>
  JSON.parse(run(['undo', '--json', ...as], { env: { BATHBOOK_LEDGER: ledger } }).out).data.put_back;

describe('the line that puts an entry back', () => {
  it.each([
    [['wash', '6', 'model', '2', 'mask']],
    [['wash', '6', '2-unit']],
    [
      [
        'wash',
        '1',
        'model',
        '--at',
        '2026-11-19 11:20',
        '--by',
        'N B',
        '--note',
        `it's "late"; $HOME \`x\` # no`,
      ],
    ],
    [
      [
        'wash',
        '2',
        'model',
        '--drained',
        '1.5 h',
        '--prerinse',
        'spray',
        '--midrinse',
        'brush',
        '--minutes',
        '4.5,5',
      ],
    ],
    [
      [
        'wash',
        '2',
        'model',
        '--minutes',
        '4; 500',
        '--agitation',
        'hand',
        '--case',
        '26-1',
        '--case',
        'a b',
        '--lot',
        '007',
      ],
    ],
    [
      [
        'wash',
        '--area',
        '340',
        '--volume',
        '55 mL',
        '--in',
        'clean',
        '--minutes',
        '2',
        '--hollow',
        '--resin',
        'standard',
      ],
    ],
    [['wash', '2', 'mask', '--carry', '5 mL', '--drag', '9,8', '--trapped', '0']],
    [['wash', '2', 'mask', '--carry', '6.25 g']],
    [['top-up', 'clean', 'to', 'mark']],
    [['top-up', 'dirty', '250.5 mL', '--from', 'clean']],
    [['drain', 'dirty', 'all', '--into', 'can "2"']],
    [['drain', 'dirty', '1/4 L'.replace('1/4', '0.25')]],
    [['rotate', '--ml', '3.8 L', '--into', 'can-1', '--solvent', 'ipa99']],
    [['refill', 'clean', '--ml', '1 gal']],
    [['reading', 'dirty', '--density', '0.803', '--temp', '70 F', '--sd', '0.001']],
    [['reading', 'clean', '--sg', '0.789', '--ref', '60/60F', '--glass', '60 F', '--temp', '21']],
    [['reading', 'dirty', '--dry', '81 mg', '--sample', '10']],
    [['reading', 'dirty', '--level', '3.9 L', '--temp', '21']],
    [['weighed', 'wash5', '--wet', '186.3', '--clean', '185.4']],
    [['inspect', 'sticky', 'k3f9x', '--parts', '2 mask', '--case', '26-0117']],
    [['inspect', 'ok', '--wash', 'none']],
    [['stock', 'received', 'ipa99', '10 L', '--lot', 'K-2291', '--price', '74', '--supplier', 'by the door']],
    [['stock', 'counted', 'reclaimed', '2.5 L', '--tested', '--note', 'new strips']],
    [['waste', 'opened', 'can-2', '10 L']],
    [['waste', 'emptied', 'can-1', '0.2 L']],
    [['waste', 'collected', 'can-1']],
    [['reclaim', 'can-1', '300', '--method', 'settled', '--as', 'reclaimed']],
    [['void', 'wash5', '--why', 'entered "twice"']],
    [
      [
        'amend',
        'k3f9x',
        'drained_min=1.5 h',
        'parts={model: 4, mask: 2}',
        'minutes=4,6',
        'at=2026-11-17 12:20',
        '--why',
        'x',
      ],
    ],
    [
      [
        'amend',
        'k3f9x',
        'cases=007,26-0118',
        'lot=1e5',
        'hollow=yes',
        'note=the key = is kept',
        '--why',
        'an "x"',
      ],
    ],
  ])('is that of: %s', (words) => {
    const ledger = ledgerOf([...LINES, IN_A_CAN], OWN);
    const before = readFileSync(ledger, 'utf8');
    const as = ['--as-of', NOW];
    expect(run([...words, '--no-input', ...as], { env: { BATHBOOK_LEDGER: ledger } })).toMatchObject({
      code: 0,
    });
    const logged = lastEvent(ledger);
    const command = putBack(ledger, as);
    expect(readFileSync(ledger, 'utf8')).toBe(before);
    expect(typed(command, ledger)).toBe(0);
    expect(lastEvent(ledger)).toBe(logged);
  });

  it('is that of a first fill', () => {
    const ledger = ledgerOf([]);
    run(['fill', 'dirty', '1 gal', 'ipa99', '--ledger', ledger, '--as-of', NOW]);
    const logged = lastEvent(ledger);
    expect(typed(putBack(ledger, ['--as-of', NOW]), ledger)).toBe(0);
    expect(lastEvent(ledger)).toBe(logged);
  });

  it('is none for a wash from memory: its line is kept, and where is told', () => {
    const ledger = ledgerOf(LINES, OWN);
    const line = `  - {id: "memo1", at: 2026-11-20T09:00:00-04:00, what: wash, parts: {model: 2}, estimated: true}`;
    appendFileSync(ledger, `${line}\n`);
    const before = readFileSync(ledger, 'utf8');
    const { code, out } = run(['undo', '--ledger', ledger, '--as-of', NOW]);
    expect(code).toBe(0);
    expect(out).toMatch(/^to put back +no command can say it all; copy the last line of the file below/m);
    const kept = /^kept in +(.+)$/m.exec(out)![1]!;
    appendFileSync(ledger, `${readFileSync(kept, 'utf8').trimEnd().split('\n').at(-1)}\n`);
    expect(readFileSync(ledger, 'utf8')).toBe(before);
  });

  const shop = openShop({
    format: 'bathbook/1',
    shop: {},
    parts: { 12: { shape: 'solid', volume_ml: 3 } },
    baths: { dirty: { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 } },
  });
  const common = { id: 'hand1', at: '2026-11-20T09:00:00-04:00' };

  it.each<[string, LedgerEvent]>([
    [
      'a solvent that reads like an amount',
      { ...common, what: 'fill', bath: 'dirty', solvent: '2propanol', ml: 5 },
    ],
    ['a part whose name reads like a count', { ...common, what: 'wash', parts: { 12: 2 } }],
    ['a look of two cases', { ...common, what: 'inspect', result: 'ok', wash: 'w1', cases: ['a', 'b'] }],
    ['a look of a case without its wash', { ...common, what: 'inspect', result: 'ok', cases: ['a'] }],
    ['an amend to nothing', { ...common, what: 'amend', of: 'w1', set: { note: null }, why: 'x' }],
    [
      'an amend to a text that reads like a list',
      { ...common, what: 'amend', of: 'w1', set: { note: '[x' }, why: 'x' },
    ],
    ['a resin carried in both ways', { ...common, what: 'wash', area_cm2: 5, carry_g: 1, carry_ml: 1 }],
  ])('is none for %s', (_, event) => {
    expect(logAgain(event, shop)).toBeNull();
  });
});
