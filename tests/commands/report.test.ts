/** `report` from a terminal's point of view: the period, where it goes, formats, exit codes, bare environments. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, type RunOptions, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
const report = (args: readonly string[], options: RunOptions = {}) =>
  run(['report', '--as-of', NOW, ...args], options);
const dataOf = (args: readonly string[], options: RunOptions = {}) =>
  JSON.parse(report([...args, '--json'], options).out).data;

describe('the period', () => {
  const ledger = ledgerOf();

  it('is the last 24 hours where there was no report before, in the zone of the shop', () => {
    const env = { XDG_STATE_HOME: tempFolder(), TZ: 'Asia/Tokyo' };
    expect(dataOf(['--ledger', ledger], { env }).period).toEqual({
      from: '2026-11-19T17:00:00-04:00',
      to: '2026-11-20T17:00:00-04:00',
      why: 'last-24-h',
    });
  });

  it('goes on from the last report of the same ledger to the same place', () => {
    const env = { XDG_STATE_HOME: tempFolder() };
    const other = ledgerOf();
    const from = (...args: string[]) => dataOf(['--ledger', ledger, ...args], { env }).period.from;
    const later = '2026-11-21T08:00:00-04:00';
    expect(from()).toBe('2026-11-19T17:00:00-04:00');
    expect(from('--as-of', later)).toBe(NOW);
    expect(from('--as-of', '2026-11-21T09:00:00-04:00')).toBe(later);
    // Text, a file and another ledger are series of their own.
    const asText = report(['--ledger', ledger, '--as-of', later], { env }).out;
    expect(asText).toContain('there is no earlier report');
    expect(dataOf(['--ledger', other, '--as-of', later], { env }).period.why).toBe('last-24-h');
    const out = join(tempFolder(), 'page.txt');
    report(['--ledger', ledger, '--out', out], { env });
    report(['--ledger', ledger, '--out', out, '--as-of', later], { env });
    expect(readFileSync(out, 'utf8')).toContain('Since the last report, Fri 2026-11-20 17:00');
  });

  it('as given leaves that alone, and so does a clock set back', () => {
    const env = { XDG_STATE_HOME: tempFolder() };
    const at = (asOf: string, ...args: string[]) =>
      dataOf(['--ledger', ledger, '--as-of', asOf, ...args], { env }).period;
    at('2026-11-20T17:00:00-04:00');
    expect(at('2026-11-20T18:00:00-04:00', '--from', '2026-11-16')).toEqual({
      from: '2026-11-16T00:00:00-04:00',
      to: '2026-11-20T18:00:00-04:00',
      why: 'given',
    });
    expect(at('2026-11-18T12:00:00-04:00').why).toBe('last-24-h');
    expect(at('2026-11-20T19:00:00-04:00').from).toBe(NOW);
  });

  it('as given may end before now, and shows the baths as they were then', () => {
    const env = { XDG_STATE_HOME: tempFolder() };
    const then = '2026-11-18T12:00:00-04:00';
    const { baths, washes, period } = dataOf(['--ledger', ledger, '--to', then], { env });
    expect(period).toEqual({ from: '2026-11-17T12:00:00-04:00', to: then, why: 'given' });
    // The same from `baths` with the clock set back: nothing was corrected since.
    const same = JSON.parse(run(['baths', '--json', '--ledger', ledger, '--as-of', then]).out).data.baths;
    expect(baths).toEqual(same);
    expect(washes.loads).toBe(0);
  });

  it('leaves its first moment to the report before and takes the last one', () => {
    const loads = (from: string, to: string) =>
      dataOf(['--ledger', ledger, '--from', from, '--to', to]).washes.loads;
    const wash = '2026-11-17T11:20:00-04:00';
    expect(loads('2026-11-17T11:00:00-04:00', wash)).toBe(1);
    expect(loads(wash, '2026-11-17T12:00:00-04:00')).toBe(0);
  });

  it.each([
    [['--from', 'whenever'], 'Cannot read "whenever" as a time'],
    [['--from', '2026-11-20', '--to', '2026-11-19'], 'that is no time'],
    [['--to', '2026-11-21'], 'still to come'],
    [['--format', 'markdwn'], 'Cannot use "markdwn" for --format'],
    [['--format', 'markdown', '--json'], 'Cannot write markdown and JSON at once'],
  ])('%j is refused', (args, message) => {
    const { code, out, err } = report(['--ledger', ledger, ...args]);
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(err).toContain(message);
  });
});

describe('what is kept of the last report', () => {
  const ledger = ledgerOf();

  it('is nothing in the bare environment of cron, and the page says so', () => {
    const { code, out, err } = report(['--ledger', ledger], { cwd: '/', env: {} });
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out.replaceAll(/\s+/g, ' ')).toContain(
      'The last 24 hours, since Thu 2026-11-19 17:00: there is no folder to keep the time of the last report in',
    );
    expect(out).toContain(`\nledger: ${ledger}\n`);
  });

  it('is in the home of whoever has one', () => {
    const home = tempFolder();
    report(['--ledger', ledger], { env: { HOME: home } });
    expect(JSON.parse(readFileSync(join(home, '.local/state/bathbook/report.json'), 'utf8'))).toEqual({
      [ledger]: { 'output text': NOW },
    });
  });

  it.each(['{"half', '[]', '{"x": 1}', `{"${ledger}": {"output text": "yesterday"}}`])(
    'can be spoilt: %s',
    (text) => {
      const state = tempFolder();
      mkdirSync(join(state, 'bathbook'));
      writeFileSync(join(state, 'bathbook', 'report.json'), text);
      const env = { XDG_STATE_HOME: state };
      expect(report(['--ledger', ledger], { env })).toMatchObject({ code: 0, err: '' });
      expect(report(['--ledger', ledger, '--as-of', '2026-11-21T08:00:00-04:00'], { env }).out).toContain(
        'Since the last report, Fri 2026-11-20 17:00',
      );
    },
  );

  it('cannot be written: the page comes all the same, with a note', () => {
    const state = join(tempFolder(), 'file');
    writeFileSync(state, '');
    const { code, out, err } = report(['--ledger', ledger], { env: { XDG_STATE_HOME: state } });
    expect(code).toBe(0);
    expect(out).toContain('Baths');
    expect(err).toContain('Cannot keep the time of this report');
  });

  it('is not touched by a look on a terminal', () => {
    const state = tempFolder();
    const terminal = join(state, 'terminal.cjs');
    writeFileSync(
      terminal,
      `require('node:fs').fstatSync = () => ({ isCharacterDevice: () => true });
       process.stdout.isTTY = true; process.stdout.columns = 80;`,
    );
    const env = { XDG_STATE_HOME: state, NODE_OPTIONS: `--require ${terminal}`, NO_COLOR: '1' };
    expect(report(['--ledger', ledger], { env }).out).toContain('Baths');
    expect(existsSync(join(state, 'bathbook'))).toBe(false);
    expect(report(['--ledger', ledger, '--out', join(state, 'x.txt')], { env }).code).toBe(0);
    expect(existsSync(join(state, 'bathbook', 'report.json'))).toBe(true);
  });
});

describe('--out', () => {
  it('writes the page that would be printed, whole', () => {
    const ledger = ledgerOf();
    const out = join(tempFolder(), 'night.md');
    writeFileSync(out, 'the page of yesterday');
    const args = ['--ledger', ledger, '--format', 'markdown'];
    const { code, out: printed, err } = report([...args, '--out', out]);
    expect({ code, printed, err }).toEqual({ code: 0, printed: '', err: `Written to ${out}\n` });
    expect(readFileSync(out, 'utf8')).toBe(report(args).out);
  });

  it('says why it cannot, and does not count as a report then', () => {
    const state = tempFolder();
    const out = join(state, 'no', 'such', 'x.txt');
    const { code, err } = report(['--ledger', ledgerOf(), '--out', out], { env: { XDG_STATE_HOME: state } });
    expect(code).toBe(73);
    expect(err).toContain('Cannot write');
    expect(existsSync(join(state, 'bathbook'))).toBe(false);
  });
});

describe('a ledger that does not add up', () => {
  const early = '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}}';

  it('is told on the page, with 65 and no verdict on what is due', () => {
    const ledger = ledgerOf([early, ...LINES]);
    const { code, out, err } = report(['--ledger', ledger]);
    expect({ code, err }).toEqual({ code: 65, err: '' });
    expect(out).toMatch(/^In the ledger\n {2}- line 9, left out of the estimates: Event "early"/m);
    expect(out).toMatch(/^Due\n {2}- not judged/m);
    const data = dataOf(['--ledger', ledger]);
    expect(data.judged).toBe(false);
    expect(data.odd.refused).toMatchObject([{ code: 'bath-empty', line: 9 }]);
    // Into a file it is told beside it as well: a mail of cron has nothing else.
    expect(report(['--ledger', ledger, '--out', join(tempFolder(), 'x')]).err).toContain('"early"');
  });

  it('may hold events to come, and a torn line', () => {
    const later = '  - {id: "later", at: 2026-11-21T08:00:00-04:00, what: wash, parts: {model: 1}}';
    const ledger = ledgerOf([...LINES, later]);
    writeFileSync(ledger, `${readFileSync(ledger, 'utf8')}  - {id: "torn", at: 2026-`);
    const { code, out } = report(['--ledger', ledger]);
    expect(code).toBe(0);
    expect(out).toMatch(/^In the ledger\n {2}- Ignored line 15/m);
    expect(out).toContain('- 1 event lies after this time');
    expect(dataOf(['--ledger', ledger]).odd).toMatchObject({ later: 1, warnings: [{ code: 'torn-tail' }] });
  });

  it('or none at all, keeps the exit codes of the others', () => {
    expect(report(['--ledger', join(tempFolder(), 'nowhere.yaml')]).code).toBe(66);
    expect(report(['--ledger', ledgerOf(['  - {id: "x", at: yesterday, what: wsh}'])]).code).toBe(65);
  });

  it('is no trouble when it is new: the baths are empty, and nothing else is said', () => {
    const { code, out } = report(['--ledger', ledgerOf([])]);
    expect(code).toBe(0);
    expect(sections(out)).toEqual(['Baths', 'Due']);
    expect(out).toContain('stop (empty)');
  });
});

/** Titles: what stands at the left margin between blank lines. */
function sections(out: string): string[] {
  return [...out.matchAll(/\n\n(\S[^\n]*)\n {2}/g)].map(([, title]) => title!);
}

