// The check at the chair: camera frames go to the station one at a time; what it sees is outlined, what it
// answers stays as a card.
import { ask, failureBox, Failed, news } from './station.js';
import { AnswerCards } from './answer_cards.js';
import { drawOutlines } from './outlines.js';
import { tone } from './tones.js';

const OUTLINE_STAYS = 2000;  // milliseconds after the last decode
const IN_VIEW = 4000;        // after the last decode; longer than the station itself takes a package for gone
const UNREAD_STAYS = 700;    // before a label that cannot be read is spoken of
const PATIENCE = 5000;       // for one frame's answer
const PAUSE = 1000;          // after one that failed
const FRAME_WIDTH = 1280;    // pixels sent

const chair = document.getElementById('chair');
const view = document.getElementById('view');
const outlines = document.getElementById('outlines');
const button = document.getElementById('camera');
const sound = document.getElementById('sound');
const unread = document.getElementById('unread');
const cards = new AnswerCards(document.getElementById('answers'));

let stream = null;
let cameraName = newName();
let frame = { width: 1, height: 1, unread: [] };
let inView = new Map();  // text of a symbol: what the station said of it, and when it was decoded last
let unreadSince = null;
let isLost = false;

// Under another name the station has seen nothing yet, and answers anew for what is in view.
function newName() { return Math.random().toString(36).slice(2); }

const isInView = (card) => performance.now() - (inView.get(card.read)?.at ?? -Infinity) <= IN_VIEW;

function show(answers, by) {
  const fresh = cards.show(answers, by, isInView);
  if (sound.checked) for (const answer of fresh) tone(answer.outcome);
}

function lost() {
  isLost = true;
  inView = new Map();
  frame.unread = [];
  cards.lost();
}
news.addEventListener('lost', lost);
news.addEventListener('changed', () => cards.compare());

// ---- what is in view ----
function middle(corners) {
  return [0, 1].map((axis) => corners.reduce((sum, corner) => sum + corner[axis], 0) / corners.length);
}
function covers(corners, [x, y]) {
  const [xs, ys] = [0, 1].map((axis) => corners.map((corner) => corner[axis]));
  return x >= Math.min(...xs) && x <= Math.max(...xs) && y >= Math.min(...ys) && y <= Math.max(...ys);
}

// A symbol that this frame did not show keeps its outline for a while, unless another lies in its place now.
function outlined() {
  const now = performance.now();
  const all = [...inView.values()].filter((symbol) => now - symbol.at <= OUTLINE_STAYS);
  const newest = Math.max(...all.map((symbol) => symbol.at));
  const decoded = all.filter((symbol) => symbol.at === newest);
  const missed = all.filter((symbol) => symbol.at < newest &&
    !decoded.some((other) => covers(other.corners, middle(symbol.corners))));
  return [...missed, ...decoded];
}

function draw() {
  const symbols = outlined();
  const places = frame.unread.map((corners) => ({ corners, outcome: 'reading' }));
  drawOutlines(outlines, frame, [...places, ...symbols]);
  chair.dataset.outlines = symbols.map((symbol) => symbol.outcome).join(' ');
}

function remember(answer) {
  const now = performance.now();
  frame = answer;
  for (const symbol of answer.symbols) inView.set(symbol.read, { ...symbol, at: now });
  for (const [read, symbol] of inView) if (now - symbol.at > IN_VIEW) inView.delete(read);
  unreadSince = answer.unread.length > 0 && answer.symbols.length === 0 ? unreadSince ?? now : null;
  unread.hidden = unreadSince === null || now - unreadSince < UNREAD_STAYS;
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

async function look(mine) {
  const begun = performance.now();
  const picture = await capture();
  if (!picture) return;
  const answer = await ask(`/check/frame?camera=${cameraName}`,
    { body: picture, token: chair.dataset.token, type: 'image/jpeg', signal: AbortSignal.timeout(PATIENCE) });
  if (stream !== mine) return;
  cards.trouble(null);
  remember(answer);
  show(answer.symbols.filter((symbol) => symbol.card).map((symbol) => symbol.card), 'camera');
  if (answer.symbols.length > 0) cards.prune(isInView);
  if (isLost || cards.anyAged(isInView)) cameraName = newName();
  isLost = false;
  chair.dataset.frames = Number(chair.dataset.frames ?? 0) + 1;
  chair.dataset.milliseconds = answer.milliseconds;
  chair.dataset.roundTrip = performance.now() - begun;
}

async function loop(mine) {
  while (stream === mine) {
    try {
      await look(mine);
    } catch (error) {
      lost();
      if (error instanceof Failed) refusedFrame(error.failure);
      await new Promise((done) => setTimeout(done, PAUSE));
    }
    await new Promise((done) => requestAnimationFrame(done));
  }
}

// A station that was started anew gives this page another token.
function refusedFrame(failure) {
  const last = Number(sessionStorage.getItem('loaded-anew') ?? 0);
  if (failure.error === 'form-stale' && Date.now() - last > 30000) {
    sessionStorage.setItem('loaded-anew', Date.now());
    location.reload();
  }
  cards.trouble(failureBox(failure));
}

async function on() {
  document.getElementById('refused').hidden = true;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 }, height: { ideal: 720 } } });
  } catch {
    localStorage.removeItem('camera');
    document.getElementById('refused').hidden = false;
    return;
  }
  const mine = stream;
  view.srcObject = stream;
  view.hidden = false;
  await view.play();
  button.setAttribute('aria-pressed', 'true');
  button.textContent = button.dataset.on;
  localStorage.setItem('camera', 'on');
  stream.getVideoTracks()[0]?.addEventListener('ended', () => { if (stream === mine) off(); });
  const paint = () => { if (stream === mine) { draw(); requestAnimationFrame(paint); } };
  paint();
  loop(mine);
}

function off() {
  for (const track of stream?.getTracks() ?? []) track.stop();
  stream = null;
  view.hidden = true;
  unread.hidden = true;
  inView = new Map();
  frame.unread = [];
  draw();
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
    const answer = await ask(form.getAttribute('action'), { body: fields, signal: AbortSignal.timeout(2 * PATIENCE) });
    cards.trouble(null);
    show(answer.cards, 'hand');
  } catch (error) {
    lost();
    if (error instanceof Failed) cards.trouble(failureBox(error.failure));
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
