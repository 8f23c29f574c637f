// Every page that links lead to: axe-core finds nothing in light and dark, nothing runs out of a phone or of a
// window at 200 %, fingers in gloves find their targets, and the console is silent.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axeSource, launch, openPage, signIn } from './browser.mjs';
import { DemoStation } from './station.mjs';

const MOST_PAGES = 60;
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const PHONE = { width: 390, height: 844 };
const TWICE = { width: 640, height: 400 };  // 1280 x 800 at 200 %
const SMALLEST = 48;                        // pixels of a target

let station;
let browser;
let paths;
before(async () => {
  station = await new DemoStation().start();
  browser = await launch();
  paths = await pagesFound();
});
after(async () => {
  await browser.close();
  await station.close();
});

// Pages that differ by an id alone look alike: one of each kind is enough.
const kindOf = (path) => path.split('?')[0].split('/').map((part) => (/[0-9A-Z]/.test(part) ? '{}' : part)).join('/');

async function linksOf(page) {
  return page.locator('a[href]').evaluateAll((links) => links.filter((link) => link.origin === location.origin &&
    !link.hasAttribute('download') && !link.target).map((link) => link.pathname + link.search));
}

async function visited(page, path) {
  const answer = await page.goto(path, { waitUntil: 'load' }).catch((error) => {
    if (/Download is starting|ERR_ABORTED/.test(String(error))) return null;  // a file, no page
    throw error;
  });
  return answer?.status() === 200 && answer.headers()['content-type']?.startsWith('text/html');
}

// Breadth first from Today, signed in as the lead.
async function pagesFound() {
  const page = await openPage(browser, station);
  await signIn(page, station);
  const kinds = new Set(['/language', '/static/{}']);
  const { clear } = station.cases;
  const waiting = ['/', '/check', '/sign-in', `/packages/${clear.package}`, `/packages/${clear.package}/open`, `/loads/${clear.load}`];
  const found = [];
  while (waiting.length > 0 && found.length < MOST_PAGES) {
    const path = waiting.shift();
    if (kinds.has(kindOf(path))) continue;
    kinds.add(kindOf(path));
    if (!await visited(page, path)) continue;
    found.push(path);
    waiting.push(...await linksOf(page));
  }
  await page.context().close();
  return found;
}

// Goes to every page and gathers what `look` has to say against it.
async function against({ language = 'en', ...options }, look) {
  const page = await openPage(browser, station, options);
  await page.goto(`/language?to=${language}&back=/`);
  await signIn(page, station);
  const said = [];
  for (const path of paths) {
    page.complaints.length = 0;
    await page.goto(path, { waitUntil: 'load' });
    await page.waitForTimeout(250);
    for (const each of await look(page)) said.push(`${path}: ${each}`);
    for (const each of page.complaints) said.push(`${path}: console: ${each}`);
  }
  await page.context().close();
  return said;
}

async function axe(page) {
  await page.evaluate(axeSource);
  const { violations } = await page.evaluate((values) => window.axe.run(document, { runOnly: { type: 'tag', values } }), RULES);
  return violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.target.join(' ')}: ${node.failureSummary.replaceAll('\n', ' ')}`));
}

const tooWide = (page) => page.evaluate(() => {
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= wide) return [];
  const out = [...document.querySelectorAll('body *')].filter((each) => each.getBoundingClientRect().right > wide + 1 &&
    !each.closest('.scroll'));
  return [`${document.documentElement.scrollWidth} of ${wide} pixels: ${out.slice(0, 3).map((each) => each.outerHTML.slice(0, 80)).join(' | ')}`];
});

const untranslated = (page) => page.evaluate(() => [
  ...(document.documentElement.lang === 'es' ? [] : [`its language is ${document.documentElement.lang}`]),
  ...(document.body.innerText.match(/«[a-z-]+\.[a-z.-]+»/g) ?? []),
]);

// A tick's or a choice's label is its target; a link within a sentence is not held to this (WCAG 2.5.8).
const tooSmall = (page) => page.evaluate((smallest) => {
  const targets = document.querySelectorAll('button, .button, select, textarea, .places a, summary, ' +
    'input:not([type=hidden]):not([type=checkbox]):not([type=radio]), label:has(input[type=checkbox], input[type=radio])');
  return [...targets].filter((each) => each.checkVisibility() && each.getBoundingClientRect().height < smallest - 0.5)
    .map((each) => `${Math.round(each.getBoundingClientRect().height)} pixels high: ${each.outerHTML.slice(0, 100)}`);
}, SMALLEST);

test('pages are found', (t) => {
  t.diagnostic(paths.join(' '));
  assert.ok(paths.length >= 3, paths.join(' '));
});
for (const colorScheme of ['light', 'dark']) {
  test(`axe-core finds nothing, ${colorScheme}`, async () => assert.deepEqual(await against({ colorScheme }, axe), []));
}
for (const colorScheme of ['light', 'dark']) {
  test(`axe-core finds nothing on answers, fresh or spent, ${colorScheme}`, async () => {
    const page = await openPage(browser, station, { colorScheme });
    await page.goto('/check');
    const said = [];
    for (const name of ['clear', 'hold', 'failed']) {
      await page.fill('#typed [name=text]', station.cases[name].payload);
      await page.keyboard.press('Enter');
      await page.locator(`#answers [data-package="${station.cases[name].package}"]`).waitFor();
      said.push(...await axe(page));
    }
    await page.evaluate(() => { const now = Date.now; Date.now = () => now() + 3600000; });
    await page.locator('.spent').waitFor();
    assert.deepEqual([...said, ...await axe(page)], []);
    await page.context().close();
  });
}
test('nothing runs out of a phone', async () => assert.deepEqual(await against({ ...PHONE, hasTouch: true }, tooWide), []));
test('nothing runs out of a window at 200 %', async () =>
  assert.deepEqual(await against({ ...TWICE, deviceScaleFactor: 2 }, tooWide), []));
test('Spanish is complete and fits as well', async () => assert.deepEqual(await against({ ...PHONE, hasTouch: true, language: 'es' },
  async (page) => [...await tooWide(page), ...await untranslated(page)]), []));
test('targets are large enough for gloves', async () => assert.deepEqual(await against({}, tooSmall), []));
