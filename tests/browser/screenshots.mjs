// Pictures of the station for the README: node screenshots.mjs FOLDER, with the environment of the browser tests
// (LOADLIGHT, BROWSER_PACKAGES). The demo office is made anew, so ids and dates differ from run to run.
import { join } from 'node:path';
import { launch, openPage, signIn } from './browser.mjs';
import { DemoStation } from './station.mjs';

const [folder] = process.argv.slice(2);

const PICTURES = [
  { name: 'today', path: '/' },
  { name: 'pack', path: '/pack', before: chooseWhatIsPacked },
  { name: 'load', path: (cases) => `/loads/${cases.quarantined.load}` },
  { name: 'check', path: '/check', before: (page, cases) => checkText(page, cases.clear.payload) },
  { name: 'check-telephone', path: '/check', size: [390, 844], before: (page, cases) => checkText(page, cases.recalled.payload) },
  { name: 'open', path: (cases) => `/packages/${cases.clear.package}/open` },
  { name: 'shelf', path: '/shelf' },
  { name: 'recall', path: '/recall' },
  { name: 'records', path: '/records?search=EXAM' },
  { name: 'set-up', path: '/set-up', dark: true },
];

async function chooseWhatIsPacked(page) {
  await page.click('input[name=contents] >> nth=0');
  await page.click('input[name=kind] >> nth=1');
  await page.waitForTimeout(1500);  // steps and preview are drawn
  await page.evaluate(() => scrollTo(0, 140));
}

async function checkText(page, text) {
  await page.fill('input[name=text]', text);
  await page.press('input[name=text]', 'Enter');
  await page.waitForSelector('.verdict');
}

const station = await new DemoStation().start();
const browser = await launch();
try {
  for (const { name, path, before, size = [1280, 800], dark } of PICTURES) {
    const page = await openPage(browser, station, { width: size[0], height: size[1], colorScheme: dark ? 'dark' : 'light' });
    await signIn(page, station);
    await page.goto(typeof path === 'function' ? path(station.cases) : path);
    await before?.(page, station.cases);
    await page.waitForTimeout(300);
    await page.screenshot({ path: join(folder, `station-${name}.png`) });
    await page.context().close();
  }
} finally {
  await browser.close();
  await station.close();
}
