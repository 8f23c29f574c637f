// A label that is scanned is looked for; the ledger's verification is followed while it runs.
const search = document.querySelector('.find input[name=search]');
document.addEventListener('scanned', (event) => {
  if (!event.detail.startsWith('LL1.') && !event.detail.startsWith('LLC1.')) return;
  event.preventDefault();
  search.value = event.detail;
  search.form.requestSubmit();
});

const ledger = document.getElementById('ledger');
const PAUSE = 700;  // milliseconds

async function follow() {
  if (!ledger.querySelector('[data-running]')) return;
  try {
    const response = await fetch('/records/ledger');
    const piece = await response.text();
    const ended = !piece.includes('data-running');
    // Whoever stands on the button keeps it, until there is nothing left to stop.
    if (response.ok && (ended || !ledger.contains(document.activeElement))) ledger.innerHTML = piece;
  } catch { /* the frame tells that the station does not answer */ }
  setTimeout(follow, PAUSE);
}
follow();
