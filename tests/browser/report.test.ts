/** The page of the report in a browser: on a desk, on a telephone, in the dark, on paper, and read aloud. */
import { writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import demo from '../../data/demo.yaml';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from '../commands/bundle.ts';
import { CHROMIUM, launch, WITHOUT } from './chromium.ts';

/** Texts that would be markup, script or style if they were let. */
const HOSTILE = [
  '<script>document.title = "taken"; alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '"><svg onload=alert(1)>',
  '</li></ul></main><h1>taken</h1>',
  '</style><style>body { display: none }</style>',
  '<!-- -->&lt;b&gt; &amp;',
  '<a href="http://evil.example/">look</a> http://evil.example/',
];

const at = (minute: number) => `at: 2026-11-20T10:${String(minute).padStart(2, '0')}:00-04:00`;
const HOSTILE_LINES = [
  ...LINES,
  ...HOSTILE.map(
    (text, nth) =>
      `  - {id: "look${nth}", ${at(nth)}, what: inspect, result: sticky, by: "NB", cases: [${JSON.stringify(text)}], note: ${JSON.stringify(text)}}`,
  ),
  `  - {id: "stock9", ${at(20)}, what: stock, solvent: ipa99, received_ml: 1000, lot: ${JSON.stringify(HOSTILE[0])}}`,
  `  - {id: "amend9", ${at(21)}, what: amend, of: "k3f9x", set: {drained_min: 20}, why: ${JSON.stringify(HOSTILE[1])}}`,
];

describe.skipIf(!CHROMIUM)(CHROMIUM ? 'the page in Chromium' : WITHOUT, () => {
  let browser: Browser;
  let server: Server;
  const asked: string[] = [];
  const pages: Record<string, string> = {};
  let report: { baths: Record<string, unknown>[]; [key: string]: unknown };

  beforeAll(async () => {
    const run = runner(bundled());
    const ledger = join(tempFolder(), 'bathbook.yaml');
    writeFileSync(ledger, demo);
    const asOf = [...demo.matchAll(/\bat: ([^,]+),/g)].at(-1)![1]!;
    const html = (...args: string[]) => run(['report', '--format', 'html', ...args]).out;
    pages.sample = html('--ledger', ledger, '--as-of', asOf, '--from', '2026-11-14');
    pages.week = html('--ledger', ledger, '--as-of', asOf, '--from', '2026-10-12');
    const missing = join(tempFolder(), 'nowhere.yaml');
    const quietShop = ledgerOf(LINES, HEAD.replace('Cove Street', 'Quiet Lane'));
    const head = HEAD.replace('Cove Street Bench', JSON.stringify(`</title>${HOSTILE[0]}`));
    pages.hostile = html('--ledger', ledgerOf(HOSTILE_LINES, head), '--as-of', NOW);
    pages.quiet = html('--ledger', ledgerOf(), '--as-of', NOW);
    pages.several = html(ledger, quietShop, ledgerOf(HOSTILE_LINES, head), missing, '--as-of', asOf);
    report = JSON.parse(run(['report', '--json', '--ledger', ledger, '--as-of', asOf]).out).data;
    server = createServer((request, response) => {
      asked.push(request.url!);
      const page = pages[request.url!.slice(1)];
      response.writeHead(page ? 200 : 404, { 'content-type': 'text/html' }).end(page ?? '');
    }).listen(0, '127.0.0.1');
    browser = await launch();
  }, 60_000);

  afterAll(async () => {
    await browser?.close();
    server?.close();
  });

  /** A page open in a window of its own, and all that it said and asked for. */
  async function open<Result>(
    name: string,
    options: BrowserContextOptions,
    look: (page: Page, heard: string[]) => Promise<Result>,
  ): Promise<Result> {
    const context = await browser.newContext(options);
    const page = await context.newPage();
    const heard: string[] = [];
    page.on('console', (message) => heard.push(`console: ${message.text()}`));
    page.on('pageerror', (error) => heard.push(`error: ${error.message}`));
    page.on('dialog', (dialog) => {
      heard.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on('request', (request) => heard.push(`asks: ${new URL(request.url()).pathname}`));
    await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/${name}`);
    const result = await look(page, heard);
    await context.close();
    return result;
  }

  const PHONE = { viewport: { width: 360, height: 740 } };
  const DESK = { viewport: { width: 1280, height: 900 } };

  it.each(['sample', 'week', 'hostile', 'quiet', 'several'])(
    '%s: no errors, and nothing is asked for but the page',
    async (name) => {
      for (const options of [PHONE, DESK]) {
        const heard = await open(name, options, async (_, all) => all);
        expect(heard).toEqual([`asks: /${name}`]);
      }
      expect(asked.filter((url) => !(url.slice(1) in pages))).toEqual([]);
    },
  );

  it.each(['sample', 'week', 'hostile', 'quiet', 'several'])(
    '%s: nothing is wider than a telephone',
    async (name) => {
      const wide = await open(name, PHONE, (page) =>
        page.$eval('html', (html) => {
          for (const one of html.querySelectorAll('details')) one.open = true;
          return {
            page: html.scrollWidth,
            over: [...html.querySelectorAll('body *')]
              .filter(
                (one) => !one.closest('svg') && one.getBoundingClientRect().right > html.clientWidth + 0.5,
              )
              .map((one) => one.outerHTML.slice(0, 120)),
          };
        }),
      );
      expect(wide).toEqual({ page: 360, over: [] });
    },
  );

  it('has no words in a chart that leave it or lie on each other, on a telephone, a desk and paper', async () => {
    const look = (page: Page) =>
      page.$$eval('figure svg', (all) =>
        all.flatMap((svg) => {
          const frame = svg.getBoundingClientRect();
          const texts = [...svg.querySelectorAll('text')].map((one) => ({
            text: one.textContent,
            box: one.getBoundingClientRect(),
          }));
          const out = texts.filter(
            ({ box }) =>
              box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1,
          );
          const meet = texts.flatMap((one, place) =>
            texts
              .slice(place + 1)
              .filter(
                (other) =>
                  one.box.left < other.box.right &&
                  other.box.left < one.box.right &&
                  one.box.top + 3 < other.box.bottom - 3 &&
                  other.box.top + 3 < one.box.bottom - 3,
              )
              .map((other) => `${one.text} on ${other.text}`),
          );
          return [...out.map(({ text }) => `${text} cut`), ...meet];
        }),
      );
    for (const name of ['sample', 'quiet', 'several'])
      for (const options of [PHONE, DESK]) expect(await open(name, options, look)).toEqual([]);
    for (const width of PAPER_WIDTHS) {
      const onPaper = await open('sample', { viewport: { width, height: 900 } }, async (page) => {
        await page.emulateMedia({ media: 'print' });
        return look(page);
      });
      expect(onPaper).toEqual([]);
    }
  });

  it('says what the document for programs says', async () => {
    const text = (await open('sample', DESK, (page) => page.textContent('main')))!.replaceAll(/\s+/g, ' ');
    const rows = await open('sample', DESK, (page) =>
      page.$$eval('table.baths tbody tr', (all) =>
        all.map((row) => [...row.children].map((cell) => cell.textContent)),
      ),
    );
    const row = (label: string) => rows.find(([name]) => name?.startsWith(label))!.slice(1);
    expect(text).toContain((report.advice as { text: string }).text);
    report.baths.forEach((bath, place) => {
      expect(row('verdict')[place]).toMatch(new RegExp(`^${bath.verdict}`));
      for (const [label, key, per] of [
        ['resin', 'resin_wt_pct', 1],
        ['water', 'water_wt_pct', 1],
        ['level', 'volume_ml', 1000],
      ] as const) {
        const told = bath[key] as { p05: number; p50: number; p95: number };
        const [best, low, high] = [...row(label)[place]!.matchAll(/\d+(?:\.\d+)?/g)].map(
          ([number]) => number,
        );
        const digits = (best!.split('.')[1] ?? '').length;
        expect(digits).toBeGreaterThanOrEqual(1);
        expect([best, low, high]).toEqual(
          [told.p50, told.p05, told.p95].map((one) => (one / per).toFixed(digits)),
        );
      }
    });
  });

  it('shows hostile words as words', async () => {
    const { text, title, names, heads } = await open('hostile', DESK, async (page) => ({
      text: (await page.textContent('body'))!,
      title: await page.title(),
      names: await page.$$eval('*', (all) => [...new Set(all.map((one) => one.localName))]),
      heads: await page.$$eval('h1', (all) => all.length),
    }));
    for (const one of HOSTILE) expect(text).toContain(one);
    expect(title).toContain('</title><script>');
    expect(heads).toBe(1);
    for (const name of ['script', 'img', 'a', 'iframe', 'base']) expect(names).not.toContain(name);
  });

  it.each(['light', 'dark'] as const)(
    'every word stands out from its ground by 4.5 to 1, %s',
    async (colorScheme) => {
      for (const name of ['sample', 'hostile', 'several']) {
        const found = await open(name, { ...DESK, colorScheme }, contrasts);
        expect(found.length).toBeGreaterThan(60);
        expect(found.filter(({ ratio }) => ratio < 4.5)).toEqual([]);
        const [ground] = found;
        expect(ground!.isDark).toBe(colorScheme === 'dark');
      }
    },
  );

  it.each([
    ['A4', 210, 297],
    ['Letter', 215.9, 279.4],
  ] as const)(
    'prints on %s: a few sheets, nothing wider or higher than a sheet, nothing behind the words',
    async (format, wideMm, highMm) => {
      const [width, height] = [wideMm, highMm].map((mm) => Math.floor(((mm - 2 * MARGIN_MM) * 96) / 25.4));
      const { pdf, boxes, scroll, ground } = await open(
        'sample',
        { viewport: { width: width!, height: height! } },
        async (page) => {
          await page.emulateMedia({ media: 'print' });
          return {
            pdf: (await page.pdf({ format, printBackground: true })).toString('latin1'),
            scroll: await page.$eval('html', (html) => html.scrollWidth),
            ground: await page.$eval(
              'body',
              (body) => body.ownerDocument.defaultView!.getComputedStyle(body).backgroundColor,
            ),
            boxes: await page.$$eval('figure, table, section:not(.wide)', (all) =>
              all.map((one) => ({
                height: one.getBoundingClientRect().height,
                inside: one.ownerDocument.defaultView!.getComputedStyle(one).breakInside,
              })),
            ),
          };
        },
      );
      expect(pdf.startsWith('%PDF')).toBe(true);
      const sheets = [...pdf.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length;
      expect(sheets).toBeGreaterThanOrEqual(2);
      expect(sheets).toBeLessThanOrEqual(3);
      expect(scroll).toBe(width);
      expect(ground).toBe('rgba(0, 0, 0, 0)');
      const shown = boxes.filter((box) => box.height > 0);
      expect(shown.length).toBeGreaterThan(10);
      for (const box of shown) {
        expect(box.inside).toBe('avoid');
        expect(box.height).toBeLessThan(height!);
      }
    },
  );

  it('can be followed without seeing it: headings in order, tables with heads, charts with words', async () => {
    const { tree, levels, tables } = await open('sample', DESK, async (page) => {
      await page.$$eval('details', (all) =>
        all.forEach((one) => {
          one.open = true;
        }),
      );
      return {
        tree: await page.locator('body').ariaSnapshot(),
        levels: await page.$$eval('h1, h2, h3, h4, h5, h6', (all) =>
          all.map((one) => Number(one.localName[1])),
        ),
        tables: await page.$$eval('table', (all) =>
          all.map((table) => ({
            caption: table.caption?.textContent ?? '',
            heads: [...table.querySelectorAll('th')].every((head) => head.scope),
            rows: table.rows.length,
          })),
        ),
      };
    });
    expect(levels[0]).toBe(1);
    levels.slice(1).forEach((level, place) => {
      expect(level).toBeLessThanOrEqual(levels[place]! + 1);
      expect(level).toBeGreaterThan(1);
    });
    expect(tables).toHaveLength(4);
    for (const table of tables) {
      expect(table.caption).not.toBe('');
      expect(table.heads).toBe(true);
      expect(table.rows).toBeGreaterThan(5);
    }
    expect(tree).toMatch(/- heading "Kettle Lane Models report of [^"]*" \[level=1\]/);
    expect(tree).toContain('- heading "Baths" [level=2]');
    for (const title of [
      'Resin in the dirty bath',
      'Water in the clean bath',
      'Residue on the parts',
      'Washes a day',
    ])
      expect(tree).toMatch(new RegExp(`- '?img "${title}`));
    expect([...tree.matchAll(/^\s*- figure/gm)]).toHaveLength(6);
    expect(tree).toMatch(/- columnheader "dirty"/i);
    expect(tree).toMatch(/- rowheader "resin, wt%"/i);
  });
});

/** As `@page` of the style has it. */
const MARGIN_MM = 12;
const PAPER_WIDTHS = [210, 215.9].map((mm) => Math.floor(((mm - 2 * MARGIN_MM) * 96) / 25.4));

/** Contrast by WCAG 2.2, 1.4.3, of every piece of text that is shown. */
function contrasts(page: Page): Promise<{ text: string; ratio: number; isDark: boolean }[]> {
  return page.$eval('body', (body) => {
    for (const one of body.querySelectorAll('details')) one.open = true;
    const view = body.ownerDocument.defaultView!;
    const parts = (colour: string) => colour.match(/[\d.]+/g)!.map(Number);
    const luminance = (colour: string) => {
      const [red, green, blue] = parts(colour)
        .slice(0, 3)
        .map((one) => one / 255)
        .map((one) => (one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4)) as [
        number,
        number,
        number,
      ];
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const ground = luminance(view.getComputedStyle(body).backgroundColor);
    const found: { text: string; ratio: number; isDark: boolean }[] = [];
    const walker = body.ownerDocument.createTreeWalker(body, view.NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const element = node.parentElement!;
      if (!node.textContent!.trim() || element.closest('title, desc')) continue;
      const { color, fill } = view.getComputedStyle(element);
      const ink = luminance(element.closest('svg') ? fill : color);
      const [high, low] = [Math.max(ink, ground), Math.min(ink, ground)];
      found.push({
        text: node.textContent!.slice(0, 40),
        ratio: (high + 0.05) / (low + 0.05),
        isDark: ground < 0.2,
      });
    }
    return found;
  });
}
