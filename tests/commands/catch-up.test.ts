/** Washes that are logged after the fact: again, by a list, from memory. */
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());

/** A shop at the clock of the tests: Friday 2026-11-20 17:00 in Halifax. */
function shop(lines: readonly string[] = LINES) {
  const ledger = ledgerOf(lines);
  const before = readFileSync(ledger, 'utf8');
  const typed = (args: readonly string[], input = '') =>
    run([...args, '--ledger', ledger, '--as-of', NOW], { input, cwd: dirname(ledger) });
  return {
    ledger,
    typed,
    data: (args: readonly string[], input = '') => {
      const { code, out, err } = typed([...args, '--json'], input);
      if (code !== 0) throw new Error(err);
      return JSON.parse(out).data;
    },
    added: () => readFileSync(ledger, 'utf8').slice(before.length).split('\n').filter(Boolean),
    file: (name: string, text: string) => writeFileSync(join(dirname(ledger), name), text),
  };
}

const CASED =
  '  - {id: "last6", at: 2026-11-20T09:00:00-04:00, what: wash, parts: {model: 4}, resin: standard, drained_min: 45, prerinse: spray, minutes: [4, 6], agitation: hand, carry_g: 5, drag_ml: [8, 7], trapped_g: 0.3, cases: ["26-0120"], lot: "R9", by: "TO", note: "late"}';

describe('wash --again', () => {
  it('that is typed twice is told of, as any load is', () => {
    const { typed } = shop();
    expect(typed(['wash', '--again', '--drained', '1h30']).err).toBe('');
    expect(typed(['wash', '--again', '--drained', '1h30']).err).toMatch(
      /The same load was logged as \w+ a moment ago/,
    );
  });

  it('takes the load and the habits of the last wash, not whose it was or what was measured', () => {
    const { data } = shop([...LINES, CASED]);
    const { event, again_of } = data(['wash', '--again', '--by', 'NB']);
    expect(again_of).toBe('last6');
    expect({ ...event, id: '' }).toEqual({
      id: '',
      at: NOW,
      what: 'wash',
      parts: { model: 4 },
      resin: 'standard',
      drained_min: 45,
      prerinse: 'spray',
      minutes: [4, 6],
      agitation: 'hand',
      by: 'NB',
    });
  });

  it('takes what is typed in the place of what was', () => {
    const { data } = shop([...LINES, CASED]);
    const { event } = data(['wash', '--again', '2', 'mask', '--drained', '1h30', '--minutes', '3,3']);
    expect(event).toMatchObject({ parts: { mask: 2 }, drained_min: 90, minutes: [3, 3], prerinse: 'spray' });
    const alone = data(['wash', '--again', '--in', 'clean']).event;
    expect(alone.baths).toEqual(['clean']);
    expect(alone.minutes).toBeUndefined();
  });

  it('goes the same way, with as many soaks', () => {
    const { data, typed } = shop();
    data(['wash', '1', 'die', '--in', 'clean', '--minutes', '2']);
    expect(data(['wash', '--again', '--minutes', '3']).event).toMatchObject({
      baths: ['clean'],
      minutes: [3],
    });
    expect(typed(['wash', '--again', '--minutes', '3,3']).err).toContain('the load goes through 1 bath');
  });

  it('says which one it repeats', () => {
    expect(shop().typed(['wash', '--again']).out).toMatch(/^again +as wash5 of Thu 2026-11-19 16:40$/m);
  });

  it('repeats none that was estimated, and none where there is none', () => {
    const { typed, added } = shop([...LINES, CASED.replace('note: "late"', 'estimated: true')]);
    const { code, err } = typed(['wash', '--again']);
    expect([code, added()]).toEqual([64, []]);
    expect(err).toContain('Cannot repeat the last wash, last6 was logged from memory');
    expect(shop(LINES.slice(0, 2)).typed(['wash', '--again']).err).toContain('the ledger has none yet');
  });
});

const SHEET = `# Thursday
yesterday:
09:10 6 model
  11:20  2 mask --drained overnight --case 26-0412 --by TO  # the big one
2026-11-20 08:30 3 splint --note "two # trays"\r
"2026-11-18 14:00" die 4

10:00-04:00 1 model
`;

