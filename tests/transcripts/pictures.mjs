// The pictures of the README, made of what the program prints: npm run pictures. Needs Chromium (CHROME_BIN, or in a usual place).
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const MOST_BYTES = 150_000;
const CLOCK = '2026-11-20T12:15:00-06:00';
const root = fileURLToPath(new URL('../..', import.meta.url));
const pictures = join(root, '.pictures');
const folder = mkdtempSync(join(tmpdir(), 'bathbook-pictures-'));
const ledger = join(folder, 'shop', 'bathbook.yaml');

const run = (...args) =>
  execFileSync(process.execPath, [join(root, 'bin', 'bathbook.js'), ...args, '--as-of', CLOCK], {
    env: { COLUMNS: '92', LANG: 'C.UTF-8', FORCE_COLOR: '1', BATHBOOK_LEDGER: ledger, HOME: folder },
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });

run('demo', 'shop', '--quiet');
run('report', '--out', 'page.html');
const browser = await chromium.launch({
  executablePath: process.env.CHROME_BIN ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
mkdirSync(pictures, { recursive: true });

const screen = await browser.newPage({ viewport: { width: 860, height: 400 } });
await screen.setContent(terminal(['bathbook wash 6 model 2 mask', 'bathbook outlook --chart | head -n 26']));
await screen.locator('main').screenshot({ path: join(pictures, 'terminal.png') });

const page = await browser.newPage({ viewport: { width: 1000, height: 866 } });
await page.goto(String(pathToFileURL(join(folder, 'page.html'))));
await page.screenshot({ path: join(pictures, 'report.png') });
await browser.close();
rmSync(folder, { recursive: true, force: true });

for (const name of ['terminal.png', 'report.png']) {
  const { size } = statSync(join(pictures, name));
  console.log(`.pictures/${name}: ${(size / 1000).toFixed(0)} kB`);
  if (size > MOST_BYTES) process.exitCode = 1;
}

/** Commands and what they print, as a terminal shows it. */
function terminal(commands) {
  const lines = commands.map((command) => {
    const [typed, most] = command.split(' | head -n ');
    const printed = run(...typed.split(' ').slice(1), '--color', 'always').split('\n');
    return `<b>$ ${command}</b>\n${inHtml(printed.slice(0, most).join('\n'))}`;
  });
  return `<style>
    body { margin: 0 }
    main { width: max-content; padding: 18px 22px; background: #fbfaf7; color: #24292e; border: 1px solid #ddd8cc }
    pre { margin: 0; font: 13px/1.35 "DejaVu Sans Mono", monospace }
    .s1 { font-weight: bold } .s2 { color: #6a6f75 } .s31 { color: #a8201a } .s32 { color: #2c6e49 } .s33 { color: #8a5a00 } .s36 { color: #1c6a80 }
  </style><main><pre>${lines.join('\n')}</pre></main>`;
}

/** Colours of the terminal as classes. */
function inHtml(text) {
  const safe = text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  let open = 0;
  const close = () => '</span>'.repeat(open);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the sign with which a terminal's colours begin
  const html = safe.replaceAll(/\u001b\[(\d+)m/g, (_, code) => {
    const isEnd = ['0', '22', '39'].includes(code);
    const before = isEnd ? close() : '';
    open = isEnd ? 0 : open + 1;
    return isEnd ? before : `<span class="s${code}">`;
  });
  return html + close();
}
