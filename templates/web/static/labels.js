// A label template is shown while it is written.
import { failureBox } from '/static/station.js';

const form = document.getElementById('try-form');
const picture = document.getElementById('try-picture');
const problem = document.getElementById('try-problem');
const PAUSE = 400;  // milliseconds without a key before it is drawn
let waiting = null;
let running = null;

async function show() {
  running?.abort();
  running = new AbortController();
  const fields = new URLSearchParams(new FormData(form));
  fields.delete('once');  // the same form is sent again and again
  let response;
  try {
    response = await fetch(form.getAttribute('action'), {
      method: 'POST', body: fields, signal: running.signal, headers: { Accept: 'application/json' } });
  } catch { return; }
  if (!response.ok) { problem.replaceChildren(failureBox(await response.json())); return; }
  problem.replaceChildren();
  const old = picture.src;
  picture.src = URL.createObjectURL(await response.blob());
  picture.hidden = false;
  if (old.startsWith('blob:')) URL.revokeObjectURL(old);
}

form.addEventListener('submit', (event) => { event.preventDefault(); show(); });
form.elements.text.addEventListener('input', () => {
  clearTimeout(waiting);
  waiting = setTimeout(show, PAUSE);
});
show();
