// A print run: the labels that are chosen go with either form; a job at a printer is followed until it ends.
import { ask, Failed } from './station.js';

const boxes = [...document.querySelectorAll('#labels input[name=package]')];
const all = document.getElementById('choose-all');
document.getElementById('choose-line').hidden = boxes.length < 2;
all.addEventListener('change', () => { for (const box of boxes) box.checked = all.checked; });

// The boxes belong to the form that prints again; the one that voids takes the same choice.
const voiding = document.getElementById('voiding');
voiding?.addEventListener('formdata', (event) => {
  for (const box of boxes) if (box.checked) event.formData.append('package', box.value);
});

const job = document.getElementById('job');
const text = document.getElementById('job-text');
const printer = document.getElementById('printer-text');
const troubles = document.getElementById('troubles');

function showTroubles(list) {
  troubles.replaceChildren(...list.map((each) => {
    const item = document.createElement('li');
    item.textContent = each.text;
    item.className = each.warning ? 'warning' : 'hindrance';
    return item;
  }));
}

async function follow() {
  try {
    const answer = await ask(job.dataset.path);
    if (text.textContent !== answer.job.text) text.textContent = answer.job.text;
    printer.textContent = answer.printer.text;
    const told = JSON.stringify(answer.printer.troubles);
    if (troubles.dataset.told !== told) { troubles.dataset.told = told; showTroubles(answer.printer.troubles); }
    if (answer.job.ended) { document.getElementById('job-cancel').hidden = true; return; }
  } catch (error) {
    text.textContent = error instanceof Failed ? error.failure.text : job.dataset.lost;
    printer.textContent = error instanceof Failed ? error.failure.action : '';
    showTroubles([]);
    troubles.dataset.told = '';
    if (error instanceof Failed && error.failure.error === 'job-unknown') return;
  }
  setTimeout(follow, 2000);
}
if (job) follow();
