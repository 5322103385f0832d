// One field: its value as text, and what is said under it.
export function field(box) {
  const says = box.querySelector('.says'), cardio = box.dataset.mode === 'cardio';
  const input = box.querySelector('input:not([type=hidden]), select, textarea');
  const rows = () => [...box.querySelectorAll('.bout')];
  let listener = () => {};
  const addRow = () => {
    const row = rows().at(-1).cloneNode(true);
    for (const x of row.querySelectorAll('input')) x.value = '';
    row.querySelector('input').placeholder = ' ';
    row.querySelector('select').value = '';
    row.querySelector('details').open = false;
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
      ? rows().map(boutText).filter((t) => t !== '').join('; ')
      : input.value.trim(),
    set: (v, quietly) => {
      if (quietly && box.contains(document.activeElement)) return;
      if (!cardio) { if (input.value !== v) input.value = v; return; }
      const parts = v === '' ? [] : v.split('; ');
      while (rows().length < parts.length) addRow();
      rows().forEach((r, i) => {
        const bout = /^(\S*) ([^,]*)(?:, (\S+) (.*) kcal)?$/.exec(parts[i] ?? ''), [minutes, kind, claim, by] = r.querySelectorAll('input, select');
        minutes.value = bout?.[1] ?? '';
        if (bout) kind.value = bout[2];
        claim.value = bout?.[4] ?? '';
        if (bout?.[3]) by.value = bout[3];
      });
    },
    say: (text, wrong = false) => {
      says.replaceChildren(text);
      says.classList.toggle('wrong', wrong);
      for (const x of box.querySelectorAll('input:not([type=hidden]), select, textarea')) x.toggleAttribute('aria-invalid', wrong);
    },
    clash: (present, value, decide) => askBoth(says, present, value, decide),
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

// A stretch of cardio as text: "30 elliptical, machine 320 kcal".
function boutText(row) {
  const [minutes, kind, claim, by] = [...row.querySelectorAll('input, select')].map((x) => x.value.trim());
  return minutes === '' ? '' : `${minutes} ${kind}` + (claim === '' ? '' : `, ${by} ${claim} kcal`);
}

// The caution under a pain stands from 4 on.
export function painCare(page) {
  const box = page.querySelector('[data-field=pain] input'), care = page.querySelector('.pain-care');
  const look = () => { care.hidden = !(parseFloat(box.value.replace(',', '.')) >= 4); };
  box.addEventListener('input', look);
  box.addEventListener('change', look);
  look();
  return look;
}

// Says that somebody changed a value meanwhile, and asks which is to stand.
export function askBoth(says, present, value, decide) {
  const words = document.createElement('p'), mine = document.createElement('button'), theirs = document.createElement('button');
  words.textContent = present === '' ? `Somebody took this value away since you last saw it. You typed ${value}.` : `Since you last saw it, ${present} was entered. You typed ${value === '' ? 'nothing' : value}.`;
  mine.type = theirs.type = 'button';
  mine.textContent = value === '' ? 'Leave it empty' : 'Use ' + value;
  theirs.textContent = present === '' ? 'Leave it empty' : 'Keep ' + present;
  for (const [button, keep] of [[mine, true], [theirs, false]]) button.addEventListener('click', () => { mine.disabled = theirs.disabled = true; decide(keep).catch(() => {}); });
  const both = document.createElement('p');
  both.className = 'do';
  both.append(mine, theirs);
  says.replaceChildren(words, both);
  says.classList.remove('wrong');
}
