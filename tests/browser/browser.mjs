// Debian's Chromium, driven by playwright-core; what its console says is kept.
import { createRequire } from 'node:module';
import { resolve } from 'node:path';

const require = createRequire(resolve(process.env.BROWSER_PACKAGES ?? '.', 'package.json'));
const { chromium } = require('playwright-core');
export const axeSource = require('axe-core').source;

// `clip`: the file its camera shows; none: it has a camera and no permission to use it.
export async function launch({ clip } = {}) {
  const args = ['--no-sandbox', '--autoplay-policy=no-user-gesture-required', '--use-fake-device-for-media-stream'];
  if (clip) args.push('--use-fake-ui-for-media-stream', `--use-file-for-fake-video-capture=${clip}`);
  return chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args });
}

// A page in a context of its own. Whatever its console calls an error, and whatever its scripts throw, stands in
// page.complaints.
export async function openPage(browser, station, { width = 1280, height = 800, ...more } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, baseURL: station.url, ...more });
  context.setDefaultTimeout(30000);
  const page = await context.newPage();
  page.complaints = [];
  page.on('console', (message) => { if (message.type() === 'error') page.complaints.push(message.text()); });
  page.on('pageerror', (error) => page.complaints.push(String(error)));
  return page;
}

export async function signIn(page, station) {
  await page.goto('/sign-in');
  await page.check(`input[name=operator][value="${station.lead}"]`);
  await page.fill('input[name=pin]', station.pin);
  await page.click('button.main');
  await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'));
}

// As a hand scanner does it: all characters within a tenth of a second, then Enter.
export async function scan(page, text) {
  const session = await page.context().newCDPSession(page);
  const begun = performance.now();
  const keys = [];
  for (const key of text) keys.push(session.send('Input.dispatchKeyEvent', { type: 'keyDown', key, text: key }));
  keys.push(session.send('Input.dispatchKeyEvent', { type: 'keyDown', key: 'Enter', code: 'Enter', windowsVirtualKeyCode: 13, text: '\r' }));
  await Promise.all(keys);
  await session.detach().catch(() => {});
  return performance.now() - begun;
}
