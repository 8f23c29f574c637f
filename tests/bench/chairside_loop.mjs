// Part of station.py: measures the check's page in Chromium. A line of JSON a row: name, cameras, milliseconds.
//
//   node chairside_loop.mjs URL PAYLOAD FRAMES FRAME.jpg
//
// FRAME.jpg gets one picture as the page sends it.
import { writeFileSync } from 'node:fs';
import { launch, openPage } from '../browser/browser.mjs';
import { Picture, writeClip } from '../browser/clip.mjs';

const [url, payload, wanted, jpeg] = process.argv.slice(2);
const frames = Number(wanted);
const WARM = 10;  // frames that are not counted

async function watchingPage(browser) {
  const page = await openPage(browser, { url });
  await page.goto('/check');
  await page.uncheck('#sound');
  return page;
}

// The page's own loop: from the picture taken off the camera to the answer.
async function answered(page) {
  const times = page.evaluate((count) => new Promise((done) => {
    const chair = document.getElementById('chair');
    const all = [];
    new MutationObserver(() => {
      all.push(Number(chair.dataset.roundTrip));
      if (all.length === count) done(all);
    }).observe(chair, { attributeFilter: ['data-round-trip'] });
  }), frames + WARM);
  await page.click('#camera');
  const all = (await times).slice(WARM);
  await page.click('#camera');
  return all;
}

// The same picture taken and sent, refused for its token once it is there: nothing is read and nothing judged.
async function bare(page) {
  const times = page.evaluate(async (count) => {
    const view = document.createElement('video');
    view.srcObject = await navigator.mediaDevices.getUserMedia({ video: { width: { ideal: 1280 }, height: { ideal: 720 } } });
    await view.play();
    const shot = document.createElement('canvas');
    [shot.width, shot.height] = [view.videoWidth, view.videoHeight];
    const all = [];
    let body;
    while (all.length < count) {
      const begun = performance.now();
      shot.getContext('2d', { alpha: false }).drawImage(view, 0, 0, shot.width, shot.height);
      body = await new Promise((done) => shot.toBlob(done, 'image/jpeg', 0.8));
      const answer = await fetch('/check/frame?camera=bare', { method: 'POST', body, headers: { 'X-Loadlight-Token': 'none', Accept: 'application/json' } });
      await answer.json();
      all.push(performance.now() - begun);
      await new Promise((done) => requestAnimationFrame(done));
    }
    for (const track of view.srcObject.getTracks()) track.stop();
    return { all, picture: [...new Uint8Array(await body.arrayBuffer())] };
  }, frames + WARM);
  const { all, picture } = await times;
  writeFileSync(jpeg, Buffer.from(picture));
  return all.slice(WARM);
}

const clip = writeClip(`${jpeg}.y4m`, [[new Picture().label(payload, 500, 200), 5]]);
const browser = await launch({ clip });
try {
  for (const cameras of [1, 4]) {
    const pages = await Promise.all(Array.from({ length: cameras }, () => watchingPage(browser)));
    for (const [name, measure] of [['browser: verdict', answered], ['browser: bare upload and answer', bare]]) {
      const milliseconds = (await Promise.all(pages.map(measure))).flat();
      console.log(JSON.stringify({ name, cameras, milliseconds }));
    }
    await Promise.all(pages.map((page) => page.context().close()));
  }
} finally {
  await browser.close();
}
