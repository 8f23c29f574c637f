// First run and set-up: parts of a form that only matter with a certain choice, and tables read from a file.
import { ask, Failed, failureBox } from '/static/station.js';

// data-shown-with="name=value": shown while that choice of the form is made.
for (const part of document.querySelectorAll('[data-shown-with]')) {
  const [name, value] = part.dataset.shownWith.split('=');
  const form = part.closest('form');
  const follow = () => { part.hidden = new FormData(form).get(name) !== value; };
  form.addEventListener('change', follow);
  follow();
}

// data-with="x": a tick that hides data-of="x".
for (const tick of document.querySelectorAll('[data-with]')) {
  const part = tick.closest('form').querySelector(`[data-of="${tick.dataset.with}"]`);
  const follow = () => {
    part.hidden = !tick.checked;
    for (const field of part.querySelectorAll('input, select')) field.disabled = !tick.checked;
  };
  tick.addEventListener('change', follow);
  follow();
}

// A table's file goes as it is.
const importing = document.getElementById('import-form');
importing?.addEventListener('submit', async (event) => {
  event.preventDefault();
  importing.querySelector('.failure')?.remove();
  const [file] = importing.elements.table.files;
  const button = importing.querySelector('button');
  if (!file || button.disabled) return;
  button.disabled = true;
  try {
    const answer = await ask(importing.dataset.to, { body: file, token: importing.dataset.token, type: 'text/csv' });
    location.href = answer.go;
  } catch (error) {
    if (error instanceof Failed) importing.prepend(failureBox(error.failure));
  }
  button.disabled = false;
});
