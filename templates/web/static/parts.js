// Parts of a page (data-part) that follow the record. A part in which somebody is typing, or has typed, stays as it
// is until the person wants it renewed; when the load has moved on, the whole page is loaded anew.
import { news } from './station.js';

const page = document.querySelector('[data-live]');
const stale = document.getElementById('stale');
const touched = new Set();  // names of the parts that were typed in

document.addEventListener('input', (event) => {
  const part = event.target.closest('[data-part]');
  if (part) touched.add(part.dataset.part);
});
stale?.querySelector('button')?.addEventListener('click', () => location.replace(location.pathname));

// Nothing moves away under a finger or a pointer that was there a moment ago.
const POINTED = 1000;  // milliseconds
let pointed = { part: null, at: 0 };
for (const kind of ['pointerdown', 'pointermove']) {
  document.addEventListener(kind, (event) => {
    pointed = { part: event.target.closest?.('[data-part]') ?? null, at: performance.now() };
  }, { passive: true });
}
const isPointedAt = (part) => pointed.part === part && performance.now() - pointed.at < POINTED;

const hasFingers = (part) => touched.has(part.dataset.part) ||
  (part.contains(document.activeElement) && document.activeElement.matches('input, select, textarea'));

// Tokens differ each time a page is drawn and say nothing.
const plain = (element) => element.innerHTML.replace(/name="(token|once)" value="[^"]*"/g, '').replace(/ open=""/g, '');

function renew(old, fresh) {
  const open = [...old.querySelectorAll('details[open][id]')].map((each) => each.id);
  const closed = [...old.querySelectorAll('details:not([open])[id]')].map((each) => each.id);
  const reachable = () => [...old.querySelectorAll('button, a, summary')];
  const at = reachable().indexOf(document.activeElement);
  const name = at < 0 ? null : document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent;
  old.className = fresh.className;
  old.replaceChildren(...fresh.childNodes);
  for (const id of open) document.getElementById(id)?.setAttribute('open', '');
  for (const id of closed) document.getElementById(id)?.removeAttribute('open');
  if (name) reachable().find((each) => (each.getAttribute('aria-label') ?? each.textContent) === name)?.focus();
}

export async function follow() {
  const response = await fetch(location.pathname, { headers: { Accept: 'text/html' } });
  if (!response.ok) return;
  const fresh = new DOMParser().parseFromString(await response.text(), 'text/html');
  const there = fresh.querySelector('[data-live]');
  if (!there) return;
  const moved = there.dataset.state !== page.dataset.state || there.dataset.next !== page.dataset.next;
  const parts = [...page.querySelectorAll('[data-part]')];
  if (moved && !parts.some(hasFingers)) { location.replace(location.pathname); return; }
  let left = moved;
  for (const part of parts) {
    const other = there.querySelector(`[data-part="${part.dataset.part}"]`);
    if (!other || plain(other) === plain(part)) continue;
    if (isPointedAt(part)) followSoon(POINTED);
    else if (hasFingers(part) || moved) left = true;
    else renew(part, other);
  }
  if (stale) stale.hidden = !left;
}

let wanted = null;
export function followSoon(wait = 200) {
  clearTimeout(wanted);
  wanted = setTimeout(() => follow().catch(() => {}), wait);
}
news.addEventListener('changed', () => followSoon());
