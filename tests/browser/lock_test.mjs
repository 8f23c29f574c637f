// A tablet that somebody left hides what it showed and acts for nobody; the one who comes back finds the form as it
// was left.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, openPage, signIn } from './browser.mjs';
import { DemoStation } from './station.mjs';

const LOCK = 60000;  // milliseconds: the shortest that an office can set

let station;
let browser;
before(async () => {
  station = new DemoStation();
  station.run('--operator', station.lead, 'profile', 'set', 'idle-lock-minutes', '1', '--why', 'a shared tablet');
  await station.start();
  browser = await launch();
});
after(async () => {
  await browser.close();
  await station.close();
});

test('a page that nobody touches is locked, and opened as it was left', async () => {
  const page = await openPage(browser, station);
  await signIn(page, station);
  await page.goto(`/packages/${station.cases.clear.package}/open`);
  await page.fill('[name=visit]', 'V-2041');
  const lock = page.locator('#lock');
  assert.equal(await lock.isVisible(), false);
  await lock.waitFor({ state: 'visible', timeout: LOCK + 30000 });
  assert.equal(await page.locator('main').isVisible(), false);
  assert.equal(await page.locator('#who').isVisible(), false);
  await page.keyboard.press('Escape');
  assert.equal(await lock.isVisible(), true);
  await lock.locator('[name=pin]').fill('000000');
  await lock.locator('button').click();
  await lock.locator('.failure').waitFor();
  assert.equal(await page.locator('main').isVisible(), false);
  await lock.locator('[name=pin]').fill(station.pin);
  await lock.locator('button').click();
  await lock.waitFor({ state: 'hidden' });
  assert.equal(await page.inputValue('[name=visit]'), 'V-2041');
  for (const choice of ['dry"][value="yes', 'intact"][value="yes', 'indicator"][value="changed']) {
    await page.check(`input[name="${choice}"]`);
  }
  await page.click('form.eyes button.main');
  await page.waitForURL('**/opened*');
});
