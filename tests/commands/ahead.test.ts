/** `outlook`, `due` and `export ics` from a terminal's point of view: output, exit status, bare environments. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import ICAL from 'ical.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundled, runner } from './bundle.ts';

const DEMO = 'data/demo.yaml';
const CLOCK = '2026-11-20T16:00:00-06:00';
let folder: string;
const main = bundled();
const run = runner(main);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-ahead-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const demo = (verb: string, ...words: string[]) => run([verb, ...words, '--ledger', DEMO, '--as-of', CLOCK]);

function holds(name: string, text: string): void {
  const schema = JSON.parse(run(['schema', name]).out);
  const validate = new Ajv2020({ strict: false, allErrors: true, validateFormats: false }).compile(schema);
  validate(JSON.parse(text));
  expect(validate.errors ?? []).toEqual([]);
}

describe('outlook', () => {
  it('says what is left, in order', () => {
    const { code, out } = demo('outlook', '--json');
    expect(code).toBe(0);
    holds('outlook', out);
    const { data } = JSON.parse(out);
    expect(data.first_limit).toEqual({ bath: 'clean', what: 'resin' });
    for (const key of ['loads_left', 'parts_left', 'days_left']) {
      expect(data[key].p05).toBeLessThanOrEqual(data[key].p50);
      expect(data[key].p50).toBeLessThanOrEqual(data[key].p95);
    }
    // The ledger's own receipts and pours, added by hand: 10 L, then what the fills and top-ups took.
    expect(data.stock).toMatchObject({ solvent: 'ipa99', enough: true, order_by: null });
    expect(data.solvent_ml.p50).toBeGreaterThan(2500);
  });

  it('comes sooner with more loads a day', () => {
    const days = (perDay: string) =>
      JSON.parse(demo('outlook', '--per-day', perDay, '--json').out).data.days_left.p50;
    expect(days('8')).toBeLessThan(days('2'));
  });

  it('refuses a pace that is none', () => {
    expect(demo('outlook', '--per-day', '0').code).toBe(64);
    expect(demo('outlook', '--parts', 'many').err).toContain('Cannot use --parts "many"');
  });
});

describe('due', () => {
  it('says nothing of an entry cut short, which other commands tell and mend: a mail every day would', () => {
    const ledger = join(folder, 'cut.yaml');
    writeFileSync(ledger, `${readFileSync(DEMO, 'utf8')}  - {id: "half", at: 2026-11-20T15:00`);
    const words = ['--ledger', ledger, '--as-of', '2026-11-12T18:00:00-06:00'];
    expect(run(['due', ...words])).toMatchObject({ code: 0, out: '', err: '' });
    expect(run(['baths', ...words]).err).toContain('which an interrupted write left incomplete');
  });

  it('prints nothing, and 0, when nothing is due', () => {
    expect(run(['due', '--ledger', DEMO, '--as-of', '2026-11-03T20:00:00-06:00'])).toMatchObject({
      code: 0,
      out: '',
      err: '',
    });
  });

  it('prints a line a matter, the advice and the ledger, and 1 for soon', () => {
    const { code, out } = demo('due');
    expect(code).toBe(1);
    const lines = out.trimEnd().split('\n');
    expect(lines[0]).toMatch(/^soon: the clean bath is at [\d.]+ \([\d.]+–[\d.]+\) wt% resin/);
    expect(lines.at(-2)).toMatch(/^advice: /);
    expect(lines.at(-1)).toMatch(/^ledger: .*demo\.yaml$/);
    holds('due', demo('due', '--json').out);
  });

  it('is 3 when a bath is empty', () => {
    const path = join(folder, 'empty.yaml');
    writeFileSync(
      path,
      'format: bathbook/1\nshop: {}\nbaths:\n  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}\nevents:\n',
    );
    const { code, out, err } = run(['due', '--ledger', path, '--as-of', CLOCK]);
    expect({ code, out }).toEqual({ code: 3, out: '' });
    expect(err).toContain('Could not judge');
  });

  it('works in the bare environment of cron and tells each matter once a day', () => {
    const bare = (at: string) =>
      spawnSync(
        process.execPath,
        [main, 'due', '--once-a-day', '--ledger', join(process.cwd(), DEMO), '--as-of', at],
        { cwd: '/', env: { XDG_STATE_HOME: folder }, encoding: 'utf8' },
      );
    const first = bare(CLOCK);
    expect(first.status).toBe(1);
    expect(first.stdout).toContain('soon: ');
    expect(first.stderr).toBe('');
    // Told, and still due.
    expect(bare('2026-11-20T18:00:00-06:00')).toMatchObject({ status: 1, stdout: '' });
    expect(bare('2026-11-21T07:30:00-06:00').stdout).toContain('soon: ');
    // What it keeps can be lost or spoilt.
    const kept = join(folder, 'bathbook', 'due.json');
    expect(existsSync(kept)).toBe(true);
    writeFileSync(kept, '{"half');
    expect(bare('2026-11-21T08:00:00-06:00').stdout).toContain('soon: ');
  });

  it('refuses spans that are none', () => {
    expect(demo('due', '--within', 'soon').code).toBe(64);
    expect(demo('due', '--within', '-2').code).toBe(64);
  });
});

describe('export ics', () => {
  it('is a calendar of all-day events whose identifiers stay', () => {
    const events = (text: string) =>
      new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => {
        const event = new ICAL.Event(one);
        expect(event.startDate.isDate).toBe(true);
        return { uid: event.uid, day: event.startDate.toString(), text: event.description };
      });
    const now = events(demo('export', 'ics').out);
    const later = events(
      run(['export', 'ics', '--ledger', DEMO, '--as-of', '2026-11-23T08:00:00-06:00']).out,
    );
    expect(now.map(({ uid }) => uid)).toEqual(later.map(({ uid }) => uid));
    expect(new Set(now.map(({ uid }) => uid)).size).toBe(now.length);
    expect(now.map(({ uid }) => uid).some((uid) => uid.includes('change-clean'))).toBe(true);
    const { data } = JSON.parse(demo('outlook', '--json').out);
    expect(now[0]!.day).toBe(data.date.p50.slice(0, 10));
    expect(now[0]!.text).toContain(`from ${data.date.p05.slice(0, 10)} to ${data.date.p95.slice(0, 10)}`);
    holds('export', demo('export', 'ics', '--json').out);
  });

  it('writes a file whole, and says why it cannot', () => {
    const path = join(folder, 'baths.ics');
    expect(demo('export', 'ics', '--out', path).code).toBe(0);
    expect(readFileSync(path, 'utf8')).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*END:VCALENDAR\r\n$/);
    const refused = demo('export', 'ics', '--out', join(folder, 'no', 'such', 'x.ics'));
    expect(refused.code).toBe(73);
    expect(refused.err).toContain('Cannot write');
    expect(demo('export', 'pdf').code).toBe(64);
  });
});
