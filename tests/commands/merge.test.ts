/** Two people log into copies of one ledger: joined by git with and without `merge=union`, and by `export` and `import`. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';
import { type GitLedger, gitLedger, ledgerText, linesOf, noGit } from './git-ledger.ts';

const run = runner(bundled());

/** Logs at a time of 20 November, and gives the id. */
function log(path: string, time: string, ...words: string[]): string {
  const ran = run([
    ...words,
    '--ledger',
    path,
    '--as-of',
    `2026-11-20T${time}:00-04:00`,
    '--json',
    '--no-input',
  ]);
  expect(ran.code, ran.err).toBe(0);
  return JSON.parse(ran.out).data.event.id;
}

function check(path: string): { code: number | null; err: string } {
  const { code, out, err } = run(['check', path, '--as-of', NOW]);
  return { code, err: out + err };
}

const SOUND = { code: 0, err: '' };

/** What the baths hold, to nine digits; where the ledger stands and how its lines are ordered left out. */
function state(path: string): unknown {
  const ran = run(['baths', '--json', '--ledger', path, '--as-of', NOW]);
  expect(ran.code, ran.err).toBe(0);
  const rounded = (_: string, value: unknown) =>
    typeof value === 'number' ? Number(value.toPrecision(9)) : value;
  const { ledger: _, ...data } = JSON.parse(ran.out, rounded).data;
  return data;
}

/** The ledger that one person would have, who had typed all of it in the order it happened. */
function inOrder(lines: readonly string[]): string {
  const at = (line: string) => Date.parse(/at: ([^,}]+)/.exec(line)![1]!);
  return ledgerOf([...lines].sort((a, b) => at(a) - at(b)));
}

/** One branch each, a load and more on both, and back on "bench", where the one of NB is. */
function twoBranches(ledger: GitLedger): { nb: string[]; to: string[] } {
  const { path, git, commit } = ledger;
  git('checkout', '-q', '-b', 'nb');
  const nb = [
    log(path, '09:00', 'wash', '4', 'model', '--by', 'NB'),
    log(path, '11:00', 'top-up', 'dirty', '200 ml', '--by', 'NB'),
    log(path, '13:00', 'reading', 'dirty', '--density', '0.795', '--temp', '21', '--by', 'NB'),
  ];
  commit('NB');
  git('checkout', '-q', 'bench');
  git('checkout', '-q', '-b', 'to');
  const to = [
    log(path, '10:00', 'wash', '3', 'splint', '--case', '26-0200', '--by', 'TO'),
    log(path, '12:00', 'wash', '2', 'mask', '--by', 'TO'),
  ];
  commit('TO');
  git('checkout', '-q', 'bench');
  expect(ledger.merge('nb')).toBe(0);
  return { nb, to };
}

const idsOf = (lines: readonly string[]) => lines.map((line) => /id: "([^"]+)"/.exec(line)![1]);
const BEFORE = idsOf(LINES);

