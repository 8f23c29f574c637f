// Packages of an incident scanned one after another: each is shown, or accounted for at once, as was chosen.
import { ask, Failed } from './station.js';
import { tone } from './tones.js';

const MOST_SHOWN = 8;
const form = document.getElementById('scan');
const list = document.getElementById('scanned');

function note(text, refused) {
  const line = document.createElement('li');
  line.className = refused ? 'line late' : 'line';
  line.textContent = text;
  list.prepend(line);
  while (list.children.length > MOST_SHOWN) list.lastElementChild.remove();
}

async function send(text) {
  const fields = new URLSearchParams(new FormData(form));
  fields.set('package', text);
  fields.set('scanned', '1');
  fields.delete('once');  // every scan is one of its own
  try {
    const answer = await ask(form.getAttribute('action'), { body: fields });
    if (answer.go) { location.href = `${answer.go}#found`; return; }
    tone('taken');
    note(answer.text, false);
  } catch (error) {
    tone('refused');
    if (!(error instanceof Failed)) return;
    if (error.failure.error === 'sign-in-needed') { location.href = `/sign-in?back=${encodeURIComponent(location.pathname)}`; return; }
    note(`${error.failure.text} ${error.failure.action}`, true);
  }
}

form?.addEventListener('submit', (event) => {
  event.preventDefault();
  const text = form.elements.package.value.trim();
  form.elements.package.value = '';
  if (text) send(text);
});
if (form) {
  document.addEventListener('scanned', (event) => {
    if (event.detail.startsWith('LLO1.')) return;
    event.preventDefault();
    send(event.detail);
  });
}
document.querySelector('#found details')?.setAttribute('open', '');
