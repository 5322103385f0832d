// What the pages gain by a script. Each part stands alone, and every page works
// without.
import { dayReader } from './day.js';
import { liveEffect } from './effect.js';
import { movableDates } from './season.js';

for (const reader of document.querySelectorAll('.reader')) dayReader(reader);
for (const form of document.querySelectorAll('form[data-effect]')) liveEffect(form);
for (const track of document.querySelectorAll('.track')) movableDates(track);

// Passkeys, on the few pages that have to do with them.
const keys = document.querySelectorAll('[data-passkey]');
if (keys.length > 0) import('./passkey.js').then((m) => keys.forEach((box) => m.passkeys(box))).catch(() => {}); // a password does the same

// Copying a message.
for (const button of document.querySelectorAll('[data-copy]')) {
  button.hidden = false;
  button.addEventListener('click', async () => {
    const text = document.getElementById(button.dataset.copy);
    const says = button.parentElement.querySelector('[data-copied]');
    try {
      await navigator.clipboard.writeText(text.value);
      says.textContent = 'Copied.';
    } catch {
      text.select();
      says.textContent = 'The browser does not let it be copied; it is selected, copy it yourself.';
    }
  });
}

// Rows of the roster that are being read are looked for again, ever more slowly.
const pending = document.querySelector('[data-pending]');
if (pending) {
  const again = async (pause) => {
    await new Promise((done) => setTimeout(done, pause));
    const answer = await fetch(location.href);
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    const busy = document.querySelector('main').contains(document.activeElement) && document.activeElement.matches('input, select');
    if (!busy) document.querySelector('main').replaceWith(page.querySelector('main'));
    if (page.querySelector('[data-pending]')) await again(Math.min(10000, pause * 2));
  };
  again(1000).catch(() => {}); // the link in the page does the same
}
