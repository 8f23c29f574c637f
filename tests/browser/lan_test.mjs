// The station served to the office's tablets: a browser gives its camera only to a page under TLS.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { launch, openPage, signIn } from './browser.mjs';
import { Picture, writeClip } from './clip.mjs';
import { DemoStation } from './station.mjs';

let station;
let browser;
before(async () => {
  station = await new DemoStation().start(0, '--lan');
  const clip = writeClip(join(station.folder, 'clip.y4m'), [[new Picture().label(station.cases.clear.payload, 500, 200), 5]]);
  browser = await launch({ clip });
});
after(async () => {
  await browser.close();
  await station.close();
});

test('a browser that does not know the office is warned', async () => {
  const page = await openPage(browser, station);
  await assert.rejects(page.goto('/check'), /ERR_CERT_AUTHORITY_INVALID/);
});

test('a tablet that trusts the office checks by its camera and follows the record', async () => {
  const page = await openPage(browser, station, { ignoreHTTPSErrors: true });
  assert.equal(new URL(station.url).protocol, 'https:');
  await signIn(page, station);
  await page.goto('/check');
  const [cookie] = (await page.context().cookies()).filter((each) => each.name === 'loadlight-browser');
  assert.ok(cookie.secure && cookie.httpOnly && cookie.sameSite === 'Strict', JSON.stringify(cookie));
  await page.click('#camera');
  await page.locator('.verdict.clear').waitFor();
  await page.click('#camera');
  station.run('--operator', station.lead, 'withdraw', station.cases.clear.package, '--why', 'torn');
  await page.locator('.spent').waitFor();
  assert.deepEqual(page.complaints, []);
});
