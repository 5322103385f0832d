// One set: its row as text, and what is said of it. The text is that of the server:
// "80 kg × 8, 2 RIR, left; a note".
import { askBoth } from './field.js';

const kgPerPound = 0.45359237;

// Reads and writes the text in the page's unit and on its scale of effort.
export function notation({ units, effort }) {
  const unit = units === 'imperial' ? 'lb' : 'kg', rpe = effort === 'rpe';
  const write = (p) => (p.weight === '' && p.reps === '' ? '' : `${p.weight} ${unit} × ${p.reps}`
    + (p.effort === '' ? '' : rpe ? `, RPE ${p.effort}` : `, ${p.effort} RIR`) + (p.side === '' ? '' : `, ${p.side}`) + (p.note === '' ? '' : `; ${p.note}`));
  const read = (text) => {
    const m = /^(.*?) (kg|lb) × (.*?)(?:, (RPE )?([\d.,]+)( RIR)?)?(?:, (left|right))?(?:; (.*))?$/s.exec(text);
    if (!m) return { weight: '', reps: '', effort: '', side: '', note: '' };
    let weight = m[1], hard = m[5] ?? '';
    if (m[2] !== unit) { // typed before the units were changed
      const v = parseFloat(weight.replace(',', '.')) * (unit === 'lb' ? 1 / kgPerPound : kgPerPound), step = unit === 'lb' ? 0.5 : 0.25;
      weight = Number.isNaN(v) ? weight : String(Math.round(v / step) * step);
    }
    if (hard !== '' && !!m[4] !== rpe) hard = String(10 - parseFloat(hard.replace(',', '.')));
    return { weight, reps: m[3], effort: hard, side: m[7] ?? '', note: m[8] ?? '' };
  };
  return { unit, write, read };
}

// A row, which is open until it is kept under an exercise and a place of the day.
export function row(el, text) {
  const input = (name) => el.querySelector(`[name=${name}]`);
  const weight = input('weight'), reps = input('reps'), says = el.querySelector('.says'), take = el.querySelector('.take'), more = el.querySelector('.set-more');
  const inputs = { weight, reps, effort: input('effort'), side: input('side'), note: input('note') };
  const takeOut = el.querySelector('.take-out');
  take.type = takeOut.type = 'button'; // no key presses them by way of the form
  takeOut.hidden = false;
  const number = document.createElement('button');
  number.type = 'button';
  number.className = 'set-number';
  el.querySelector('.set-number').replaceWith(number);
  const self = {
    el,
    number: 0,
    as: el.dataset.as,
    order: el.dataset.as === '' ? 0 : Number(el.dataset.order),
    out: false,
    parts: () => Object.fromEntries(Object.entries(inputs).map(([name, x]) => [name, x.value.trim()])),
    fill: (p) => {
      for (const [name, x] of Object.entries(inputs)) {
        if (name === 'effort' && ![...x.options].some((o) => o.value === p.effort)) x.add(new Option(p.effort, p.effort));
        if (x.value !== p[name]) x.value = p[name];
      }
      self.look();
    },
    // What is offered: weight, repetitions, side.
    offer: ([w, r, side]) => {
      weight.placeholder = w;
      reps.placeholder = r;
      if (self.as === '' && side !== '') inputs.side.value = side;
      self.look();
    },
    offered: () => [weight.placeholder, reps.placeholder, inputs.side.value],
    touched: () => weight.value.trim() !== '' || reps.value.trim() !== '',
    whole: () => weight.value.trim() !== '' && reps.value.trim() !== '',
    // Takes what is in grey where nothing is typed; false where something is lacking.
    takeOffer: () => {
      for (const x of [weight, reps]) if (x.value.trim() === '') x.value = x.placeholder;
      const lacking = [weight, reps].find((x) => x.value.trim() === '');
      if (!lacking) return true;
      self.say(lacking === weight ? 'Type the weight; 0 is your own body alone.' : 'Type the repetitions.', true);
      lacking.focus();
      return false;
    },
    open: () => Object.assign(self, { as: '', order: 0, out: false }) && self.look(),
    look: () => {
      const side = inputs.side.value;
      el.setAttribute('aria-label', `Set ${self.number}` + (side === '' ? '' : `, ${side}`));
      number.replaceChildren(String(self.number));
      if (side !== '') { const s = document.createElement('small'); s.textContent = side; number.append(s); }
      el.classList.toggle('out', self.out);
      el.classList.toggle('kept', self.as !== '' && !self.out);
      take.hidden = self.as !== '';
      take.textContent = !self.touched() && weight.placeholder !== '' && reps.placeholder !== '' ? 'Same' : 'Keep';
    },
    base: () => el.dataset.base,
    setBase: (v) => { el.dataset.base = v; },
    get: () => (self.out ? '' : text.write(self.parts())),
    set: (v, quietly) => {
      if (self.out || quietly && el.contains(document.activeElement) && document.activeElement.matches('input, select')) return;
      self.fill(text.read(v));
      if (v === '') self.open();
    },
    // A text that waits from before: an empty one is a set that is on its way out.
    restore: (v) => {
      if (v !== '') return self.set(v);
      self.out = true;
      self.look();
    },
    says: () => says.textContent,
    say: (words, wrong = false) => {
      says.replaceChildren(self.out && words === 'Kept' ? 'Taken out.' : words);
      if (self.out) {
        const back = document.createElement('button');
        back.type = 'button';
        back.className = 'quiet put-back';
        back.textContent = 'Put it back';
        says.append(' ', back);
      }
      says.classList.toggle('wrong', wrong);
      weight.toggleAttribute('aria-invalid', wrong);
      reps.toggleAttribute('aria-invalid', wrong);
    },
    clash: (present, value, decide) => {
      self.out = false;
      self.look();
      askBoth(says, present, value, decide);
    },
    unfold: (to = more.hidden) => {
      more.hidden = !to;
      number.setAttribute('aria-expanded', String(to));
    },
  };
  self.unfold(false);
  number.addEventListener('click', () => self.unfold());
  return self;
}
