// The athlete's own pages: a day that keeps itself, also without a connection; a
// check-in whose words are not lost; photos sent from the page.
import { empty, entries, sender } from './outbox.js';
import { field, painCare } from './field.js';
import { gym } from './gym.js';

const localDate = () => { const d = new Date(); return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, '0')}-${String(d.getDate()).padStart(2, '0')}`; };
const after = (date) => new Date(Date.parse(date) + 86400000).toISOString().slice(0, 10);

const page = document.querySelector('.own-day, .own-gym');
const cleared = page ? onlyOf(page.dataset.owner).catch(() => {}) : Promise.resolve();
if (page) cleared.then(() => (page.matches('.own-gym') ? gym(page) : day(page))).catch(() => {}); // the plain form works without
const checkIn = document.querySelector('.own-check-in');
if (checkIn) keepWords(checkIn);
const send = document.querySelector('header.site form[action="/sign-out"]');
if (send) warnUnsent(send);
for (const form of document.querySelectorAll('form.pose')) sendPhoto(form);
if (page && 'serviceWorker' in navigator) {
  // Once what was of somebody else is gone, so that what is kept now stays.
  cleared.then(() => navigator.serviceWorker.register('/day-worker.js', { scope: '/day' })).then(() => navigator.serviceWorker.ready).then((at) => {
    const made = performance.getEntriesByType('resource').map((e) => new URL(e.name)).filter((u) => u.origin === location.origin && u.pathname.startsWith('/asset/')).map((u) => u.pathname);
    const { date, today } = page.dataset, sessions = today === undefined ? [] : [`/day/${date}/gym`, `/day/${after(date)}/gym`];
    if (navigator.onLine) at.active.postMessage({ keep: ['/day', location.pathname, ...sessions, '/manifest.webmanifest', ...made] });
  }).catch(() => {}); // without it the page needs a connection
}

async function day(page) {
  const form = page.querySelector('.own-form');
  const date = await onTheRightDay(page, form);
  if (!date) return;
  await entries(); // fails where nothing can be kept: then the plain form stays
  const plain = form.querySelector('.plain-send');
  plain.hidden = true;
  page.querySelector('.live-hint').hidden = false;
  const boxes = new Map([...form.querySelectorAll('.own-field')].map((box) => [box.dataset.field, field(box)]));
  const out = sender(page, (e) => (e.date === date ? boxes.get(e.field) : undefined));

  await out.recall();
  painCare(page);
  for (const [name, box] of boxes) box.listen(() => out.typed({ date, field: name }, box).catch(() => {
    plain.hidden = false;
    box.say('This browser keeps nothing for later. Use the button below.', true);
  }));
  form.addEventListener('submit', (event) => {
    if (!plain.hidden) return;
    event.preventDefault(); document.activeElement.blur();
    out.flush().catch(() => {});
  });
  form.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.target.matches('textarea, button, summary')) return;
    event.preventDefault();
    const all = [...form.querySelectorAll('input:not([type=hidden]), select, textarea')].filter((x) => x.offsetParent);
    const next = all[all.indexOf(event.target) + 1];
    if (next) next.focus(); else event.target.blur();
  });
  document.addEventListener('visibilitychange', () => {
    const at = document.activeElement?.closest?.('.own-field');
    if (document.hidden && at) boxes.get(at.dataset.field)?.done();
  });
  page.dataset.ready = 'yes';
  await out.flush();
}

// A phone that was away may show yesterday's copy, or be a day ahead of the desk.
// Online it goes to its own date; away it makes an empty page of today.
async function onTheRightDay(page, form) {
  const own = localDate();
  if (!('today' in page.dataset) || location.pathname !== '/day' || own === page.dataset.date) return page.dataset.date;
  const apart = Math.round((Date.parse(own) - Date.parse(page.dataset.date)) / 86400000);
  if (navigator.onLine && Math.abs(apart) === 1) {
    try {
      const there = await fetch('/day/' + own, { headers: { 'Glidepath-Fragment': 'yes' }, signal: AbortSignal.timeout(4000) });
      if (there.ok) { location.replace('/day/' + own); return null; }
    } catch { /* away after all */ }
  }
  if (navigator.onLine || apart < 1) return page.dataset.date;
  for (const box of form.querySelectorAll('.own-field')) {
    box.dataset.base = '';
    for (const input of box.querySelectorAll('input:not([type=hidden]), textarea')) {
      if (input.value && input.tagName === 'INPUT') input.placeholder = input.value;
      input.value = '';
    }
    for (const s of box.querySelectorAll('select')) if (box.dataset.mode === 'select') s.value = '';
  }
  document.getElementById('heading').textContent = new Date().toLocaleDateString(document.documentElement.lang, { weekday: 'long', day: 'numeric', month: 'long' });
  page.querySelector('.asked h2').textContent = 'What was asked on ' + page.dataset.date;
  const session = page.querySelector('.gym-link a');
  session.href = `/day/${own}/gym`;
  session.textContent = 'Today’s session';
  return own;
}

// What is typed in a check-in outlives a page that is closed.
function keepWords(at) {
  const form = at.querySelector('#check-in-form'), key = `glidepath check-in ${at.dataset.owner} ${at.dataset.date}`;
  for (const name of Object.keys(localStorage)) if (name.startsWith('glidepath check-in ') && name !== key) localStorage.removeItem(name);
  if (document.querySelector('main > .done')) localStorage.removeItem(key);
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? '{}');
    for (const [name, value] of Object.entries(kept)) {
      const to = form.elements[name];
      if (to && 'value' in to && value !== '') { to.value = value; to.closest('details')?.setAttribute('open', ''); }
    }
  } catch { localStorage.removeItem(key); }
  form.addEventListener('input', () => {
    localStorage.setItem(key, JSON.stringify(Object.fromEntries([...form.elements].filter((e) => e.name && e.type !== 'checkbox').map((e) => [e.name, e.value]))));
  });
}

// A photo is sent as soon as it is chosen.
function sendPhoto(form) {
  const input = form.querySelector('input[type=file]'), says = form.querySelector('.says'), button = form.querySelector('button');
  button.hidden = true;
  form.classList.add('live');
  input.addEventListener('change', async () => {
    if (!input.files.length) return;
    says.classList.remove('wrong');
    says.textContent = 'Sending…';
    try {
      const answer = await fetch('/photos', { method: 'POST', body: new FormData(form), headers: { 'Glidepath-Fragment': 'yes' } });
      const kind = answer.headers.get('Content-Type') ?? '';
      const said = kind.startsWith('application/json') ? await answer.json() : { wrong: 'The photo is too large, or you are signed out.' };
      if (!answer.ok) throw new Error(said.wrong);
      const img = document.createElement('img');
      img.alt = 'Today’s photo';
      img.src = said.address + '?' + Date.now();
      form.querySelector('.frame').replaceChildren(img);
      says.textContent = 'Kept';
    } catch (e) {
      says.textContent = e instanceof TypeError ? 'There is no connection. Choose it again when there is.' : e.message;
      says.classList.add('wrong');
    }
    input.value = '';
  });
}

// What the phone keeps to be read offline is of one athlete: of the one before,
// nothing is left but what they typed and never sent.
async function onlyOf(owner) {
  const name = 'glidepath owner';
  if (localStorage.getItem(name) !== owner) await forget();
  localStorage.setItem(name, owner);
}
async function forget() {
  if ('caches' in window) for (const name of await caches.keys()) await caches.delete(name);
  for (const name of Object.keys(localStorage)) if (name.startsWith('glidepath ')) localStorage.removeItem(name);
}

// Signing out clears the phone, the outbox too.
function warnUnsent(form) {
  form.addEventListener('submit', async (event) => {
    if (form.dataset.sure) return;
    event.preventDefault();
    let n = 0;
    try { n = (await entries()).length; } catch { /* nothing is kept */ }
    if (n > 0 && !confirm('Some of what you typed is not sent yet, and signing out loses it. Sign out all the same?')) return;
    try {
      await forget();
      await empty();
    } catch { /* the answer to signing out clears it too */ }
    form.dataset.sure = 'yes';
    form.requestSubmit();
  });
}
