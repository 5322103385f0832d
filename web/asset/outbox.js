// The outbox is what was typed and has not reached the desk, kept in this browser. One
// entry a day and thing: typing again takes the place of what was not sent yet. What
// has reached it stays some days, for copies of pages that were made before.
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
const all = () => store('readonly', (s) => s.getAll());
export const entries = async () => (await all()).filter((e) => !e.kept); // what waits
export const empty = () => store('readwrite', (s) => s.clear());
const put = (entry) => store('readwrite', (s) => s.put(entry));
const drop = (key) => store('readwrite', (s) => s.delete(key));
// Changes an entry as it stands by then.
const change = (key, change) => store('readwrite', (s) => {
  const asked = s.get(key);
  asked.onsuccess = () => { const to = asked.result && change(asked.result); if (to) s.put(to); };
  return asked;
});

// A sender sends from a page what waits, in the order in which it was typed, that of
// other pages and days too. boxOf finds the box on this page that an entry belongs to,
// with base, setBase, get, set, say and clash, as of field.js.
export function sender(page, boxOf) {
  const { owner, units } = page.dataset, away = page.querySelector('.away');
  let sending = null, again = false, wait = 0, timer, fresh, last = 0;
  const moment = () => (last = Math.max(Date.now(), last + 0.001)); // no two at once
  const mine = async () => (await entries()).filter((e) => e.owner === owner).sort((a, b) => (a.at ?? 0) - (b.at ?? 0));

  const count = async () => {
    const all = await mine(), n = all.filter((e) => !e.clash && !e.wrong).length, other = all.filter((e) => (e.clash || e.wrong) && !boxOf(e));
    away.hidden = n === 0 && other.length === 0;
    let text = '';
    if (n > 0) text = (n === 1 ? 'One value is' : n + ' values are') + ' not sent yet. ' + (n === 1 ? 'It is' : 'They are') + ' kept on this phone and sent when there is a connection.';
    if (other.length > 0) text += ` A value of ${other[0].date} wants your word.`;
    away.textContent = text;
    if (other.length > 0) {
      const link = document.createElement('a');
      link.href = '/day/' + other[0].date + (['set', 'session'].includes(other[0].field) ? '/gym' : '');
      link.textContent = ' Open that day';
      away.append(link);
    }
  };

  // Puts into the boxes what a copy of the page without a connection is too old to have,
  // and then what waits from before: what the reader typed last stands there.
  const recall = async () => {
    const at = Number(page.dataset.at), few = 3 * 86400000;
    for (const e of await all()) {
      if (!e.kept) continue;
      if (e.kept < at - few || e.owner !== owner) { await drop(e.key); continue; }
      const box = e.kept > at && e.units === units ? boxOf(e) : undefined;
      if (!box) continue;
      box.set(e.value);
      box.setBase(e.value);
    }
    for (const e of await mine()) {
      const box = boxOf(e);
      if (!box) continue;
      (box.restore ?? box.set)(e.value);
      show(e);
    }
  };

  const show = (e) => {
    const box = boxOf(e);
    if (!box) return;
    if (e.clash) return box.clash(e.present, e.value, (keepMine) => decide(e, keepMine));
    if (e.wrong) return box.say(e.wrong, true);
    box.say('Unsent');
  };
  // The reader's word on a value that was changed meanwhile.
  const decide = async (e, keepMine) => {
    const box = boxOf(e);
    box.setBase(e.present);
    if (!keepMine) {
      box.set(e.present);
      box.say('');
      await drop(e.key);
      return count();
    }
    await put({ ...e, base: e.present, sent: [], clash: false, turn: crypto.randomUUID() });
    box.say('Unsent');
    await flush();
  };

  // Keeps what a box has, and sends it. what has the date and field, the name that
  // tells it from others of the day, and what else goes along.
  const typed = async (what, box) => {
    const { date, field, name = field, more = {} } = what, key = `${owner} ${date} ${name}`, value = box.get(), at = moment();
    const before = (await mine()).find((e) => e.key === key);
    if (!before && value === box.base()) return;
    if (before && before.value === value && !before.wrong && !before.clash) return flush();
    const base = !before ? box.base() : before.clash ? before.present : before.base;
    await put({ key, owner, units, date, field, more, value, base, sent: before?.sent ?? [], at: before?.at ?? at, turn: crypto.randomUUID() });
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
    let answer, said;
    // Should the answer be lost, the desk may have it all the same.
    const base = [e.base, ...(e.sent ?? [])];
    await change(e.key, (x) => ({ ...x, sent: [...(x.sent ?? []).filter((v) => v !== e.value), e.value] }));
    try {
      const body = new URLSearchParams({ value: e.value, owner, units: e.units, ...e.more });
      for (const one of base) body.append('base', one);
      answer = await fetch(`/day/${e.date}/${e.field}`, {
        method: 'POST', headers: { 'Glidepath-Fragment': 'yes' }, signal: AbortSignal.timeout(15000), body,
      });
      if (answer.status === 401) {
        away.hidden = false;
        away.innerHTML = 'You are signed out. What you typed is kept on this phone; <a>sign in</a> to send it.';
        away.querySelector('a').href = '/sign-in?next=' + encodeURIComponent(location.pathname);
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
      // What was typed meanwhile still waits.
      await change(e.key, (x) => ({ ...x, base: said.value, sent: [], ...(x.turn === e.turn ? { value: said.value, kept: said.at } : {}) }));
      renew();
      const box = boxOf(e);
      if (box) {
        if (e.units !== units) { location.reload(); return false; } // it reads otherwise here
        box.setBase(said.value);
        if (box.get() === e.value) { box.set(said.value, true); box.say('Kept'); }
      }
      return true;
    }
    const told = said.clash ? { clash: true, present: said.value } : { wrong: said.wrong || 'This could not be kept.' };
    let still;
    await change(e.key, (x) => { if (x.turn === e.turn) return (still = { ...x, ...told }); });
    if (still) show(still);
    return true;
  }
  // The copy of the page that is read without a connection has what is kept now.
  function renew() {
    clearTimeout(fresh);
    fresh = setTimeout(() => navigator.serviceWorker?.controller?.postMessage({ keep: [location.pathname] }), 400);
  }

  addEventListener('online', () => { wait = 0; flush().catch(() => {}); });
  document.addEventListener('visibilitychange', () => { if (!document.hidden) flush().catch(() => {}); });
  return { recall, show, typed, flush };
}
