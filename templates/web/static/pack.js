// Packing: what is chosen brings its steps and its picture; an old label's scan chooses as it was packed.
import { ask, failureBox, Failed } from './station.js';
import { tell } from './printers.js';
import { tone } from './tones.js';

const form = document.getElementById('pack');
const search = document.getElementById('search');
const tiles = [...document.querySelectorAll('#contents .tile')];
const steps = document.getElementById('steps');
const packed = document.getElementById('packed');
const picture = document.getElementById('preview');
const pictureText = document.getElementById('preview-text');
const pictureTrouble = document.getElementById('preview-trouble');
const chosen = (name) => form.querySelector(`[name=${name}]:checked`)?.value ?? '';

// ---- contents: favourites, the rest by searching ----
const all = document.getElementById('all');
const anyFavourite = tiles.some((tile) => tile.classList.contains('favourite'));
const plain = (text) => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
const words = new Map(tiles.map((tile) => [tile, plain(tile.textContent)]));
let showAll = !anyFavourite;

function sift() {
  const wanted = plain(search.value).split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const tile of tiles) {
    const fits = wanted.length > 0 ? wanted.every((word) => words.get(tile).includes(word))
      : showAll || tile.classList.contains('favourite') || tile.querySelector('input').checked;
    tile.hidden = !fits;
    if (fits) shown += 1;
  }
  document.getElementById('nothing-found').hidden = shown > 0 || tiles.length === 0;
  document.getElementById('all-line').hidden = wanted.length > 0 || showAll || shown === tiles.length;
}
search.addEventListener('input', sift);
search.addEventListener('keydown', (event) => {
  if (event.key !== 'Enter' || event.defaultPrevented) return;
  event.preventDefault();
  const first = tiles.find((tile) => !tile.hidden)?.querySelector('input');
  if (first) { first.checked = true; first.focus(); first.dispatchEvent(new Event('change', { bubbles: true })); }
});
all.addEventListener('click', () => { showAll = true; sift(); tiles.find((tile) => !tile.hidden)?.querySelector('input').focus(); });
sift();

// ---- how many ----
const count = form.elements.count;
function step(by) {
  const now = Number.parseInt(count.value, 10) || 1;
  count.value = Math.min(500, Math.max(1, now + by));
  settled = count.value;
  count.dispatchEvent(new Event('change', { bubbles: true }));
}
// A hand scanner types its digits into a field that has the focus: the count is then what it was before.
let settled = count.value;
let settling = null;
for (const what of ['input', 'keydown']) {
  count.addEventListener(what, () => {
    clearTimeout(settling);
    settling = setTimeout(() => { if (count.validity.valid) settled = count.value; }, 400);
  });
}
function unscan() {
  clearTimeout(settling);
  if (document.activeElement === count) count.value = settled;
}
document.getElementById('fewer').addEventListener('click', () => step(-1));
document.getElementById('more').addEventListener('click', () => step(1));

// ---- the steps for these contents and this kind ----
let stepsOf = '';
async function showSteps() {
  const contents = chosen('contents');
  const kind = chosen('kind');
  if (!contents || !kind || stepsOf === `${contents} ${kind}`) return;
  stepsOf = `${contents} ${kind}`;
  packed.checked = false;
  try {
    const answer = await ask(`/pack/steps?${new URLSearchParams({ contents, kind })}`);
    if (stepsOf !== `${contents} ${kind}`) return;
    steps.replaceChildren(...answer.steps.map((text) => { const li = document.createElement('li'); li.textContent = text; return li; }));
  } catch (error) {
    stepsOf = '';
    if (error instanceof Failed) { const li = document.createElement('li'); li.className = 'empty'; li.append(failureBox(error.failure)); steps.replaceChildren(li); }
  }
}

// ---- the picture: asked for when choosing rests ----
let waiting = null;
let asked = 0;
function query() {
  const fields = new FormData(form);
  for (const name of ['token', 'once', 'packed']) fields.delete(name);
  return new URLSearchParams(fields);
}
async function showPicture() {
  const mine = ++asked;
  if (!chosen('contents') || !chosen('kind') || !chosen('load')) return;
  try {
    const answer = await ask(`/pack/preview?${query()}`);
    if (mine !== asked) return;
    pictureTrouble.replaceChildren(...answer.warnings.map((text) => { const p = document.createElement('p'); p.className = 'note'; p.textContent = text; return p; }));
    pictureText.textContent = answer.text;
    document.getElementById('last-sheet').textContent = answer.last_sheet;
    picture.src = `/pack/preview/picture?${query()}`;
    picture.hidden = false;
  } catch (error) {
    if (mine !== asked || !(error instanceof Failed)) return;
    picture.hidden = true;
    pictureText.textContent = '';
    pictureTrouble.replaceChildren(failureBox(error.failure));
  }
}
function changed() {
  showSteps();
  clearTimeout(waiting);
  waiting = setTimeout(showPicture, 250);
}
form.addEventListener('change', (event) => {
  if (event.target.name === 'packed') return;
  form.querySelector(':scope > .failure')?.remove();
  if (event.target.name === 'printer') showPrinter(event.target);
  if (event.target.name === 'contents' && event.target.dataset.kind) choose('kind', event.target.dataset.kind);
  changed();
});
count.addEventListener('input', changed);

function choose(name, value) {
  const input = form.querySelector(`[name=${name}][value="${CSS.escape(value)}"]`);
  if (input) input.checked = true;
  return input;
}

// ---- where to ----
const printerSaid = document.getElementById('printer-said');
function showPrinter(input) {
  form.elements.stock.disabled = input.value !== '';  // the printer's own
  localStorage.setItem('printer', input.value);
  printerSaid.textContent = '';
  if (input.dataset.state) tell(input.dataset.state, printerSaid);
}
const lastPrinter = localStorage.getItem('printer');
if (lastPrinter) { const input = choose('printer', lastPrinter); if (input) showPrinter(input); }

// ---- an old label ----
const old = document.getElementById('old-label');
const said = document.getElementById('scan-said');
document.addEventListener('scanned', async (event) => {
  if (event.detail.startsWith('LLO1.')) return;
  event.preventDefault();
  unscan();
  form.querySelector('.failure')?.remove();
  try {
    const answer = await ask(old.getAttribute('action'), { body: new URLSearchParams({ token: old.elements.token.value, label: event.detail }) });
    choose('contents', answer.contents);
    choose('kind', answer.kind);
    search.value = '';
    sift();
    said.textContent = said.dataset.taken;
    said.hidden = false;
    said.scrollIntoView({ block: 'nearest' });
    tone('taken');
    changed();
  } catch (error) {
    said.hidden = true;
    tone('refused');
    if (error instanceof Failed) {
      const box = failureBox(error.failure);
      form.prepend(box);
      box.scrollIntoView({ block: 'nearest' });
    }
  }
});

const kinds = form.querySelectorAll('[name=kind]');
if (kinds.length === 1) kinds[0].checked = true;
if (chosen('contents') && !chosen('kind')) {
  const usual = form.querySelector('[name=contents]:checked').dataset.kind;
  if (usual) choose('kind', usual);
}
changed();
