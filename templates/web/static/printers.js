// How each printer stands: asked once when the page is opened, and again when it is chosen.
import { ask, Failed } from './station.js';

export async function tell(path, place) {
  place.textContent = '…';
  try {
    const state = await ask(path);
    place.textContent = [state.text, ...state.troubles.map((each) => each.text)].join(' ');
    place.classList.toggle('hindrance', !state.ready);
  } catch (error) {
    place.textContent = error instanceof Failed ? `${error.failure.text} ${error.failure.action}` : '';
    place.classList.add('hindrance');
  }
}

for (const line of document.querySelectorAll('#printers .printer')) tell(line.dataset.state, line.querySelector('.printer-said'));
