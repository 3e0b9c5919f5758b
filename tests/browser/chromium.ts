/** The browser of this computer, if it has one. */
import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const USUAL = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/lib/chromium/chromium',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** Where it is: CHROME_BIN, else a usual place. */
export const CHROMIUM = [process.env.CHROME_BIN, ...USUAL].find((path) => path && existsSync(path));

/** For the title of tests that are left out. */
export const WITHOUT =
  'left out: no Chromium in the usual places, install it (apt-get install chromium) or set CHROME_BIN to it';

/** Root may not use the sandbox of its own pages; nothing but the page under test is shown in it. */
export function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: CHROMIUM!, args: ['--no-sandbox', '--disable-gpu'] });
}
