/**
 * Every output of the shipped program, on a ledger in which each text that people choose is hostile, and whose file is named so:
 * nothing steers a terminal, nothing becomes markup, a formula, a row or a line of its own, and nothing is lost that a program reads.
 */
import { execFile } from 'node:child_process';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { beforeAll, describe, expect, it } from 'vitest';
import { bundled, tempFolder } from '../commands/bundle.ts';
import { readCalendar } from '../render/icalendar-rules.ts';
import { readOpenMetrics, readTextMetrics } from '../render/openmetrics-grammar.ts';
import { asItIs, HOSTILE, harmless, ledgerWith } from './hostile.ts';
import { markupOf } from './markup.ts';

const main = bundled();
const folder = tempFolder();
/** A name that a file may have. */
const NAME = 'a\u001b]0;fz\u0007\u202eb\u009b2J "$(fz)" `fz` \'<fz>.yaml';
const NOW = '2026-10-30T12:00:00-03:00';

/** For people: text, on a terminal or in a pipe. */
const TEXT = [
  ['baths'],
  ['baths', '--color', 'always'],
  ['due', '--color', 'always'],
  ['outlook', '--color', 'always'],
  ['report', '--format', 'text', '--color', 'always', '--from', '2026-10-01'],
  ['entries', '--color', 'always'],
  ['entries', '--states'],
  ['stock', '--color', 'always'],
  ['waste', '--color', 'always'],
  ['waste', 'label', HOSTILE['a script']],
  ['vapour'],
  ['inspect', '--color', 'always'],
  ['calibrate'],
  ['compare'],
  ['explain', 'resin'],
  ['cron'],
  ['cron', '--systemd'],
  ['check', '--strict'],
  ['doctor'],
  ['undo', '--no-such'],
  [
    'wash',
    '2',
    'model',
    '--note',
    HOSTILE['clipboard, OSC 52'],
    '--no-such',
    HOSTILE['the direction of writing'],
  ],
  ['wash', HOSTILE['a link, OSC 8']],
  ['fill', HOSTILE['CSI of the upper half, C1'], '4 L', 'ipa99'],
  ['void', HOSTILE['title of the window, OSC 0']],
  ['import', HOSTILE['colour and clearing, CSI']],
  [HOSTILE['what is asked of the terminal, DA and DSR']],
];

const JSON_DOCUMENTS = [
  'baths',
  'due',
  'outlook',
  'report',
  'entries',
  'stock',
  'waste',
  'vapour',
  'inspect',
  'calibrate',
  'check',
  'doctor',
].map((command) => [command, ...(command === 'report' ? ['--from', '2026-10-01'] : []), '--json']);

const FOR_PROGRAMS = [
  ['export', 'csv'],
  ['export', 'csv', '--what', 'washes'],
  ['export', 'csv', '--what', 'states'],
  ['export', 'ndjson'],
  ['export', 'ics'],
  ['export', 'openmetrics'],
  ['export', 'prometheus'],
];

const PAGES = [
  ['report', '--format', 'html', '--from', '2026-10-01'],
  ['export', 'html'],
];
const MARKDOWN = ['report', '--format', 'markdown', '--from', '2026-10-01'];

interface Said {
  code: number;
  out: string;
  err: string;
}

const said = new Map<string, Said>();
const keyOf = (args: readonly string[], ledger = 'hostile') => `${ledger} ${JSON.stringify(args)}`;
const of = (args: readonly string[], ledger?: string): Said => said.get(keyOf(args, ledger))!;

function run(args: readonly string[], path: string): Promise<Said> {
  const all = [main, ...args, '--ledger', path, '--as-of', NOW, '--no-input'];
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      all,
      { env: { HOME: folder }, cwd: folder, maxBuffer: 2 ** 26 },
      (error, out, err) => resolve({ code: Number(error?.code ?? 0), out, err }),
    );
  });
}

beforeAll(async () => {
  const shop = join(folder, 'shop');
  mkdirSync(shop);
  writeFileSync(join(shop, NAME), ledgerWith(asItIs));
  writeFileSync(join(shop, 'fine.yaml'), ledgerWith(harmless));
  const left = [
    ...[...TEXT, ...JSON_DOCUMENTS, ...FOR_PROGRAMS, ...PAGES, MARKDOWN].map((args) => ({
      args,
      ledger: 'hostile',
      path: join(shop, NAME),
    })),
    ...[...PAGES, MARKDOWN].map((args) => ({ args, ledger: 'harmless', path: join(shop, 'fine.yaml') })),
  ];
  const work = async () => {
    for (let one = left.pop(); one; one = left.pop())
      said.set(keyOf(one.args, one.ledger), await run(one.args, one.path));
  };
  await Promise.all([work(), work(), work()]);
}, 240_000);

/** Control characters, separators of lines, what turns the direction of writing, signs without width. */
const STEERS = /[^\P{Cc}\n\t]|[\p{Bidi_Control}\u2028\u2029\u200b\u2060\ufeff\u{e0000}-\u{e007f}]/u;
const COLOUR = new RegExp(`${'\\x1b'}\\[\\d*(?:;\\d+)*m`, 'g');

describe('a terminal', () => {
  it.each([...TEXT, ...JSON_DOCUMENTS, MARKDOWN, ...PAGES])('is not steered by %s %s %s %s', (...args) => {
    const { out, err, code } = of(args.filter((arg) => arg !== undefined));
    expect(code).not.toBe(70);
    expect(out + err).not.toBe('');
    for (const text of [out, err]) {
      const plain = args.includes('always') ? text.replaceAll(COLOUR, '') : text;
      expect(STEERS.exec(plain)?.input.slice(0, 300)).toBeUndefined();
    }
  });

  it.each(FOR_PROGRAMS)('is told nothing that steers it by what %s %s says beside its data', (...args) => {
    expect(STEERS.exec(of(args).err)).toBeNull();
  });

  it('is given the colours of the program and of nobody else', () => {
    const { out } = of(['entries', '--color', 'always']);
    expect(out).toContain('[31mfz');
    expect(out).not.toContain('\u001b[31mfz');
  });
});

