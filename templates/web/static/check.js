// The check at the chair: camera frames go to the station one at a time; what it sees is outlined, what it
// answers stays as a card.
import { ask, failureBox, Failed, news } from './station.js';
import { tone } from './tones.js';

const OUTLINE_STAYS = 2000;   // milliseconds after the last decode
const CARD_AGES = 60000;      // milliseconds after which a card no longer speaks for its package
const FRAME_WIDTH = 1280;     // pixels sent

const chair = document.getElementById('chair');
const view = document.getElementById('view');
const outlines = document.getElementById('outlines');
const answers = document.getElementById('answers');
const button = document.getElementById('camera');
const sound = document.getElementById('sound');
const cameraName = Math.random().toString(36).slice(2);

let stream = null;
let seen = [];       // of the last frame in which anything was read
let seenAt = 0;
let frameSize = { width: 1, height: 1 };
let cards = [];      // {package, outcome, at, element}

// ---- the card ----
function show(newCards) {
  for (const card of newCards) {
    const element = document.createElement('div');
    element.innerHTML = card.html;
    element.dataset.package = card.package;
    element.dataset.outcome = card.outcome;
    cards = cards.filter((old) => old.package !== card.package);
    cards.unshift({ ...card, at: performance.now(), element });
    if (sound.checked) tone(card.outcome);
  }
  cards = cards.slice(0, 6);
  answers.replaceChildren(...cards.map((card) => card.element));
}

// A package that is put in place of another takes its card with it; several in view keep theirs.
function keepOnly(packages) {
  if (packages.length === 0) return;
  cards = cards.filter((card) => packages.includes(card.package));
  answers.replaceChildren(...cards.map((card) => card.element));
}

function age(card, why) {
  if (card.element.dataset.aged) return;
  card.element.dataset.aged = '1';
  const note = document.createElement('p');
  note.className = 'aged';
  note.textContent = why;
  card.element.prepend(note);
  for (const link of card.element.querySelectorAll('.button.main')) link.remove();
}
setInterval(() => {
  for (const card of cards) if (performance.now() - card.at > CARD_AGES) age(card, answers.dataset.aged);
}, 1000);
const lost = () => { for (const card of cards) age(card, answers.dataset.lost); };
news.addEventListener('lost', lost);

// ---- outlines ----
function draw() {
  const scale = Math.min(2, window.devicePixelRatio || 1);
  const box = outlines.getBoundingClientRect();
  outlines.width = box.width * scale;
  outlines.height = box.height * scale;
  const pen = outlines.getContext('2d');
  if (performance.now() - seenAt > OUTLINE_STAYS) return;
  const fit = Math.min(outlines.width / frameSize.width, outlines.height / frameSize.height);
  const left = (outlines.width - frameSize.width * fit) / 2;
  const top = (outlines.height - frameSize.height * fit) / 2;
  const style = getComputedStyle(chair);
  for (const symbol of seen) {
    const points = symbol.corners.map(([x, y]) => [left + x * fit, top + y * fit]);
    outline(pen, points, symbol.outcome, style, scale);
  }
}

function outline(pen, points, outcome, style, scale) {
  const ink = style.getPropertyValue(`--${outcome}`) || '#888';
  const path = () => { pen.beginPath(); points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y))); pen.closePath(); };
  const widths = { clear: 4, hold: 5, 'do-not-use': 8, reading: 2 };
  pen.setLineDash(outcome === 'hold' ? [14 * scale, 8 * scale] : outcome === 'reading' ? [4 * scale, 6 * scale] : []);
  pen.lineJoin = 'round';
  path(); pen.lineWidth = ((widths[outcome] ?? 3) + 3) * scale; pen.strokeStyle = 'rgba(255,255,255,.85)'; pen.stroke();
  path(); pen.lineWidth = (widths[outcome] ?? 3) * scale; pen.strokeStyle = ink; pen.stroke();
  pen.setLineDash([]);
  const middle = (a, b) => [(points[a][0] + points[b][0]) / 2, (points[a][1] + points[b][1]) / 2];
  const stroke = (from, to) => { pen.beginPath(); pen.moveTo(...from); pen.lineTo(...to); pen.stroke(); };
  if (outcome === 'do-not-use') { stroke(points[0], points[2]); stroke(points[1], points[3]); }
  if (outcome === 'hold') stroke(middle(0, 3), middle(1, 2));
}

