// A load's page: packages past the camera or a hand scanner, a dropped cycle log, an expiry that a lot brings along.
import { ask, Failed, failureBox } from './station.js';
import { drawOutlines } from './outlines.js';
import { followSoon } from './parts.js';
import { tone } from './tones.js';

const signIn = (failure) => {
  if (failure.error !== 'sign-in-needed') return false;
  location.href = `/sign-in?back=${encodeURIComponent(location.pathname)}`;
  return true;
};

// ---- packages ----
const scan = document.getElementById('scan');
if (scan) {
  const FRAME_WIDTH = 1280;    // pixels sent
  const OUTLINE_STAYS = 1500;  // milliseconds
  const LINES = 5;             // of what was scanned last
  const view = document.getElementById('view');
  const outlines = document.getElementById('outlines');
  const button = document.getElementById('camera');
  const list = document.getElementById('scanned');
  const form = document.getElementById('typed');
  const cameraName = Math.random().toString(36).slice(2);
  const LOOKS = { taken: 'clear', doubled: 'hold', refused: 'do-not-use' };
  let stream = null;

  const line = (tag, text) => {
    const element = document.createElement(tag);
    element.textContent = text;
    return element;
  };
  const tell = (answer) => {
    const item = document.createElement('li');
    item.className = answer.how;
    const head = document.createElement('p');
    const what = [answer.contents, answer.package].filter(Boolean).join(' · ');
    head.append(line('strong', answer.text));
    item.append(head);
    if (what) item.append(line('p', what));
    for (const each of answer.items ?? []) item.append(line('p', each));
    if (answer.action && !answer.replace) item.append(line('p', answer.action));
    if (answer.replace) {
      const link = line('a', answer.replace_text);
      link.className = 'button';
      link.href = answer.replace;
      item.append(link);
    }
    list.prepend(item);
    while (list.children.length > LINES) list.lastChild.remove();
    tone(answer.how === 'taken' ? 'taken' : 'refused');
    if (answer.how === 'taken') followSoon();
  };
  const failed = (error) => {
    if (error instanceof Failed) {
      if (signIn(error.failure)) return;
      off();
      list.prepend(failureBoxItem(error.failure));
      tone('refused');
    } else {
      tell({ how: 'refused', text: scan.dataset.lost });
    }
  };
  const failureBoxItem = (failure) => {
    const item = document.createElement('li');
    item.className = 'refused';
    item.append(failureBox(failure));
    return item;
  };

  const add = async (text) => {
    const fields = new URLSearchParams({ token: form.elements.token.value, text });
    try {
      const answer = await ask(form.getAttribute('action'), { body: fields });
      answer.results.forEach(tell);
    } catch (error) { failed(error); }
  };
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const text = form.elements.text.value.trim();
    form.elements.text.value = '';
    if (text) add(text);
  });
  document.addEventListener('scanned', (event) => {
    if (event.detail.startsWith('LLO1.')) return;
    event.preventDefault();
    add(event.detail);
  });

  const shot = document.createElement('canvas');
  const capture = () => {
    const fit = Math.min(1, FRAME_WIDTH / view.videoWidth);
    shot.width = Math.round(view.videoWidth * fit);
    shot.height = Math.round(view.videoHeight * fit);
    shot.getContext('2d', { alpha: false }).drawImage(view, 0, 0, shot.width, shot.height);
    return new Promise((done) => shot.toBlob(done, 'image/jpeg', 0.8));
  };
  let seen = { size: { width: 1, height: 1 }, labels: [], at: 0 };
  const look = async () => {
    const picture = await capture();
    if (!picture) return;
    const answer = await ask(`${scan.dataset.frame}?camera=${cameraName}`, { body: picture, token: scan.dataset.token, type: 'image/jpeg' });
    const labels = answer.symbols.map((symbol) => ({ corners: symbol.corners, outcome: LOOKS[symbol.how] }));
    if (labels.length > 0) seen = { size: answer, labels, at: performance.now() };
    const fresh = answer.symbols.filter((symbol) => symbol.is_new);
    if (fresh.length > 0) document.dispatchEvent(new Event('touched'));  // somebody holds packages up
    fresh.forEach(tell);
    scan.dataset.frames = Number(scan.dataset.frames ?? 0) + 1;
  };
  const loop = async (mine) => {
    while (stream === mine) {
      try {
        await look();
      } catch (error) {
        if (error instanceof Failed) { failed(error); return; }
        await new Promise((done) => setTimeout(done, 1000));
      }
      await new Promise((done) => requestAnimationFrame(done));
    }
  };
  const on = async () => {
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
    button.classList.remove('main', 'big');
    const mine = stream;
    const paint = () => {
      if (stream !== mine) return;
      drawOutlines(outlines, seen.size, performance.now() - seen.at < OUTLINE_STAYS ? seen.labels : []);
      requestAnimationFrame(paint);
    };
    paint();
    loop(mine);
  };
  function off() {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = null;
    view.hidden = true;
    button.setAttribute('aria-pressed', 'false');
    button.textContent = button.dataset.off;
  }
  button.addEventListener('click', () => (stream ? off() : on()));
  window.addEventListener('pagehide', off);
  const brought = sessionStorage.getItem('label');
  if (brought) { sessionStorage.removeItem('label'); add(brought); }
}

// ---- a cycle log ----
const logForm = (target) => target.closest?.('form[data-log]');
document.addEventListener('submit', async (event) => {
  const form = logForm(event.target);
  if (!form) return;
  event.preventDefault();
  const file = form.elements.file.files[0];
  if (!file || form.dataset.busy) return;
  form.dataset.busy = '1';
  form.querySelector('.failure')?.remove();
  const progress = form.querySelector('.progress');
  progress.textContent = form.dataset.reading;
  const query = new URLSearchParams({ file: file.name, mapping: form.elements.mapping.value, why: form.elements.why?.value ?? '' });
  try {
    const answer = await ask(`${form.dataset.log}?${query}`, { body: file, token: form.dataset.logToken, type: 'application/octet-stream' });
    location.href = answer.go;
  } catch (error) {
    if (error instanceof Failed && !signIn(error.failure)) form.prepend(failureBox(error.failure));
  }
  progress.textContent = '';
  delete form.dataset.busy;
});
for (const kind of ['dragover', 'dragleave', 'drop']) {
  document.addEventListener(kind, (event) => {
    const form = logForm(event.target) ?? (kind === 'dragleave' ? null : document.querySelector('form[data-log]'));
    if (!form || !event.dataTransfer?.types.includes('Files')) return;
    event.preventDefault();
    form.classList.toggle('over', kind === 'dragover');
    if (kind !== 'drop') return;
    form.closest('details').open = true;
    form.elements.file.files = event.dataTransfer.files;
    form.scrollIntoView({ block: 'center' });
  });
}

// ---- a lot that is known brings its expiry along ----
document.addEventListener('input', (event) => {
  const field = event.target;
  if (field.name !== 'lot' || !field.list || !field.form?.elements.expires) return;
  const option = [...field.list.options].find((each) => each.value === field.value);
  if (option?.dataset.expires) field.form.elements.expires.value = option.dataset.expires;
});
