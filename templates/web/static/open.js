// The button of the eyes' checks says what it will do: a "no" withdraws.
const form = document.querySelector('[data-eyes]');
const button = form?.querySelector('button[data-open]');
const plain = button?.textContent;

form?.addEventListener('input', () => {
  const answers = new FormData(form);
  const no = answers.get('dry') === 'no' || answers.get('intact') === 'no' || answers.get('indicator') === 'unchanged';
  const withdraws = no && !answers.get('already').trim();
  button.textContent = withdraws ? button.dataset.withdraw : plain;
  button.classList.toggle('danger', withdraws);
  button.classList.toggle('main', !withdraws);
});
