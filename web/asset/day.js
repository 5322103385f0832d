// The corridor day by day: a slider, or the pointer over the picture, says what
// is known of a day. The words come from the server.
export function dayReader(reader) {
  const box = reader.querySelector('.day');
  const pictures = ['wide', 'narrow'].map((name) => [name, reader.querySelector(`.picture.${name}`)]).filter(([, p]) => p);
  if (!box || !pictures.length || !reader.dataset.days) return;
  const slider = box.querySelector('input'), says = box.querySelector('output');
  const cursor = document.createElement('div');
  cursor.className = 'cursor';
  cursor.hidden = true;
  reader.append(cursor);
  let days = null, asked = null;

  const load = () => {
    asked ??= fetch(reader.dataset.days, { headers: { 'Glidepath-Fragment': 'days' } })
      .then((answer) => (answer.ok ? answer.json() : Promise.reject(new Error(answer.status))))
      .then((body) => { 
        days = body.days;
        slider.max = days.length - 1;
        slider.value = Math.min(days.length - 1, Number(reader.dataset.day));
      })
      .catch(() => { asked = null; says.textContent = 'The days could not be fetched; reload the page.'; });
    return asked;
  };
  const shares = (name) => ['Left', 'Right'].map((side) => Number(reader.dataset[name + side]));
  const show = (i) => {
    if (!days) return;
    i = Math.max(0, Math.min(days.length - 1, i));
    slider.value = i;
    slider.setAttribute('aria-valuetext', days[i]);
    says.textContent = days[i];
    for (const [name, picture] of pictures) {
      if (!picture.checkVisibility()) continue;
      const [left, right] = shares(name), svg = picture.querySelector('svg');
      const on = svg.getBoundingClientRect(), at = reader.getBoundingClientRect();
      cursor.hidden = false;
      cursor.style.left = `${on.left - at.left + on.width * (left + (right - left) * (i / Math.max(1, days.length - 1)))}px`;
      cursor.style.top = `${on.top - at.top}px`;
      cursor.style.height = `${on.height}px`;
    }
  };
  box.hidden = false;
  slider.addEventListener('focus', () => load().then(() => show(Number(slider.value))));
  slider.addEventListener('input', () => days && show(Number(slider.value)));
  for (const [name, picture] of pictures) {
    const svg = picture.querySelector('svg');
    svg.addEventListener('pointerenter', load);
    svg.addEventListener('pointermove', (event) => {
      if (!days) return;
      const on = svg.getBoundingClientRect(), [left, right] = shares(name);
      show(Math.round(((event.clientX - on.left) / on.width - left) / (right - left) * (days.length - 1)));
    });
  }
}
