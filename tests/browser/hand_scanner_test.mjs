// The check without a camera: a hand scanner at any moment, and the keyboard alone.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, openPage, scan } from './browser.mjs';
import { DemoStation } from './station.mjs';

const LONGEST = `LL1.S${'7'.repeat(10)}.1T${'S'.repeat(3)}-${'9'.repeat(5)}.16D20261128.14D20271128.HABCD.PABCDEFGH.BABC.`;
const longest = LONGEST + `Z${'X'.repeat(86 - LONGEST.length)}`;  // 87 characters, as long as a label's text can be

let station;
let browser;
before(async () => {
  station = await new DemoStation().start();
  browser = await launch();
});
after(async () => {
  await browser.close();
  await station.close();
});

test('a burst of 87 characters on the check is one answer, wherever the focus is', async (t) => {
  assert.equal(longest.length, 87);
  const page = await openPage(browser, station);
  await page.goto('/check');
  for (const focus of ['body', '#typed [name=text]', '#camera', '#sound']) {
    await page.locator(focus).first().evaluate((element) => element.focus?.());
    t.diagnostic(`88 keys in ${(await scan(page, longest)).toFixed(0)} ms`);
    await page.locator('.verdict:not(.clear)').waitFor();
    assert.equal(await page.inputValue('#typed [name=text]'), '');
    assert.equal(await page.locator('#camera').getAttribute('aria-pressed'), 'false');
    await scan(page, station.cases.clear.payload);
    await page.locator('.verdict.clear').waitFor();
    assert.equal(await page.locator('#answers > [data-outcome]').count(), 1);
  }
  assert.deepEqual(page.complaints, []);
});

test('88 keys within a tenth of a second are taken whole', async (t) => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  const burst = (text) => page.evaluate((keys) => {
    const heard = [];
    document.addEventListener('scanned', (event) => heard.push(event.detail));
    const begun = performance.now();
    for (const key of [...keys, 'Enter']) {
      document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
    }
    return { heard, milliseconds: performance.now() - begun };
  }, text);
  let taken = await burst(longest);
  while (taken.milliseconds > 100) taken = await burst(longest);  // the machine was elsewhere
  t.diagnostic(`${taken.milliseconds.toFixed(0)} ms`);
  assert.ok(taken.heard.includes(longest), String(taken.heard));
  await page.locator('.verdict:not(.clear)').waitFor();
});

test('a scan on another page goes to the check', async () => {
  const page = await openPage(browser, station);
  for (const path of ['/', '/sign-in']) {
    await page.goto(path);
    await scan(page, station.cases.clear.payload);
    await page.waitForURL('**/check');
    await page.locator('.verdict.clear').waitFor();
  }
  assert.deepEqual(page.complaints, []);
});

test('a scan right after a finger touched a key is still a scan', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await page.focus('#typed [name=text]');
  await scan(page, `AB${station.cases.clear.payload}`);
  await page.locator('.verdict.clear').waitFor();
});

test('what fingers type is no scan', async () => {
  const page = await openPage(browser, station);
  await page.goto('/');
  await page.keyboard.type('LL1.SLOWLY', { delay: 300 });
  await page.keyboard.press('Enter');
  assert.equal(new URL(page.url()).pathname, '/');
});

// Tab until the element has the focus.
async function tabTo(page, selector) {
  for (let i = 0; i < 60; ++i) {
    await page.keyboard.press('Tab');
    if (await page.evaluate((wanted) => document.activeElement.matches(wanted), selector)) return;
  }
  assert.fail(`${selector} is not reached by Tab`);
}

test('the keyboard alone does the check and goes on to the opening', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await page.keyboard.press('Tab');
  assert.ok(await page.evaluate(() => document.activeElement.matches('.skip')));
  assert.ok(await page.locator('.skip').evaluate((link) => link.getBoundingClientRect().left >= 0));
  await page.keyboard.press('Enter');
  await tabTo(page, '#camera');
  await tabTo(page, '#typed [name=text]');
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle), 'none');
  await page.keyboard.type(station.cases.clear.package, { delay: 5 });
  await page.keyboard.press('Enter');
  await page.locator('.verdict.clear').waitFor();
  await tabTo(page, '#answers .button.main');
  const link = await page.evaluate(() => document.activeElement.getAttribute('href'));
  assert.equal(link, `/packages/${station.cases.clear.package}/open`);
});