describe('JSON', () => {
  it.each(JSON_DOCUMENTS)('of %s is one document', (...args) => {
    expect(JSON.parse(of(args).out)).toHaveProperty('data');
  });

  it('says every text as it stands in the ledger', () => {
    const { data } = JSON.parse(of(['entries', '--json']).out) as { data: unknown };
    const texts = new Set<unknown>();
    JSON.stringify(data, (_, value: unknown) => {
      texts.add(value);
      return value;
    });
    for (const text of Object.values(HOSTILE)) expect(texts).toContain(text);
  });

  it('of events, a line each, gives back every event', () => {
    const lines = of(['export', 'ndjson']).out.trimEnd().split('\n');
    const notes = lines.map((line) => (JSON.parse(line) as { note?: string }).note);
    for (const text of Object.values(HOSTILE)) expect(notes).toContain(text);
  });
});

describe('a spreadsheet', () => {
  const csv = FOR_PROGRAMS.filter(([, format]) => format === 'csv');

  it.each(csv)('finds no formula in %s %s %s %s', (...args) => {
    const { data, errors } = Papa.parse<string[]>(of(args.filter(Boolean)).out, { skipEmptyLines: true });
    expect(errors).toEqual([]);
    expect(data.length).toBeGreaterThan(2);
    expect(data.filter((row) => row.length !== data[0]!.length)).toEqual([]);
    const formulas = data
      .flat()
      .filter((cell) => /^[=+\-@\t\r\n＝＋－＠]/u.test(cell) && !/^-?\d+(?:\.\d+)?$/.test(cell));
    expect(formulas).toEqual([]);
  });

  it('finds every text, a formula behind an apostrophe', () => {
    const { data } = Papa.parse<Record<string, string>>(of(['export', 'csv']).out, { header: true });
    const notes = data.map(({ note }) => note);
    for (const text of Object.values(HOSTILE)) {
      expect(notes).toContain(/^[=+\-@\t\r\n]/.test(text) ? `'${text}` : Buffer.from(text).toString());
    }
  });
});

describe('a page', () => {
  it.each(PAGES)(
    'of %s %s %s has the elements and attributes of one without hostile texts, and no others',
    (...args) => {
      const given = args.filter(Boolean);
      const [hostile, fine] = [of(given), of(given, 'harmless')].map(({ out }) => markupOf(out));
      expect(hostile!.elements.get('td') ?? hostile!.elements.get('dd')).toBeGreaterThan(20);
      for (const [name, count] of fine!.elements) {
        if (name === 'script' || name === 'style') expect(hostile!.elements.get(name), name).toBe(count);
      }
      expect([...hostile!.elements.keys()].filter((name) => !fine!.elements.has(name))).toEqual([]);
      expect([...hostile!.attributes].filter((name) => !fine!.attributes.has(name))).toEqual([]);
      expect(hostile!.bodies).toEqual(fine!.bodies);
      expect(hostile!.links.filter((link) => /fz|script:/i.test(link))).toEqual([]);
    },
  );
});

describe('Markdown', () => {
  it('has the headings and the tables of a report without hostile texts', () => {
    const shape = (text: string) =>
      text
        .split('\n')
        .filter((line) => /^(?:#|\|)/.test(line))
        .map((line) =>
          line.startsWith('#') ? /^#+/.exec(line)![0] : line.replaceAll(/\\[\s\S]/g, '').split('|').length,
        );
    const [hostile, fine] = [of(MARKDOWN), of(MARKDOWN, 'harmless')].map(({ out }) => out);
    expect(shape(hostile!)).toEqual(shape(fine!));
  });

  it('has no markup of others', () => {
    const bare = of(MARKDOWN)
      .out.replaceAll(/\\[\s\S]/g, '')
      .replaceAll(/&[a-z]+;|&#x?\w+;/g, '');
    expect(bare).toContain('fz');
    for (const mark of ['<fz', '<script', '<img', '<svg', '<https:', '](', '`fz`', '*fz', '~~fz', '<!--'])
      expect(bare).not.toContain(mark);
  });
});

describe('a reader of the format', () => {
  const linesOf = (text: string) => text.split(/\r\n|\n/);

  it('finds the calendar whole, and no event of others', () => {
    const { out } = of(['export', 'ics']);
    expect(() => readCalendar(out)).not.toThrow();
    expect(linesOf(out).filter((line) => line.startsWith('SUMMARY:fz'))).toEqual([]);
  });

  it('finds the metrics whole, and none of others', () => {
    const { out } = of(['export', 'openmetrics']);
    expect(() => readOpenMetrics(out)).not.toThrow();
    expect(linesOf(out).filter((line) => line.startsWith('fz'))).toEqual([]);
    const { out: older } = of(['export', 'prometheus']);
    expect(() => readTextMetrics(older)).not.toThrow();
    expect(linesOf(older).filter((line) => line.startsWith('fz'))).toEqual([]);
  });
});

describe('the disk', () => {
  it('has no file that a text could have made', () => {
    expect(readdirSync(join(folder, 'shop')).sort()).toEqual([NAME, 'fine.yaml'].sort());
    expect(readdirSync(folder).filter((name) => name.includes('fz'))).toEqual([]);
  });
});
