// A sweep that goes on elsewhere, or a video that the station looks through: how far it is, until it is over.
import { ask } from './station.js';

const BETWEEN_LOOKS = 1000;  // milliseconds
const running = document.getElementById('running');

async function look() {
  const answer = await ask(running.dataset.path);
  if (answer.over) { location.replace(running.dataset.path); return; }
  const done = document.getElementById('done');
  if (answer.frames > 0) done.value = Math.min(1, answer.frame / answer.frames);
  else done.removeAttribute('value');
  document.getElementById('count').textContent = answer.count;
  document.getElementById('text').textContent = answer.text;
}

async function loop() {
  for (;;) {
    await new Promise((done) => setTimeout(done, BETWEEN_LOOKS));
    try { await look(); } catch { /* the frame of the page says that the station does not answer */ }
  }
}
loop();
