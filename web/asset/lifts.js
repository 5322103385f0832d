// The exercises of a session with their rows: what is on the page, added, and done in
// the place of another.
import { row } from './set.js';

const same = (a, b) => a.toLowerCase() === b.toLowerCase();

export function lifts(page, text) {
  const form = page.querySelector('.gym-form'), last = [...form.querySelectorAll('.gym-part')].at(-1);
  const blank = document.getElementById('blank-lift').content, recent = JSON.parse(page.dataset.recent), rows = new Map();

  const all = () => [...form.querySelectorAll('.lift')];
  const rowsOf = (lift) => [...lift.querySelectorAll('.set')].map((el) => rows.get(el));
  const open = (lift) => rowsOf(lift).filter((r) => r.as === '');
  const before = (name) => recent.find((l) => same(l.exercise, name));
  const of = (name) => all().find((l) => same(l.dataset.exercise, name)) ?? all().find((l) => same(l.dataset.was, name));

  const take = (el) => { const r = row(el, text); rows.set(el, r); return r; };
  const forget = (r) => { rows.delete(r.el); r.el.remove(); };
  const count = (lift) => rowsOf(lift).forEach((r, i) => { r.number = i + 1; r.look(); });
  // A row more is offered what the one before it has, or is offered.
  const addRow = (lift) => {
    const one = rowsOf(lift).at(-1), r = take(blank.querySelector('.set').cloneNode(true));
    lift.querySelector('.sets').append(r.el);
    if (one) {
      const p = one.parts(), [w, n, side] = one.offered();
      r.offer([p.weight || w, p.reps || n, side]);
    }
    count(lift);
    return r;
  };
  const offer = (lift) => {
    const sets = before(lift.dataset.exercise)?.sets ?? [];
    rowsOf(lift).forEach((r, i) => r.offer(sets[Math.min(i, sets.length - 1)] ?? ['', '', '']));
  };
  // Gives a lift its name, with what the page knows of it.
  const call = (lift, name) => {
    const known = [...document.querySelectorAll('#lifts option')].find((o) => same(o.value, name));
    lift.dataset.exercise = name;
    lift.setAttribute('aria-label', name);
    lift.dataset.loads = known?.dataset.loads ?? '';
    lift.querySelector('h3').textContent = name[0].toUpperCase() + name.slice(1);
    lift.querySelector('[name=exercise]').value = name;
    lift.querySelector('.before').textContent = before(name)?.before ?? '';
    care(lift);
    offer(lift);
  };
  const add = (name) => {
    const lift = blank.querySelector('.lift').cloneNode(true), change = lift.querySelector('.swap'), few = 3;
    for (const el of lift.querySelectorAll('.set')) el.remove();
    for (const el of lift.querySelectorAll('.live')) el.hidden = false;
    change.open = false;
    change.querySelector('summary').textContent = 'Change';
    change.querySelector('.label').textContent = 'Another exercise in its place';
    last.append(lift);
    last.hidden = false;
    for (let n = before(name)?.sets.length ?? few; n > 0; n--) addRow(lift);
    call(lift, name);
    return lift;
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
  // Another exercise in the place of one: sets that are kept stay as they are.
  const swap = (lift, name) => {
    const left = open(lift);
    if (left.length === rowsOf(lift).length) {
      lift.querySelector('.stopped')?.setAttribute('open', '');
      call(lift, name);
      return lift;
    }
    lift.querySelector('[name=exercise]').value = lift.dataset.exercise;
    const other = of(name) ?? add(name);
    lift.after(other);
    left.forEach(forget);
    return other;
  };
  // Sets that are kept of what a lift was changed to belong in its place.
  const merge = (lift, other) => {
    if (!other || lift === other) return;
    const kept = rowsOf(other).filter((r) => r.as !== '');
    open(lift).slice(0, kept.length).forEach(forget);
    lift.querySelector('.sets').prepend(...kept.map((r) => r.el));
    rowsOf(other).forEach(forget);
    if (!other.parentElement.querySelector('.lift + .lift')) other.parentElement.hidden = true;
    other.remove();
    count(lift);
  };
  const bySide = (lift) => {
    for (const r of open(lift).filter((o) => o.parts().side === '')) {
      const twin = take(blank.querySelector('.set').cloneNode(true)), [w, n] = r.offered();
      r.el.after(twin.el);
      r.offer([w, n, 'left']);
      twin.offer([w, n, 'right']);
    }
    count(lift);
  };
  const drop = (r, lift) => { forget(r); count(lift); };

  // The page as it was left: what was added and swapped, and what is half typed.
  const layout = () => all().map((l) => ({ was: l.dataset.was, exercise: l.dataset.exercise, rows: rowsOf(l).length, open: open(l).map((r) => r.parts()) }));
  const recall = (left) => {
    for (const m of left ?? []) {
      const lift = m.was === '' ? of(m.exercise) ?? add(m.exercise) : all().find((l) => l.dataset.was === m.was);
      if (!lift) continue;
      if (!same(lift.dataset.exercise, m.exercise)) merge(swap(lift, m.exercise), all().find((l) => l !== lift && same(l.dataset.exercise, m.exercise)));
      while (rowsOf(lift).length < m.rows) addRow(lift);
      for (const r of rowsOf(lift).slice(m.rows)) if (r.as === '') drop(r, lift);
      open(lift).forEach((r, i) => m.open[i] && r.fill(m.open[i]));
    }
  };

  for (const el of form.querySelectorAll('.set')) take(el);
  all().forEach(count);
  return { all, of, add, addRow, open, rowsOf, rowAt: (el) => rows.get(el.closest?.('.set')), every: () => [...rows.values()], care, swap, bySide, drop, layout, recall, same };
}
