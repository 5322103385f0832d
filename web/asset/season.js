// Dates moved on the timeline. Each tag stands for an input; what is moved there is
// typed there, and the server is asked what it comes to. Nothing is kept by it.
const DAY = 86400000, LANE = 44;
const toDay = (text) => Math.round(Date.parse(`${text}T00:00:00Z`) / DAY);
const toText = (day) => new Date(day * DAY).toISOString().slice(0, 10);

export function movableDates(track) {
  const form = document.querySelector('form[data-what-if]'), into = document.getElementById('compared');
  const says = document.querySelector('[data-says]');
  if (!form || !into || !says) return;
  const first = toDay(track.dataset.from), days = toDay(track.dataset.to) + 1 - first;
  const written = (form) => new Intl.DateTimeFormat(track.dataset.language, { ...form, timeZone: 'UTC' });
  const weekday = written({ weekday: 'long' }), date = written({ day: 'numeric', month: 'long', year: 'numeric' }), brief = written({ day: 'numeric', month: 'short' });
  const words = (day) => `${weekday.format(day * DAY)} ${date.format(day * DAY)}`;
  const tags = [...track.querySelectorAll('.tag')].map((element) => ({
    element, input: document.getElementById(element.dataset.for), pair: document.getElementById(element.dataset.pair ?? ''),
    end: element.dataset.end, plan: element.dataset.plan && toDay(element.dataset.plan), first: toDay(element.dataset.first),
  })).filter((tag) => tag.input);
  says.hidden = tags.length === 0;

  const dayOf = (input) => { const day = input?.value ? toDay(input.value) : NaN; return Number.isFinite(day) ? day : null; };
  // The last day of a stretch ends where the next begins.
  const shift = (tag) => (tag.end === 'to' ? 1 : 0);
  const least = (tag) => Math.max(tag.first, tag.end === 'to' ? (dayOf(tag.pair) ?? tag.first) : tag.first);
  const most = (tag) => Math.min(first + days - 1, tag.end === 'from' ? (dayOf(tag.pair) ?? Infinity) : Infinity);

  // Tags that would lie on one another hang in lanes.
  const place = () => {
    const width = track.clientWidth, ends = [];
    for (const tag of tags) {
      const day = dayOf(tag.input), e = tag.element;
      e.hidden = day === null;
      if (e.hidden) continue;
      e.textContent = `${tag.end} ${brief.format(day * DAY)}`;
      for (const [name, value] of [['min', least(tag)], ['max', most(tag)], ['now', day]]) e.setAttribute(`aria-value${name}`, value);
      e.setAttribute('aria-valuetext', words(day) + (tag.plan && day !== tag.plan ? `; planned ${words(tag.plan)}` : ''));
      e.classList.toggle('moved', day !== tag.plan);
      tag.x = Math.max(0, Math.min(width, width * (day + shift(tag) - first) / days));
      tag.left = Math.max(0, Math.min(width - e.offsetWidth, tag.x - e.offsetWidth / 2));
    }
    for (const tag of tags.filter((t) => !t.element.hidden).sort((a, b) => a.left - b.left)) {
      if (tag !== held) {
        const free = ends.findIndex((end) => end <= tag.left);
        tag.lane = free < 0 ? ends.length : free;
      }
      ends[tag.lane] = Math.max(ends[tag.lane] ?? 0, tag.left + tag.element.offsetWidth + 4);
      tag.element.style.left = `${tag.left}px`;
      tag.element.style.setProperty('--lane', tag.lane);
      tag.element.style.setProperty('--stem', `${tag.x - tag.left}px`);
    }
    track.style.setProperty('--lanes', ends.length);
  };

  let timer = 0, running = null, asked = location.search.slice(1), held = null;
  const ask = async () => {
    const query = new URLSearchParams(new FormData(form)).toString();
    if (query === asked) return;
    asked = query;
    running?.abort();
    running = new AbortController();
    says.textContent = 'Comparing…';
    try {
      const answer = await fetch(`${form.dataset.whatIf}?${query}`, { headers: { 'Glidepath-Fragment': 'season' }, signal: running.signal });
      into.innerHTML = await answer.text();
      const found = into.querySelector('.lead');
      says.textContent = found ? `Compared below: ${found.textContent}` : answer.ok ? 'As planned.' : '';
      if (answer.ok) history.replaceState(null, '', `${location.pathname}?${query}`);
    } catch (gone) {
      if (gone.name === 'AbortError') return;
      asked = '';
      says.textContent = 'What it comes to could not be reckoned; is the server there?';
    }
  };
  const askSoon = (pause) => { clearTimeout(timer); timer = setTimeout(ask, pause); };
  const move = (tag, day) => {
    tag.input.value = toText(Math.max(least(tag), Math.min(most(tag), day)));
    place();
  };

  const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -7, PageUp: 7, Home: -Infinity, End: Infinity };
  for (const tag of tags) {
    const e = tag.element;
    e.addEventListener('keydown', (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const step = steps[event.key], back = event.key === 'Escape' && tag.plan;
      if (!step && !back) return;
      event.preventDefault();
      const week = event.shiftKey && Math.abs(step) === 1 ? 7 : 1;
      move(tag, back ? tag.plan : dayOf(tag.input) + step * week);
      askSoon(500);
    });
    e.addEventListener('pointerdown', (event) => {
      if (event.button || held) return;
      event.preventDefault();
      e.focus({ preventScroll: true });
      e.setPointerCapture(event.pointerId);
      held = tag;
      tag.before = tag.input.value;
      tag.grip = event.clientX - track.getBoundingClientRect().left - tag.x;
    });
    e.addEventListener('pointermove', (event) => {
      if (held !== tag) return;
      const x = event.clientX - track.getBoundingClientRect().left - tag.grip;
      move(tag, first + Math.round(x / track.clientWidth * days) - shift(tag));
    });
    const release = (keep) => () => {
      if (held !== tag) return;
      held = null;
      if (!keep) tag.input.value = tag.before;
      place();
      if (keep) askSoon(0);
    };
    e.addEventListener('pointerup', release(true));
    e.addEventListener('pointercancel', release(false));
    tag.input.addEventListener('input', place);
  }
  new ResizeObserver(place).observe(track);
  document.fonts.ready.then(place);
}
