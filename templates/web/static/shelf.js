// A shelf: swept with this browser's camera, or shown in a video or photographs. Camera frames and photographs go to
// the station one at a time.
import { ask, Failed, failureBox } from './station.js';
import { drawOutlines } from './outlines.js';
import { tone } from './tones.js';

const FRAME_WIDTH = 1280;      // pixels sent
const OUTLINES_STAY = 1500;    // milliseconds without an answer
const HINT_STAYS = 1200;       // milliseconds, so that a word can be read
const FRAME_ANSWERED = 3000;   // milliseconds

const at = (id) => document.getElementById(id);
const shelf = at('shelf');
const form = at('begin');
const view = at('view');
let sweep = null;    // {page, key, frame_token, photograph_token, end_token}
let stream = null;
let ending = false;
let looping = Promise.resolve();

const filled = (text, gaps) => text.replace(/\{([\w-]+)\}/g, (gap, name) => gaps[name] ?? gap);
const fieldsOf = (more) => {
  const fields = new URLSearchParams(new FormData(form));
  for (const [name, value] of Object.entries(more)) fields.set(name, value);
  return fields;
};

function fail(error) {
  if (!(error instanceof Failed)) { at('sent-text').textContent = shelf.dataset.lost; return; }
  if (error.failure.error === 'sign-in-needed') { location.href = '/sign-in?back=%2Fshelf'; return; }
  form.querySelector('.failure')?.remove();
  form.prepend(failureBox(error.failure));
  form.hidden = false;
  at('sending').hidden = true;
  at('sweep').hidden = true;
  delete document.body.dataset.sweeping;
  form.querySelector('.failure').scrollIntoView({ block: 'nearest' });
}

async function begin(source) {
  sweep = await ask(form.getAttribute('action'), { body: fieldsOf({ source }) });
  ending = false;
}

async function end(how) {
  if (ending) return;
  ending = true;
  // The frame that is on its way is still looked at.
  await Promise.race([looping, pause(FRAME_ANSWERED)]);
  try {
    const answer = await ask(`${sweep.page}/end`, { body: new URLSearchParams({ token: sweep.end_token, how }) });
    location.href = answer.go;
  } catch (error) {
    ending = false;
    fail(error);
  }
}

const pause = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));

// ---- the camera ----
const shot = document.createElement('canvas');
function capture() {
  const fit = Math.min(1, FRAME_WIDTH / view.videoWidth);
  shot.width = Math.round(view.videoWidth * fit);
  shot.height = Math.round(view.videoHeight * fit);
  shot.getContext('2d', { alpha: false }).drawImage(view, 0, 0, shot.width, shot.height);
  return new Promise((done) => shot.toBlob(done, 'image/jpeg', 0.85));
}

let hintAt = 0;
function showHints(hints) {
  if (hints.length === 0 && performance.now() - hintAt < HINT_STAYS) return;
  if (hints.length > 0) hintAt = performance.now();
  at('hint').hidden = hints.length === 0;
  at('hint').textContent = hints.map((hint) => hint.word).join(' · ');
  const text = hints.map((hint) => hint.text).join(' ');
  at('hint-text').hidden = text === '';
  if (at('hint-text').textContent !== text) at('hint-text').textContent = text;
}

let packages = 0;
function showProgress(answer) {
  if (at('sound').checked && answer.packages > packages) {
    const bad = answer.in_view.some((label) => label.outcome !== 'clear' || label.status !== 'present');
    tone(bad ? 'refused' : 'taken');
  }
  packages = answer.packages;
  if (at('count').textContent !== answer.count) {
    at('count').textContent = answer.count;
    document.dispatchEvent(new Event('touched'));  // somebody moves along the shelf
  }
  at('place').textContent = answer.location;
  showHints(answer.hints);
  drawOutlines(at('outlines'), answer, answer.in_view, shot);
  shelf.dataset.frames = Number(shelf.dataset.frames ?? 0) + 1;
}

async function look() {
  const picture = await capture();
  if (!picture) return;
  const wipe = setTimeout(() => drawOutlines(at('outlines'), { width: 1, height: 1 }, []), OUTLINES_STAY);
  try {
    showProgress(await ask(`${sweep.page}/frame?key=${sweep.key}`, { body: picture, token: sweep.frame_token, type: 'image/jpeg' }));
  } finally {
    clearTimeout(wipe);
  }
}

async function loop() {
  while (stream && !ending) {
    try {
      await look();
    } catch (error) {
      if (ending) return;
      if (error instanceof Failed && error.failure.error === 'job-unknown') { location.href = sweep.page; return; }
      if (error instanceof Failed && error.failure.error !== 'too-many-requests') { stopCamera(); fail(error); return; }
      at('hint-text').hidden = false;
      at('hint-text').textContent = shelf.dataset.lost;
      await pause(1000);
    }
    await new Promise((done) => requestAnimationFrame(done));
  }
}

function stopCamera() {
  for (const track of stream?.getTracks() ?? []) track.stop();
  stream = null;
}

