// The session at the gym: a row a set, each kept at once, also without a connection.
import { entries, sender } from './outbox.js';
import { askBoth, field, painCare } from './field.js';
import { lifts } from './lifts.js';
import { notation } from './set.js';

export async function gym(page) {
  await entries(); // fails where nothing can be kept: then the plain form stays
  const { owner, date } = page.dataset, form = page.querySelector('.gym-form');
  form.querySelector('.plain-send').hidden = true;
  const on = lifts(page, notation(page.dataset)), memory = remembered(`glidepath gym ${owner} ${date}`);
  const boxes = new Map([...form.querySelectorAll('.pains .own-field')].map((box) => [box.dataset.field, field(box)]));
  boxes.set('session', session(form.querySelector('.whole')));
  const out = sender(page, (e) => (e.date !== date ? undefined : e.field === 'set' ? rowOf(on, e) : boxes.get(e.field)));

  const remember = () => { memory.lifts = on.layout(); memory.keep(); };
  const fail = (box) => () => box.say('This browser keeps nothing for later. Open the page again.', true);
  const keep = (r, lift) => {
    if (r.as === '') Object.assign(r, { as: lift.dataset.exercise, order: 1 + Math.max(0, ...on.every().map((o) => o.order)) });
    r.look();
    r.say('');
    setTimeout(() => { if (r.says() === '') r.say('Sending…'); }, 700);
    out.typed({ date, field: 'set', name: `set ${r.as} ${r.order}`, more: { exercise: r.as, order: r.order } }, r).catch(fail(r));
    remember();
  };
  // A set is done: the rest begins, and those that follow are offered it where nothing
  // else is.
  const done = (r, lift) => {
    if (!r.takeOffer()) return;
    keep(r, lift);
    memory.rest = { lift: lift.dataset.exercise, at: Date.now() };
    for (const o of on.open(lift)) if (o.offered()[0] + o.offered()[1] === '') o.offer([r.parts().weight, r.parts().reps, '']);
    resting(on, memory.rest);
    remember();
  };

  await out.recall();
  on.recall(memory.lifts);
  for (const r of on.every()) if (r.as !== '' && r.says() === '') r.say('Kept');
  for (const el of page.querySelectorAll('.live')) el.hidden = false;
  for (const d of form.querySelectorAll('.stopped')) d.open = on.rowsOf(d).some((r) => r.as !== '');
  const look = painCare(page), care = () => { look(); on.all().forEach(on.care); };
  care();
  for (const [name, box] of boxes) box.listen(() => { care(); out.typed({ date, field: name }, box).catch(fail(box)); });
  listen(page, form, on, { keep, done, remember });
  setInterval(() => resting(on, memory.rest), 1000);
  document.addEventListener('visibilitychange', () => { if (document.hidden) document.activeElement?.blur?.(); else resting(on, memory.rest); });
  resting(on, memory.rest);
  page.dataset.ready = 'yes';
  await out.flush();
}

// What is typed and pressed on the page.
function listen(page, form, on, { keep, done, remember }) {
  const liftAt = (el) => el.closest('.lift'), toFirst = (lift) => lift.querySelector('.take:not([hidden]), .more-sets')?.focus();
  const next = (r) => [...form.querySelectorAll('.take')].find((b) => !b.hidden && b.checkVisibility() && r.el.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING);
  form.addEventListener('input', (event) => { const r = on.rowAt(event.target); if (r) { r.look(); remember(); } });
  form.addEventListener('change', (event) => {
    const el = event.target, r = on.rowAt(el), lift = liftAt(el);
    if (r?.whole()) return r.as === '' ? done(r, lift) : keep(r, lift);
    if (r && r.as !== '') return r.say('A set has a weight and repetitions. Press its number to take it out.', true);
    if (el.name !== 'exercise' || !lift) return;
    const name = el.value.trim();
    if (name === '' || on.same(name, lift.dataset.exercise)) { el.value = lift.dataset.exercise; return; }
    const to = on.swap(lift, name);
    lift.querySelector('.swap').open = false;
    remember();
    toFirst(to);
  });
  const press = {
    take: (r, lift) => { done(r, lift); if (r.as !== '') (next(r) ?? lift.querySelector('.more-sets')).focus(); },
    'take-out': (r, lift) => {
      r.unfold(false);
      if (r.as === '') { on.drop(r, lift); toFirst(lift); return remember(); }
      r.out = true;
      keep(r, lift);
      r.say('Taken out.');
      r.el.querySelector('.put-back').focus();
    },
    'put-back': (r, lift) => { r.out = false; keep(r, lift); r.el.querySelector('.set-number').focus(); },
    'more-sets': (_, lift) => { on.addRow(lift).el.querySelector('.take').focus(); remember(); },
    'by-side': (_, lift) => { on.bySide(lift); lift.querySelector('.swap').open = false; remember(); toFirst(lift); },
  };
  form.addEventListener('click', (event) => {
    const b = event.target.closest('button'), lift = b && liftAt(b), what = b && Object.keys(press).find((name) => b.classList.contains(name));
    if (lift && what) press[what](on.rowAt(b), lift);
  });
  form.addEventListener('submit', (event) => event.preventDefault());
  form.addEventListener('keydown', (event) => {
    const el = event.target, r = on.rowAt(el);
    if (event.key !== 'Enter' || !el.matches('input, select') || el.id === 'in-add') return; // which has a form of its own
    event.preventDefault();
    if (r && el.name === 'weight') r.el.querySelector('[name=reps]').focus();
    else if (r && el.name === 'reps' && r.as === '') r.el.querySelector('.take').click();
    else el.blur();
  });
  const add = (names) => {
    const added = names.map((name) => on.of(name) ?? on.add(name));
    remember();
    toFirst(added[0]);
  };
  document.getElementById('add-lift').addEventListener('submit', (event) => {
    event.preventDefault();
    const input = document.getElementById('in-add'), name = input.value.trim();
    input.value = '';
    if (name !== '') add([name]);
  });
  for (const a of page.querySelectorAll('.do-again')) a.addEventListener('click', (event) => {
    event.preventDefault();
    add(new URL(a.href).searchParams.getAll('add'));
  });
}