// ---- the camera ----
const shot = document.createElement('canvas');
function capture() {
  const fit = Math.min(1, FRAME_WIDTH / view.videoWidth);
  shot.width = Math.round(view.videoWidth * fit);
  shot.height = Math.round(view.videoHeight * fit);
  shot.getContext('2d', { alpha: false }).drawImage(view, 0, 0, shot.width, shot.height);
  return new Promise((done) => shot.toBlob(done, 'image/jpeg', 0.8));
}

async function look() {
  const picture = await capture();
  if (!picture) return;
  const answer = await ask(`/check/frame?camera=${cameraName}`, { body: picture, token: chair.dataset.token, type: 'image/jpeg' });
  frameSize = answer;
  if (answer.symbols.length > 0) { seen = answer.symbols; seenAt = performance.now(); }
  const fresh = answer.symbols.filter((symbol) => symbol.card).map((symbol) => symbol.card);
  if (fresh.length > 0) {
    keepOnly(answer.symbols.map((symbol) => symbol.package).concat(fresh.map((card) => card.package)));
    show(fresh);
  }
  chair.dataset.frames = Number(chair.dataset.frames ?? 0) + 1;
  chair.dataset.milliseconds = answer.milliseconds;
}

async function loop(mine) {
  while (stream === mine) {
    try {
      await look();
    } catch (error) {
      if (error instanceof Failed) { off(); answers.prepend(failureBox(error.failure)); return; }
      lost();
      await new Promise((done) => setTimeout(done, 1000));
    }
    await new Promise((done) => requestAnimationFrame(done));
  }
}

async function on() {
  document.getElementById('refused').hidden = true;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } } });
  } catch {
    document.getElementById('refused').hidden = false;
    return;
  }
  view.srcObject = stream;
  view.hidden = false;
  await view.play();
  button.setAttribute('aria-pressed', 'true');
  button.textContent = button.dataset.on;
  localStorage.setItem('camera', 'on');
  const mine = stream;
  const paint = () => { if (stream === mine) { draw(); requestAnimationFrame(paint); } };
  paint();
  loop(mine);
}

function off() {
  for (const track of stream?.getTracks() ?? []) track.stop();
  stream = null;
  view.hidden = true;
  button.setAttribute('aria-pressed', 'false');
  button.textContent = button.dataset.off;
  localStorage.removeItem('camera');
}
button.addEventListener('click', () => (stream ? off() : on()));
if (localStorage.getItem('camera') === 'on') on();

// ---- hand scanner and keyboard ----
const form = document.getElementById('typed');
async function check(text) {
  const fields = new URLSearchParams({ token: form.elements.token.value, text });
  try {
    const answer = await ask(form.getAttribute('action'), { body: fields });
    keepOnly(answer.cards.map((card) => card.package));
    show(answer.cards);
  } catch (error) {
    if (error instanceof Failed) answers.replaceChildren(failureBox(error.failure));
    else lost();
  }
}
form.addEventListener('submit', (event) => {
  event.preventDefault();
  const text = form.elements.text.value.trim();
  form.elements.text.value = '';
  if (text) check(text);
});
document.addEventListener('scanned', (event) => {
  if (event.detail.startsWith('LLO1.')) return;
  event.preventDefault();
  check(event.detail);
});
const brought = sessionStorage.getItem('label');
if (brought) { sessionStorage.removeItem('label'); check(brought); }