describe('the page', () => {
  const head = HEAD.replace('baths:', 'solvents:\n  ipa99: {ipa_wt_pct: 99.5}\nbaths:');
  const busy = [
    ...LINES,
    '  - {id: "stk1a", at: 2026-11-20T08:00:00-04:00, what: stock, solvent: ipa99, received_ml: 10000, by: "NB"}',
    '  - {id: "redg1", at: 2026-11-20T09:00:00-04:00, what: reading, bath: dirty, density_g_ml: 0.792, temp_c: 22}',
    '  - {id: "rot1a", at: 2026-11-20T10:00:00-04:00, what: rotate, solvent: ipa99, into: "can-1"}',
    '  - {id: "was1a", at: 2026-11-20T11:00:00-04:00, what: wash, parts: {model: 2}}',
    '  - {id: "ins1a", at: 2026-11-20T12:00:00-04:00, what: inspect, result: sticky}',
    '  - {id: "amd1a", at: 2026-11-20T13:00:00-04:00, what: amend, of: "was1a", set: {drained_min: 30}, why: "typed wrong"}',
    '  - {id: "ltr1a", at: 2026-11-21T13:00:00-04:00, what: wash, parts: {model: 1}}',
  ];
  const ledger = ledgerOf(busy, head);

  it('has its sections in order, and leaves out those with nothing to say', () => {
    const at = (asOf: string) => sections(report(['--ledger', ledger, '--as-of', asOf]).out);
    const all = ['Baths', 'Washes', 'Readings', 'Changes', 'Solvent', 'Waste, November 2026'];
    expect(at(NOW)).toEqual([...all, 'Inspections', 'Corrections', 'In the ledger']);
    expect(at('2026-11-16T12:00:00-04:00')).toEqual(['Baths', 'Changes', 'Solvent', 'In the ledger']);
  });

  it.each(['60', '80', '120', '200'])('keeps to %s columns, but for a path', (COLUMNS) => {
    const { out } = report(['--ledger', ledger], { env: { COLUMNS } });
    const wide = out.split('\n').filter((line) => line.length > Number(COLUMNS));
    expect(wide.filter((line) => !line.startsWith('ledger: '))).toEqual([]);
    expect(out).not.toMatch(/[ \t]$/m);
  });

  it('is bare text off a terminal: no colour, no drawn lines, no tabs', () => {
    const { out } = report(['--ledger', ledger], { env: { TERM: 'xterm-256color' } });
    expect(out.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\u2500-\u257f]/u);
  });
});