describe.skipIf(noGit !== undefined)(`git${noGit === undefined ? '' : ` (skipped: ${noGit})`}`, () => {
  describe('with merge=union', () => {
    it('keeps all of two branches once, and the baths are those of one ledger', () => {
      const ledger = gitLedger();
      const { nb, to } = twoBranches(ledger);
      expect(ledger.merge('to')).toBe(0);
      expect(idsOf(ledger.lines()).sort()).toEqual([...BEFORE, ...nb, ...to].sort());
      expect(check(ledger.path)).toEqual(SOUND);
      expect(state(ledger.path)).toEqual(state(inOrder(ledger.lines())));
      // The last word of the writer: the merged ledger takes a line as before.
      log(ledger.path, '14:00', 'wash', '1', 'die');
      expect(check(ledger.path)).toEqual(SOUND);
    });

    it.each([
      ['one side', (text: string) => text.trimEnd(), (text: string) => text],
      ['both sides', (text: string) => text.trimEnd(), (text: string) => text.trimEnd()],
    ])('does so where the last line of %s has no end', (_, atNb, atTo) => {
      const ledger = gitLedger();
      const { git, commit } = ledger;
      git('checkout', '-q', '-b', 'nb');
      log(ledger.path, '09:00', 'wash', '4', 'model');
      ledger.write(atNb(ledger.text()));
      commit('NB');
      git('checkout', '-q', '-b', 'to', 'bench');
      log(ledger.path, '10:00', 'wash', '2', 'mask');
      ledger.write(atTo(ledger.text()));
      commit('TO');
      expect(ledger.merge('nb')).toBe(0);
      expect(ledger.lines()).toHaveLength(LINES.length + 2);
      expect(check(ledger.path)).toEqual(SOUND);
      log(ledger.path, '11:00', 'wash', '1', 'die');
      expect(ledger.lines()).toHaveLength(LINES.length + 3);
      expect(check(ledger.path)).toEqual(SOUND);
    });

    it('does so where neither begins with the end of a line', () => {
      const ledger = gitLedger({ text: ledgerText(LINES).trimEnd() });
      const { nb, to } = twoBranches(ledger);
      expect(ledger.merge('to')).toBe(0);
      expect(idsOf(ledger.lines()).sort()).toEqual([...BEFORE, ...nb, ...to].sort());
      expect(check(ledger.path)).toEqual(SOUND);
    });

    it('does so with Windows line ends', () => {
      const ledger = gitLedger({
        text: ledgerText(LINES).replaceAll('\n', '\r\n'),
        attributes: '*.yaml -text merge=union\n',
      });
      const { nb, to } = twoBranches(ledger);
      expect(ledger.merge('to')).toBe(0);
      expect(ledger.text().replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
      expect(idsOf(ledger.lines()).sort()).toEqual([...BEFORE, ...nb, ...to].sort());
      expect(check(ledger.path)).toEqual(SOUND);
    });

    it('an event that both correct is corrected by both: the void counts', () => {
      const ledger = gitLedger();
      const { path, git, commit } = ledger;
      git('checkout', '-q', '-b', 'nb');
      log(path, '09:00', 'amend', 'k3f9x', 'parts=5 model, 2 mask', '--why', 'counted again');
      commit('NB');
      git('checkout', '-q', '-b', 'to', 'bench');
      log(path, '09:30', 'void', 'k3f9x', '--why', 'entered twice');
      commit('TO');
      expect(ledger.merge('nb')).toBe(0);
      expect(ledger.lines()).toHaveLength(LINES.length + 2);
      expect(check(path)).toEqual(SOUND);
      expect(state(path)).toEqual(state(inOrder(LINES.filter((line) => !line.includes('"k3f9x"')))));
    });

    it('one voids and the other amends what the first logged, after a merge between them', () => {
      const ledger = gitLedger();
      const { path, git, commit } = ledger;
      const { nb, to } = twoBranches(ledger);
      expect(ledger.merge('to')).toBe(0);
      git('checkout', '-q', '-b', 'later', 'bench');
      log(path, '14:00', 'amend', nb[0]!, 'parts=2 model', '--why', 'two were left out');
      commit('TO corrects NB');
      git('checkout', '-q', 'bench');
      log(path, '14:30', 'void', to[1]!, '--why', 'not washed');
      commit('NB corrects TO');
      expect(ledger.merge('later')).toBe(0);
      expect(check(path)).toEqual(SOUND);
      const lines = ledger.lines();
      const asMeant = lines
        .filter((line) => !line.includes(`"${to[1]}"`) && !line.includes('what: amend'))
        .map((line) => (line.includes(`"${nb[0]}"`) ? line.replace('model: 4', 'model: 2') : line));
      expect(state(path)).toEqual(state(inOrder(asMeant)));
    });

    it('a line that both changed by hand is there twice, and that is told', () => {
      const ledger = gitLedger();
      const { git, commit } = ledger;
      for (const [branch, count] of [
        ['nb', 'model: 5'],
        ['to', 'model: 7'],
      ] as const) {
        git('checkout', '-q', '-b', branch, 'bench');
        ledger.write(ledger.text().replace('model: 6', count));
        commit(branch);
      }
      expect(ledger.merge('nb')).toBe(0);
      const { code, err } = check(ledger.path);
      expect(code).toBe(65);
      const [first, second] = ledger
        .text()
        .split('\n')
        .flatMap((line, at) => (line.includes('"k3f9x"') ? [at + 1] : []));
      expect(err).toContain(`:${second}:`);
      expect(err).toContain(`Cannot use the id "k3f9x" again, line ${first} has it`);
      ledger.write(ledger.text().replace(/^.*model: 7.*\n/m, ''));
      expect(check(ledger.path)).toEqual(SOUND);
    });

    it('a key of the head that both changed is there twice, and that is told', () => {
      const ledger = gitLedger();
      const { git, commit } = ledger;
      for (const [branch, room] of [
        ['nb', '20'],
        ['to', '24'],
      ] as const) {
        git('checkout', '-q', '-b', branch, 'bench');
        ledger.write(ledger.text().replace('America/Halifax\n', `America/Halifax\n  room_c: ${room}\n`));
        commit(branch);
      }
      expect(ledger.merge('nb')).toBe(0);
      expect(check(ledger.path)).toMatchObject({ code: 65 });
      expect(check(ledger.path).err).toContain(':6:3: Cannot use the key "room_c" twice in one map');
    });

    it('an entry cut off by undo comes back when the other logged behind it; a void does not', () => {
      for (const words of [[], ['--why', 'entered twice']]) {
        const ledger = gitLedger();
        const { path, git, commit } = ledger;
        git('checkout', '-q', '-b', 'nb');
        run(['undo', ...words, '--ledger', path, '--as-of', NOW, '--no-input']);
        commit('NB takes the last entry back');
        git('checkout', '-q', '-b', 'to', 'bench');
        log(path, '10:00', 'wash', '2', 'mask');
        commit('TO');
        expect(ledger.merge('nb')).toBe(0);
        expect(check(path)).toEqual(SOUND);
        const { data } = JSON.parse(run(['entries', '--json', '--ledger', path, '--as-of', NOW]).out);
        const last = data.entries.find((entry: { id: string }) => entry.id === BEFORE.at(-1));
        expect(last === undefined || last.voided !== undefined, JSON.stringify(last)).toBe(words.length > 0);
      }
    });
  });

  describe.each(['merge', 'diff3', 'zdiff3'])('without it, conflicts in the style %s', (style) => {
    function conflicted(): GitLedger {
      const ledger = gitLedger({ attributes: '' });
      twoBranches(ledger);
      ledger.git('config', 'merge.conflictStyle', style);
      expect(ledger.merge('to')).toBe(1);
      expect(ledger.text()).toContain('<<<<<<<');
      return ledger;
    }

    it('are told with their line and what to do, and nothing is written', () => {
      const ledger = conflicted();
      const text = ledger.text();
      const line = text.split('\n').findIndex((one) => one.startsWith('<<<<<<<')) + 1;
      for (const words of [
        ['check', ledger.path],
        ['wash', '1', 'die', '--ledger', ledger.path],
      ]) {
        const { code, out, err } = run([...words, '--as-of', NOW]);
        expect(code).toBe(65);
        expect(out + err).toContain(
          `:${line}:1: Cannot read on, a merge of two versions was not finished here`,
        );
        expect(out + err).toMatch(/help: Keep .* both sides .*<<<<<<<.*=======.*>>>>>>>/);
        expect((out + err).match(/was not finished here/g)).toHaveLength(1);
      }
      expect(ledger.text()).toBe(text);
    });

    it('are gone once the lines with the marks are', () => {
      const ledger = conflicted();
      ledger.write(ledger.text().replaceAll(/^(?:<{7}|\|{7}|={7}|>{7}).*\n/gm, ''));
      expect(ledger.lines()).toHaveLength(LINES.length + 5);
      expect(check(ledger.path)).toEqual(SOUND);
      expect(state(ledger.path)).toEqual(state(inOrder(ledger.lines())));
    });
  });
});

describe('copies on two computers', () => {
  /** Two copies that have both been logged into. */
  function twoCopies(): { mine: string; theirs: string } {
    const [mine, theirs] = [ledgerOf(), ledgerOf()];
    const own = log(mine, '09:00', 'wash', '4', 'model', '--by', 'NB', '--note', 'a "late" tray; é');
    log(mine, '09:40', 'reading', 'dirty', '--density', '0.795', '--temp', '21');
    log(mine, '10:10', 'amend', 'k3f9x', 'parts=5 model, 2 mask', 'drained_min=20', '--why', 'counted again');
    log(mine, '11:00', 'weighed', own, '--wet', '120 g', '--clean', '112 g');
    log(theirs, '08:30', 'wash', '3', 'splint', '--case', '007', '--by', 'TO');
    log(theirs, '09:50', 'top-up', 'dirty', '150 ml');
    log(theirs, '10:20', 'void', 'wash5', '--why', 'never washed');
    log(theirs, '10:30', 'inspect', 'ok', '--wash', 'k3f9x');
    log(theirs, '12:00', 'rotate');
    return { mine, theirs };
  }

  function send(from: string, to: string, format: string): { code: number | null; out: string; err: string } {
    const file = join(tempFolder(), `events.${format}`);
    expect(run(['export', format, '--out', file, '--ledger', from, '--as-of', NOW]).code).toBe(0);
    return run(['import', file, '--ledger', to, '--as-of', NOW, '--no-input']);
  }

  it.each(['ndjson', 'csv'])('joined by %s both ways hold the same, however often', (format) => {
    const { mine, theirs } = twoCopies();
    expect(state(mine)).not.toEqual(state(theirs));
    expect(send(theirs, mine, format).out).toContain('5 new, 5 already present, 0 rejected');
    expect(send(mine, theirs, format).out).toContain('4 new, 10 already present, 0 rejected');
    const files = [mine, theirs].map((path) => readFileSync(path, 'utf8'));
    const lines = files.map((text) => linesOf(text).sort());
    expect(lines[0]).toEqual(lines[1]);
    expect(lines[0]).toHaveLength(LINES.length + 9);
    for (const [from, to] of [
      [mine, theirs],
      [theirs, mine],
      [mine, mine],
    ] as const) {
      expect(send(from, to, format).out).toContain('0 new, 14 already present, 0 rejected');
    }
    expect([mine, theirs].map((path) => readFileSync(path, 'utf8'))).toEqual(files);
    for (const path of [mine, theirs]) expect(check(path)).toEqual(SOUND);
    expect(state(mine)).toEqual(state(theirs));
    expect(state(mine)).toEqual(state(inOrder(linesOf(files[0]!))));
  });

  it('go on apart and are joined again', () => {
    const { mine, theirs } = twoCopies();
    send(theirs, mine, 'ndjson');
    send(mine, theirs, 'ndjson');
    log(mine, '14:00', 'wash', '2', 'mask');
    log(theirs, '14:30', 'wash', '1', 'die');
    expect(send(theirs, mine, 'ndjson').out).toContain('1 new, 14 already present');
    expect(send(mine, theirs, 'ndjson').out).toContain('1 new, 15 already present');
    expect(state(mine)).toEqual(state(theirs));
    expect(linesOf(readFileSync(mine, 'utf8')).sort()).toEqual(linesOf(readFileSync(theirs, 'utf8')).sort());
  });

  it('three of them, joined in a ring', () => {
    const { mine, theirs } = twoCopies();
    const third = ledgerOf();
    log(third, '13:00', 'wash', '2', 'tray');
    const ring = [mine, theirs, third, mine, theirs];
    for (const [nth, from] of ring.slice(0, -1).entries()) send(from, ring[nth + 1]!, 'ndjson');
    const [one, two, three] = [mine, theirs, third].map((path) => linesOf(readFileSync(path, 'utf8')).sort());
    expect(one).toEqual(two);
    expect(one).toEqual(three);
    expect([state(theirs), state(third)]).toEqual([state(mine), state(mine)]);
  });

  it('the other ledger itself is not taken, and the way to is told', () => {
    const { mine, theirs } = twoCopies();
    const text = readFileSync(mine, 'utf8');
    const { code, err } = run(['import', theirs, '--ledger', mine, '--as-of', NOW]);
    expect(code).toBe(65);
    expect(err).toContain('bathbook export ndjson --ledger FILE --out events.ndjson');
    expect(readFileSync(mine, 'utf8')).toBe(text);
  });

  it('what the other ledger cannot be read for is not exported at all', () => {
    const broken = join(tempFolder(), 'bathbook.yaml');
    writeFileSync(broken, `${HEAD}${LINES.join('\n')}\n=======\n`);
    const file = join(tempFolder(), 'events.ndjson');
    const { code, err } = run(['export', 'ndjson', '--out', file, '--ledger', broken, '--as-of', NOW]);
    expect(code).toBe(65);
    expect(err).toContain('was not finished here');
    expect(existsSync(file)).toBe(false);
  });
});