describe('wash --lines', () => {
  it('logs a wash a line, at its time, in the order of the file', () => {
    const { data, file, added } = shop();
    file('sheet.txt', SHEET);
    const { events } = data(['wash', '--lines', 'sheet.txt', '--by', 'NB', '--resin', 'standard']);
    const bare = events.map(({ id: _, what: __, resin, logged, ...rest }: Record<string, unknown>) => {
      expect([resin, logged]).toEqual(['standard', NOW]);
      return rest;
    });
    expect(bare).toEqual([
      { at: '2026-11-19T09:10:00-04:00', parts: { model: 6 }, by: 'NB' },
      { at: '2026-11-19T11:20:00-04:00', parts: { mask: 2 }, drained_min: 720, cases: ['26-0412'], by: 'TO' },
      { at: '2026-11-20T08:30:00-04:00', parts: { splint: 3 }, note: 'two # trays', by: 'NB' },
      { at: '2026-11-18T14:00:00-04:00', parts: { die: 4 }, by: 'NB' },
      { at: '2026-11-19T10:00:00-04:00', parts: { model: 1 }, by: 'NB' },
    ]);
    expect(added()).toHaveLength(5);
  });

  it('does to the baths what the same washes typed one by one do', () => {
    const together = shop();
    const apart = shop();
    together.typed(['wash', '--lines', '-'], '15:00 6 model\n16:00 2 mask\n');
    apart.typed(['wash', '6', 'model', '--at', '15:00']);
    apart.typed(['wash', '2', 'mask', '--at', '16:00']);
    expect(together.data(['baths']).baths).toEqual(apart.data(['baths']).baths);
  });

  it('tells every line that cannot be used, with its number, and logs none', () => {
    const { typed, file, added } = shop();
    const bad = [
      '6 model',
      '09:10 6 modle',
      '25:00 6 model',
      '18:30 6 model',
      '10:00 6 model --drained 99999',
      '10:00 6 model --mesh x.stl',
      '10:00 6 model --nonsense',
      '10:00 6 model --note "open',
      '10:00 6 model --minutes 4,5,5',
      '10:00 6 model',
      '10:00',
      '10:00 2 mask --volume 1,250',
      '10:00 6 model --drained 1:30',
    ];
    file('bad.txt', bad.join('\n'));
    const { code, err, out } = typed(['wash', '--lines', 'bad.txt']);
    expect([code, out, added()]).toEqual([65, '', []]);
    const told = [...err.matchAll(/^bad\.txt:(\d+): Cannot /gm)].map((one) => Number(one[1]));
    expect(told).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13]);
    expect(err).toContain('1h30 or 1m30s');
  });

  it('tells twenty of more', () => {
    const { typed } = shop();
    const { err } = typed(['wash', '--lines', '-'], '09:00 6 modle\n'.repeat(23));
    expect([...err.matchAll(/^standard input:\d+: /gm)]).toHaveLength(20);
    expect(err).toContain('and 3 more');
  });

  it('names the line of a wash that cannot have happened', () => {
    const { typed, added } = shop();
    const { code, err } = typed(['wash', '--lines', '-'], '09:00 2 die\n2026-11-01 09:00 2 die\n');
    expect([code, added()]).toEqual([65, []]);
    expect(err).toMatch(/^standard input:2: This wash/m);
    // The words of the command do not hold them.
    expect(err).toMatch(/^Not logged: - \{.*what: wash.*\}\n- \{.*what: wash.*\}$/m);
  });

  it('takes the time of the command where a line has none', () => {
    const { data } = shop();
    const { events } = data(['wash', '--lines', '-', '--at', '15:00'], '2 die\n16:00 1 model\n');
    expect(events.map(({ at }: { at: string }) => at.slice(11, 16))).toEqual(['15:00', '16:00']);
  });

  it('says when the same lines are in the ledger, and writes nothing on a dry run', () => {
    const { typed, file, added } = shop();
    file('sheet.txt', SHEET);
    typed(['wash', '--lines', 'sheet.txt', '--dry-run']);
    expect(added()).toEqual([]);
    expect(typed(['wash', '--lines', 'sheet.txt']).err).not.toContain('already');
    expect(typed(['wash', '--lines', 'sheet.txt', '--dry-run']).err).toContain(
      '5 lines of 5 stand in the ledger already',
    );
    expect(added()).toHaveLength(5);
  });

  it('refuses a file that is not there, one without washes, and a load beside it', () => {
    const { typed } = shop();
    expect(typed(['wash', '--lines', 'nope.txt'])).toMatchObject({ code: 66 });
    expect(typed(['wash', '--lines', '-'], '# nothing\n').err).toContain(
      'Cannot find a wash in standard input',
    );
    expect(typed(['wash', '6', 'model', '--lines', '-']).err).toContain('Cannot take both a load');
    expect(typed(['wash', '--lines', '-', '--again']).err).toContain('Cannot use --again with --lines');
  });
});

