import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

describe('demo', () => {
  it('makes a shop that is in order and shows both baths', () => {
    const folder = join(tempFolder(), 'demo');
    const { code, out, err } = run(['demo', folder]);
    expect(code).toBe(0);
    expect(out).toMatch(/dirty +clean\nverdict +(keep|soon|change)\b.* (keep|soon|change)\b/);
    expect(out).toContain('Advice: ');
    expect(err).toContain(join(folder, 'bathbook.yaml'));
    expect(run(['check', join(folder, 'bathbook.yaml')])).toEqual({ code: 0, out: '', err: '' });
  });

  it('rests on its own readings, and says on how many', () => {
    const folder = join(tempFolder(), 'demo');
    const { out } = run(['demo', folder]);
    const logged = readFileSync(join(folder, 'bathbook.yaml'), 'utf8').match(/what: (reading|weighed)\b/g)!;
    // All but that of the fresh fill: there is no resin yet that a factor could be wrong about.
    expect(out.replaceAll(/\s+/g, ' ')).toContain(
      `The factors are calibrated by ${logged.length - 1} readings.`,
    );
    expect(out).not.toContain('default');
  });

  it('moves its days to the week before now, weekday and time of day kept', () => {
    const { clock, days } = ((): { clock: Date; days: number[][] } => {
      const read = (folder: string, asOf: string) => {
        run(['demo', folder, '--as-of', asOf]);
        const text = readFileSync(join(folder, 'bathbook.yaml'), 'utf8');
        return [...text.matchAll(/\bat: (\S+)T(\S{8})/g)].map(([, date, time]) => [
          new Date(`${date}T00:00:00Z`).getUTCDay(),
          Number(time!.replaceAll(':', '')),
          Date.parse(`${date}T${time}Z`),
        ]);
      };
      const summer = read(join(tempFolder(), 'a'), '2027-07-15T12:00:00Z');
      const winter = read(join(tempFolder(), 'b'), '2027-12-15T12:00:00Z');
      expect(summer.map(([weekday, time]) => [weekday, time])).toEqual(
        winter.map(([weekday, time]) => [weekday, time]),
      );
      return { clock: new Date('2027-07-15T12:00:00Z'), days: summer };
    })();
    const last = Math.max(...days.map(([, , at]) => at!));
    expect(clock.getTime() - last).toBeGreaterThan(0);
    expect(clock.getTime() - last).toBeLessThan(8 * 86_400_000);
  });

  it('refuses a folder that has a ledger already', () => {
    const folder = tempFolder();
    expect(run(['demo', folder]).code).toBe(0);
    expect(run(['demo', folder]).code).toBe(73);
  });

  it('names commands that work on it', () => {
    const { err } = run(['demo', tempFolder()]);
    const ledger = /BATHBOOK_LEDGER=(.+)$/m.exec(err)![1]!;
    const steps = [...err.matchAll(/^ {2}node \S+ (.+?)(?: {2,}\S.*)?$/gm)].map(([, step]) =>
      step!.split(' '),
    );
    expect(steps.length).toBeGreaterThanOrEqual(6);
    const cwd = tempFolder();
    for (const step of steps)
      expect(run(step, { env: { BATHBOOK_LEDGER: ledger }, cwd })).toMatchObject({ code: 0 });
  });

  it('says how to take it away, and takes nothing else with it', () => {
    const own = join(tempFolder(), "a folder's");
    const places: [string[], RegExp][] = [
      [['demo'], /^ {2}(rm -r .*bathbook-demo-\w+)$/m],
      [['demo', own], /^ {2}(rm .*bathbook\.yaml.*)$/m],
    ];
    for (const [args, says] of places) {
      const { err } = run(args, { env: { TMPDIR: tempFolder() } });
      const ledger = /BATHBOOK_LEDGER=(.+)$/m.exec(err)![1]!;
      const gone = execFileSync(
        'bash',
        ['-c', `test -f ${ledger} && ${says.exec(err)![1]} && ! test -e ${ledger} && echo gone`],
        { encoding: 'utf8' },
      );
      expect(gone).toBe('gone\n');
    }
    expect(existsSync(own)).toBe(true);
  });
});
