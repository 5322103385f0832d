// The session at the gym: a row a set, each kept at once, also without a connection.
import { entries, sender } from './outbox.js';
import { askBoth, field, painCare } from './field.js';
import { notation, row } from './set.js';

export async function gym(page) {
  const { owner, date } = page.dataset, text = notation(page.dataset), form = page.querySelector('.gym-form');
  await entries(); // fails where nothing can be kept: then the plain form stays
  const recent = JSON.parse(page.dataset.recent), blank = document.getElementById('blank-lift').content, last = [...form.querySelectorAll('.gym-part')].at(-1);
  const rows = new Map(), memory = remembered(`glidepath gym ${owner} ${date}`);
  form.querySelector('.plain-send').hidden = true;

  const rowsOf = (lift) => [...lift.querySelectorAll('.set')].map((el) => rows.get(el));
  const lifts = () => [...form.querySelectorAll('.lift')];
  const same = (a, b) => a.toLowerCase() === b.toLowerCase();
  const liftOf = (name) => lifts().find((l) => same(l.dataset.exercise, name)) ?? lifts().find((l) => same(l.dataset.was, name));
  const place = () => 1 + Math.max(0, ...[...rows.values()].map((r) => r.order));

  const take = (el) => { const r = row(el, text); rows.set(el, r); return r; };
  const count = (lift) => rowsOf(lift).forEach((r, i) => { r.number = i + 1; r.look(); });
  const forget = (r) => { rows.delete(r.el); r.el.remove(); };
  const addRow = (lift) => {
    const before = rowsOf(lift).at(-1), el = blank.querySelector('.set').cloneNode(true), r = take(el);
    lift.querySelector('.sets').append(el);
    if (before) {
      const p = before.parts(), [w, n, side] = before.offered();
      r.offer([p.weight || w, p.reps || n, side]);
    }
    count(lift);
    return r;
  };
  const addLift = (name) => {
    const lift = blank.querySelector('.lift').cloneNode(true);
    for (const el of lift.querySelectorAll('.set')) el.remove();
    last.append(lift);
    last.hidden = false;
    for (const el of lift.querySelectorAll('.live')) el.hidden = false;
    const change = lift.querySelector('.swap');
    change.open = false;
    change.querySelector('summary').textContent = 'Change';
    change.querySelector('.label').textContent = 'Another exercise in its place';
    call(lift, name);
    const n = recent.find((l) => same(l.exercise, name))?.sets.length ?? 3;
    while (rowsOf(lift).length < n) addRow(lift);
    offer(lift);
    return lift;
  };
  // Gives a lift its name, with what the page knows of it.
  const call = (lift, name) => {
    const known = [...document.querySelectorAll('#lifts option')].find((o) => same(o.value, name));
    lift.dataset.exercise = name;
    lift.dataset.loads = known?.dataset.loads ?? '';
    lift.querySelector('h3').textContent = name[0].toUpperCase() + name.slice(1);
    lift.querySelector('[name=exercise]').value = name;
    lift.querySelector('.before').textContent = recent.find((l) => same(l.exercise, name))?.before ?? '';
    care(lift);
  };
  const offer = (lift) => {
    const sets = recent.find((l) => same(l.exercise, lift.dataset.exercise))?.sets ?? [];
    rowsOf(lift).forEach((r, i) => r.offer(sets[Math.min(i, sets.length - 1)] ?? ['', '', '']));
  };
  // What hurts is said where it is loaded.
  const care = (lift) => {
    const loads = lift.dataset.loads.split(','), hurt = page.dataset.hurt.split(',').find((r) => r !== '' && loads.includes(r));
    const where = page.querySelector('[data-field=pain_where] select').value, pain = !page.querySelector('.pain-care').hidden && loads.includes(where);
    const say = (name, on, words) => {
      const p = lift.querySelector(name);
      p.hidden = !on;
      if (on) p.querySelector('span').textContent = words;
    };
    say('.stop', hurt, `It loads the ${hurt}, which is noted as hurt: ask a clinician first.`);
    say('.hurts', pain, `It loads the ${where}, where you note pain: leave it out today.`);
  };

  const find = (e) => [...rows.values()].find((r) => r.as === e.more.exercise && r.order === e.more.order && r.el.isConnected);
  // The row of an entry: one that waits, or wants a word, gets one.
  const rowOf = (e) => {
    const there = find(e);
    if (there || e.value === '' && !e.clash && !e.wrong) return there;
    const lift = liftOf(e.more.exercise) ?? addLift(e.more.exercise), r = rowsOf(lift).find((o) => o.as === '' && !o.touched()) ?? addRow(lift);
    Object.assign(r, { as: e.more.exercise, order: e.more.order });
    r.setBase(e.base);
    return r;
  };
  const boxes = new Map([...form.querySelectorAll('.pains .own-field')].map((box) => [box.dataset.field, field(box)]));
  boxes.set('session', session(form.querySelector('.whole')));
  const boxOf = (e) => (e.date !== date ? undefined : e.field === 'set' ? rowOf(e) : boxes.get(e.field));
  const out = sender(page, boxOf);

  const fail = (box) => () => box.say('This browser keeps nothing for later. Open the page again.', true);
  const keep = (r, lift) => {
    if (r.as === '') Object.assign(r, { as: lift.dataset.exercise, order: place() });
    r.look();
    r.say('');
    setTimeout(() => { if (r.says() === '') r.say('Sending…'); }, 700);
    out.typed({ date, field: 'set', name: `set ${r.as} ${r.order}`, more: { exercise: r.as, order: r.order } }, r).catch(fail(r));
    remember();
  };
  const done = (r, lift) => {
    if (!r.takeOffer()) return;
    keep(r, lift);
    memory.rest = { lift: lift.dataset.exercise, at: Date.now() };
    rest();
    // Those that follow are offered this one, where nothing else is.
    for (const o of rowsOf(lift)) if (o.as === '' && o.offered()[0] + o.offered()[1] === '') o.offer([r.parts().weight, r.parts().reps, '']);
    remember();
  };
  const next = (r) => [...form.querySelectorAll('.take')].find((b) => !b.hidden && b.checkVisibility() && r.el.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING);

  // What is typed and not kept yet, what was added and swapped: it outlives the page.
  const remember = () => {
    memory.lifts = lifts().map((l) => ({ was: l.dataset.was, exercise: l.dataset.exercise, rows: rowsOf(l).length, open: rowsOf(l).filter((r) => r.as === '').map((r) => r.parts()) }));
    memory.keep();
  };
  const recall = () => {
    for (const m of memory.lifts ?? []) {
      const lift = m.was === '' ? liftOf(m.exercise) ?? addLift(m.exercise) : lifts().find((l) => l.dataset.was === m.was);
      if (!lift) continue;
      if (!same(lift.dataset.exercise, m.exercise)) merge(swap(lift, m.exercise), lifts().find((l) => l !== lift && same(l.dataset.exercise, m.exercise)));
      while (rowsOf(lift).length < m.rows) addRow(lift);
      for (const r of rowsOf(lift).slice(m.rows)) if (r.as === '') forget(r);
      count(lift);
      rowsOf(lift).filter((r) => r.as === '').forEach((r, i) => m.open[i] && r.fill(m.open[i]));
    }
  };
  // Sets that are kept of what a lift was changed to belong in its place.
  const merge = (lift, other) => {
    if (!other || lift === other) return;
    const kept = rowsOf(other).filter((r) => r.as !== ''), open = rowsOf(lift).filter((r) => r.as === '');
    for (const r of open.slice(0, kept.length)) forget(r);
    lift.querySelector('.sets').prepend(...kept.map((r) => r.el));
    for (const r of rowsOf(other)) rows.delete(r.el);
    if (!other.parentElement.querySelector('.lift + .lift')) other.parentElement.hidden = true;
    other.remove();
    count(lift);
  };
  // Another exercise in the place of one: sets that are kept stay as they are.
  const swap = (lift, name) => {
    const open = rowsOf(lift).filter((r) => r.as === ''), kept = rowsOf(lift).length > open.length;
    if (!kept) {
      lift.querySelector('.stopped')?.setAttribute('open', '');
      call(lift, name);
      offer(lift);
      return lift;
    }
    lift.querySelector('[name=exercise]').value = lift.dataset.exercise;
    const other = liftOf(name) ?? addLift(name);
    lift.after(other);
    open.forEach(forget);
    return other;
  };

  const rest = () => {
    const { lift, at } = memory.rest ?? {}, seconds = Math.floor((Date.now() - at) / 1000), longest = 900;
    for (const l of lifts()) {
      const p = l.querySelector('.rest'), planned = Number(l.dataset.rest);
      p.hidden = l.dataset.exercise !== lift || !(seconds >= 0 && seconds < longest);
      if (!p.hidden) p.textContent = `Resting ${clock(seconds)}` + (planned > 0 ? seconds < planned ? ` of ${clock(planned)}.` : `; the ${clock(planned)} are over.` : '.');
    }
  };

  for (const el of form.querySelectorAll('.set')) take(el);
  lifts().forEach(count);
  await out.recall();
  recall();
  for (const r of rows.values()) if (r.as !== '' && r.says() === '') r.say('Kept');
  for (const e of page.querySelectorAll('.live')) e.hidden = false;
  for (const d of form.querySelectorAll('.stopped')) d.open = rowsOf(d).some((r) => r.as !== '');

  const look = painCare(page), careAll = () => { look(); lifts().forEach(care); };
  careAll();
  for (const [name, box] of boxes) box.listen(() => { careAll(); out.typed({ date, field: name }, box).catch(fail(box)); });
  const rowAt = (el) => rows.get(el.closest?.('.set')), liftAt = (el) => el.closest('.lift');
  form.addEventListener('input', (event) => { const r = rowAt(event.target); if (r) { r.look(); remember(); } });
  form.addEventListener('change', (event) => {
    const el = event.target, r = rowAt(el), lift = liftAt(el);
    if (r) {
      if (r.as === '' && !r.whole()) return;
      if (!r.whole()) return r.say('A set has a weight and repetitions. Press its number to take it out.', true);
      if (r.as === '') return done(r, lift);
      return keep(r, lift);
    }
    if (el.name === 'exercise' && lift) {
      const name = el.value.trim();
      if (name === '' || same(name, lift.dataset.exercise)) { el.value = lift.dataset.exercise; return; }
      const to = swap(lift, name);
      lift.querySelector('.swap').open = false;
      remember();
      to.querySelector('.take:not([hidden])')?.focus();
    }
  });
  form.addEventListener('click', (event) => {
    const b = event.target.closest('button'), r = b && rowAt(b), lift = b && liftAt(b);
    if (!lift) return;
    if (b.matches('.take')) { done(r, lift); if (r.as !== '') (next(r) ?? lift.querySelector('.more-sets')).focus(); }
    if (b.matches('.take-out')) {
      const gone = r.as === '';
      r.unfold(false);
      if (gone) { forget(r); count(lift); lift.querySelector('.more-sets').focus(); return remember(); }
      r.out = true;
      keep(r, lift);
      r.say('Taken out.');
      r.el.querySelector('.put-back')?.focus();
    }
    if (b.matches('.put-back')) { r.out = false; keep(r, lift); r.el.querySelector('.set-number').focus(); }
    if (b.matches('.more-sets')) { addRow(lift).el.querySelector('.take').focus(); remember(); }
    if (b.matches('.by-side')) { bySide(lift); lift.querySelector('.swap').open = false; remember(); lift.querySelector('.take:not([hidden])')?.focus(); }
  });
  const bySide = (lift) => {
    for (const r of rowsOf(lift).filter((o) => o.as === '' && o.parts().side === '')) {
      const el = blank.querySelector('.set').cloneNode(true), twin = take(el), [w, n] = r.offered();
      r.el.after(el);
      r.offer([w, n, 'left']);
      twin.offer([w, n, 'right']);
    }
    count(lift);
  };
  form.addEventListener('submit', (event) => event.preventDefault());
  form.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || !event.target.matches('input, select')) return;
    const r = rowAt(event.target), el = event.target;
    if (el.id === 'in-add') return; // has a form of its own
    event.preventDefault();
    if (r && el.name === 'weight') r.el.querySelector('[name=reps]').focus();
    else if (r && el.name === 'reps' && r.as === '') r.el.querySelector('.take').click();
    else el.blur();
  });
  document.getElementById('add-lift').addEventListener('submit', (event) => {
    event.preventDefault();
    const input = document.getElementById('in-add'), name = input.value.trim();
    if (name === '') return;
    const lift = liftOf(name) ?? addLift(name);
    input.value = '';
    remember();
    lift.querySelector('.take:not([hidden]), .more-sets').focus();
  });
  for (const a of page.querySelectorAll('.do-again')) a.addEventListener('click', (event) => {
    event.preventDefault();
    const added = new URL(a.href).searchParams.getAll('add').map((name) => liftOf(name) ?? addLift(name));
    remember();
    added[0].querySelector('.take:not([hidden]), .more-sets').focus();
  });
  document.addEventListener('visibilitychange', () => { if (document.hidden) document.activeElement?.blur?.(); else rest(); });
  setInterval(rest, 1000);
  rest();
  page.dataset.ready = 'yes';
  await out.flush();
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
