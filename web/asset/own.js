// The athlete's own pages: a day that keeps itself, also without a connection; a
// check-in whose words are not lost; photos sent from the page.

// The outbox is what was typed and has not reached the desk. One entry a day and
// field: typing again takes the place of what was not sent yet.
const open = () => new Promise((done, failed) => {
  const asked = indexedDB.open('glidepath', 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore('outbox', { keyPath: 'key' });
  asked.onsuccess = () => done(asked.result);
  asked.onerror = () => failed(asked.error);
});
let opened;
async function store(mode, use) {
  opened ??= open();
  const tx = (await opened).transaction('outbox', mode);
  return new Promise((done, failed) => {
    const asked = use(tx.objectStore('outbox'));
    tx.oncomplete = () => done(asked.result);
    tx.onerror = tx.onabort = () => failed(tx.error);
  });
}
const entries = () => store('readonly', (s) => s.getAll());
const put = (entry) => store('readwrite', (s) => s.put(entry));
// Only what was sent goes: a value typed meanwhile stays.
const drop = (key, turn) => store('readwrite', (s) => {
  const asked = s.get(key);
  asked.onsuccess = () => { if (asked.result && (turn === undefined || asked.result.turn === turn)) s.delete(key); };
  return asked;
});

const localDate = () => { const d = new Date(); return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, '0')}-${String(d.getDate()).padStart(2, '0')}`; };

const page = document.querySelector('.own-day');
const cleared = page ? onlyOf(page.dataset.owner).catch(() => {}) : Promise.resolve();
if (page) cleared.then(() => day(page)).catch(() => {}); // the plain form works without
const checkIn = document.querySelector('.own-check-in');
if (checkIn) keepWords(checkIn);
const send = document.querySelector('header.site form[action="/sign-out"]');
if (send) warnUnsent(send);
for (const form of document.querySelectorAll('form.pose')) sendPhoto(form);
if (page && 'serviceWorker' in navigator) {
  // Once what was of somebody else is gone, so that what is kept now stays.
  cleared.then(() => navigator.serviceWorker.register('/day-worker.js', { scope: '/day' })).then(() => navigator.serviceWorker.ready).then((at) => {
    const made = performance.getEntriesByType('resource').map((e) => new URL(e.name)).filter((u) => u.origin === location.origin && u.pathname.startsWith('/asset/')).map((u) => u.pathname);
    if (navigator.onLine) at.active.postMessage({ keep: ['/day', location.pathname, '/manifest.webmanifest', ...made] });
  }).catch(() => {}); // without it the page needs a connection
}

async function day(page) {
  const owner = page.dataset.owner, units = page.dataset.units, form = page.querySelector('.own-form'), away = page.querySelector('.away');
  const date = await onTheRightDay(page, form);
  if (!date) return;
  const before = (await entries()).filter((e) => e.owner === owner); // fails where nothing can be kept: then the plain form stays
  const plain = form.querySelector('.plain-send');
  plain.hidden = true;
  page.querySelector('.live-hint').hidden = false;
  const boxes = new Map([...form.querySelectorAll('.own-field')].map((box) => [box.dataset.field, field(box)]));
  const turns = {};
  let sending = null, again = false, wait = 0, timer;

  const mine = async () => (await entries()).filter((e) => e.owner === owner);
  const count = async () => {
    const all = await mine(), n = all.filter((e) => !e.clash && !e.wrong).length, other = all.filter((e) => (e.clash || e.wrong) && e.date !== date);
    away.hidden = n === 0 && other.length === 0;
    let text = '';
    if (n > 0) text = (n === 1 ? 'One value is' : n + ' values are') + ' not sent yet. ' + (n === 1 ? 'It is' : 'They are') + ' kept on this phone and sent when there is a connection.';
    if (other.length > 0) text += ` A value of ${other[0].date} wants your word.`;
    away.textContent = text;
    if (other.length > 0) {
      const link = document.createElement('a');
      link.href = '/day/' + other[0].date;
      link.textContent = ' Open that day';
      away.append(link);
    }
  };

  // Shows what is waiting in its field.
  const show = (e) => {
    const box = boxes.get(e.field);
    if (!box || e.date !== date) return;
    if (e.clash) return box.clash(e.present, e.value, (keepMine) => decide(e, keepMine));
    if (e.wrong) return box.say(e.wrong, true);
    box.say('Unsent');
  };
  const decide = async (e, keepMine) => {
    const box = boxes.get(e.field);
    box.setBase(e.present);
    if (!keepMine) {
      box.set(e.present);
      box.say('');
      await drop(e.key);
      return count();
    }
    await put({ ...e, base: e.present, clash: false, turn: crypto.randomUUID() });
    box.say('Unsent');
    await flush();
  };

  const typed = async (name) => {
    const box = boxes.get(name), key = `${owner} ${date} ${name}`, value = box.get();
    const before = (await mine()).find((e) => e.key === key);
    if (!before && value === box.base()) return;
    const base = before && !before.clash ? before.base : before ? before.present : box.base();
    await put({ key, owner, units, date, field: name, value, base, turn: turns[name] = crypto.randomUUID() });
    await flush();
  };

  // Sends one after another; what fails for want of a connection stays.
  async function flush() {
    if (sending) { again = true; return sending; }
    sending = (async () => {
      do {
        again = false;
        for (const e of await mine()) {
          if (e.clash || e.wrong) { show(e); continue; }
          if (!await deliver(e)) break; // and once more, if somebody asked meanwhile: the connection may be back
        }
      } while (again);
      await count();
    })().finally(() => { sending = null; });
    return sending;
  }
  async function deliver(e) {
    const box = e.date === date ? boxes.get(e.field) : undefined;
    let answer, said;
    try {
      answer = await fetch(`/day/${e.date}/${e.field}`, {
        method: 'POST', headers: { 'Glidepath-Fragment': 'yes' }, signal: AbortSignal.timeout(15000),
        body: new URLSearchParams({ value: e.value, base: e.base, owner, units: e.units }),
      });
      if (answer.status === 401) {
        away.hidden = false;
        away.innerHTML = 'You are signed out. What you typed is kept on this phone; <a href="/sign-in?next=/day">sign in</a> to send it.';
        for (const x of await mine()) show(x);
        return false;
      }
      if (answer.status >= 500 || answer.status === 429) throw new Error('later');
      said = await answer.json();
    } catch {
      for (const x of await mine()) show(x);
      wait = Math.min(300000, Math.max(5000, wait * 2));
      clearTimeout(timer);
      timer = setTimeout(() => { flush().catch(() => {}); }, wait);
      return false;
    }
    wait = 0;
    if (answer.ok) {
      await drop(e.key, e.turn);
      if (box) {
        if (e.units !== units) { location.reload(); return false; } // it reads otherwise here
        box.setBase(said.value);
        if (box.get() === e.value) { box.set(said.value, true); box.say('Kept'); }
      }
      const later = (await mine()).find((x) => x.key === e.key);
      if (later) await put({ ...later, base: said.value });
      return true;
    }
    const change = said.clash ? { clash: true, present: said.value } : { wrong: said.wrong || 'This could not be kept.' };
    const still = (await mine()).find((x) => x.key === e.key);
    if (still && still.turn === e.turn) { await put({ ...e, ...change }); show({ ...e, ...change }); }
    return true;
  }

  // What waits from before is what the reader typed last: it stands in its field.
  for (const e of before) {
    const box = boxes.get(e.field);
    if (!box || e.date !== date) continue;
    box.set(e.value);
    show(e);
  }
  for (const [name, box] of boxes) box.listen(() => typed(name).catch(() => {
    plain.hidden = false;
    box.say('This browser keeps nothing for later. Use the button below.', true);
  }));
  form.addEventListener('submit', (event) => {
    if (!plain.hidden) return;
    event.preventDefault(); document.activeElement.blur();
    flush().catch(() => {});
  });
  form.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.target.matches('textarea, button, summary')) return;
    event.preventDefault();
    const all = [...form.querySelectorAll('input:not([type=hidden]), select, textarea')].filter((x) => x.offsetParent);
    const next = all[all.indexOf(event.target) + 1];
    if (next) next.focus(); else event.target.blur();
  });
  addEventListener('online', () => { wait = 0; flush().catch(() => {}); });
  document.addEventListener('visibilitychange', () => {
    const at = document.activeElement?.closest?.('.own-field');
    if (document.hidden && at) boxes.get(at.dataset.field)?.done();
    if (!document.hidden) flush().catch(() => {});
  });
  page.dataset.ready = 'yes';
  await flush();
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
  return own;
}

// One field: its value as text, and what is said under it.
function field(box) {
  const says = box.querySelector('.says'), cardio = box.dataset.mode === 'cardio';
  const input = box.querySelector('input:not([type=hidden]), select, textarea');
  const rows = () => [...box.querySelectorAll('.bout')];
  let listener = () => {};
  const addRow = () => {
    const row = rows().at(-1).cloneNode(true);
    row.querySelector('input').value = '';
    row.querySelector('input').placeholder = '';
    row.querySelector('select').value = '';
    box.querySelector('.bouts').append(row);
    watch(row);
  };
  const watch = (at) => {
    for (const x of at.querySelectorAll('input:not([type=hidden]), select, textarea')) x.addEventListener('change', () => listener());
    let pause;
    for (const x of at.querySelectorAll('input:not([type=hidden]), textarea')) x.addEventListener('input', () => { clearTimeout(pause); pause = setTimeout(() => listener(), 2500); });
  };
  const self = {
    base: () => box.dataset.base,
    setBase: (v) => { box.dataset.base = v; const plain = box.querySelector('[name^=base_]'); if (plain) plain.value = v; },
    get: () => cardio
      ? rows().map((r) => [r.querySelector('input').value.trim(), r.querySelector('select').value]).filter(([m]) => m !== '').map(([m, k]) => `${m} ${k}`).join('; ')
      : input.value.trim(),
    set: (v, quietly) => {
      if (quietly && box.contains(document.activeElement)) return;
      if (!cardio) { if (input.value !== v) input.value = v; return; }
      const parts = v === '' ? [] : v.split('; ');
      while (rows().length < parts.length) addRow();
      rows().forEach((r, i) => {
        const at = (parts[i] ?? '').indexOf(' ');
        r.querySelector('input').value = at < 0 ? '' : parts[i].slice(0, at);
        if (at >= 0) r.querySelector('select').value = parts[i].slice(at + 1);
      });
    },
    say: (text, wrong = false) => {
      says.replaceChildren(text);
      says.classList.toggle('wrong', wrong);
      for (const x of box.querySelectorAll('input:not([type=hidden]), select, textarea')) x.toggleAttribute('aria-invalid', wrong);
    },
    clash: (present, value, decide) => {
      const words = document.createElement('p'), mine = document.createElement('button'), theirs = document.createElement('button');
      words.textContent = present === '' ? `Somebody took this value away since you last saw it. You typed ${value}.` : `Since you last saw it, ${present} was entered. You typed ${value === '' ? 'nothing' : value}.`;
      mine.type = theirs.type = 'button';
      mine.textContent = value === '' ? 'Leave it empty' : 'Use ' + value;
      theirs.textContent = present === '' ? 'Leave it empty' : 'Keep ' + present;
      mine.addEventListener('click', () => { mine.disabled = theirs.disabled = true; decide(true).catch(() => {}); });
      theirs.addEventListener('click', () => { mine.disabled = theirs.disabled = true; decide(false).catch(() => {}); });
      const both = document.createElement('p');
      both.className = 'do';
      both.append(mine, theirs);
      says.replaceChildren(words, both);
      says.classList.remove('wrong');
    },
    done: () => listener(),
    listen: (f) => {
      listener = () => {
        if (cardio && rows().length < 4 && rows().every((r) => r.querySelector('input').value.trim() !== '')) addRow();
        // Minutes without a kind yet are not done being typed.
        if (cardio && rows().some((r) => r.querySelector('input').value.trim() !== '' && r.querySelector('select').value === '')) return self.say('Choose the kind.');
        f();
      };
    },
  };
  watch(box);
  return self;
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
      await store('readwrite', (s) => s.clear());
    } catch { /* the answer to signing out clears it too */ }
    form.dataset.sure = 'yes';
    form.requestSubmit();
  });
}
