// Packages are taken one after another, by hand scanner, camera or typing, and put away in one change.
import { ask, Failed, failureBox } from './station.js';
import { tone } from './tones.js';

const REMEMBERED = 3000;   // milliseconds in which a camera's text is not taken again
const PAUSE = 150;         // between two frames
const FRAME_WIDTH = 1280;  // pixels sent

const place = document.getElementById('shelving');
const look = document.getElementById('look');
const form = document.getElementById('shelve');
const taken = document.getElementById('taken');
const told = document.getElementById('told');
const count = document.getElementById('count');

function recount() {
  const lines = taken.children.length;
  count.textContent = lines === 0 ? count.dataset.none : lines === 1 ? count.dataset.one : count.dataset.many.replace('{count}', lines);
  document.getElementById('do').disabled = lines === 0;
}

function add(answer) {
  if (answer.location) {
    const choice = form.querySelector(`input[name=location][value="${CSS.escape(answer.location)}"]`);
    if (choice) choice.checked = true;
    told.textContent = answer.name;
    return tone('taken');
  }
  const known = taken.querySelector(`[data-package="${CSS.escape(answer.line.package)}"]`);
  if (known) {
    known.classList.add('again');
    told.textContent = told.dataset.doubled.replace('{package}', answer.line.grouped);
    return tone('refused');
  }
  taken.insertAdjacentHTML('afterbegin', answer.html);
  told.textContent = told.dataset.taken.replace('{package}', answer.line.grouped);
  recount();
  return tone('taken');
}

async function take(text) {
  look.querySelector('.failure')?.remove();
  const fields = new URLSearchParams({ token: look.elements.token.value, text });
  try {
    add(await ask(look.getAttribute('action'), { body: fields }));
  } catch (error) {
    tone('refused');
    if (error instanceof Failed) look.prepend(failureBox(error.failure));
  }
}

look.addEventListener('submit', (event) => {
  event.preventDefault();
  const text = look.elements.text.value.trim();
  if (text) take(text);
  look.elements.text.value = '';
  look.elements.text.focus();
});
document.addEventListener('scanned', (event) => {
  if (event.detail.startsWith('LLO1.')) return;
  event.preventDefault();
  take(event.detail);
});
taken.addEventListener('click', (event) => {
  const button = event.target.closest('[data-remove]');
  if (!button) return;
  const next = button.closest('li').nextElementSibling;
  button.closest('li').remove();
  recount();
  (next?.querySelector('[data-remove]') ?? look.elements.text).focus();
});

// ---- camera ----
const view = document.getElementById('view');
const button = document.getElementById('camera');
const canvas = document.createElement('canvas');
const seen = new Map();
let stream = null;

function newTexts(texts) {
  const now = performance.now();
  const fresh = texts.filter((text) => now - (seen.get(text) ?? -Infinity) > REMEMBERED);
  for (const text of texts) seen.set(text, now);
  return fresh;
}

async function frames() {
  while (stream) {
    try {
      canvas.width = Math.min(FRAME_WIDTH, view.videoWidth);
      canvas.height = Math.round(view.videoHeight * canvas.width / view.videoWidth);
      canvas.getContext('2d').drawImage(view, 0, 0, canvas.width, canvas.height);
      const body = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.85));
      const answer = await ask('/shelve/frame', { body, token: place.dataset.token, type: 'image/jpeg' });
      const fresh = newTexts(answer.texts);
      if (fresh.length > 0) document.dispatchEvent(new Event('touched'));  // somebody holds packages up
      for (const text of fresh) await take(text);
    } catch { /* the frame tells that the station does not answer */ }
    await new Promise((done) => setTimeout(done, PAUSE));
  }
}

button.addEventListener('click', async () => {
  if (stream) {
    for (const track of stream.getTracks()) track.stop();
    stream = null;
    view.hidden = true;
  } else {
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 } } });
      document.getElementById('refused').hidden = true;
      view.srcObject = stream;
      view.hidden = false;
      await view.play();
      frames();
    } catch { document.getElementById('refused').hidden = false; }
  }
  button.setAttribute('aria-pressed', String(Boolean(stream)));
  button.textContent = stream ? button.dataset.on : button.dataset.off;
});