// The row of an entry of the outbox: one that waits, or wants a word, gets one.
function rowOf(on, e) {
  const there = on.every().find((r) => r.as === e.more.exercise && r.order === e.more.order);
  if (there || e.value === '' && !e.clash && !e.wrong) return there;
  const lift = on.of(e.more.exercise) ?? on.add(e.more.exercise), r = on.open(lift).find((o) => !o.touched()) ?? on.addRow(lift);
  Object.assign(r, { as: e.more.exercise, order: e.more.order });
  r.setBase(e.base);
  return r;
}

// Says how long the rest is by now, under the exercise of the last set.
function resting(on, last) {
  const seconds = last ? Math.floor((Date.now() - last.at) / 1000) : -1, longest = 900;
  for (const lift of on.all()) {
    const p = lift.querySelector('.rest'), planned = Number(lift.dataset.rest);
    p.hidden = lift.dataset.exercise !== last?.lift || seconds < 0 || seconds >= longest;
    if (!p.hidden) p.textContent = `Resting ${clock(seconds)}` + (planned > 0 ? seconds < planned ? ` of ${clock(planned)}.` : `; the ${clock(planned)} are over.` : '.');
  }
}
const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;

// What the phone remembers of a page by its key; that of days long gone is cleared.
function remembered(key) {
  const week = 7 * 86400000;
  for (const name of Object.keys(localStorage)) if (name.startsWith('glidepath gym ') && !(Date.parse(name.slice(-10)) > Date.now() - week)) localStorage.removeItem(name);
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(key) ?? '{}'); } catch { localStorage.removeItem(key); }
  return Object.assign(kept, { keep() { localStorage.setItem(key, JSON.stringify({ lifts: kept.lifts, rest: kept.rest })); } });
}

// The session as a whole: its minutes and how hard it was go together.
function session(box) {
  const [minutes, rpe] = box.querySelectorAll('input:not([type=hidden]), select'), says = box.querySelector('.says');
  return {
    base: () => box.dataset.base,
    setBase: (v) => { box.dataset.base = v; },
    get: () => (minutes.value.trim() === '' && rpe.value === '' ? '' : `${minutes.value.trim()} min, RPE ${rpe.value}`),
    set: (v, quietly) => {
      if (quietly && box.contains(document.activeElement)) return;
      const m = /^(.*) min, RPE (.*)$/.exec(v);
      minutes.value = m?.[1] ?? '';
      rpe.value = m?.[2] ?? '';
    },
    say: (words, wrong = false) => {
      says.replaceChildren(words);
      says.classList.toggle('wrong', wrong);
    },
    clash: (present, value, decide) => askBoth(says, present, value, decide),
    listen(f) {
      for (const x of [minutes, rpe]) x.addEventListener('change', () => {
        const typed = minutes.value.trim() !== '', chosen = rpe.value !== '';
        if (typed !== chosen) return this.say(typed ? 'Choose how hard it was.' : 'Type the minutes.');
        if (typed || box.dataset.base !== '') f();
      });
    },
  };
}
