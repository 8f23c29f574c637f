// An answer's card speaks until another package, a lost connection, a changed record or a minute.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { launch, openPage } from './browser.mjs';
import { Picture, writeClip } from './clip.mjs';
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

const wait = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));

async function checked(page, name) {
  const wanted = station.cases[name].package;
  await page.fill('#typed [name=text]', wanted);
  await page.keyboard.press('Enter');
  await page.locator(`#answers [data-package="${wanted}"]`).waitFor();
}

// No word and no link of the page may still let somebody open a package.
async function assertNothingClear(page) {
  assert.equal(await page.locator('.verdict.clear').count(), 0);
  assert.equal(await page.locator('#answers .button.main').count(), 0);
  assert.doesNotMatch(await page.locator('#answers').innerText(), /\bCLEAR\b/);
}

test('the check itself, and checks of others, leave the card as it is', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await checked(page, 'clear');
  station.run('check', '--text', station.cases.clear.payload);
  await wait(3000);
  assert.equal(await page.locator('.spent').count(), 0);
  assert.ok(await page.locator('.verdict.clear').isVisible());
  assert.deepEqual(page.complaints, []);
});

test('another package replaces the card', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await checked(page, 'clear');
  await checked(page, 'failed');
  assert.equal(await page.locator('#answers > [data-outcome]').count(), 1);
});

test('a card is silent after a minute, and says so', async () => {
  const page = await openPage(browser, station);
  await page.clock.install();
  await page.goto('/check');
  await checked(page, 'clear');
  // From here on time passes by our hand alone, however busy the machine is.
  await page.clock.pauseAt(1000 + await page.evaluate(() => Date.now()));
  await page.clock.runFor(45000);
  assert.equal(await page.locator('.spent').count(), 0);
  await page.clock.runFor(20000);
  await page.locator('.spent').waitFor();
  await assertNothingClear(page);
  const wanted = await page.locator('#answers').getAttribute('data-aged');
  assert.equal(await page.locator('.aged').innerText(), wanted);
});

test('a card is silent when a tablet wakes up after longer than a minute', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await checked(page, 'clear');
  await page.evaluate(() => { const now = Date.now; Date.now = () => now() + 3600000; });
  await page.locator('.spent').waitFor();
  await assertNothingClear(page);
});

test('when the station is killed the page says so, nothing stays clear, and it goes on when it is back', async () => {
  const clip = writeClip(join(station.folder, 'card.y4m'),
    [[new Picture().label(station.cases.clear.payload, 500, 200), 5]]);
  const filming = await launch({ clip });
  try {
    const page = await openPage(filming, station);
    await page.goto('/check');
    await page.click('#camera');
    await page.locator('.verdict.clear').waitFor();
    const port = station.port;
    await station.end('SIGKILL');
    await page.locator('.spent').waitFor();
    assert.ok(await page.locator('#offline').isVisible());
    assert.equal(await page.locator('.aged').first().innerText(),
      await page.locator('#answers').getAttribute('data-lost'));
    await assertNothingClear(page);
    await page.waitForFunction(() => document.getElementById('chair').dataset.outlines === '');
    await station.start(port);
    await page.locator('.verdict.clear').waitFor();
    assert.ok(await page.locator('#offline').isHidden());
  } finally {
    await filming.close();
  }
});

test('a station that is killed while nobody films silences the card too', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await checked(page, 'clear');
  const port = station.port;
  await station.end('SIGKILL');
  await page.locator('.spent').waitFor();
  await assertNothingClear(page);
  await station.start(port);
  await page.locator('#offline').waitFor({ state: 'hidden' });
});

test('a changed record silences the card', async () => {
  const page = await openPage(browser, station);
  await page.goto('/check');
  await checked(page, 'clear');
  station.run('--operator', station.lead, 'withdraw', station.cases.clear.package, '--why', 'torn');
  await page.locator('.spent').waitFor();
  await assertNothingClear(page);
  assert.equal(await page.locator('.aged').innerText(), await page.locator('#answers').getAttribute('data-changed'));
  assert.deepEqual(page.complaints, []);
});
