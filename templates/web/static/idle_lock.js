// Locks the page when nobody touched it for as long as the office allows, and opens it again, as it was left, for the
// one who was signed in. The station keeps the time and acts for nobody meanwhile: this only hides what is shown.
import { ask, failureBox, Failed } from './station.js';

const lock = document.getElementById('lock');
const form = lock.querySelector('form');
const TELL = 15000;  // milliseconds: how often the station is told, at most, that somebody is here
const whole = Number(lock.dataset.left) * 1000;
let locksAt = Date.now() + whole;
let told = Date.now();
let timer = null;

function show() {
  if (lock.open) return;
  document.body.classList.add('locked');
  lock.showModal();
}

function openAgain(left) {
  locksAt = Date.now() + left * 1000;
  document.body.classList.remove('locked');
  lock.close();
  form.reset();
  form.querySelector('.failure')?.remove();
  watch();
}

function watch() {
  clearTimeout(timer);
  timer = setTimeout(look, Math.max(0, locksAt - Date.now()) + 500);
}

// Another page of this browser may have been in use: the station knows.
async function look() {
  try {
    const { who, left } = await ask('/sign-in/here');
    if (who === lock.dataset.code && left > 0) {
      locksAt = Date.now() + left * 1000;
      watch();
      return;
    }
  } catch { /* a station that does not answer acts for nobody */ }
  show();
}

async function touched() {
  if (lock.open || Date.now() - told < Math.min(TELL, whole / 4)) return;
  if (Date.now() > locksAt) { look(); return; }
  told = Date.now();
  try {
    const { who, left } = await ask('/sign-in/here', { body: new URLSearchParams({ token: lock.dataset.here }) });
    if (who !== lock.dataset.code) { show(); return; }
    locksAt = Date.now() + left * 1000;
    watch();
  } catch { /* the timer goes on */ }
}

async function unlock(fields) {
  form.querySelector('.failure')?.remove();
  try {
    const body = new URLSearchParams({ token: lock.dataset.unlock, operator: lock.dataset.code, ...fields });
    openAgain((await ask('/sign-in/unlock', { body })).left);
  } catch (error) {
    if (error instanceof Failed && error.failure.error === 'sign-in-needed') location.href = '/sign-in';
    else if (error instanceof Failed) form.prepend(failureBox(error.failure));
  }
}

for (const kind of ['pointerdown', 'keydown', 'input', 'scanned', 'touched']) {
  document.addEventListener(kind, touched, { capture: true, passive: true });
}
document.addEventListener('visibilitychange', () => { if (!document.hidden && Date.now() > locksAt) look(); });
document.addEventListener('lock', (event) => { event.preventDefault(); show(); });
document.addEventListener('scanned', (event) => {
  if (!lock.open) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  if (event.detail.startsWith('LLO1.')) unlock({ badge: event.detail });
}, { capture: true });
lock.addEventListener('cancel', (event) => event.preventDefault());
form.addEventListener('submit', (event) => {
  event.preventDefault();
  unlock({ pin: form.elements.pin.value });
});
watch();
