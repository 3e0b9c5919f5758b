/** What `inspect` does not take, and texts that would steer a terminal. */
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, line } from './stock-bench.ts';

const main = bundled();
const bench = benchOf(main, [
  ...FILLS,
  line('wash1', '2026-11-16T09:00', 'wash, parts: {model: 6}, cases: ["26-0411"]'),
  line('wash2', '2026-11-17T09:00', 'wash, parts: {model: 4, mask: 2}, cases: ["26-0412"]'),
  line('wash3', '2026-11-18T09:00', 'wash, parts: {model: 1}'),
  line('void3', '2026-11-18T10:00', 'void, of: "wash3", why: "entered twice"'),
]);
const before = bench.text();

describe('what cannot be', () => {
  it.each([
    [['stickey'], 'Cannot log the look "stickey"', 'Did you mean "sticky"?'],
    [['tacky'], 'Cannot log the look "tacky"', 'ok, sticky, cloudy, soft, cracked, residue'],
    [['ok', 'wash9'], 'a wash with the id "wash9"', 'Did you mean "wash'],
    [['ok', 'fild1'], 'that entry is a fill', ''],
    [['ok', 'wash3'], 'it no longer counts since the void "void3"', ''],
    [['ok', 'wash2', '--at', '2026-11-16 12:00'], 'its wash "wash2" was later', '--at'],
    [['ok', '--at', '2026-11-01 12:00'], 'no wash was logged before it', '--wash none'],
    [['ok', '--case', '26-0499'], 'names the case "26-0499"', 'Did you mean "26-04'],
    [['ok', 'wash1', '--case', '26-0412'], 'it does not name that case', ''],
    [['ok', '--wash', 'none', '--case', '26-0412'], 'with no wash', ''],
    [['ok', 'wash1', '--wash', 'wash2'], 'both "wash1" and --wash wash2', ''],
    [['ok', 'wash2', '--parts', '2'], 'the wash had model, mask', '--parts "2 model"'],
    [['ok', 'wash2', '--parts', '3 mask'], 'Cannot log 3 mask, the wash had 2', '4 model, 2 mask'],
    [['ok', 'wash1', '--parts', 'many'], '--parts "many"', ''],
    [['ok', '--last', '3'], '--last with a result', ''],
    [['--wash', 'wash1'], '--wash with bathbook inspect', '"inspect ok"'],
    [['--last', '0'], '--last "0"', ''],
  ])('inspect %j is refused with 64, and nothing is written', (args, message, help) => {
    const { code, err, out } = bench.say('inspect', ...args);
    expect(code).toBe(64);
    expect(out).toBe('');
    expect(err).toContain(message);
    expect(err).toContain(help);
    expect(bench.text()).toBe(before);
  });
});

describe('hostile texts', () => {
  it('reach no terminal as they are', () => {
    const own = benchOf(main, [
      ...FILLS,
      line('wash1', '2026-11-16T09:00', 'wash, parts: {model: 6}, cases: ["c\\u001b[2J\\u202e1"]'),
      line(
        'look1',
        '2026-11-16T12:00',
        'inspect, wash: "wash1", result: sticky, cases: ["c\\u001b[2J\\u202e1"], note: "\\u001b[31m"',
      ),
    ]);
    const shown = own.say('inspect').out + own.say('inspect', 'ok', '--case', 'c\u001b[2J\u202e1').out;
    expect(shown).toContain('wash1');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
    expect(shown).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u202e]/);
  });
});
