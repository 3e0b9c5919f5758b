/** `report --format html` of several ledgers: all shops first, then the report of each as it is alone, and no ledger that hides another. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { parse } from 'parse5';
import { describe, expect, it } from 'vitest';
import { all, attribute, chartsOf, textOf } from '../render/chart-reader.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';
import { broken, empty, heavy, missing, quiet, soon, zoneless } from './many-shops.ts';

const run = runner(bundled());
const report = (...args: string[]) => run(['report', ...args, '--as-of', NOW], { env: { TZ: 'Asia/Tokyo' } });
const html = (...args: string[]) => report(...args, '--format', 'html');

const elements = (page: string, fits: (element: ReturnType<typeof all>[number]) => boolean) =>
  all(parse(page) as never, fits);
const named = (page: string, name: string) => elements(page, ({ tagName }) => tagName === name);
const words = (text: string) => text.replaceAll(/[\s\u00a0]+/g, ' ').trim();

const LEDGERS = [quiet, broken, heavy, missing, zoneless, soon, empty];
const READ = LEDGERS.filter((ledger) => ![broken, missing].includes(ledger));
const { code, out: page, err } = html(...LEDGERS);
const documents = JSON.parse(report(...LEDGERS, '--json').out).data.ledgers as {
  shop: string | null;
  problems: { message: string; line?: number }[];
  data: {
    baths: { bath: string; verdict: string; resin_wt_pct: { p50: number } | null }[];
    advice: { text: string };
    due: { text: string }[];
  } | null;
}[];

describe('the table of all shops', () => {
  const [table] = named(page, 'table');
  const groups = all(table!, ({ tagName }) => tagName === 'tbody');
  const told = groups.map((group) => words(textOf(group)));

  it('has each shop in the order typed, and says which could not be read, and why', () => {
    expect(groups).toHaveLength(LEDGERS.length);
    documents.forEach(({ shop, problems }, place) => {
      if (shop !== null) expect(told[place]!.startsWith(shop)).toBe(true);
      else {
        expect(told[place]).toContain(`${LEDGERS[place]} not read`);
        expect(told[place]).toContain(words(problems[0]!.message));
      }
    });
    expect(told[1]).toContain('line 9');
  });

  it('has state, verdict, advice and what is due, as the document for programs has them', () => {
    let due = 0;
    documents.forEach(({ data }, place) => {
      if (!data) return;
      const rows = all(groups[place]!, ({ tagName }) => tagName === 'tr').map((row) => words(textOf(row)));
      data.baths.forEach(({ bath, verdict, resin_wt_pct: resin }, nth) => {
        expect(rows[nth + 1]).toMatch(new RegExp(`^${bath} ?${verdict}`));
        // "1.59 (1.29–2.10)": the best estimate, to the digits that are shown.
        const shown = /(\d+\.(\d+))/.exec(rows[nth + 1]!);
        if (resin) expect(resin.p50.toFixed(shown![2]!.length)).toBe(shown![1]);
      });
      expect(told[place]).toContain(words(data.advice.text));
      for (const { text } of data.due) expect(told[place]).toContain(words(text));
      due += data.due.length;
    });
    expect(due).toBeGreaterThan(1);
    expect(told.at(-1)).toContain('not judged');
  });

  it('leads to the report of each', () => {
    const links = named(page, 'a').map((link) => attribute(link, 'href')!.slice(1));
    expect(links).toEqual(named(page, 'article').map((article) => attribute(article, 'id')));
    expect(links).toHaveLength(READ.length);
  });
});

describe('the report of each shop', () => {
  const articles = named(page, 'article');
  const charts = chartsOf(page);

  it.each(READ.map((ledger, nth) => [ledger, nth] as const))(
    '%s says word for word what it says alone, in the time of its shop',
    (ledger, nth) => {
      const alone = html(ledger).out;
      const own = words(textOf(named(alone, 'main')[0]!));
      expect(own.length).toBeGreaterThan(300);
      expect(words(textOf(articles[nth]!))).toContain(own);
      const id = attribute(articles[nth]!, 'id')!;
      for (const [name, chart] of chartsOf(alone)) {
        const here = charts.get(`${id}-${name}`)!;
        for (const curve of ['best', 'band', 'best-ahead', 'dots'])
          expect(here.curve(curve)).toEqual(chart.curve(curve));
        expect(here.limits()).toEqual(chart.limits());
      }
    },
  );
});

describe('the page', () => {
  const validate = new HtmlValidate({
    extends: ['html-validate:recommended'],
    rules: {
      'doctype-style': ['error', { style: 'lowercase' }],
      'long-title': 'off',
      'no-trailing-whitespace': 'off',
    },
  });

  it('is valid, and every name in it is there once', async () => {
    const { results } = await validate.validateString(page);
    expect(results.flatMap(({ messages }) => messages.map(({ message }) => message))).toEqual([]);
    const ids = elements(page, (one) => attribute(one, 'id') !== undefined).map((one) =>
      attribute(one, 'id'),
    );
    expect(new Set(ids).size).toBe(ids.length);
    const asked = [...page.matchAll(/(?:aria-(?:labelled|described)by="|url\(#|href="#)([^")]+)/g)].flatMap(
      ([, text]) => text!.split(' '),
    );
    expect(asked.length).toBeGreaterThan(20);
    for (const name of asked) expect(ids).toContain(name);
  });

  it('has its titles in order, one of them the first', () => {
    const levels = elements(page, ({ tagName }) => /^h\d$/.test(tagName)).map(({ tagName }) =>
      Number(tagName[1]),
    );
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    levels.slice(1).forEach((level, place) => {
      expect(level).toBeLessThanOrEqual(levels[place]! + 1);
    });
  });

  it('loads nothing and runs nothing', () => {
    for (const name of ['script', 'img', 'iframe', 'link', 'object']) expect(named(page, name)).toEqual([]);
    for (const link of named(page, 'a')) expect(attribute(link, 'href')).toMatch(/^#shop-\d+$/);
  });

  it('tells the problems beside it, and ends with the code of the worst', () => {
    expect(code).toBe(66);
    expect(err).toContain(`${broken}:9:`);
    expect(html(quiet, broken).code).toBe(65);
    expect(html(quiet, heavy)).toMatchObject({ code: 0, err: '' });
  });

  it('shows all that could be told when none can be read', () => {
    const { out, code: failed } = html(broken, missing);
    expect(failed).toBe(66);
    expect(named(out, 'strong').map((one) => words(textOf(one)))).toEqual(['not read', 'not read']);
  });

  it('tells shops of one name apart by their files', () => {
    const [one, other] = [ledgerOf(), ledgerOf()];
    const { out } = html(one, other);
    expect(named(out, 'article').map((article) => words(textOf(article)).split(' report of')[0])).toEqual([
      one,
      other,
    ]);
  });

  it('shows a hostile name as a name', () => {
    const name = '"><script>alert(1)</script></th>';
    const { out } = html(ledgerOf(LINES, HEAD.replace('Cove Street Bench', JSON.stringify(name))), quiet);
    expect(named(out, 'script')).toEqual([]);
    expect(textOf(named(out, 'h2')[1]!)).toContain(name);
    expect(textOf(named(out, 'table')[0]!)).toContain(name);
  });

  it('is written by the ending of the file', () => {
    const out = join(tempFolder(), 'shops.html');
    const { code: done, out: printed, err: note } = report(quiet, heavy, '--out', out);
    expect({ done, printed, note }).toEqual({ done: 0, printed: '', note: `Written to ${out}\n` });
    expect(readFileSync(out, 'utf8')).toBe(html(quiet, heavy).out);
  });
});

describe('what is due, in text and Markdown', () => {
  const due = documents.flatMap(({ data, shop }) => (data?.due ?? []).map(({ text }) => `${shop}: ${text}`));

  it('stands before the pages, a line a matter, with its shop', () => {
    const [head] = report(...LEDGERS).out.split(/\n-{80}\n/);
    for (const line of due) expect(words(head!)).toContain(`- ${words(line)}`);
    const [before] = report(...LEDGERS, '--format', 'markdown').out.split('\n## Quiet Lane, report');
    const list = before!.split('## Due\n\n')[1]!.split('\n\n')[0]!;
    const plain = list
      .replaceAll('\\', '')
      .split('\n')
      .map((line) => line.slice(2));
    expect(plain.filter((line) => !line.includes('not judged'))).toEqual(due);
    expect(plain).toHaveLength(due.length + 1);
  });
});
