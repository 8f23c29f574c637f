// Runs on every page: forms without leaving the page, a hand scanner at any moment, pieces that follow the
// record, and word of a station that does not answer.

const offline = document.getElementById('offline');

// What a hand scanner types: many characters in quick succession, then Enter. Whoever wants them asks for the
// event "scanned" on the document; a page that takes none sends badges to sign in and labels to the check.
const SLOWEST_KEY = 150;  // milliseconds between two characters of a scanner; a busy tablet's included
const SHORTEST_SCAN = 8;  // characters
let typed = '';
let lastKey = 0;

document.addEventListener('keydown', (event) => {
  const now = event.timeStamp;  // when the key was struck, however late a busy page hears of it
  if (now - lastKey > SLOWEST_KEY) typed = '';
  lastKey = now;
  if (event.key === 'Enter') {
    const text = typed.slice(Math.max(0, typed.search(/LL[A-Z]?\d/)));  // a finger may have been there before
    typed = '';
    if (text.length < SHORTEST_SCAN || !text.startsWith('LL')) return;
    event.preventDefault();
    if (event.target.matches?.('input, textarea')) event.target.value = event.target.value.replace(text, '');
    take(text);
  } else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey) {
    typed += event.key;
  }
}, true);

function take(text) {
  const scanned = new CustomEvent('scanned', { detail: text, cancelable: true });
  if (!document.dispatchEvent(scanned)) return;
  if (text.startsWith('LLO1.')) {
    sessionStorage.setItem('badge', text);
    location.href = `/sign-in?back=${encodeURIComponent(location.pathname)}`;
  } else {
    sessionStorage.setItem('label', text);
    location.href = '/check';
  }
}

const badgeForm = document.getElementById('badge-form');
if (badgeForm) {
  const send = (text) => { badgeForm.elements.badge.value = text; badgeForm.requestSubmit(); };
  document.addEventListener('scanned', (event) => {
    if (!event.detail.startsWith('LLO1.')) return;
    event.preventDefault();
    send(event.detail);
  });
  const brought = sessionStorage.getItem('badge');
  if (brought) { sessionStorage.removeItem('badge'); setTimeout(() => send(brought)); }
}

// A failure as its three parts, in an element.
export function failureBox(failure) {
  const box = document.createElement('div');
  box.className = 'failure';
  box.setAttribute('role', 'alert');
  const line = (text, strong) => {
    const p = document.createElement('p');
    if (strong) { const b = document.createElement('strong'); b.textContent = text; p.append(b); } else p.textContent = text;
    box.append(p);
  };
  line(failure.text, true);
  for (const item of failure.items ?? []) line(item);
  line(failure.action);
  return box;
}

export class Failed extends Error {
  constructor(failure) { super(failure.text); this.failure = failure; }
}

// Sends to the station; yields its JSON. Throws Failed with what it says, or as the browser does when it does
// not answer.
export async function ask(path, { body, token, type, signal } = {}) {
  const headers = { Accept: 'application/json' };
  if (token) headers['X-Loadlight-Token'] = token;
  if (type) headers['Content-Type'] = type;
  let response;
  try {
    response = await fetch(path, { method: body === undefined ? 'GET' : 'POST', body, headers, signal });
  } catch (error) {
    if (error.name !== 'AbortError') offline.hidden = false;
    throw error;
  }
  offline.hidden = true;
  const answer = await response.json();
  if (!response.ok) throw new Failed(answer);
  return answer;
}

// Forms: sent once, their failure shown within them, so that nothing typed is lost.
document.addEventListener('submit', async (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method !== 'post' || form.dataset.plain !== undefined) return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = '1';
  form.querySelector('.failure')?.remove();
  const fields = new URLSearchParams(new FormData(form, event.submitter));
  try {
    const answer = await ask(form.getAttribute('action'), { body: fields });
    if (answer.go) location.href = answer.go;
    else form.dispatchEvent(new CustomEvent('answered', { detail: answer, bubbles: true }));
  } catch (error) {
    if (error instanceof Failed) showFailure(form, error.failure);
  }
  delete form.dataset.busy;
});

function showFailure(form, failure) {
  if (failure.error === 'sign-in-needed' && !document.dispatchEvent(new Event('lock', { cancelable: true }))) return;
  if (failure.error === 'sign-in-needed' || failure.error === 'pin-needed') {
    const pin = failure.error === 'pin-needed' ? '&pin=1' : '';
    location.href = `/sign-in?back=${encodeURIComponent(location.pathname)}${pin}`;
    return;
  }
  form.hidden = false;
  const box = failureBox(failure);
  form.prepend(box);
  box.scrollIntoView({ block: 'nearest' });
}

document.querySelector('[data-back]')?.addEventListener('click', (event) => {
  if (history.length < 2) return;
  event.preventDefault();
  history.back();
});

// Pieces that are drawn anew when the record changes. The first word only says where the page stands.
const pieces = [...document.querySelectorAll('[data-live-piece]')];
export const news = new EventTarget();
if (pieces.length > 0 || document.querySelector('[data-live]')) {
  let state = null;
  let wanted = null;
  const stream = new EventSource('/live');
  stream.addEventListener('record', (event) => {
    offline.hidden = true;
    const changed = state !== null && state !== event.data;
    state = event.data;
    news.dispatchEvent(new CustomEvent('here', { detail: event.data }));
    if (!changed) return;
    news.dispatchEvent(new CustomEvent('changed', { detail: event.data }));
    if (wanted === null) wanted = setTimeout(() => { wanted = null; refresh(); }, 300);
  });
  const lost = () => { offline.hidden = false; news.dispatchEvent(new Event('lost')); };
  stream.addEventListener('lost', lost);
  stream.addEventListener('error', lost);
}

async function refresh() {
  for (const piece of pieces) {
    try {
      const response = await fetch(piece.dataset.livePiece);
      if (response.ok && !piece.contains(document.activeElement)) piece.innerHTML = await response.text();
    } catch { offline.hidden = false; }
  }
}
