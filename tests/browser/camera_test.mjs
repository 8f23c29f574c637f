// The check with a camera: what it has in view is outlined and answered, each by its own word.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { launch, openPage } from './browser.mjs';
import { Picture, writeClip } from './clip.mjs';
import { DemoStation } from './station.mjs';

let station;
before(async () => { station = await new DemoStation().start(); });
after(() => station.close());

const payload = (name) => station.cases[name].payload;
const id = (name) => station.cases[name].package;
const outcomes = (page) => page.locator('#answers > [data-outcome]').evaluateAll(
  (cards) => Object.fromEntries(cards.map((card) => [card.dataset.package, card.dataset.outcome])));
const outlines = (page) => page.locator('#chair').getAttribute('data-outlines');
const frames = async (page) => Number(await page.locator('#chair').getAttribute('data-frames') ?? 0);

// Runs `body` on the check's page with a camera that shows these pictures.
async function watching(shown, body) {
  const browser = await launch({ clip: writeClip(join(station.folder, 'clip.y4m'), shown) });
  try {
    const page = await openPage(browser, station);
    await page.goto('/check');
    await page.click('#camera');
    await body(page);
    assert.deepEqual(page.complaints, []);
  } finally {
    await browser.close();
  }
}

async function afterFrames(page, wanted) {
  await page.waitForFunction((n) => Number(document.getElementById('chair').dataset.frames ?? 0) >= n, wanted);
}

for (const [name, outcome] of [['clear', 'clear'], ['hold', 'hold'], ['failed', 'do-not-use']]) {
  test(`a package in view is answered: ${outcome}`, () =>
    watching([[new Picture().label(payload(name), 500, 200), 5]], async (page) => {
      await page.locator('#answers > [data-outcome]').waitFor();
      assert.deepEqual(await outcomes(page), { [id(name)]: outcome });
      assert.equal(await page.locator('.verdict').count(), 1);
      assert.ok(await page.locator(`.verdict.${outcome} h2`).isVisible());
      await page.waitForFunction((wanted) => document.getElementById('chair').dataset.outlines === wanted, outcome);
      const sign = await page.locator('.verdict .outcome-sign').evaluate((svg) =>
        [...svg.children].map((each) => each.getBBox().width));
      assert.ok(sign.length >= 2 && sign.every((width) => width > 10), `the sign is not drawn: ${sign}`);
      const said = await page.locator('.verdict').innerText();
      const wanted = station.run('check', '--text', payload('clear'))[0];
      if (name === 'clear') assert.ok(said.includes(wanted.load), said);
    }));
}

test('two in view are outlined and answered each by its own word', () =>
  watching([[new Picture().label(payload('clear'), 150, 80).label(payload('failed'), 900, 400), 5]], async (page) => {
    await page.locator('#answers > [data-outcome]').nth(1).waitFor();
    assert.deepEqual(await outcomes(page), { [id('clear')]: 'clear', [id('failed')]: 'do-not-use' });
    assert.equal(await page.locator('#answers > [data-outcome]').first().getAttribute('data-outcome'), 'do-not-use');
    await page.waitForFunction(() => document.getElementById('chair').dataset.outlines?.split(' ').length === 2);
    assert.deepEqual((await outlines(page)).split(' ').sort(), ['clear', 'do-not-use']);
    await afterFrames(page, await frames(page) + 10);
    assert.equal(await page.locator('#answers > [data-outcome]').count(), 2);
  }));

test('an empty bench is answered by nothing', () =>
  watching([[new Picture(), 5]], async (page) => {
    await afterFrames(page, 8);
    assert.deepEqual(await outcomes(page), {});
    assert.equal(await outlines(page), '');
    assert.ok(await page.locator('#answers .empty').isVisible());
    assert.ok(await page.locator('#unread').isHidden());
  }));

test('a label in the glare is never cleared, and the page says what to do', () =>
  watching([[new Picture().label(payload('clear'), 500, 200).glare(622, 322, 60), 5]], async (page) => {
    await page.locator('#unread').waitFor();
    assert.deepEqual(await outcomes(page), {});
  }));

test('an outline goes two seconds after the last decode, and the card stays', () =>
  watching([[new Picture().label(payload('clear'), 500, 200), 15], [new Picture(), 60]], async (page) => {
    await page.locator('.verdict.clear').waitFor();
    await page.waitForFunction(() => document.getElementById('chair').dataset.outlines === 'clear');
    await page.waitForFunction(() => document.getElementById('chair').dataset.outlines === '');
    assert.deepEqual(await outcomes(page), { [id('clear')]: 'clear' });
    assert.equal(await page.locator('.spent').count(), 0);
  }));

test('another package takes the place of the one before', () =>
  watching([[new Picture().label(payload('clear'), 500, 200), 15], [new Picture(), 3],
    [new Picture().label(payload('failed'), 500, 200), 60]], async (page) => {
    await page.locator(`[data-package="${id('failed')}"]`).waitFor();
    await page.locator(`[data-package="${id('clear')}"]`).waitFor({ state: 'detached' });
    assert.deepEqual(await outcomes(page), { [id('failed')]: 'do-not-use' });
  }));

test('without a camera the page says so and the check goes on by hand', async () => {
  const browser = await launch();
  try {
    const page = await openPage(browser, station, { permissions: [] });
    await page.goto('/check');
    await page.click('#camera');
    await page.locator('#refused').waitFor();
    await page.fill('#typed [name=text]', id('clear'));
    await page.keyboard.press('Enter');
    await page.locator('.verdict.clear').waitFor();
    assert.deepEqual(page.complaints, []);
  } finally {
    await browser.close();
  }
});