describe('wash --about', () => {
  it('logs estimates, evenly from then to now, each the mean of the recent loads', () => {
    const { data, added } = shop();
    const { events, estimated } = data(['wash', '--about', '5', '--since', 'monday']);
    expect(added()).toHaveLength(5);
    // Six models and two masks, and three splints: by the catalogue 32, 3 and 5 mL; areas 85.7, 24 and 50 cm².
    const volumeMl = (6 * 32 + 2 * 3 + 3 * 5) / 2;
    const areaCm2 = (6 * 8.5 * 32 ** (2 / 3) + 2 * 24 + 3 * 50) / 2;
    for (const event of events) {
      expect(event).toMatchObject({ what: 'wash', estimated: true, logged: NOW });
      expect(Math.abs(event.volume_ml - volumeMl)).toBeLessThan(0.06);
      expect(Math.abs(event.area_cm2 - areaCm2)).toBeLessThan(0.06);
    }
    expect(estimated).toEqual({
      since: '2026-11-16T00:00:00-04:00',
      until: NOW,
      mean_of_washes: 2,
      hours_of_washes: 0,
    });
    // Five days of eight to five, one wash in the middle of each; the mark of the clock stands at five.
    expect(events.map(({ at }: { at: string }) => at.slice(5, 16))).toEqual([
      '11-16T12:30',
      '11-17T12:30',
      '11-18T12:30',
      '11-19T12:30',
      '11-20T12:30',
    ]);
  });

  it('leaves the best estimate where plain washes put it, and widens the band', () => {
    const memory = shop();
    const counted = shop();
    memory.typed(['wash', '6', 'model', '--about', '4', '--since', '2026-11-18']);
    const plain = memory.added().map((line) => line.replace(', estimated: true', ''));
    writeFileSync(counted.ledger, `${readFileSync(counted.ledger, 'utf8')}${plain.join('\n')}\n`);
    const [wide, narrow] = [memory, counted].map(({ data }) => data(['baths']).baths[0].resin_g);
    expect(wide.p50).toBe(narrow.p50);
    expect(wide.p95 - wide.p05).toBeGreaterThan(1.02 * (narrow.p95 - narrow.p05));
  });

  it('is marked in what is told afterwards', () => {
    const { typed, data } = shop();
    const before = data(['report']).washes;
    typed(['wash', '2', 'die', '--about', '1', '--since', '8:00']);
    expect(data(['report']).washes).toMatchObject({ loads: before.loads + 1, estimated_loads: 1 });
    expect(before.estimated_loads).toBe(0);
    expect(typed(['entries', '--last', '1']).out).toContain('estimated');
    expect(typed(['export', 'csv']).out.split('\n')[0]).toContain('estimated');
    expect(typed(['check']).code).toBe(0);
  });

  it('says that washes of that time are there', () => {
    expect(shop().typed(['wash', '--about', '2', '--since', 'monday']).err).toContain(
      '2 washes of that time are in the ledger already; these come on top',
    );
  });

  it.each([
    [['--about', '5'], 'Cannot use --about without --since'],
    [['--since', 'monday'], 'Cannot use --since and --until without --about'],
    [['--about', 'five', '--since', 'monday'], 'Cannot use --about five'],
    [['--about', '0', '--since', 'monday'], 'Cannot use --about 0'],
    [['--about', '2.5', '--since', 'monday'], 'Cannot use --about 2.5'],
    [['--about', '5', '--since', 'tomorrow 9:00'], 'the first must come before the second'],
    [['--about', '5', '--since', 'monday', '--until', 'tomorrow 9:00'], 'that is after now'],
    [['--about', '5', '--since', 'monday', '--case', '26-1'], 'Cannot use --case with --about'],
    [['--about', '5', '--since', 'monday', '--at', '9:00'], 'Cannot use --at with --about'],
    [['--about', '5', '--since', '2026-11-01'], 'This wash'],
  ])('%s is refused', (args, message) => {
    const { typed, added } = shop();
    const { code, err } = typed(['wash', ...args]);
    expect(code).not.toBe(0);
    expect(err).toContain(message);
    expect(added()).toEqual([]);
  });

  it('needs a load where there was none', () => {
    const fills = LINES.slice(0, 2);
    expect(shop(fills).typed(['wash', '--about', '2', '--since', 'monday']).err).toContain(
      'Cannot tell what a usual load is',
    );
    const since = '2026-11-16 09:00';
    const { events } = shop(fills).data(['wash', '6', 'model', '--about', '2', '--since', since]);
    expect(events).toHaveLength(2);
    expect(events[0]).toMatchObject({ parts: { model: 6 }, estimated: true });
  });
});

describe('a time that was not typed in full', () => {
  it('is told with its weekday and its difference to UTC', () => {
    const { typed } = shop();
    expect(typed(['wash', '2', 'die', '--at', 'yesterday 17:30', '--dry-run']).out).toContain(
      'at Thu 2026-11-19 17:30 (UTC-04:00)',
    );
    expect(typed(['wash', '2', 'die', '--at', '16:30', '--dry-run']).out).toContain(
      'at Fri 2026-11-20 16:30 (UTC-04:00)',
    );
    expect(typed(['wash', '2', 'die', '--at', '2026-11-19T17:30:00-04:00', '--dry-run']).out).toContain(
      'at 2026-11-19 17:30\n',
    );
  });
});

describe('a wash before others', () => {
  it('is told with the band that its own resin has: that of carry-over and of one wash', () => {
    const { data } = shop();
    const { carry_g, residue_ug_per_cm2, event } = data(['wash', '4', 'model', '--at', '2026-11-18 12:00']);
    expect(Date.parse(event.at)).toBe(Date.parse('2026-11-18T12:00:00-04:00'));
    // Standard deviations of 0.45 and 0.25 of the logarithm, from the 5 % point to the 95 % point; README.md 2 of the belief.
    const spread = 2 * 1.645 * Math.hypot(0.45, 0.25);
    expect(Math.log(carry_g.p95 / carry_g.p05)).toBeCloseTo(spread, 1);
    expect(residue_ug_per_cm2.p05).toBeLessThan(residue_ug_per_cm2.p50);
    expect(residue_ug_per_cm2.p95).toBeGreaterThan(residue_ug_per_cm2.p50);
  });
});
