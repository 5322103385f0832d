// What an edit of the proposal comes to, reckoned by the server as it is typed.
export function liveEffect(form) {
  const inputs = [...form.querySelectorAll('.levers input')], into = form.querySelector('#effect');
  form.querySelector('[data-noscript]').hidden = true;
  let timer = 0, running = null;
  const ask = async () => {
    running?.abort();
    running = new AbortController();
    const query = new URLSearchParams(inputs.map((i) => [i.name, i.value]));
    try {
      const answer = await fetch(`${form.dataset.effect}?${query}`, { headers: { 'Glidepath-Fragment': 'effect' }, signal: running.signal });
      into.innerHTML = await answer.text();
    } catch (gone) {
      if (gone.name !== 'AbortError') into.textContent = 'What it comes to could not be reckoned; is the server there?';
    }
  };
  for (const input of inputs) {
    input.addEventListener('input', () => { clearTimeout(timer); timer = setTimeout(ask, 120); });
    // The arrow keys move a lever by a step that people can follow.
    input.addEventListener('keydown', (event) => {
      const way = { ArrowUp: 1, ArrowDown: -1 }[event.key], value = Number(input.value.replaceAll(',', ''));
      if (!way || !Number.isFinite(value)) return;
      event.preventDefault();
      input.value = Math.max(0, value + way * Number(input.dataset.step));
      input.dispatchEvent(new Event('input'));
    });
  }
}
