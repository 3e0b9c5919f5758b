/** The wash record in a browser and on paper. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import demo from '../../data/demo.yaml';
import { bundled, LINES, ledgerOf, NOW, runner, tempFolder } from '../commands/bundle.ts';
import { CHROMIUM, launch, WITHOUT } from './chromium.ts';

const LONG = 'x'.repeat(60);
const HOSTILE = [
  ...LINES.slice(0, 2),
  ...[1, 2].map(
    (nth) =>
      `  - {id: "${nth}${LONG}", at: 2026-11-17T1${nth}:20:00-04:00, what: wash, parts: {model: 6}, cases: ["<img src=x onerror=alert(1)>", "${LONG}"], lot: "${LONG}", by: "<script>alert(1)</script>", note: "${LONG}"}`,
  ),
];
/** Between the margins of `@page` in the style, in CSS pixels of 1/96 inch. */
const SHEETS = [
  ['A4', 210, 297],
  ['Letter', 215.9, 279.4],
] as const;
const MARGIN_MM = { sides: 28, ends: 28 };

describe.skipIf(!CHROMIUM)(CHROMIUM ? 'the wash record in Chromium' : WITHOUT, () => {
  let browser: Browser;
  const paths: Record<string, string> = {};

  beforeAll(async () => {
    const run = runner(bundled());
    const folder = tempFolder();
    const ledger = join(folder, 'bathbook.yaml');
    writeFileSync(ledger, demo);
    const make = (name: string, ...args: string[]) => {
      paths[name] = join(folder, `${name}.html`);
      expect(run(['export', 'html', '--out', paths[name], ...args]).code).toBe(0);
    };
    make('one', '--ledger', ledger, '--case', '26-0463');
    make('week', '--ledger', ledger, '--from', '2026-10-19', '--to', '2026-10-22');
    make('hostile', '--ledger', ledgerOf(HOSTILE), '--as-of', NOW);
    browser = await launch();
  }, 30_000);

  afterAll(async () => {
    await browser?.close();
  });

  async function open<Result>(
    name: string,
    viewport: { width: number; height: number },
    look: (page: Page) => Promise<Result>,
  ): Promise<{ result: Result; heard: string[] }> {
    const context = await browser.newContext({ viewport, colorScheme: 'dark' });
    const page = await context.newPage();
    const heard: string[] = [];
    page.on('console', (message) => heard.push(message.text()));
    page.on('dialog', (dialog) => {
      heard.push(dialog.message());
      void dialog.dismiss();
    });
    page.on('request', (request) => heard.push(request.url().split('/').at(-1)!));
    await page.goto(`file://${paths[name]}`);
    const result = await look(page);
    await context.close();
    return { result, heard };
  }

  it.each(['one', 'week', 'hostile'])('%s: asks for nothing, fits a telephone and a desk', async (name) => {
    for (const width of [360, 1100]) {
      const { result, heard } = await open(name, { width, height: 800 }, (page) =>
        page.$eval('html', (html) => html.scrollWidth),
      );
      expect(result).toBe(width);
      expect(heard).toEqual([`${name}.html`]);
    }
  });

  it('is black on white, in the dark as well', async () => {
    const { result } = await open('one', { width: 800, height: 800 }, (page) =>
      page.$eval('body', (body) => {
        const { color, backgroundColor } = body.ownerDocument.defaultView!.getComputedStyle(body);
        return [color, backgroundColor];
      }),
    );
    expect(result).toEqual(['rgb(17, 17, 17)', 'rgb(255, 255, 255)']);
  });

  it.each(SHEETS)(
    'on %s a wash stays on one sheet, and one alone is one sheet',
    async (format, wide, high) => {
      const size = (mm: number) => Math.floor((mm * 96) / 25.4);
      const viewport = { width: size(wide - MARGIN_MM.sides), height: size(high - MARGIN_MM.ends) };
      for (const name of ['one', 'week']) {
        const { result } = await open(name, viewport, async (page) => {
          await page.emulateMedia({ media: 'print' });
          const washes = await page.$$eval('section[aria-labelledby]', (all) =>
            all.map((one) => ({
              height: one.getBoundingClientRect().height,
              inside: one.ownerDocument.defaultView!.getComputedStyle(one).breakInside,
            })),
          );
          const wider = await page.$eval('html', (html) => html.scrollWidth - html.clientWidth);
          const over = await page.$$eval('td, th, dd, dt', (all) =>
            all.filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.textContent),
          );
          return { washes, wider, over, pdf: (await page.pdf({ format })).toString('latin1') };
        });
        const sheets = [...result.pdf.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length;
        expect(result.wider).toBe(0);
        expect(result.over).toEqual([]);
        expect(result.washes.length).toBeGreaterThan(name === 'one' ? 0 : 9);
        for (const { height, inside } of result.washes) {
          expect(height).toBeLessThan(viewport.height);
          expect(inside).toBe('avoid');
        }
        if (name === 'one') expect(sheets).toBe(1);
        else expect(sheets).toBeLessThanOrEqual(result.washes.length + 1);
      }
    },
  );
});
