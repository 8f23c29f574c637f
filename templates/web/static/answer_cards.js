// The cards with the answers of the check. A card speaks for its package until another package takes its place,
// the station does not answer, the record says otherwise, or a minute is over; then it says so itself.
import { ask } from './station.js';

const SPEAKS_FOR = 60000;  // milliseconds
const KEPT = 6;            // cards of packages that are no longer in view
const WORST_FIRST = ['do-not-use', 'hold', 'clear'];

export class AnswerCards {
  #box;
  #words;
  #cards = [];  // as shown: what the station answered, and since when, how it came, its element

  constructor(box) {
    this.#box = box;
    this.#words = box.dataset;
    setInterval(() => this.#ageOld(), 1000);
  }

  // Puts cards for these answers in place of all those that `stay` (a function of a card) does not hold back.
  // `by`: "camera" (then the worst stands first) or "hand". A camera that says again what its card says changes
  // nothing. Yields what is new.
  show(answers, by, stay) {
    const fresh = answers.filter((answer) => by === 'hand' || !this.#says(answer));
    if (fresh.length === 0) return fresh;
    const kept = this.#cards.filter((card) => stay(card) && !fresh.some((answer) => answer.read === card.read));
    const cards = [...fresh.map((answer) => this.#made(answer, by)), ...kept].filter((card, i) => i < KEPT || stay(card));
    this.#draw(by === 'hand' ? cards : cards.sort((a, b) => WORST_FIRST.indexOf(a.outcome) - WORST_FIRST.indexOf(b.outcome)));
    return fresh;
  }

  // Takes away the camera's cards that `stay` does not hold back.
  prune(stay) {
    const kept = this.#cards.filter((card) => card.by === 'hand' || stay(card));
    if (kept.length < this.#cards.length) this.#draw(kept);
  }

  // Nothing counts any more that was said before.
  lost() {
    for (const card of this.#cards) this.#age(card, this.#words.lost);
  }

  // The record has changed: whoever would be answered otherwise now is not spoken for any more.
  async compare() {
    for (const card of [...this.#cards]) {
      if (card.aged || !card.package) continue;
      const asked = new URLSearchParams({ read: card.read, outcome: card.outcome, reasons: card.reasons });
      let same = false;
      try {
        ({ same } = await ask(`/check/again?${asked}`, { signal: AbortSignal.timeout(5000) }));
      } catch { /* not confirmed */ }
      if (!same) this.#age(card, this.#words.changed);
    }
  }

  // Whether a card that `test` picks out no longer speaks.
  anyAged(test) {
    return this.#cards.some((card) => card.aged && test(card));
  }

  trouble(box) {
    this.#box.querySelector(':scope > .failure')?.remove();
    if (box) this.#box.prepend(box);
  }

  #says(answer) {
    return this.#cards.some((card) => !card.aged && card.read === answer.read &&
      card.outcome === answer.outcome && card.reasons === answer.reasons);
  }

  #made(answer, by) {
    const element = document.createElement('div');
    element.innerHTML = answer.html;
    element.dataset.package = answer.package;
    element.dataset.outcome = answer.outcome;
    return { ...answer, by, element, since: performance.now(), sinceDate: Date.now(), aged: false };
  }

  #draw(cards) {
    this.#cards = cards;
    this.#box.replaceChildren(...cards.map((card) => card.element));
  }

  // A clock that stood still while the tablet slept is caught by the other one.
  #ageOld() {
    for (const card of this.#cards) {
      const old = Math.max(performance.now() - card.since, Math.abs(Date.now() - card.sinceDate));
      if (old > SPEAKS_FOR) this.#age(card, this.#words.aged);
    }
  }

  // What was clear is not called so any more; what spoke against a package stays.
  #age(card, why) {
    if (card.aged) return;
    card.aged = true;
    card.element.classList.add('spent');
    const note = document.createElement('p');
    note.className = 'aged';
    note.textContent = why;
    card.element.prepend(note);
    for (const link of card.element.querySelectorAll('.button.main')) link.remove();
    if (card.outcome !== 'clear') return;
    card.element.dataset.outcome = '';
    card.element.querySelector('.verdict').classList.remove('clear');
    card.element.querySelector('.verdict h2').textContent = this.#words.again;
    for (const said of card.element.querySelectorAll('.outcome-sign, .advice')) said.remove();
  }
}
