// A day's work in a browser: from the answer at the chair to the opened package, from the packing bench to the
// printed label, and from the label into its load.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, openPage, scan, signIn } from './browser.mjs';
import { DemoStation } from './station.mjs';

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

const events = (kind) => station.run('ledger', 'export').filter((event) => event.kind === kind);

test('a package that was scanned at the chair is opened by whoever signs in for it, once', async () => {
  const { package: id, payload } = station.cases.clear;
  const before = events('package-opened').length;
  const page = await openPage(browser, station);
  await page.goto('/check');
  await scan(page, payload);
  await page.locator('.verdict.clear').waitFor();
  await page.click('#answers .button.main');
  await page.waitForURL('**/sign-in?back=*');
  await page.check(`input[name=operator][value="${station.lead}"]`);
  await page.fill('input[name=pin]', station.pin);
  await page.click('button.main');
  await page.waitForURL(`**/packages/${id}/open*`);
  for (const choice of ['dry"][value="yes', 'intact"][value="yes', 'indicator"][value="changed']) {
    await page.check(`input[name="${choice}"]`);
  }
  await page.fill('[name=visit]', 'V-1039');
  await page.dblclick('form.eyes button.main');
  await page.waitForURL(`**/packages/${id}/opened*`);
  await page.click('[name=internal][value=changed]');
  await page.locator('.said').waitFor();
  assert.equal(events('package-opened').length, before + 1);
  await scan(page, payload);
  await page.locator('.verdict.do-not-use').waitFor();
  assert.deepEqual(page.complaints, []);
});

test('labels are chosen, seen before they print, and printed as the same PDF', async () => {
  const page = await openPage(browser, station);
  await signIn(page, station);
  await page.goto('/pack');
  await page.check('#contents input[name=contents] >> nth=0');
  await page.check('#kinds input[name=kind] >> nth=0');
  await page.check('input[name=load] >> nth=0');
  await page.fill('#count', '2');
  await page.check('#packed');
  await page.locator('#pack button.main').first().click();
  await page.waitForURL('**/pack/runs/*');
  const paper = await page.locator('#paper').getAttribute('href');
  const answer = await page.request.get(paper);
  assert.equal(answer.headers()['content-type'], 'application/pdf');
  assert.ok((await answer.body()).subarray(0, 5).equals(Buffer.from('%PDF-')));
  assert.equal(await page.locator('.label-line').count(), 2);
  assert.deepEqual(page.complaints, []);
});

test('labels are scanned into their load, a doubled one is told', async () => {
  const act = (...words) => station.run('--operator', station.lead, ...words);
  const [{ load }] = act('load', 'open', '--sterilizer', 'S1', '--program', station.run('program', 'list')[0].code);
  const labels = act('label', '--contents', 'EXAM', '--count', '2', '--load', load, '--kind', 'P', '--packed', '--out', `${station.folder}/labels.pdf`);
  const page = await openPage(browser, station);
  await signIn(page, station);
  await page.goto(`/loads/${load}`);
  for (const [i, label] of [labels[0], labels[1], labels[0]].entries()) {
    await scan(page, label.payload);
    await page.locator('#scanned > li').nth(i).waitFor();
  }
  assert.equal(station.run('load', 'show', load)[0].packages.length, 2);
  assert.deepEqual(page.complaints, []);
});