async function byCamera() {
  at('refused').hidden = true;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 }, frameRate: { ideal: 30 } } });
  } catch {
    at('refused').hidden = false;
    return;
  }
  view.srcObject = stream;
  try {
    await view.play();
    await begin('station-camera');
  } catch (error) {
    stopCamera();
    fail(error);
    return;
  }
  form.hidden = true;
  at('sweep').hidden = false;
  document.body.dataset.sweeping = '1';
  at('finish').focus();
  stream.getVideoTracks()[0].addEventListener('ended', () => end('later'));
  navigator.wakeLock?.request('screen').catch(() => {});
  looping = loop();
}
// Whoever leaves the page can go on later.
window.addEventListener('pagehide', () => {
  if (stream && !ending) navigator.sendBeacon(`${sweep.page}/end`, new URLSearchParams({ token: sweep.end_token, how: 'later' }));
});
at('finish').addEventListener('click', () => end('finish'));
at('later').addEventListener('click', () => end('later'));

// ---- a video, photographs ----
let stopped = null;
at('stop-sending').addEventListener('click', () => stopped?.abort());

function sending() {
  form.hidden = true;
  at('sending').hidden = false;
  at('sent').value = 0;
  stopped = new AbortController();
  return stopped.signal;
}

// Only this way of asking tells how much was sent.
function sendVideo(file, signal) {
  const fields = new URLSearchParams({ location: form.elements.location.value, name: file.name, resume: form.elements.resume?.value ?? '0' });
  const started = performance.now();
  const request = new XMLHttpRequest();
  return new Promise((done, failed) => {
    request.upload.addEventListener('progress', (event) => {
      const share = event.loaded / event.total;
      const left = (performance.now() - started) / 1000 * (1 - share) / Math.max(share, 0.001);
      const mega = (bytes) => Math.ceil(bytes / 1e6);
      at('sent').value = share;
      at('sent-text').textContent = filled(shelf.dataset.sending, { sent: mega(event.loaded), total: mega(event.total), seconds: Math.ceil(left) });
    });
    request.addEventListener('load', () => {
      const answer = JSON.parse(request.responseText);
      if (request.status < 400) done(answer); else failed(new Failed(answer));
    });
    request.addEventListener('error', () => failed(new Error('lost')));
    request.addEventListener('abort', () => done(null));
    signal.addEventListener('abort', () => request.abort());
    request.open('POST', `/shelf/video?${fields}`);
    request.setRequestHeader('Accept', 'application/json');
    request.setRequestHeader('X-Loadlight-Token', shelf.dataset.videoToken);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.send(file);
  });
}

async function byVideo(file) {
  if (!file) { at('video').focus(); return; }
  try {
    const answer = await sendVideo(file, sending());
    if (answer) location.href = answer.go;
    else { form.hidden = false; at('sending').hidden = true; }
  } catch (error) {
    fail(error);
  }
}

async function sendPhotographs(files, signal) {
  let number = 0;
  for (const file of files) {
    if (signal.aborted) return;
    number += 1;
    at('sent').value = (number - 1) / files.length;
    at('sent-text').textContent = filled(shelf.dataset.photograph, { number, count: files.length, name: file.name });
    try {
      await ask(`${sweep.page}/photograph?key=${sweep.key}&name=${encodeURIComponent(file.name)}`, { body: file, token: sweep.photograph_token, type: 'application/octet-stream', signal });
    } catch (error) {
      if (signal.aborted) return;
      // One that cannot be read is told of, and the others are still looked at.
      if (!(error instanceof Failed) || !error.failure.error.startsWith('image-')) throw error;
      at('sending').append(failureBox(error.failure));
      unread = true;
    }
  }
}
let unread = false;

async function byPhotographs(files) {
  if (files.length === 0) { at('photographs').focus(); return; }
  const byName = new Intl.Collator(undefined, { numeric: true });
  const sorted = [...files].sort((one, other) => byName.compare(one.name, other.name));
  try {
    await begin('station-photographs');
    const signal = sending();
    await sendPhotographs(sorted, signal);
    if (unread) await pause(4000);
    await end(signal.aborted ? 'later' : 'finish');
  } catch (error) {
    fail(error);
  }
}

form.addEventListener('submit', (event) => {
  event.preventDefault();
  const source = event.submitter?.value ?? 'station-camera';
  form.querySelector('.failure')?.remove();
  if (source === 'video') byVideo(at('video').files[0]);
  else if (source === 'station-photographs') byPhotographs(at('photographs').files);
  else byCamera();
});

// Dropped files go where they were dropped.
for (const place of document.querySelectorAll('[data-drop]')) {
  place.addEventListener('dragover', (event) => { event.preventDefault(); place.classList.add('over'); });
  place.addEventListener('dragleave', () => place.classList.remove('over'));
  place.addEventListener('drop', (event) => {
    event.preventDefault();
    place.classList.remove('over');
    at(place.dataset.drop).files = event.dataTransfer.files;
  });
}
